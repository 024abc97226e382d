// Buttons, choices, fields: everything that asks something.
#include <algorithm>
#include <cmath>

#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kPadding = 16;
constexpr float kIcon = 24;
constexpr float kPrimaryHeight = 64;

struct Look {
  Colour ground = 0, ink = 0, edge = 0;  // 0: none
};

Look look_of(const Theme& theme, ButtonKind kind, bool enabled, bool held) {
  if (held) return {theme.ink, theme.ground, 0};
  if (!enabled) return {theme.sunk, theme.quiet_ink, 0};
  switch (kind) {
    case ButtonKind::primary:
      return {theme.act, theme.on_act, 0};
    case ButtonKind::secondary:
      return {theme.raised, theme.ink, theme.line};
    case ButtonKind::quiet:
      return {0, theme.act, 0};
    case ButtonKind::danger:
      return {theme.raised, theme.alarm, theme.alarm};
  }
  return {};
}

void paint_look(UiState& state, Rect where, const Look& look) {
  if (look.ground != 0) paint_ground(state, where, look.ground);
  if (look.edge != 0) paint_outline(state, where, look.edge, 2);
}

// How the picture of an option stands to its word.
struct Picture {
  bool icon = false, swatch = false;
  bool above = false;  // an icon over its word, where side by side there is no room
  float width() const { return swatch || (icon && !above) ? kIcon + 10 : 0; }
  float height() const { return icon && above ? kIcon + 4 : 0; }
};

Picture picture_of(const Option& option, bool above) {
  return {!option.icon.empty(), option.swatch.has_value(), above};
}

// How many options stand in a row, and how.
struct ChoicePlan {
  int columns = 1, rows = 1;
  bool above = false;
};

ChoicePlan plan_choice(const Face& face, const std::vector<Option>& options, float width, bool above) {
  float widest = 0;
  for (const Option& option : options) {
    const float padding = above ? 2 * 8 : 2 * 11;
    widest = std::max(widest, text_width(face, option.label) + picture_of(option, above).width() + padding);
  }
  const auto count = static_cast<int>(options.size());
  const int most = std::clamp(static_cast<int>((width + kControlGap) / (widest + kControlGap)), 1, count);
  ChoicePlan plan;
  plan.rows = (count + most - 1) / most;
  plan.columns = (count + plan.rows - 1) / plan.rows;  // rows of like length
  plan.above = above;
  return plan;
}

void paint_option(UiState& state, const Option& option, const Picture& picture, Rect where, bool selected,
                  bool held, const Lines& lines, const Face& face) {
  const Theme& theme = *state.theme;
  const Colour ink = held ? theme.ground : selected ? theme.on_act : theme.ink;
  paint_look(state, where,
             held       ? Look{theme.ink, ink, 0}
             : selected ? Look{theme.act, ink, 0}
                        : Look{theme.raised, ink, theme.line});
  const float content = picture.width() + lines.width;
  // Swatches line up at the left, as a chart to compare with; words alone stand in the middle.
  float x = picture.swatch ? where.x + 9 : where.x + (where.w - content) / 2;
  const float middle = where.y + where.h / 2;
  if (picture.swatch) {
    const Rect sample{x, middle - 14, 28, 28};
    paint_ground(state, sample, *option.swatch, 14);
    paint_outline(state, sample, with_alpha(ink, 0.55f), 1.5f, 14);
    x += 4;
  } else if (picture.icon && picture.above) {
    const float top = middle - (picture.height() + lines.height) / 2;
    paint_icon(state, option.icon, {where.x + (where.w - kIcon) / 2, top, kIcon, kIcon}, ink);
  } else if (picture.icon) {
    paint_icon(state, option.icon, {x, middle - kIcon / 2, kIcon, kIcon}, ink);
  }
  const float text_top = middle - lines.height / 2 + picture.height() / 2;
  paint_lines(state, face, lines, x + picture.width(), text_top, lines.width, ink,
              picture.width() > 0 ? Align::left : Align::centre);
}

// A field to tap: label above, the value large, the hint under it, a picture at the right end.
struct FieldTexts {
  std::string_view label, value, unit, hint;
  bool placeholder = false;  // the value only tells what belongs there
};

