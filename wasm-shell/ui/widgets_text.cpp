// Flow, and everything that only says something.
#include <algorithm>
#include <cmath>

#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kNoticePadding = 14;
constexpr float kProgressBar = 16;
constexpr float kLeastCell = 88;  // px at normal text size
constexpr float kTwoColumnsFrom = 736;

void open_cell(UiState& state, Cells& cells) {
  const float first = cells.first_width > 0 ? cells.first_width : cells.cell_width;
  state.flow.x =
      cells.before.x +
      (cells.at == 0 ? 0
                     : first + cells.gap + static_cast<float>(cells.at - 1) * (cells.cell_width + cells.gap));
  state.flow.width = cells.at == 0 ? first : cells.cell_width;
  state.flow.y = cells.top;
  state.flow.pending_gap = 0;
  state.flow.fresh = true;
}

}  // namespace

Colour Ui::colour(Tone tone) const {
  const Theme& theme = *state_->theme;
  switch (tone) {
    case Tone::ink:
      return theme.ink;
    case Tone::quiet:
      return theme.quiet_ink;
    case Tone::act:
      return theme.act;
    case Tone::open:
      return theme.open;
    case Tone::wait:
      return theme.wait;
    case Tone::warn:
      return theme.warn;
    case Tone::alarm:
      return theme.alarm;
    case Tone::on_act:
      return theme.on_act;
  }
  return theme.ink;
}

float Ui::down() const { return state_->flow.y; }
float Ui::width() const { return state_->flow.width; }
int Ui::columns() const { return state_->flow.width >= kTwoColumnsFrom ? 2 : 1; }

void Ui::gap(float px) {
  Flow& flow = state_->flow;
  if (flow.fresh) {
    flow.y += px;
  } else {
    flow.pending_gap = std::max(flow.pending_gap, px);
  }
}

void Ui::rule() {
  const Rect where = take(*state_, 1, 12);
  paint_ground(*state_, where, state_->theme->line, 0);
}

void Ui::begin_cells(int count, float gap, CellsHold hold) {
  State& state = *state_;
  Cells cells;
  cells.top = take(state, 0, kControlGap).y;
  cells.before = state.flow;
  cells.bottom = cells.top;
  cells.count = std::max(1, count);
  cells.gap = gap;
  const float least = hold == CellsHold::pictures ? Sizes::kTarget : kLeastCell * state.fonts.scale;
  const float fit = (state.flow.width + gap) / (least + gap);
  cells.count = std::clamp(static_cast<int>(fit), 1, cells.count);
  cells.cell_width =
      (state.flow.width - gap * static_cast<float>(cells.count - 1)) / static_cast<float>(cells.count);
  open_cell(state, cells);
  state.cells.push_back(cells);
}

void Ui::begin_split(float first, float gap) {
  State& state = *state_;
  Cells cells;
  cells.top = take(state, 0, kControlGap).y;
  cells.before = state.flow;
  cells.bottom = cells.top;
  cells.count = 2;
  cells.gap = gap;
  cells.first_width = std::min(first, state.flow.width - gap);
  cells.cell_width = state.flow.width - gap - cells.first_width;
  open_cell(state, cells);
  state.cells.push_back(cells);
}

void Ui::next_cell() {
  State& state = *state_;
  Cells& cells = state.cells.back();
  cells.bottom = std::max(cells.bottom, state.flow.y);
  ++cells.at;
  if (cells.at == cells.count) {  // another row of the same cells
    cells.at = 0;
    cells.top = cells.bottom + cells.gap;
  }
  open_cell(state, cells);
}

void Ui::end_cells() {
  State& state = *state_;
  const Cells cells = state.cells.back();
  state.cells.pop_back();
  const float bottom = std::max(cells.bottom, state.flow.y);
  state.flow = cells.before;
  state.flow.y = bottom;
}

void Ui::heading(std::string_view id, std::string_view text, int level) {
  State& state = *state_;
  const Face face = face_of(state, level <= 1 ? TextSize::title : TextSize::lead, level <= 2);
  const Lines lines = break_lines(face, text, state.flow.width);
  Flow& flow = state.flow;
  if (!flow.fresh) flow.pending_gap = std::max(flow.pending_gap, level <= 2 ? 24.0f : 16.0f);
  const Rect where = take(state, lines.height, kTextGap);
  paint_lines(state, face, lines, where.x, where.y, where.w, state.theme->ink);
  Node node;
  node.id = id;
  node.role = NodeRole::heading;
  node.name = text;
  node.level = level;
  node.rect = {where.x, where.y, lines.width, where.h};
  state.model.add(std::move(node));
  flow.pending_gap = kControlGap;
}

void Ui::text(std::string_view id, std::string_view text, TextSize size, Tone tone, bool bold) {
  State& state = *state_;
  const Face face = face_of(state, size, bold);
  const Lines lines = break_lines(face, text, state.flow.width);
  const Rect where = take(state, lines.height, kTextGap);
  paint_lines(state, face, lines, where.x, where.y, where.w, colour(tone));
  put_node(state, id, NodeRole::text, text, {where.x, where.y, lines.width, where.h});
}

