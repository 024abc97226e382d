// What the files of the widget layer share: the state of a Ui, its flow, its pointer and its painting.
// Only widgets*.cpp and the drawings include this.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "imgui.h"
#include "ui/touch_scroll.h"
#include "ui/widgets.h"

namespace tawny::ui {

// A font at the size in CSS px at which it is drawn.
struct Face {
  ImFont* font = nullptr;
  float size = 0;
};

// A text broken into lines.
struct Lines {
  std::vector<std::string_view> lines;
  float width = 0, height = 0;
  float line_height = 0;  // also the size at which the letters are drawn
};

// Where the flow stands: the present column and how far down it is filled.
struct Flow {
  float x = 0, width = 0;
  float y = 0;
  float pending_gap = 0;  // wanted above whatever comes next
  bool fresh = true;      // nothing stands in this column yet, so no gap either
};

struct Cells {
  Flow before;
  float top = 0, bottom = 0, cell_width = 0, gap = 0;
  float first_width = 0;  // of the first of two cells; 0: as wide as the other
  int count = 1, at = 0;
};

struct Beside {
  Flow before;
  float bottom = 0;
};

struct Card {
  std::string id;
  Flow before;
  float top = 0;
  bool pressable = false;
  float row_bottom = -1;   // of the last row, which needs no room under it
  std::size_t ground = 0;  // its number among the noted grounds
  std::unique_ptr<ImDrawListSplitter> layers;
};

// A table and the row of it that is open.
struct Table {
  std::vector<Ui::Column> columns;
  std::vector<float> lefts, widths;
  std::string sorted;
  bool reversed = false;
  Rect head;           // where it is shown
  bool stuck = false;  // at the top of the view, with rows under it
  std::vector<bool> held;
  Flow before;  // of the row
  std::string row;
  float top = 0, bottom = 0;
  std::size_t at = 0;
  bool chosen = false;
  std::size_t ground = 0;  // its number among the noted grounds
  std::unique_ptr<ImDrawListSplitter> layers;
};

// What a control was told this frame.
struct Touched {
  bool held = false;     // a finger is on it that has not dragged
  bool pressed = false;  // the finger lifted on it, or its mirror node was activated
};

struct Ui::State {
  Fonts fonts;
  const Theme* theme = nullptr;
  const Words* words = nullptr;
  ImDrawList* draw = nullptr;
  ScreenModel model;
  bool reduced_motion = false;
  int wanted = 0;
  std::optional<double> wake_in_s;
  FrameNotes* notes = nullptr;

  // Frame.
  float width = 0, height = 0;
  Insets insets;
  Rect middle;  // what the bars leave
  float shown_footer = 0;

  // Flow.
  Flow flow;
  std::vector<Cells> cells;
  std::vector<Beside> besides;
  std::vector<Card> cards;
  std::optional<Table> table;

  // Scrolling: by content id.
  struct Area {
    TouchScroll scroll;
    float footer = 0;  // height that the footer needed when it was last drawn
    double moved_at_s = -10;
  };
  std::map<std::string, Area, std::less<>> areas;
  std::string area;  // of this frame
  bool on_the_move = false;
  Rect view;  // of the scrolling middle
  float content_top = 0;
  std::string reveal;
  std::string revealed;       // in this frame
  bool reveal_again = false;  // the page was not as long, or the footer not as high, as it then turned out
  int reveals_left = 0;

  // Pointer.
  Rect clip;  // where a press can land
  ImVec2 pointer;
  bool pointer_valid = false, down = false, came_down = false, lifted = false, touch = false;
  ImVec2 down_at;
  bool press_alive = false, press_claimed = false;
  std::string press_id;
  // The plot under the finger that is down: a drag across it belongs to the plot, along it to the page.
  enum class Drag { none, undecided, across, along };
  Drag plot_drag = Drag::none;
  std::string plot_id;
  float plot_x = 0;  // how far its drag has been told
  std::optional<Pinch> pinch;
  std::optional<float> thrown_px_s;  // of the finger whose lifting comes next
  std::string activated;
  std::map<std::string, std::string, std::less<>> accepted;
};

// Access for the free functions below.
struct UiParts {
  using State = Ui::State;
  static State& of(const Ui& ui) { return *ui.state_; }
};
using UiState = UiParts::State;

// --- text
// ------------------------------------------------------------------------------------------------------
Face face_of(const UiState& state, TextSize size, bool bold = false);
// Of the figures in a drawing.
Face picture_face(const UiState& state, bool bold = false);
float text_width(const Face& face, std::string_view text);
// Of the widest word, where a number and its unit are one.
float widest_word(const Face& face, std::string_view text);
// Breaks at blanks; a number keeps its unit. Where a word is wider than the line the whole text is made
// smaller, down to normal text size; a word that is wider even then (what somebody typed) is broken where it
// must be.
Lines break_lines(const Face& face, std::string_view text, float width);
// The lines look into the text, which must outlive them.
Lines break_lines(const Face& face, std::string&& text, float width) = delete;
void paint_text(UiState& state, const Face& face, float x, float y, Colour colour, std::string_view text);
enum class Align { left, centre };
void paint_lines(UiState& state, const Face& face, const Lines& lines, float x, float y, float width,
                 Colour colour, Align align = Align::left);
// One line; made smaller where it would not fit, down to `least` px.
void paint_fitted(UiState& state, Face face, Rect where, Colour colour, std::string_view text, float least);

// --- painting
// --------------------------------------------------------------------------------------------------
void paint_ground(UiState& state, Rect where, Colour colour, float corner = Sizes::kCorner);
void paint_outline(UiState& state, Rect where, Colour colour, float thickness, float corner = Sizes::kCorner);
void paint_icon(UiState& state, std::string_view name, Rect where, Colour colour);
void paint_status(UiState& state, Status status, Rect where, Colour colour);
Colour status_colour(const Theme& theme, Status status);
Colour with_alpha(Colour colour, float share);
Colour blend(Colour under, Colour over, float share);
// Colours what was added to the draw list since `first_vertex` from `top` to `bottom`.
void shade_down(ImDrawList* draw, int first_vertex, float top_y, float bottom_y, Colour top, Colour bottom);

// --- flow
// ------------------------------------------------------------------------------------------------------ The
// next area of full width; `margin` is kept free above and below it (margins of neighbours overlap).
Rect take(UiState& state, float height, float margin);
// In the view or close to it; so is what has no known height.
bool is_near_view(const UiState& state, float top, float height);
// Something of it would be on the screen; what would not need not be drawn, though it stands in the screen model.
bool is_seen(const UiState& state, Rect where);
constexpr float kControlGap = 8;
constexpr float kTextGap = 4;

// --- pointer and mirror
// ----------------------------------------------------------------------------------------
Touched touch(UiState& state, std::string_view id, Rect where, bool enabled = true, bool card = false);
void put_node(UiState& state, std::string_view id, NodeRole role, std::string_view name, Rect rect,
              std::string_view value = {}, std::string_view node_state = {});
inline bool contains(const Rect& rect, ImVec2 point) {
  return point.x >= rect.x && point.x < rect.x + rect.w && point.y >= rect.y && point.y < rect.y + rect.h;
}
Rect inside_of(const Rect& a, const Rect& b);
std::string part_id(std::string_view id, std::string_view part);

}  // namespace tawny::ui