struct FieldPlan {
  Face label_face, value_face, unit_face;
  Lines label, value, unit, hint;
  bool unit_beside = true;
  bool pictured = true;
  float height = 0;
};

FieldPlan plan_field(const UiState& state, const FieldTexts& texts, TextSize value_size) {
  FieldPlan plan;
  plan.label_face = face_of(state, TextSize::body);
  plan.value_face = face_of(state, value_size, true);
  plan.unit_face = face_of(state, TextSize::body);
  float width = state.flow.width - 2 * kPadding - kIcon - 8;
  plan.pictured = widest_word(plan.label_face, texts.label) <= width;
  if (!plan.pictured) width += kIcon + 8;  // a word comes before its picture
  plan.label = break_lines(plan.label_face, texts.label, width);
  plan.value = break_lines(plan.value_face, texts.value.empty() ? "\u2013" : texts.value, width);
  plan.unit_beside =
      texts.unit.empty() || plan.value.width + 6 + text_width(plan.unit_face, texts.unit) <= width;
  plan.height = 2 * 10 + plan.label.height + plan.value.height;
  if (!plan.unit_beside) {
    plan.unit = break_lines(plan.unit_face, texts.unit, width);
    plan.height += plan.unit.height;
  }
  if (!texts.hint.empty()) {
    plan.hint = break_lines(plan.label_face, texts.hint, width);
    plan.height += plan.hint.height;
  }
  plan.height = std::max(plan.height, Sizes::kTarget);
  return plan;
}

void paint_field(UiState& state, Rect where, const FieldTexts& texts, const FieldPlan& plan, bool held) {
  const Theme& theme = *state.theme;
  const Colour ink = held ? theme.ground : theme.ink;
  const Colour quiet = held ? theme.ground : theme.quiet_ink;
  paint_look(state, where, held ? Look{theme.ink, ink, 0} : Look{theme.raised, ink, theme.line});
  const float x = where.x + kPadding;
  float y = where.y + 10;
  paint_lines(state, plan.label_face, plan.label, x, y, where.w, quiet);
  y += plan.label.height;
  paint_lines(state, plan.value_face, plan.value, x, y, where.w, texts.placeholder ? quiet : ink);
  if (plan.unit_beside && !texts.unit.empty()) {
    const float ascent = plan.value_face.font->Ascent / plan.value_face.font->FontSize;
    const float unit_y =
        y + plan.value.height - plan.value_face.size + (plan.value_face.size - plan.unit_face.size) * ascent;
    paint_text(state, plan.unit_face, x + plan.value.width + 6, unit_y, quiet, texts.unit);
  }
  y += plan.value.height;
  if (!plan.unit_beside) {
    paint_lines(state, plan.unit_face, plan.unit, x, y, where.w, quiet);
    y += plan.unit.height;
  }
  if (!texts.hint.empty()) paint_lines(state, plan.label_face, plan.hint, x, y, where.w, quiet);
  if (!plan.pictured) return;
  paint_icon(state, "edit",
             {where.x + where.w - kPadding - kIcon, where.y + (where.h - kIcon) / 2, kIcon, kIcon},
             held ? ink : theme.act);
}

}  // namespace

bool Ui::button(std::string_view id, std::string_view label, ButtonKind kind, bool enabled,
                std::string_view icon) {
  State& state = *state_;
  const bool primary = kind == ButtonKind::primary;
  const Face face = face_of(state, primary ? TextSize::lead : TextSize::body, true);
  const float whole = std::max(24.0f, state.flow.width - 2 * kPadding);
  // A word comes before its picture.
  const bool pictured = !icon.empty() && widest_word(face, label) <= whole - kIcon - 8;
  const float picture = pictured ? kIcon + 8 : 0;
  const float room = whole - picture;
  const Lines lines = break_lines(face, label, room);
  const float height = std::max(primary ? kPrimaryHeight : Sizes::kTarget, lines.height + 2 * 12);
  const Rect where = take(state, height, kControlGap);
  const Touched touched = touch(state, id, where, enabled);
  const Look look = look_of(*state.theme, kind, enabled, touched.held);
  paint_look(state, where, look);
  const float left = where.x + (where.w - picture - lines.width) / 2;
  if (picture > 0) paint_icon(state, icon, {left, where.y + (height - kIcon) / 2, kIcon, kIcon}, look.ink);
  paint_lines(state, face, lines, left + picture, where.y + (height - lines.height) / 2, lines.width, look.ink,
              Align::centre);
  put_node(state, id, NodeRole::button, label, where, {}, enabled ? "" : "disabled");
  return touched.pressed;
}

