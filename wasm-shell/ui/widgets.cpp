// The frame: pointer, bars, the scrolling middle and the footer.
#include "ui/widgets.h"

#include <algorithm>
#include <cmath>

#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kWideFrom = 840;
constexpr float kSideWidth = 216;
constexpr float kWidestColumn = 720, kBroadColumn = 1080;
constexpr float kWideMargin = 32;
constexpr float kBarHeight = 64;
constexpr float kBarPadding = 12;
constexpr std::size_t kMostTitleLines = 2;  // a longer title is written smaller
constexpr float kContentEnd = 32;           // free room under the last thing
constexpr float kLeastLabel = 15;           // px of the line, for a word in a narrow tab at normal text size
constexpr float kTabInset = 4;              // on both sides, between a tab and its neighbour
constexpr float kTabPicture = 38;           // height of a tab over its word
constexpr double kHintShownS = 0.4, kHintFadesS = 0.3;

bool is_wide(const UiState& state) { return state.width >= kWideFrom; }

// The part of `across` in which text and controls stand: never so wide that lines are hard to read; beside the
// column of areas on a laptop, else in the middle.
Rect column_of(const UiState& state, const Rect& across, float widest = kWidestColumn) {
  if (is_wide(state)) {
    return {across.x + kWideMargin, across.y, std::min(across.w - 2 * kWideMargin, widest), across.h};
  }
  const float width = std::min(across.w - 2 * Sizes::kMargin, widest);
  return {across.x + (across.w - width) / 2, across.y, width, across.h};
}

void read_pointer(UiState& state) {
  const ImGuiIO& io = ImGui::GetIO();
  const bool was_down = state.down;
  state.pointer = io.MousePos;
  state.pointer_valid = ImGui::IsMousePosValid(&io.MousePos);
  state.down = io.MouseDown[0];
  state.touch = io.MouseSource == ImGuiMouseSource_TouchScreen;
  state.came_down = state.down && !was_down;
  state.lifted = !state.down && was_down;
  if (state.came_down) {
    state.down_at = state.pointer;
    state.press_alive = state.pointer_valid;
    state.press_claimed = false;
    state.press_id.clear();
  }
  if (state.down || state.lifted) {
    const float x = state.pointer.x - state.down_at.x;
    const float y = state.pointer.y - state.down_at.y;
    const float threshold = TouchScroll::threshold_px(state.touch);
    const bool dragged = std::hypot(x, y) > threshold;
    if (!state.pointer_valid || dragged) state.press_alive = false;
    if (state.plot_drag == UiState::Drag::undecided && state.pointer_valid && dragged) {
      const bool across = std::fabs(x) > std::fabs(y);
      state.plot_drag = across ? UiState::Drag::across : UiState::Drag::along;
      // The threshold is swallowed, so that the plot does not jump under the finger.
      state.plot_x = state.down_at.x + (x > 0 ? threshold : -threshold);
    }
  }
}

void step_scroll(UiState& state, UiState::Area& area) {
  const ImGuiIO& io = ImGui::GetIO();
  const bool over = state.pointer_valid && contains(state.view, state.pointer);
  ScrollInput input;
  input.time_s = ImGui::GetTime();
  input.down = state.down && state.pointer_valid;
  input.came_down = state.came_down && over;
  input.touch = state.touch;
  const bool may_scroll = state.plot_drag == UiState::Drag::none || state.plot_drag == UiState::Drag::along;
  input.y = may_scroll ? state.pointer.y : state.down_at.y;
  if (state.lifted) input.thrown_px_s = state.thrown_px_s;
  input.wheel = over ? io.MouseWheel : 0;
  const float before = area.scroll.offset();
  if (area.scroll.step(input)) state.press_alive = false;
  // A touch that was taken away throws nothing.
  if ((state.down || state.lifted) && !state.pointer_valid) area.scroll.move_to(area.scroll.offset());
  // Who asked for stillness gets a page that stays where the finger left it.
  if (state.reduced_motion && area.scroll.gliding()) area.scroll.move_to(area.scroll.offset());
  if (area.scroll.offset() != before) area.moved_at_s = input.time_s;
  const TouchScroll::Phase phase = area.scroll.phase();
  state.on_the_move = phase == TouchScroll::Phase::moving || phase == TouchScroll::Phase::kinetic;
}

