// The widget layer: the only way in which a screen draws or asks anything.
//
// Sizes every control for a thumb, words it, and writes it into the screen model. A control counts as pressed
// when the finger lifts on it without having dragged, or when its mirror node was activated. Ids are given by
// the caller, stable and unique in the frame ("save", "pond/p3"). All units are CSS px. Layout flows downwards
// inside the current column; text wraps; nothing is ever cut off.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ui/frame_notes.h"
#include "ui/screen_model.h"
#include "ui/theme.h"
#include "words/words.h"

struct ImFont;

namespace tawny::ui {

struct Insets {
  float top = 0, right = 0, bottom = 0, left = 0;
};

enum class TextSize { body, lead, title, number };  // 16, 20, 28, 44 CSS px at normal text size

// The size in CSS px at a text scale of 1 to 2. What is read (body, lead) grows fully; what is large already
// grows less, so that a heading or a reading still stands on one line of a narrow phone.
float text_px(TextSize size, float scale);

// Dear ImGui's font size is the height of the line; ours is the em, as in CSS. Noto Sans: 1069 above and 293
// below the baseline, in 1000 per em.
constexpr float kLinePerEm = 1.362f;

enum class Tone { ink, quiet, act, open, wait, warn, alarm, on_act };
enum class ButtonKind { primary, secondary, quiet, danger };
// Drawn as shape + word + colour: ring with gap, hourglass, filled dot, dot with tail, bar, dotted ring, tick.
enum class Status { open, waiting, due, overdue, stopped, unknown, done };

struct Option {
  std::string id, label;
  std::string icon;              // optional icon name
  std::optional<Colour> swatch;  // optional colour sample (the water colour chart)
};

// What fingers did to a plot since the last frame: it is first moved by pan_px to the right, then spread by
// `zoom` around centre_px (from the plot's left side).
struct PlotTouch {
  float pan_px = 0;
  float zoom = 1;
  float centre_px = 0;
  std::optional<float> tapped_px;  // a finger came down and lifted there without dragging
  std::optional<float> hover_px;   // a mouse stands there, not pressed
  bool pressed = false;            // that, or its mirror node was activated
};

// Two fingers on the screen, or a wheel turned with ctrl held, since the last frame.
struct Pinch {
  float began_x = 0, began_y = 0;  // middle of the fingers when they began
  float x = 0;                     // middle of the fingers now
  float moved_px = 0;              // of the middle, to the right
  float zoom = 1;
};

// What one frame of drawing needs; owned by App, handed to every screen.
class Ui {
 public:
  // Fonts are looked up by size and weight in the atlas that fonts.h built.
  struct Fonts {
    ImFont* body = nullptr;       // 16 regular
    ImFont* body_bold = nullptr;  // 16 bold
    ImFont* lead = nullptr;       // 20 regular
    ImFont* lead_bold = nullptr;  // 20 bold
    ImFont* title = nullptr;      // 28 bold
    ImFont* number = nullptr;     // 44 bold
    float scale = 1;              // the text scale that they were baked for
  };

  // --- frame -------------------------------------------------------------------------------------------------
  // Starts drawing over the whole canvas, inside ImGui::NewFrame and Render. `wide` is true on a laptop (>= 840
  // px): tabs stand as a column on the left.
  void begin_frame(float width, float height, const Insets& insets, const Fonts& fonts, const Theme& theme,
                   const Words& words);
  void end_frame();
  bool wide() const;

  // Top bar: title, and a back arrow when `back` is set; true when back was pressed. Draw it first.
  bool top_bar(std::string_view title, bool back, std::string_view badge = {});
  // Bottom (or left) bar of areas; gives the id pressed. Draw it right after the top bar.
  std::optional<std::string> tab_bar(const std::vector<Option>& tabs, std::string_view selected);
  // A slim bar over the bar of areas (over the lower edge on a laptop) with a word and one thing to do about
  // it; true when that was pressed. Draw it after tab_bar() and before the content.
  bool news_bar(std::string_view id, std::string_view text, std::string_view action);
  // The scrolling middle; `id` keeps its own scroll position. `footer` px are kept free below it for footer().
  // On a laptop, `broad` gives room for two columns (begin_cells(2)) of reading width, `whole` for a table.
  void begin_content(std::string_view id, float footer = 0, bool broad = false);
  // The same over the whole width of the window, for tables and charts.
  void begin_whole_content(std::string_view id, float footer = 0);
  void end_content();
  void scroll_to_top();
  // Fixed area under the content, above the tab bar: where the main action of a screen stands.
  void begin_footer();
  void end_footer();

