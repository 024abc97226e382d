#include "ui/screens/when.h"

#include <string>
#include <utility>

#include "protocol/windows.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kMinutesAgo[] = {0, 15, 30, 60};

}  // namespace

Instant When::at(const App& app) const { return fixed_ ? *fixed_ : app.now().plus_min(-minutes_ago_); }

void When::draw(App& app, Ui& ui, std::string_view word) {
  const Words& words = ui.words();
  const bool now = !fixed_ && minutes_ago_ == 0;
  const std::string hint = now ? words("when.now") : words.age(at(app));
  if (ui.value_field("when", words(word), words.time(at(app)), "", hint)) unfolded_ = !unfolded_;
  if (!unfolded_) return;
  std::vector<Option> options;
  for (const int minutes : kMinutesAgo) {
    Option option;
    option.id = std::to_string(minutes);
    option.label =
        minutes == 0
            ? words("when.now")
            : words(Message("when.minutes_ago").with("count", Quantity{static_cast<double>(minutes), 0, ""}));
    options.push_back(std::move(option));
  }
  Option other;
  other.id = "other";
  other.label = words("when.other");
  options.push_back(std::move(other));
  const std::string selected = fixed_ ? "other" : std::to_string(minutes_ago_);
  if (const auto pressed = ui.choice("when/choice", words("when.choose"), options, selected))
    choose(app, *pressed);
  draw_windows(app, ui);
}

void When::choose(App& app, const std::string& choice) {
  if (choice == "other") {
    ask_moment(app);
    return;
  }
  for (const int minutes : kMinutesAgo) {
    if (choice != std::to_string(minutes)) continue;
    fixed_.reset();
    minutes_ago_ = minutes;
  }
}

// The windows of the chosen day by its sun, and which of them the moment falls into.
void When::draw_windows(const App& app, Ui& ui) const {
  const Words& words = ui.words();
  const FarmPlace& place = app.farm().place;
  const Instant moment = at(app);
  const Result<DayWindows> day = windows_of(civil_day(moment, place.offset), place, app.protocol());
  if (!day) return;
  ui.text("when/windows", words("when.windows"), TextSize::body, Tone::quiet);
  for (const WindowName name : {WindowName::dose, WindowName::dawn, WindowName::peak, WindowName::afternoon}) {
    const Window& window = day->of(name);
    const std::string id = std::string(name_of(name));
    const std::string times = words(Message("when.window")
                                        .with("from", Text{words.clock(window.from)})
                                        .with("until", Text{words.clock(window.until)}));
    ui.status("when/window/" + id, window.contains(moment) ? Status::open : Status::unknown,
              words("window." + id + ".label"), times);
  }
}

void When::ask_moment(App& app) {
  MomentAsk ask;
  ask.title = app.ui().words()("when.other");
  ask.about = app.ui().words()("when.seen");
  ask.present = at(app);
  app.open(make_moment_screen(std::move(ask), [this](App&, Instant moment) { fixed_ = moment; }));
}

}  // namespace tawny::ui