// Where the view stands in the whole: slim, only while and shortly after it moves.
void paint_scroll_hint(UiState& state, const UiState::Area& area) {
  if (area.scroll.largest_offset() <= 0) return;
  const double rested_s = ImGui::GetTime() - area.moved_at_s;
  const double fades_s = state.reduced_motion ? 0 : kHintFadesS;
  if (rested_s >= kHintShownS + fades_s) return;
  if (rested_s < kHintShownS) {
    state.wake_in_s = kHintShownS - rested_s;
  } else {
    state.wanted = std::max(state.wanted, 1);
  }
  const float strength =
      rested_s <= kHintShownS ? 1.0f : static_cast<float>(1 - (rested_s - kHintShownS) / kHintFadesS);
  const float length = std::max(48.0f, state.view.h * area.scroll.view_share());
  const float share = area.scroll.offset() / area.scroll.largest_offset();
  const Rect hint{state.view.x + state.view.w - 7, state.view.y + share * (state.view.h - length), 4, length};
  paint_ground(state, hint, with_alpha(state.theme->quiet_ink, 0.6f * strength), 2);
}

// The bar of areas grows with its words, which stand whole under their pictures or, where five do not fit
// beside one another even made smaller, give way: then only the open area is named, over the whole bar.
struct TabBarPlan {
  Face face;
  bool words_fit = true;
  float picture_height = 0;
  float height = Sizes::kTabBar;
};

TabBarPlan plan_tab_bar(const UiState& state, const std::vector<Option>& tabs, float tab_width) {
  TabBarPlan plan;
  plan.face = face_of(state, TextSize::body, true);
  float widest = 1;
  for (const Option& tab : tabs) widest = std::max(widest, text_width(plan.face, tab.label));
  const float room = tab_width - 2 * kTabInset;
  const float fitted = std::min(plan.face.size, plan.face.size * room / widest);
  plan.words_fit = fitted >= std::min(plan.face.size, kLeastLabel * state.fonts.scale);
  if (plan.words_fit) plan.face.size = fitted;
  plan.picture_height = plan.words_fit ? kTabPicture : Sizes::kTarget;
  plan.height = std::max(Sizes::kTabBar, plan.picture_height + plan.face.size + 2);
  return plan;
}

void paint_tab(UiState& state, const Option& tab, Rect where, bool selected, bool held,
               const TabBarPlan& plan) {
  const Theme& theme = *state.theme;
  const Colour ink = held ? theme.ground : selected ? theme.act : theme.quiet_ink;
  if (is_wide(state)) {
    if (held) {
      paint_ground(state, where, theme.ink);
    } else if (selected) {
      paint_ground(state, where, theme.raised);
      paint_ground(state, {where.x, where.y + 12, 4, where.h - 24}, theme.act, 2);
    }
    paint_icon(state, tab.icon, {where.x + 16, where.y + (where.h - 24) / 2, 24, 24}, ink);
    const Face face = face_of(state, TextSize::body, selected);
    paint_fitted(state, face, {where.x + 52, where.y, where.w - 60, where.h}, ink, tab.label, kLeastLabel);
    return;
  }
  const float pill_top = plan.words_fit ? 6.0f : (Sizes::kTarget - 30) / 2;
  const Rect pill{where.x + (where.w - 56) / 2, where.y + pill_top, 56, 30};
  if (held) {
    paint_ground(state, pill, theme.ink, 15);
  } else if (selected) {
    paint_ground(state, pill, theme.act, 15);
  }
  const Colour picture = held ? theme.ground : selected ? theme.on_act : theme.quiet_ink;
  paint_icon(state, tab.icon, {pill.x + 16, pill.y + 3, 24, 24}, picture);
  if (!plan.words_fit) return;
  Face face = face_of(state, TextSize::body, selected);
  face.size = plan.face.size;
  paint_fitted(state, face, {where.x, where.y + kTabPicture, where.w, face.size},
               selected ? theme.act : theme.quiet_ink, tab.label, 1);
}