int Ui::number_with_steps(std::string_view id, std::string_view label, std::string_view value,
                          std::string_view unit) {
  State& state = *state_;
  constexpr float kSteps = 2 * Sizes::kTarget + kControlGap;
  const Face value_face = face_of(state, TextSize::number, true);
  const Face unit_face = face_of(state, TextSize::lead);
  const float needed = text_width(value_face, value) + 8 + text_width(unit_face, unit) + 16 + kSteps;
  const bool beside = needed <= state.flow.width;
  const Flow before = state.flow;
  if (beside) state.flow.width -= kSteps + 16;
  const float top = state.flow.y;
  number(id, label, value, unit);
  state.flow.x = before.x;
  state.flow.width = before.width;
  const float side = before.x + before.width - kSteps;
  const float y =
      beside ? std::max(top, state.flow.y - Sizes::kTarget - 4) : take(state, Sizes::kTarget, kControlGap).y;
  state.flow.y = std::max(state.flow.y, y + Sizes::kTarget);
  int step = 0;
  for (const int way : {-1, 1}) {
    const float x = way < 0 ? side : side + Sizes::kTarget + kControlGap;
    const Rect where{x, y, Sizes::kTarget, Sizes::kTarget};
    const std::string key_id = part_id(id, way < 0 ? "less" : "more");
    const Touched touched = touch(state, key_id, where);
    const Look look = look_of(*state.theme, ButtonKind::secondary, true, touched.held);
    paint_look(state, where, look);
    paint_icon(state, way < 0 ? "minus" : "plus", {x + 14, y + 14, 28, 28}, look.ink);
    put_node(state, key_id, NodeRole::button, (*state.words)(way < 0 ? "widget.less" : "widget.more"), where);
    if (touched.pressed) step = way;
  }
  return step;
}

bool Ui::icon_button(std::string_view id, std::string_view icon, std::string_view label) {
  State& state = *state_;
  Rect where = take(state, Sizes::kTarget, kControlGap);
  where.w = Sizes::kTarget;
  const Touched touched = touch(state, id, where);
  const Look look = look_of(*state.theme, ButtonKind::secondary, true, touched.held);
  paint_look(state, where, look);
  paint_icon(state, icon, {where.x + 14, where.y + 14, 28, 28}, look.ink);
  put_node(state, id, NodeRole::button, label, where);
  return touched.pressed;
}

std::optional<std::string> Ui::choice(std::string_view id, std::string_view label,
                                      const std::vector<Option>& options, std::string_view selected) {
  State& state = *state_;
  if (!label.empty()) {
    text(part_id(id, "label"), label, TextSize::body, Tone::quiet);
    state.flow.pending_gap = 6;
  }
  if (options.empty()) return std::nullopt;
  const Face face = face_of(state, TextSize::body, true);
  const float width = state.flow.width;
  ChoicePlan plan = plan_choice(face, options, width, false);
  if (plan.rows > 1 && !options.front().icon.empty()) {
    const ChoicePlan stacked = plan_choice(face, options, width, true);
    if (stacked.rows < plan.rows) plan = stacked;
  }
  const auto count = static_cast<int>(options.size());
  const int columns = plan.columns;
  std::optional<std::string> chosen;
  for (int row = 0; row < plan.rows; ++row) {
    const int first = row * columns;
    const int last = std::min(count, first + columns);
    // A chart of colours keeps its columns; elsewhere a short last row fills the width.
    const auto across = static_cast<float>(options.front().swatch ? columns : last - first);
    const float cell = (width - kControlGap * (across - 1)) / across;
    std::vector<Lines> lines;
    float height = Sizes::kTarget;
    for (int i = first; i < last; ++i) {
      const Option& option = options[static_cast<std::size_t>(i)];
      const Picture picture = picture_of(option, plan.above);
      lines.push_back(break_lines(face, option.label, cell - (plan.above ? 2 * 8 : 2 * 11) - picture.width()));
      height = std::max(height, lines.back().height + picture.height() + 2 * 10);
    }
    const Rect line = take(state, height, kControlGap);
    for (int i = first; i < last; ++i) {
      const Option& option = options[static_cast<std::size_t>(i)];
      const Rect where{line.x + static_cast<float>(i - first) * (cell + kControlGap), line.y, cell, height};
      const std::string option_id = part_id(id, option.id);
      const bool is_selected = option.id == selected;
      const Touched touched = touch(state, option_id, where);
      paint_option(state, option, picture_of(option, plan.above), where, is_selected, touched.held,
                   lines[static_cast<std::size_t>(i - first)], face);
      put_node(state, option_id, NodeRole::radio, option.label, where, {}, is_selected ? "checked" : "");
      if (touched.pressed) chosen = option.id;
    }
  }
  return chosen;
}