  // --- flow --------------------------------------------------------------------------------------------------
  float width() const;  // of the present column
  float down() const;   // where what comes next begins: the difference of two is the height drawn between them
  int columns() const;  // 2 where the present column has room for two of reading width, else 1
  void gap(float px = 8);
  void rule();  // hairline
  // Splits the column into equal cells; call next_cell() between them. Where a cell would be too narrow for a
  // word at the present text size there are fewer, one under the other; pictures alone need no more than a
  // target.
  enum class CellsHold { words, pictures };
  void begin_cells(int count, float gap = 8, CellsHold hold = CellsHold::words);
  // Two cells of which the first one is `first` px wide; next_cell() and end_cells() as above.
  void begin_split(float first, float gap = 8);
  void next_cell();
  void end_cells();

  // --- saying ------------------------------------------------------------------------------------------------
  void heading(std::string_view id, std::string_view text, int level = 2);
  void text(std::string_view id, std::string_view text, TextSize size = TextSize::body, Tone tone = Tone::ink,
            bool bold = false);
  // The number that matters, at 44, with its unit beside it at 20.
  void number(std::string_view id, std::string_view label, std::string_view value, std::string_view unit,
              Tone tone = Tone::ink);
  // The same with keys for a step down and a step up beside it, or under it where there is no room; -1, 0 or 1.
  int number_with_steps(std::string_view id, std::string_view label, std::string_view value,
                        std::string_view unit);
  // "label    value" on one line where it fits, else under each other.
  void fact(std::string_view id, std::string_view label, std::string_view value);
  // `remark` is quiet, after the word where it fits, else under it.
  void status(std::string_view id, Status status, std::string_view word, std::string_view remark = {});
  // A sentence that must be seen, on its own ground: quiet (a hint), warn or alarm; alarm has role alert.
  void notice(std::string_view id, Tone tone, std::string_view text);
  // One of several things to mind, behind a dot.
  void point(std::string_view id, std::string_view text);
  // How far something long is, 0..1, as a bar under its label.
  void progress(std::string_view id, std::string_view label, double share);
  // An ordered step with a drawn number.
  void step(std::string_view id, int number, std::string_view text, bool done);

  // --- asking ------------------------------------------------------------------------------------------------
  bool button(std::string_view id, std::string_view label, ButtonKind kind = ButtonKind::secondary,
              bool enabled = true, std::string_view icon = {});
  // A square button with a picture only; `label` is its name for the mirror.
  bool icon_button(std::string_view id, std::string_view icon, std::string_view label);
  // One of several; wraps into as many rows as needed. Gives the id that was pressed.
  std::optional<std::string> choice(std::string_view id, std::string_view label,
                                    const std::vector<Option>& options, std::string_view selected);
  bool checkbox(std::string_view id, std::string_view label, bool checked);  // true when pressed
  // A value to tap (opens the keypad screen or an editor); shows label, value with unit, and a quiet hint.
  // `stands_in`: the value counts although nobody gave it; it is drawn quietly.
  bool value_field(std::string_view id, std::string_view label, std::string_view value, std::string_view unit,
                   std::string_view hint = {}, bool stands_in = false);
  // A text that is typed with the phone's own keyboard in the page's entry bar; gives the new text when
  // accepted.
  std::optional<std::string> text_field(std::string_view id, std::string_view label, std::string_view value,
                                        std::string_view hint, std::string_view input_kind, int max_length);

  // --- cards -------------------------------------------------------------------------------------------------
  // A raised ground around what is drawn between begin and end. A card with a name can be pressed as a whole;
  // end_card() then gives true. Controls inside a pressable card keep their own presses.
  void begin_card(std::string_view id, std::string_view pressable_name = {});
  // `height`, where given, is what skip_unseen() of the same card is to be given next time.
  bool end_card(float* height = nullptr);
  // A line of a card that can be pressed and leads on: it reaches to the card's sides. `name` is what the
  // mirror says; the title where it is empty.
  struct Row {
    std::string_view icon;  // may be empty
    std::string title;
    std::string name;
    std::optional<Status> status;  // with `word`, under the title
    std::string word;
    std::string remark;    // quiet, after the word or under it
    bool large = false;    // the title at 20
    bool unfolds = false;  // shows more under it instead of leading on
    bool unfolded = false;
    bool enabled = true;
  };
  // `height`, where given, is what skip_unseen_row() of the same row is to be given next time.
  bool row(std::string_view id, const Row& row, float* height = nullptr);
  // As skip_unseen(), for a row of a card.
  bool skip_unseen_row(float height);
  // A small button of a card, one of many alike (a pond of a round); `name` is what the mirror says.
  bool tile(std::string_view id, std::string_view title, std::string_view name);