void paint_badge(UiState& state, float top, float right, std::string_view badge) {
  const Face face = picture_face(state);
  const float width = text_width(face, badge) + 20;
  const Rect pill{right - width, top, width, face.size + 8};
  paint_ground(state, pill, state.theme->sunk, pill.h / 2);
  paint_text(state, face, pill.x + 10, pill.y + (pill.h - face.size) / 2, state.theme->quiet_ink, badge);
  put_node(state, "badge", NodeRole::text, badge, pill);
}

void begin_middle(UiState& state, std::string_view id, float footer, float widest) {
  state.area = id;
  UiState::Area& area = state.areas[state.area];
  state.shown_footer = footer > 0 ? std::max(footer, area.footer) : 0;
  state.view = state.middle;
  state.view.h = std::max(0.0f, state.view.h - state.shown_footer);
  step_scroll(state, area);
  state.clip = state.view;
  if (state.notes) state.notes->view = state.view;
  state.draw->PushClipRect(ImVec2(state.view.x, state.view.y),
                           ImVec2(state.view.x + state.view.w, state.view.y + state.view.h), true);
  const Rect column = column_of(state, state.view, widest);
  state.content_top = state.view.y - std::round(area.scroll.offset());
  state.flow = Flow{column.x, column.w, state.content_top + 8, 0, true};
}

}  // namespace

Ui::Ui() : state_(new State) {}
Ui::~Ui() { delete state_; }

bool Ui::wide() const { return is_wide(*state_); }

void Ui::begin_frame(float width, float height, const Insets& insets, const Fonts& fonts, const Theme& theme,
                     const Words& words) {
  State& state = *state_;
  state.width = width;
  state.height = height;
  state.insets = insets;
  state.fonts = fonts;
  state.theme = &theme;
  state.words = &words;
  state.draw = ImGui::GetBackgroundDrawList();
  state.model.clear();
  state.wanted = std::max(0, state.wanted - 1);
  state.shown_footer = 0;
  state.area.clear();
  state.on_the_move = false;
  state.wake_in_s.reset();
  state.cells.clear();
  state.besides.clear();
  state.cards.clear();
  state.table.reset();
  state.clip = {0, 0, width, height};
  if (state.notes) {
    state.notes->clear();
    state.notes->view = state.clip;
  }
  state.middle = {insets.left, insets.top, width - insets.left - insets.right,
                  height - insets.top - insets.bottom};
  paint_ground(state, state.clip, theme.ground, 0);
  if (is_wide(state)) {
    paint_ground(state, {0, 0, insets.left + kSideWidth, height}, theme.sunk, 0);
    state.middle.x += kSideWidth;
    state.middle.w -= kSideWidth;
  }
  const Rect column = column_of(state, state.middle);
  state.flow = Flow{column.x, column.w, column.y, 0, true};
  read_pointer(state);
}

void Ui::end_frame() {
  State& state = *state_;
  state.activated.clear();
  state.accepted.clear();
  state.reveal = state.reveal_again && state.reveals_left-- > 0 ? state.revealed : std::string();
  state.revealed.clear();
  state.reveal_again = false;
  state.pinch.reset();
  if (state.lifted) state.thrown_px_s.reset();
  if (!state.down) {
    state.press_claimed = false;
    state.press_id.clear();
    state.plot_drag = State::Drag::none;
    state.plot_id.clear();
  }
}