bool Ui::checkbox(std::string_view id, std::string_view label, bool checked) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  constexpr float kBox = 32;
  const Face face = face_of(state, TextSize::body, checked);
  const Lines lines =
      break_lines(face_of(state, TextSize::body, true), label, state.flow.width - kBox - 3 * 12);
  const Rect where = take(state, std::max(Sizes::kTarget, lines.height + 2 * 12), kControlGap);
  const Touched touched = touch(state, id, where);
  const Colour ink = touched.held ? theme.ground : theme.ink;
  paint_look(state, where, touched.held ? Look{theme.ink, ink, 0} : Look{theme.raised, ink, theme.line});
  const Rect box{where.x + 12, where.y + (where.h - kBox) / 2, kBox, kBox};
  if (checked) {
    paint_ground(state, box, touched.held ? theme.ground : theme.act, 6);
    paint_icon(state, "check", {box.x + 4, box.y + 4, 24, 24}, touched.held ? theme.ink : theme.on_act);
  } else {
    paint_outline(state, box, touched.held ? ink : theme.quiet_ink, 2, 6);
  }
  paint_lines(state, face, lines, box.x + kBox + 12, where.y + (where.h - lines.height) / 2, lines.width, ink);
  put_node(state, id, NodeRole::checkbox, label, where, {}, checked ? "checked" : "");
  return touched.pressed;
}

bool Ui::value_field(std::string_view id, std::string_view label, std::string_view value, std::string_view unit,
                     std::string_view hint, bool stands_in) {
  State& state = *state_;
  const FieldTexts texts{label, value, value.empty() ? std::string_view() : unit, hint,
                         value.empty() || stands_in};
  const FieldPlan plan = plan_field(state, texts, TextSize::title);
  const Rect where = take(state, plan.height, kControlGap);
  const Touched touched = touch(state, id, where);
  paint_field(state, where, texts, plan, touched.held);
  std::string whole(value);
  if (!value.empty() && !unit.empty()) whole += " " + std::string(unit);
  put_node(state, id, NodeRole::button, label, where, whole);
  return touched.pressed;
}

std::optional<std::string> Ui::text_field(std::string_view id, std::string_view label, std::string_view value,
                                          std::string_view hint, std::string_view input_kind, int max_length) {
  State& state = *state_;
  // An empty field shows in its own place what belongs there.
  const bool empty = value.empty() && !hint.empty();
  const FieldTexts texts{label, empty ? hint : value, {}, empty ? std::string_view() : hint, value.empty()};
  FieldPlan plan = plan_field(state, texts, empty ? TextSize::body : TextSize::lead);
  if (empty) plan.value_face = plan.label_face;
  const Rect where = take(state, plan.height, kControlGap);
  const Touched touched = touch(state, id, where);
  paint_field(state, where, texts, plan, touched.held);
  Node node;
  node.id = id;
  node.role = NodeRole::textfield;
  node.name = label;
  node.value = value;
  node.rect = where;
  node.hint = hint;
  node.input_kind = input_kind;
  node.max_length = max_length;
  state.model.add(std::move(node));
  const auto accepted = state.accepted.find(id);
  if (accepted == state.accepted.end()) return std::nullopt;
  std::string text = std::move(accepted->second);
  state.accepted.erase(accepted);
  return text;
}

}  // namespace tawny::ui
