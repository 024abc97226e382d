// Cards, and the keys.
#include <algorithm>
#include <array>

#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kCardPadding = 16;
constexpr float kRowGap = 4, kRowPadding = 10, kRowIcon = 24;
constexpr float kLeastKey = 48;
constexpr std::size_t kLongestNumber = 8;

struct Key {
  const char* part;   // of the id
  const char* label;  // shown; empty: a picture
  const char* icon;
  const char* word;  // message id of the name; empty: the label
};

// The text after the key; nothing when the key changes nothing.
std::optional<std::string> after_key(std::string text, std::string_view part) {
  if (part == "delete") {
    if (text.empty()) return std::nullopt;
    text.pop_back();
    if (text == "-") text.clear();
    return text;
  }
  const bool negative = !text.empty() && text.front() == '-';
  if (part == "sign") return negative ? text.substr(1) : "-" + text;
  if (text.size() - (negative ? 1 : 0) >= kLongestNumber) return std::nullopt;
  if (part == "mark") {
    if (text.find('.') != std::string::npos) return std::nullopt;
    if (text.empty() || text == "-") text += '0';
    return text + '.';
  }
  if (text == "0" || text == "-0") text.pop_back();
  return text + std::string(part);
}

void paint_key(UiState& state, const Key& key, Rect where, bool held) {
  const Theme& theme = *state.theme;
  const bool digit = *key.word == '\0';
  const Colour ground = held ? theme.act : digit ? theme.raised : theme.sunk;
  const Colour ink = held ? theme.on_act : theme.ink;
  paint_ground(state, where, ground);
  if (*key.icon != '\0') {
    paint_icon(state, key.icon, {where.x + (where.w - 32) / 2, where.y + (where.h - 32) / 2, 32, 32}, ink);
  } else {
    paint_fitted(state, face_of(state, TextSize::title, true), where, ink, key.label, 12);
  }
}

void paint_chevron(UiState& state, Rect where, Colour colour, const Ui::Row& row) {
  if (!row.unfolds) {
    paint_icon(state, "next", where, colour);
    return;
  }
  const float rise = row.unfolded ? -4.0f : 4.0f;
  const ImVec2 middle(where.x + where.w / 2, where.y + where.h / 2);
  const ImVec2 points[] = {ImVec2(middle.x - 6, middle.y - rise / 2 * 1.5f), ImVec2(middle.x, middle.y + rise),
                           ImVec2(middle.x + 6, middle.y - rise / 2 * 1.5f)};
  state.draw->AddPolyline(points, 3, colour, 0, 2);
}

}  // namespace

void Ui::begin_card(std::string_view id, std::string_view pressable_name) {
  State& state = *state_;
  Card card;
  card.id = id;
  card.pressable = !pressable_name.empty();
  card.top = take(state, 0, kControlGap).y;
  card.before = state.flow;
  card.layers = std::make_unique<ImDrawListSplitter>();
  card.layers->Split(state.draw, 2);
  card.layers->SetCurrentChannel(state.draw, 1);
  if (card.pressable) put_node(state, id, NodeRole::button, pressable_name, {});
  if (state.notes) {  // drawn last, but under all that stands on it
    card.ground = state.notes->grounds.size();
    state.notes->grounds.emplace_back();
  }
  state.flow.x += kCardPadding;
  state.flow.width -= 2 * kCardPadding;
  state.flow.y += kCardPadding;
  state.flow.pending_gap = 0;
  state.flow.fresh = true;
  state.cards.push_back(std::move(card));
}