bool Ui::top_bar(std::string_view title, bool back, std::string_view badge) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const Rect column = column_of(state, state.middle, kBroadColumn);
  Face face = face_of(state, back ? TextSize::lead : TextSize::title, true);
  const Face badge_face = picture_face(state);
  // With the arrow, the title starts where the arrow's own drawing ends.
  const float left = back ? column.x + 48 : column.x;
  float right = column.x + column.w;
  const float badge_width = badge.empty() ? 0 : text_width(badge_face, badge) + 20 + 12;
  // A title whose longest word would be broken for the badge's sake has the line for itself.
  const bool badge_below = !badge.empty() && widest_word(face, title) > right - left - badge_width;
  if (!badge_below) right -= badge_width;
  Lines lines = break_lines(face, title, right - left);
  if (lines.lines.size() > kMostTitleLines) {
    face = face_of(state, TextSize::body, true);
    lines = break_lines(face, title, right - left);
  }
  const float title_height = std::max(kBarHeight, lines.height + 2 * kBarPadding);
  const float height = title_height + (badge_below ? badge_face.size + 16 : 0);
  const Rect bar{state.middle.x, state.middle.y, state.middle.w, height};
  bool pressed = false;
  if (back) {
    const Rect target{column.x - 12, bar.y + (kBarHeight - Sizes::kTarget) / 2, Sizes::kTarget, Sizes::kTarget};
    const Touched touched = touch(state, "back", target);
    if (touched.held) paint_ground(state, target, theme.ink, Sizes::kTarget / 2);
    const Rect picture{target.x + 14, target.y + 14, 28, 28};
    paint_icon(state, "back", picture, touched.held ? theme.ground : theme.ink);
    put_node(state, "back", NodeRole::button, (*state.words)("widget.back"), target);
    pressed = touched.pressed;
  }
  const float text_top = bar.y + (title_height - lines.height) / 2;
  paint_lines(state, face, lines, left, text_top, right - left, theme.ink);
  Node heading;
  heading.id = "title";
  heading.role = NodeRole::heading;
  heading.name = title;
  heading.level = 1;
  heading.rect = {left, text_top, lines.width, lines.height};
  state.model.add(std::move(heading));
  if (!badge.empty()) {
    const float top = badge_below ? bar.y + title_height : bar.y + (kBarHeight - badge_face.size - 8) / 2;
    paint_badge(state, top, column.x + column.w, badge);
  }
  state.middle.y += height;
  state.middle.h -= height;
  return pressed;
}

std::optional<std::string> Ui::tab_bar(const std::vector<Option>& tabs, std::string_view selected) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const bool side = is_wide(state);
  if (tabs.empty()) return std::nullopt;
  std::optional<std::string> chosen;
  const float tab_width = state.middle.w / static_cast<float>(tabs.size());
  const TabBarPlan plan = plan_tab_bar(state, tabs, tab_width);
  if (!side) {
    state.middle.h -= plan.height;
    const float top = state.middle.y + state.middle.h;
    paint_ground(state, {0, top, state.width, state.height - top}, theme.raised, 0);
    const auto open =
        std::find_if(tabs.begin(), tabs.end(), [&](const Option& tab) { return tab.id == selected; });
    if (!plan.words_fit && open != tabs.end()) {
      paint_fitted(state, plan.face,
                   {state.middle.x, top + plan.picture_height, state.middle.w, plan.face.size}, theme.act,
                   open->label, kLeastLabel);
    }
  }
  for (std::size_t i = 0; i < tabs.size(); ++i) {
    const auto n = static_cast<float>(i);
    const Rect where =
        side ? Rect{state.insets.left + 12, state.insets.top + 16 + n * (Sizes::kTarget + 8), kSideWidth - 24,
                    Sizes::kTarget}
             : Rect{state.middle.x + n * tab_width, state.middle.y + state.middle.h, tab_width, plan.height};
    const std::string id = part_id("tab", tabs[i].id);
    const bool is_selected = tabs[i].id == selected;
    const Rect target = side ? where
                             : Rect{where.x + kTabInset, where.y, where.w - 2 * kTabInset,
                                    plan.words_fit ? where.h : plan.picture_height};
    const Touched touched = touch(state, id, target);
    paint_tab(state, tabs[i], target, is_selected, touched.held, plan);
    put_node(state, id, NodeRole::tab, tabs[i].label, target, {}, is_selected ? "selected" : "");
    if (touched.pressed) chosen = tabs[i].id;
  }
  return chosen;
}

