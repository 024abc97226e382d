#include "ui/screens/when.h"

#include <string>
#include <utility>

#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kMinutesAgo[] = {0, 15, 30, 60};

}  // namespace

Instant When::at(const App& app) const { return fixed_ ? *fixed_ : app.now().plus_min(-minutes_ago_); }

void When::draw(App& app, Ui& ui) {
  const Words& words = ui.words();
  const bool now = !fixed_ && minutes_ago_ == 0;
  const std::string hint = now ? words("when.now") : words.age(at(app));
  if (ui.value_field("when", words("when.seen"), words.time(at(app)), "", hint)) unfolded_ = !unfolded_;
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
  const auto pressed = ui.choice("when/choice", words("when.choose"), options, selected);
  if (!pressed) return;
  if (*pressed == "other") {
    ask_hour(app);
    return;
  }
  for (const int minutes : kMinutesAgo) {
    if (*pressed == std::to_string(minutes)) {
      fixed_.reset();
      minutes_ago_ = minutes;
      unfolded_ = false;
    }
  }
}

void When::ask_hour(App& app) {
  NumberAsk hour;
  hour.title = app.ui().words()("when.hour");
  hour.decimals = 0;
  hour.low = 0;
  hour.high = 23;
  app.open(make_number_screen(std::move(hour), [this](App& then, double hours) {
    NumberAsk minute;
    minute.title = then.ui().words()("when.minute");
    minute.decimals = 0;
    minute.low = 0;
    minute.high = 59;
    then.open(make_number_screen(std::move(minute), [this, hours](App& last, double minutes) {
      const UtcOffset offset = last.farm().place.offset;
      const CivilDay today = civil_day(last.now(), offset);
      const int second = static_cast<int>(hours) * 3600 + static_cast<int>(minutes) * 60;
      const Instant at_today = instant_at(today, second, offset);
      // A time of day that is still to come was yesterday's.
      fixed_ = at_today > last.now() ? instant_at(today.plus(-1), second, offset) : at_today;
      unfolded_ = false;
    }));
  }));
}

}  // namespace tawny::ui