bool Ui::end_card(float* height) {
  State& state = *state_;
  const Card card = std::move(state.cards.back());
  state.cards.pop_back();
  float bottom = state.flow.y + (state.flow.y == card.row_bottom ? kRowGap : kCardPadding);
  if (card.pressable) bottom = std::max(bottom, card.top + Sizes::kTarget);
  state.flow = card.before;
  state.flow.y = bottom;
  const Rect where{state.flow.x, card.top, state.flow.width, bottom - card.top};
  if (height != nullptr) *height = where.h;
  Touched touched;
  if (card.pressable) {
    touched = touch(state, card.id, where, true, true);
    state.model.place(card.id, where);
  }
  card.layers->SetCurrentChannel(state.draw, 0);
  paint_ground(state, where, touched.held ? state.theme->sunk : state.theme->raised);
  if (state.notes) {
    state.notes->grounds[card.ground] = state.notes->grounds.back();
    state.notes->grounds.pop_back();
  }
  if (touched.held) paint_outline(state, where, state.theme->act, 3);
  card.layers->Merge(state.draw);
  return touched.pressed;
}

bool Ui::row(std::string_view id, const Row& row, float* whole) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const bool first = state.flow.fresh;
  if (first) state.flow.y += kRowGap - kCardPadding;
  const float left = row.icon.empty() ? 0 : kRowIcon + 12;
  const float width = state.flow.width - left - kRowIcon;
  const Face title_face = face_of(state, row.large ? TextSize::lead : TextSize::body, true);
  const Face word_face = face_of(state, TextSize::body, true);
  const Face remark_face = face_of(state, TextSize::body);
  const Lines title = break_lines(title_face, row.title, width);
  const float shape = row.status ? 26 : 0;
  const Lines word = row.word.empty() ? Lines{} : break_lines(word_face, row.word, width - shape);
  const float word_right = row.word.empty() ? 0 : shape + word.width + 12;
  Lines remark = row.remark.empty() ? Lines{} : break_lines(remark_face, row.remark, width);
  const bool beside = word.lines.size() == 1 && word_right + remark.width <= width && remark.lines.size() <= 1;
  const float text = title.height + word.height + (beside ? 0 : remark.height);
  const float height = std::max(Sizes::kTarget, text + 2 * kRowPadding);
  if (whole != nullptr) *whole = height;
  const Rect taken = take(state, height, 0);
  const Rect where{taken.x - kCardPadding, taken.y, taken.w + 2 * kCardPadding, height};
  // Neighbours touch; a finger between two of them must mean neither.
  const Rect target{where.x, where.y + kControlGap / 2, where.w, where.h - kControlGap};
  const Touched touched = touch(state, id, target, row.enabled);
  if (touched.held) paint_ground(state, target, theme.ink);
  if (!first && !touched.held) {
    state.draw->AddLine(ImVec2(taken.x + left, taken.y), ImVec2(taken.x + taken.w, taken.y), theme.line);
  }
  const Colour ink = touched.held ? theme.ground : row.enabled ? theme.ink : theme.quiet_ink;
  const Colour quiet = touched.held ? theme.ground : theme.quiet_ink;
  const Colour act = touched.held ? theme.ground : row.enabled ? theme.act : theme.quiet_ink;
  if (!row.icon.empty()) {
    paint_icon(state, row.icon, {taken.x, taken.y + (height - kRowIcon) / 2, kRowIcon, kRowIcon}, act);
  }
  const float x = taken.x + left;
  float y = taken.y + (height - text) / 2;
  paint_lines(state, title_face, title, x, y, width, ink);
  y += title.height;
  if (!row.word.empty()) {
    const Colour tint = touched.held || !row.status ? quiet : status_colour(theme, *row.status);
    if (row.status) paint_status(state, *row.status, {x, y + (word_face.size - 20) / 2, 20, 20}, tint);
    paint_lines(state, word_face, word, x + shape, y, width, tint);
    if (beside && !row.remark.empty()) paint_text(state, remark_face, x + word_right, y, quiet, row.remark);
    y += word.height;
  }
  if (!beside || row.word.empty()) paint_lines(state, remark_face, remark, x, y, width, quiet);
  paint_chevron(state, {taken.x + taken.w - 20, taken.y + (height - 20) / 2, 20, 20}, quiet, row);
  put_node(state, id, NodeRole::button, row.name.empty() ? row.title : row.name, target, row.remark,
           !row.enabled   ? "disabled"
           : !row.unfolds ? ""
           : row.unfolded ? "expanded"
                          : "collapsed");
  if (!state.cards.empty()) state.cards.back().row_bottom = state.flow.y;
  return touched.pressed;
}