void Ui::number(std::string_view id, std::string_view label, std::string_view value, std::string_view unit,
                Tone tone) {
  State& state = *state_;
  const Face label_face = face_of(state, TextSize::body);
  const Face value_face = face_of(state, TextSize::number, true);
  const Face unit_face = face_of(state, TextSize::lead);
  const float width = state.flow.width;
  const Lines label_lines = break_lines(label_face, label, width);
  const Lines value_lines = break_lines(value_face, value, width);
  const float unit_width = text_width(unit_face, unit);
  const bool beside = value_lines.lines.size() == 1 && value_lines.width + 8 + unit_width <= width;
  const float label_height = label.empty() ? 0 : label_lines.height;
  // The tall line of the number leaves more room above its digits than a label needs.
  const float lift = label.empty() ? 0 : value_face.size * 0.12f;
  float height = label_height - lift + value_lines.height;
  const Lines unit_lines = break_lines(unit_face, unit, width);
  if (!beside && !unit.empty()) height += unit_lines.height;
  const Rect where = take(state, height, kControlGap);
  if (!label.empty()) {
    paint_lines(state, label_face, label_lines, where.x, where.y, width, state.theme->quiet_ink);
  }
  const float top = where.y + label_height - lift;
  paint_lines(state, value_face, value_lines, where.x, top, width, colour(tone));
  if (beside) {
    // On the number's own baseline: the ascent is the same share of both sizes.
    const float ascent = value_face.font->Ascent / value_face.font->FontSize;
    const float y = top + (value_face.size - unit_face.size) * ascent;
    paint_text(state, unit_face, where.x + value_lines.width + 8, y, state.theme->quiet_ink, unit);
  } else {
    paint_lines(state, unit_face, unit_lines, where.x, top + value_lines.height, width, state.theme->quiet_ink);
  }
  std::string whole(value);
  if (!unit.empty()) whole += " " + std::string(unit);
  put_node(state, id, NodeRole::text, label.empty() ? std::string_view(whole) : label, where, whole);
}

void Ui::fact(std::string_view id, std::string_view label, std::string_view value) {
  State& state = *state_;
  const Face label_face = face_of(state, TextSize::body);
  const Face value_face = face_of(state, TextSize::body, true);
  const float width = state.flow.width;
  const float label_width = text_width(label_face, label);
  const float value_width = text_width(value_face, value);
  if (label_width + 16 + value_width <= width) {
    const Rect where = take(state, value_face.size, 6);
    paint_text(state, label_face, where.x, where.y, state.theme->quiet_ink, label);
    paint_text(state, value_face, where.x + width - value_width, where.y, state.theme->ink, value);
    put_node(state, id, NodeRole::text, label, where, value);
    return;
  }
  const Lines label_lines = break_lines(label_face, label, width);
  const Lines value_lines = break_lines(value_face, value, width);
  const Rect where = take(state, label_lines.height + value_lines.height, 6);
  paint_lines(state, label_face, label_lines, where.x, where.y, width, state.theme->quiet_ink);
  paint_lines(state, value_face, value_lines, where.x, where.y + label_lines.height, width, state.theme->ink);
  put_node(state, id, NodeRole::text, label, where, value);
}

void Ui::status(std::string_view id, Status status, std::string_view word, std::string_view remark) {
  State& state = *state_;
  constexpr float kShape = 28;
  const Face face = face_of(state, TextSize::body, true);
  const Face remark_face = face_of(state, TextSize::body);
  const float width = state.flow.width - kShape;
  const Lines lines = break_lines(face, word, width);
  const Lines remarks = remark.empty() ? Lines{} : break_lines(remark_face, remark, width);
  const float right = lines.width + 12;
  const bool beside = lines.lines.size() == 1 && remarks.lines.size() == 1 && right + remarks.width <= width;
  const float first_height = std::max(24.0f, lines.height);
  const Rect where = take(state, first_height + (beside ? 0 : remarks.height), kTextGap);
  const Colour ink = status_colour(*state.theme, status);
  const float first_line = where.y + (first_height - lines.height) / 2;
  const float x = where.x + kShape;
  paint_status(state, status, {where.x, first_line + (face.size - 22) / 2, 22, 22}, ink);
  paint_lines(state, face, lines, x, first_line, width, ink);
  paint_lines(state, remark_face, remarks, beside ? x + right : x, beside ? first_line : where.y + first_height,
              width, state.theme->quiet_ink);
  put_node(state, id, NodeRole::text, word, {where.x, where.y, where.w, where.h}, remark);
}

void Ui::point(std::string_view id, std::string_view text) {
  State& state = *state_;
  constexpr float kIndent = 20;
  const Face face = face_of(state, TextSize::body);
  const Lines lines = break_lines(face, text, state.flow.width - kIndent);
  const Rect where = take(state, lines.height, 6);
  state.draw->AddCircleFilled(ImVec2(where.x + 6, where.y + face.size / 2), 3.5f, state.theme->warn);
  paint_lines(state, face, lines, where.x + kIndent, where.y, where.w - kIndent, state.theme->ink);
  put_node(state, id, NodeRole::listitem, text, {where.x, where.y, kIndent + lines.width, where.h});
}