bool Ui::news_bar(std::string_view id, std::string_view text, std::string_view action) {
  State& state = *state_;
  const Theme& theme = *state.theme;
  const Face face = face_of(state, TextSize::body);
  const Face bold = face_of(state, TextSize::body, true);
  const Rect column = column_of(state, state.middle);
  const float key_width = std::min(column.w * 0.6f, text_width(bold, action) + 2 * 16);
  const Lines key_lines = break_lines(bold, action, key_width - 2 * 16);
  const Lines lines = break_lines(face, text, column.w - key_width - 8);
  const float key_height = std::max(Sizes::kTarget, key_lines.height + 16);
  const float height = std::max(key_height, lines.height) + 2 * 8;
  state.middle.h -= height;
  const Rect bar{state.middle.x, state.middle.y + state.middle.h, state.middle.w, height};
  paint_ground(state, bar, theme.sunk, 0);
  paint_lines(state, face, lines, column.x, bar.y + (height - lines.height) / 2, lines.width, theme.ink);
  put_node(state, part_id(id, "text"), NodeRole::text, text, bar);
  const Rect key{column.x + column.w - key_width, bar.y + (height - key_height) / 2, key_width, key_height};
  const Touched touched = touch(state, id, key);
  paint_ground(state, key, touched.held ? theme.ink : theme.raised);
  paint_outline(state, key, theme.line, 2);
  paint_lines(state, bold, key_lines, key.x + (key.w - key_lines.width) / 2,
              key.y + (key_height - key_lines.height) / 2, key_lines.width,
              touched.held ? theme.ground : theme.ink, Align::centre);
  put_node(state, id, NodeRole::button, action, key);
  return touched.pressed;
}

void Ui::begin_content(std::string_view id, float footer, bool broad) {
  begin_middle(*state_, id, footer, broad ? kBroadColumn : kWidestColumn);
}

void Ui::begin_whole_content(std::string_view id, float footer) {
  begin_middle(*state_, id, footer, state_->width);
}

void Ui::end_content() {
  State& state = *state_;
  State::Area& area = state.areas[state.area];
  const float length = state.flow.y - state.content_top + kContentEnd;
  area.scroll.set_extent(length, state.view.h);
  paint_scroll_hint(state, area);
  state.draw->PopClipRect();
  state.clip = {0, 0, state.width, state.height};
  if (area.scroll.gliding()) state.wanted = std::max(state.wanted, 2);
}

void Ui::scroll_to_top() { state_->areas[state_->area].scroll.move_to(0); }

void Ui::begin_footer() {
  State& state = *state_;
  const Rect where{state.middle.x, state.middle.y + state.middle.h - state.shown_footer, state.middle.w,
                   state.shown_footer};
  paint_ground(state, where, state.theme->ground, 0);
  state.draw->AddLine(ImVec2(where.x, where.y), ImVec2(where.x + where.w, where.y), state.theme->line);
  const Rect column = column_of(state, where);
  state.flow = Flow{column.x, column.w, where.y + 8, 0, true};
}

void Ui::end_footer() {
  State& state = *state_;
  State::Area& area = state.areas[state.area];
  const float top = state.middle.y + state.middle.h - state.shown_footer;
  const float needed = state.flow.y + 8 - top;
  if (needed != area.footer) {
    // What did not fit this time, or left room over, has its place in the next frame.
    if (needed > state.shown_footer + 0.5f || area.footer >= state.shown_footer)
      state.wanted = std::max(state.wanted, 2);
    area.footer = needed;
    state.reveal_again = state.reveal_again || !state.revealed.empty();
  }
}

const Theme& Ui::theme() const { return *state_->theme; }
const Words& Ui::words() const { return *state_->words; }
ScreenModel& Ui::model() { return state_->model; }

void Ui::activate(std::string_view id) {
  state_->activated = id;
  want_frames(2);
}

void Ui::accept_text(std::string_view id, std::string_view text) {
  state_->accepted.insert_or_assign(std::string(id), std::string(text));
  want_frames(2);
}

void Ui::reveal(std::string_view id) {
  state_->reveal = id;
  state_->reveals_left = 2;
  want_frames(2);
}

void Ui::thrown(float px_s) { state_->thrown_px_s = px_s; }

bool Ui::gliding() const {
  const auto area = state_->areas.find(state_->area);
  return area != state_->areas.end() && area->second.scroll.gliding();
}

bool Ui::is_on_the_move() const { return state_->on_the_move; }

int Ui::frames_wanted() const { return state_->wanted; }
std::optional<double> Ui::wake_in_s() const { return state_->wake_in_s; }
void Ui::want_frames(int count) { state_->wanted = std::max(state_->wanted, count); }
float Ui::text_scale() const { return state_->fonts.scale; }
void Ui::note_frames(FrameNotes* notes) { state_->notes = notes; }
void Ui::set_reduced_motion(bool reduced) { state_->reduced_motion = reduced; }

}  // namespace tawny::ui