bool Ui::skip_unseen_row(float height) {
  State& state = *state_;
  if (is_near_view(state, state.flow.y, height)) return false;
  // As row() does it.
  if (state.flow.fresh) state.flow.y += kRowGap - kCardPadding;
  take(state, height, 0);
  if (!state.cards.empty()) state.cards.back().row_bottom = state.flow.y;
  return true;
}

bool Ui::tile(std::string_view id, std::string_view title, std::string_view name) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const Face face = face_of(state, TextSize::lead, true);
  const Lines lines = break_lines(face, title, state.flow.width - 2 * 12);
  const Rect where = take(state, std::max(Sizes::kTarget, lines.height + 2 * 10), kControlGap);
  const Touched touched = touch(state, id, where);
  paint_ground(state, where, touched.held ? theme.ink : theme.raised);
  if (!touched.held) paint_outline(state, where, theme.line, 2);
  paint_lines(state, face, lines, where.x + 12, where.y + (where.h - lines.height) / 2, lines.width,
              touched.held ? theme.ground : theme.ink);
  put_node(state, id, NodeRole::button, name, where);
  return touched.pressed;
}

bool Ui::keypad(std::string_view id, std::string& text, float height, bool decimals, bool sign) {
  State& state = *state_;
  const std::string mark(1, state.words->decimal_mark());
  const Key mark_key{"mark", mark.c_str(), "", "widget.key.mark"};
  const Key sign_key{"sign", "\u00B1", "", "widget.key.sign"};
  const Key zero{"0", "0", "", ""};
  const Key back{"delete", "", "delete", "widget.key.delete"};
  std::vector<std::vector<Key>> rows = {{{"1", "1", "", ""}, {"2", "2", "", ""}, {"3", "3", "", ""}},
                                        {{"4", "4", "", ""}, {"5", "5", "", ""}, {"6", "6", "", ""}},
                                        {{"7", "7", "", ""}, {"8", "8", "", ""}, {"9", "9", "", ""}}};
  std::vector<Key> last;
  if (sign) last.push_back(sign_key);
  if (decimals) last.push_back(mark_key);
  last.push_back(zero);
  last.push_back(back);
  rows.push_back(last);
  constexpr float kRows = 4;
  const float key_height = std::max(kLeastKey, (height - (kRows - 1) * kControlGap) / kRows);
  const Rect whole = take(state, kRows * key_height + (kRows - 1) * kControlGap, kControlGap);
  bool changed = false;
  float y = whole.y;
  for (const std::vector<Key>& row : rows) {
    const auto count = static_cast<float>(row.size());
    const float third = (whole.w - 2 * kControlGap) / 3;
    const float equal = (whole.w - (count - 1) * kControlGap) / count;
    float x = whole.x;
    for (const Key& key : row) {
      // With two keys only, the nought keeps its place under the 8 and reaches to the left end.
      const float width = row.size() == 2 ? (&key == &row.front() ? 2 * third + kControlGap : third) : equal;
      const Rect where{x, y, width, key_height};
      const std::string key_id = part_id(id, key.part);
      const Touched touched = touch(state, key_id, where);
      paint_key(state, key, where, touched.held);
      put_node(state, key_id, NodeRole::button, *key.word != '\0' ? (*state.words)(key.word) : key.label,
               where);
      if (touched.pressed) {
        if (std::optional<std::string> next = after_key(text, key.part)) {
          text = std::move(*next);
          changed = true;
        }
      }
      x += width + kControlGap;
    }
    y += key_height + kControlGap;
  }
  return changed;
}

}  // namespace tawny::ui