  // --- many alike --------------------------------------------------------------------------------------------
  // A table whose heads stay at the top of the view while its rows pass under them. Heads that sort can be
  // pressed, or ticked; begin_table() gives the id of one. Widths are shares of the column. Rows of a table, or
  // cards of a list, that are far from the view need not be drawn: skip_unseen() keeps their height free and
  // gives true.
  struct Column {
    std::string id, title;
    float width = 1;
    bool sorts = false;
    std::optional<bool> ticked = std::nullopt;  // a box to tick all rows stands in place of the title
  };
  std::optional<std::string> begin_table(std::string_view id, const std::vector<Column>& columns,
                                         std::string_view sorted, bool reversed);
  void end_table();
  // A row with a ground of its own, to be pressed as a whole; its first cell is open. Gives its height so far
  // in `height`, which the next skip_unseen() of the same row is given.
  void begin_table_row(std::string_view id, std::string_view name, bool chosen);
  void next_column();
  bool end_table_row(float* height);
  bool skip_unseen(float height);
  // A square to tick, without a word beside it; `name` is what the mirror says. True when pressed.
  bool tick_box(std::string_view id, std::string_view name, bool ticked);
  // Small words to switch on and off, any number of them. Gives the id that was pressed.
  struct Chip {
    std::string id, label;
    bool on = false;
  };
  std::optional<std::string> chips(std::string_view id, const std::vector<Chip>& chips);
  bool range_key() const;  // shift is held: a press means all from the last one to this

  // --- keys --------------------------------------------------------------------------------------------------
  // Our number keys: 1-9, decimal mark, 0, delete; fills the given height. Changes `text` (point as mark).
  // `sign` adds a plus/minus key. Gives true when the text changed.
  bool keypad(std::string_view id, std::string& text, float height, bool decimals, bool sign = false);

  // --- drawing of our own ------------------------------------------------------------------------------------
  // Reserves a full-width area of `height` and gives its rectangle; `name` describes the picture to the mirror.
  Rect picture(std::string_view id, std::string_view name, float height);
  // Reserves an area of width x height at the left of the flow and continues to its right until end_beside().
  Rect begin_beside(float width, float height);
  void end_beside();
  void icon(std::string_view icon, Rect where, Colour colour);
  // Fingers on a picture that can be moved: a drag across pans it, a drag along scrolls the page as everywhere,
  // two fingers pinch it, a tap picks a place on it.
  PlotTouch plot_touch(std::string_view id, Rect where);

  // --- for screens and App -----------------------------------------------------------------------------------
  const Theme& theme() const;
  const Words& words() const;
  Colour colour(Tone tone) const;
  ScreenModel& model();
  // From the page: a mirror node was activated, an entry bar was accepted.
  void activate(std::string_view id);
  void accept_text(std::string_view id, std::string_view text);
  // The mirror node of this control has the keyboard's focus: scrolls it into view.
  void reveal(std::string_view id);
  void pinch(const Pinch& pinch);
  void thrown(float px_s);      // how fast the finger was that has just lifted, upwards
  bool gliding() const;         // a touch now stops the page, and presses nothing
  bool is_on_the_move() const;  // a finger drags the page, or it glides on
  // More frames are wanted even without an event (a scroll gliding on, a level rising).
  int frames_wanted() const;
  void want_frames(int count);
  // When the next frame is worth drawing though nothing happens until then; nothing: never.
  std::optional<double> wake_in_s() const;
  void set_reduced_motion(bool reduced);
  float text_scale() const;  // 1 to 2

  // From now on each frame is noted there anew; null ends it.
  void note_frames(FrameNotes* notes);

 private:
  friend struct UiParts;
  struct State;
  State* state_ = nullptr;

 public:
  Ui();
  ~Ui();
  Ui(const Ui&) = delete;
  Ui& operator=(const Ui&) = delete;
};

}  // namespace tawny::ui
