// Many alike: a table with heads that stay, rows of which only those in sight are drawn, ticks and chips.
#include <algorithm>

#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kRowPadding = 8, kColumnGap = 10, kRowGap = 4;
constexpr float kHeadPadding = 6, kArrow = 14;
constexpr float kLeastTarget = 48;
constexpr float kBox = 28;
constexpr float kChipPadding = 16, kChipTick = 20;

void open_column(UiState& state, Table& table) {
  state.flow.x = table.lefts[table.at];
  state.flow.width = table.widths[table.at];
  state.flow.y = table.top + kRowPadding;
  state.flow.pending_gap = 0;
  state.flow.fresh = true;
}

// Which way a column is sorted: a small triangle behind its title.
void paint_arrow(UiState& state, float x, float middle, bool up, Colour colour) {
  const float rise = up ? -4.0f : 4.0f;
  state.draw->AddTriangleFilled(ImVec2(x, middle - rise), ImVec2(x + 10, middle - rise),
                                ImVec2(x + 5, middle + rise), colour);
}

void paint_box(UiState& state, Rect where, bool ticked, bool held) {
  const Theme& theme = *state.theme;
  const Rect box{where.x + (where.w - kBox) / 2, where.y + (where.h - kBox) / 2, kBox, kBox};
  if (held) paint_ground(state, where, theme.ink, kLeastTarget / 2);
  if (ticked) {
    paint_ground(state, box, held ? theme.ground : theme.act, 6);
    paint_icon(state, "check", {box.x + 3, box.y + 3, 22, 22}, held ? theme.ink : theme.on_act);
  } else {
    paint_outline(state, box, held ? theme.ground : theme.quiet_ink, 2, 6);
  }
}

// Over the boxes of the rows.
Rect box_target(const Table& table, std::size_t column) {
  return {table.lefts[column], table.head.y + (table.head.h - kLeastTarget) / 2,
          std::min(table.widths[column], kLeastTarget), kLeastTarget};
}

}  // namespace

std::optional<std::string> Ui::begin_table(std::string_view id, const std::vector<Column>& columns,
                                           std::string_view sorted, bool reversed) {
  State& state = *state_;
  Table& table = state.table.emplace();
  table.columns = columns;
  table.sorted = sorted;
  table.reversed = reversed;
  table.held.resize(columns.size());
  float shares = 0;
  for (const Column& column : columns) shares += column.width;
  const float gaps = kColumnGap * static_cast<float>(columns.size() - 1);
  const float across = state.flow.width - 2 * kRowPadding - gaps;
  float x = state.flow.x + kRowPadding;
  const Face face = face_of(state, TextSize::body, true);
  float height = kLeastTarget;
  for (const Column& column : columns) {
    table.lefts.push_back(x);
    table.widths.push_back(across * column.width / shares);
    const float room = table.widths.back() - (column.id == sorted ? kArrow : 0);
    if (!column.ticked) {
      height = std::max(height, break_lines(face, column.title, room).height + 2 * kHeadPadding);
    }
    x += table.widths.back() + kColumnGap;
  }
  const Rect rests = take(state, height, kControlGap);
  table.head = rests;
  table.head.y = std::max(rests.y, state.view.y);
  table.stuck = table.head.y > rests.y;
  std::optional<std::string> pressed;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const Rect where{table.lefts[i] - kColumnGap / 2, table.head.y, table.widths[i] + kColumnGap, height};
    const std::string head_id = part_id(id, columns[i].id);
    if (columns[i].ticked) {
      const Rect box = box_target(table, i);
      const Touched touched = touch(state, head_id, box);
      table.held[i] = touched.held;
      put_node(state, head_id, NodeRole::checkbox, columns[i].title, box, {},
               *columns[i].ticked ? "checked" : "");
      if (touched.pressed) pressed = columns[i].id;
      continue;
    }
    if (!columns[i].sorts) {
      put_node(state, head_id, NodeRole::text, columns[i].title, where);
      continue;
    }
    const Touched touched = touch(state, head_id, {where.x + 2, where.y, where.w - 4, where.h});
    table.held[i] = touched.held;
    const bool is_sorted = columns[i].id == sorted;
    put_node(state, head_id, NodeRole::button, columns[i].title, where, {}, is_sorted ? "pressed" : "");
    if (touched.pressed) pressed = columns[i].id;
  }
  const float top = table.head.y + height;
  state.clip = {state.view.x, top, state.view.w, std::max(0.0f, state.view.y + state.view.h - top)};
  state.draw->PushClipRect(ImVec2(state.clip.x, state.clip.y),
                           ImVec2(state.clip.x + state.clip.w, state.clip.y + state.clip.h), true);
  return pressed;
}

