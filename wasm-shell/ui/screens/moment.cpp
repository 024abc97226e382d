// A day and a time of day picked with the thumb: the day by steps, the time with our own keys. An hour alone is
// enough: "6" is 06:00, "18" is 18:00, "1842" is 18:42.
#include <algorithm>
#include <utility>

#include "ui/screens/parts.h"
#include "ui/screens/screens.h"
#include "ui/screens/typing.h"

namespace tawny::ui {
namespace {

constexpr std::size_t kMostDigits = 4;

// Seconds since midnight; nothing where no such time is.
std::optional<int> seconds_of(const std::string& digits) {
  if (digits.empty()) return std::nullopt;
  const std::size_t of_hour = digits.front() > '2' ? 1 : 2;
  const auto number = [](std::string text) {
    int value = 0;
    for (const char c : text) value = 10 * value + (c - '0');
    return value;
  };
  const int hour = number(digits.substr(0, of_hour));
  std::string minutes = digits.size() > of_hour ? digits.substr(of_hour) : std::string();
  if (minutes.size() > 2) return std::nullopt;
  minutes.resize(2, '0');
  const int minute = number(minutes);
  if (hour > 23 || minute > 59) return std::nullopt;
  return hour * 3600 + minute * 60;
}

class MomentScreen : public Screen {
 public:
  MomentScreen(MomentAsk ask, std::function<void(App&, Instant)> done)
      : ask_(std::move(ask)), done_(std::move(done)) {}

  void draw(App& app, Ui& ui) override {
    if (!started_) start(app);
    app.frame_bars(ui, ask_.title);
    const ScreenShape shape = screen_shape();
    if (shape.low()) {
      ui.begin_content("moment");
      ui.begin_cells(2);
      draw_value(app, ui);
      draw_accept(app, ui);
      ui.next_cell();
      draw_keys(ui, shape.height - 2 * Sizes::kTarget);
      ui.end_cells();
      ui.end_content();
      return;
    }
    in_view_.keep(ui, "moment/value", digits_);
    const float keys = keys_height(ui);
    ui.begin_content("moment", keys + Sizes::kTarget + 2 * Sizes::kGrid);
    draw_value(app, ui);
    ui.end_content();
    ui.begin_footer();
    draw_keys(ui, keys);
    ui.gap();
    draw_accept(app, ui);
    ui.end_footer();
  }

 private:
  void start(const App& app) {
    started_ = true;
    const UtcOffset offset = app.farm().place.offset;
    day_ = civil_day(ask_.present.value_or(ask_.day_of.value_or(app.now())), offset);
    if (!ask_.present) return;
    digits_.text = to_hh_mm(*ask_.present, offset);
    digits_.text.erase(2, 1);
    digits_.fresh = true;
  }

  std::optional<Instant> moment(const App& app) const {
    const std::optional<int> seconds = seconds_of(digits_.text);
    if (!seconds) return std::nullopt;
    return instant_at(day_, *seconds, app.farm().place.offset);
  }

  void draw_value(App& app, Ui& ui) {
    const Words& words = ui.words();
    const std::optional<Instant> at = moment(app);
    const std::string shown = at ? words.clock(*at) : digits_.text.empty() ? std::string("–") : digits_.text;
    ui.number("moment/value", ask_.about, shown, words.day(day_));
    if (!at && !digits_.text.empty()) ui.notice("moment/none", Tone::warn, words("moment.none"));
    ui.begin_cells(2);
    if (ui.button("moment/before", words("moment.before"))) {
      day_ = day_.plus(-1);
    }
    ui.next_cell();
    if (ui.button("moment/after", words("moment.after"))) {
      day_ = day_.plus(1);
    }
    ui.end_cells();
  }

  void draw_keys(Ui& ui, float height) {
    if (typing_keypad(ui, "moment/keys", digits_, height, false) && digits_.text.size() > kMostDigits) {
      digits_.text.resize(kMostDigits);
    }
  }

  void draw_accept(App& app, Ui& ui) {
    const std::optional<Instant> at = moment(app);
    if (!ui.button("moment/accept", ui.words()("number.accept"), ButtonKind::primary, at.has_value())) return;
    // This screen is closed first, so that `done` may open another.
    const std::function<void(App&, Instant)> done = done_;
    app.back();
    done(app, *at);
  }

  MomentAsk ask_;
  std::function<void(App&, Instant)> done_;
  bool started_ = false;
  CivilDay day_;
  Typing digits_;
  TypedInView in_view_;
};

}  // namespace

std::unique_ptr<Screen> make_moment_screen(MomentAsk ask, std::function<void(App&, Instant)> done) {
  return std::make_unique<MomentScreen>(std::move(ask), std::move(done));
}

}  // namespace tawny::ui