void Ui::progress(std::string_view id, std::string_view label, double share) {
  State& state = *state_;
  const double done = std::clamp(share, 0.0, 1.0);
  const std::string percent = state.words->quantity(Quantity{std::floor(100 * done), 0, "percent"});
  const Face face = face_of(state, TextSize::body);
  const std::string said = std::string(label) + " " + percent;
  const Lines lines = break_lines(face, said, state.flow.width);
  const Rect where = take(state, lines.height + kTextGap + kProgressBar, kControlGap);
  paint_lines(state, face, lines, where.x, where.y, where.w, state.theme->ink);
  const Rect bar{where.x, where.y + lines.height + kTextGap, where.w, kProgressBar};
  paint_ground(state, bar, state.theme->sunk);
  paint_outline(state, bar, state.theme->quiet_ink, 1);
  paint_ground(state, {bar.x, bar.y, bar.w * static_cast<float>(done), bar.h}, state.theme->act);
  put_node(state, id, NodeRole::progress, label, where, percent);
}

void Ui::notice(std::string_view id, Tone tone, std::string_view text) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const bool alarm = tone == Tone::alarm;
  const bool warn = tone == Tone::warn;
  const Face face = face_of(state, TextSize::body, alarm);
  const float left = 12 + 24 + 12;
  const Lines lines = break_lines(face, text, state.flow.width - left - kNoticePadding);
  const Rect where = take(state, std::max(lines.height, 24.0f) + 2 * kNoticePadding, kControlGap);
  const Colour ground = alarm ? theme.alarm : theme.sunk;
  const Colour ink = alarm ? theme.on_alarm : theme.ink;
  paint_ground(state, where, ground);
  if (warn) {
    state.draw->AddRectFilled(ImVec2(where.x, where.y), ImVec2(where.x + 5, where.y + where.h), theme.warn,
                              Sizes::kCorner, ImDrawFlags_RoundCornersLeft);
  }
  const char* picture = alarm || warn ? "warning" : "note";
  const Colour picture_ink = alarm ? theme.on_alarm : warn ? theme.warn : theme.quiet_ink;
  paint_icon(state, picture, {where.x + 14, where.y + kNoticePadding - 1 + (face.size - 24) / 2, 24, 24},
             picture_ink);
  paint_lines(state, face, lines, where.x + left, where.y + (where.h - lines.height) / 2, lines.width, ink);
  put_node(state, id, alarm ? NodeRole::alert : NodeRole::status, text, where);
}

void Ui::step(std::string_view id, int number, std::string_view text, bool done) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const Face face = face_of(state, TextSize::lead);
  const Face number_face = face_of(state, TextSize::body, true);
  constexpr float kRound = 36;
  const Lines lines = break_lines(face, text, state.flow.width - kRound - 12);
  const Rect where = take(state, std::max(kRound, lines.height), 12);
  const ImVec2 centre(where.x + kRound / 2, where.y + kRound / 2);
  const std::string figure = std::to_string(number);
  if (done) {
    state.draw->AddCircleFilled(centre, kRound / 2, theme.open);
    paint_icon(state, "check", {centre.x - 11, centre.y - 11, 22, 22}, theme.ground);
  } else {
    state.draw->AddCircle(centre, kRound / 2 - 1, theme.act, 0, 2);
    paint_fitted(state, number_face, {where.x, where.y, kRound, kRound}, theme.act, figure, 12);
  }
  const float top = where.y + std::max(0.0f, (kRound - lines.line_height) / 2);
  paint_lines(state, face, lines, where.x + kRound + 12, lines.lines.size() > 1 ? where.y : top, lines.width,
              done ? theme.quiet_ink : theme.ink);
  put_node(state, id, NodeRole::listitem, text, where, figure, done ? "checked" : "");
}

Rect Ui::picture(std::string_view id, std::string_view name, float height) {
  const Rect where = take(*state_, height, kControlGap);
  put_node(*state_, id, NodeRole::image, name, where);
  return where;
}

Rect Ui::begin_beside(float width, float height) {
  State& state = *state_;
  const Rect whole = take(state, 0, kControlGap);
  Beside beside;
  beside.before = state.flow;
  beside.bottom = whole.y + height;
  state.besides.push_back(beside);
  state.flow.x += width + 12;
  state.flow.width -= width + 12;
  state.flow.pending_gap = 0;
  state.flow.fresh = true;
  return {whole.x, whole.y, width, height};
}

void Ui::end_beside() {
  State& state = *state_;
  const Beside beside = state.besides.back();
  state.besides.pop_back();
  const float bottom = std::max(beside.bottom, state.flow.y);
  state.flow = beside.before;
  state.flow.y = bottom;
}

void Ui::icon(std::string_view icon, Rect where, Colour colour) { paint_icon(*state_, icon, where, colour); }

}  // namespace tawny::ui