void Ui::end_table() {
  State& state = *state_;
  const Theme& theme = *state.theme;
  Table table = *std::move(state.table);
  state.table.reset();
  state.draw->PopClipRect();
  state.clip = state.view;
  const Face face = face_of(state, TextSize::body, true);
  if (table.stuck) {
    const float bottom = table.head.y + table.head.h;
    paint_ground(state, table.head, theme.ground, 0);
    state.draw->AddLine(ImVec2(table.head.x, bottom - 1), ImVec2(table.head.x + table.head.w, bottom - 1),
                        theme.line);
  }
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    const Column& column = table.columns[i];
    if (column.ticked) {
      paint_box(state, box_target(table, i), *column.ticked, table.held[i]);
      continue;
    }
    const bool is_sorted = column.id == table.sorted;
    const float room = table.widths[i] - (is_sorted ? kArrow : 0);
    const Lines lines = break_lines(face, column.title, room);
    const float y = table.head.y + (table.head.h - lines.height) / 2;
    if (table.held[i]) {
      paint_ground(state,
                   {table.lefts[i] - kColumnGap / 2, table.head.y, table.widths[i] + kColumnGap, table.head.h},
                   theme.ink);
    }
    const Colour ink = table.held[i] ? theme.ground : is_sorted ? theme.act : theme.quiet_ink;
    paint_lines(state, face, lines, table.lefts[i], y, room, ink);
    if (is_sorted) {
      paint_arrow(state, table.lefts[i] + lines.width + 4, table.head.y + table.head.h / 2, !table.reversed,
                  ink);
    }
  }
}

void Ui::begin_table_row(std::string_view id, std::string_view name, bool chosen) {
  State& state = *state_;
  Table& table = *state.table;
  table.row = id;
  table.chosen = chosen;
  table.top = take(state, 0, kRowGap).y;
  table.bottom = table.top;
  table.before = state.flow;
  table.at = 0;
  table.layers = std::make_unique<ImDrawListSplitter>();
  table.layers->Split(state.draw, 2);
  table.layers->SetCurrentChannel(state.draw, 1);
  put_node(state, id, NodeRole::button, name, {}, {}, chosen ? "selected" : "");
  if (state.notes) {  // drawn last, but under all that stands on it
    table.ground = state.notes->grounds.size();
    state.notes->grounds.emplace_back();
  }
  open_column(state, table);
}

void Ui::next_column() {
  State& state = *state_;
  Table& table = *state.table;
  table.bottom = std::max(table.bottom, state.flow.y);
  table.at = std::min(table.at + 1, table.columns.size() - 1);
  open_column(state, table);
}

bool Ui::end_table_row(float* height) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  Table& table = *state.table;
  const float bottom = std::max({table.bottom, state.flow.y, table.top + kLeastTarget}) + kRowPadding;
  state.flow = table.before;
  state.flow.y = bottom;
  state.flow.pending_gap = kRowGap;
  const Rect where{state.flow.x, table.top, state.flow.width, bottom - table.top};
  *height = where.h;
  const Touched touched = touch(state, table.row, where, true, true);
  state.model.place(table.row, where);
  table.layers->SetCurrentChannel(state.draw, 0);
  paint_ground(state, where, touched.held ? theme.sunk : theme.raised);
  if (state.notes) {
    state.notes->grounds[table.ground] = state.notes->grounds.back();
    state.notes->grounds.pop_back();
  }
  if (table.chosen || touched.held) paint_outline(state, where, theme.act, touched.held ? 3 : 2);
  table.layers->Merge(state.draw);
  return touched.pressed;
}

bool Ui::skip_unseen(float height) {
  State& state = *state_;
  if (is_near_view(state, state.flow.y, height)) return false;
  take(state, height, state.table ? kRowGap : kControlGap);
  return true;
}

bool Ui::tick_box(std::string_view id, std::string_view name, bool ticked) {
  State& state = *state_;
  Rect where = take(state, kLeastTarget, 0);
  where.w = std::min(where.w, kLeastTarget);
  const Touched touched = touch(state, id, where);
  paint_box(state, where, ticked, touched.held);
  put_node(state, id, NodeRole::checkbox, name, where, {}, ticked ? "checked" : "");
  return touched.pressed;
}

std::optional<std::string> Ui::chips(std::string_view id, const std::vector<Chip>& chips) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const Face face = face_of(state, TextSize::body, true);
  const float tick = kChipTick + 4;
  std::optional<std::string> pressed;
  float x = 0;
  Rect row;
  for (const Chip& chip : chips) {
    const float most = state.flow.width - 2 * kChipPadding - tick;
    const Lines lines = break_lines(face, chip.label, most);
    // The tick has its room whether it is there or not, so that nothing moves when one is pressed.
    const float width = lines.width + 2 * kChipPadding + tick;
    const float height = std::max(kLeastTarget, lines.height + 2 * 10);
    if (x == 0 || x + width > state.flow.width || height > row.h) {
      row = take(state, height, kControlGap);
      x = 0;
    }
    const Rect where{row.x + x, row.y, width, height};
    const std::string chip_id = part_id(id, chip.id);
    const Touched touched = touch(state, chip_id, where);
    const Colour ground = touched.held ? theme.ink : chip.on ? theme.act : theme.raised;
    const Colour ink = touched.held ? theme.ground : chip.on ? theme.on_act : theme.ink;
    paint_ground(state, where, ground, height / 2);
    if (!chip.on && !touched.held) paint_outline(state, where, theme.line, 2, height / 2);
    const float indent = chip.on ? tick : tick / 2;
    if (chip.on) {
      paint_icon(state, "check",
                 {where.x + kChipPadding, where.y + (height - kChipTick) / 2, kChipTick, kChipTick}, ink);
    }
    paint_lines(state, face, lines, where.x + kChipPadding + indent, where.y + (height - lines.height) / 2,
                lines.width, ink);
    put_node(state, chip_id, NodeRole::checkbox, chip.label, where, {}, chip.on ? "checked" : "");
    if (touched.pressed) pressed = chip.id;
    x += width + kControlGap;
  }
  return pressed;
}

bool Ui::range_key() const { return ImGui::GetIO().KeyShift; }

}  // namespace tawny::ui
