#include "ui/screens/plan_calendar.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "ui/screens/parts.h"
#include "ui/screens/plan_work.h"

namespace tawny::ui {
namespace {

constexpr std::string_view kMark = "plan/mark/";
constexpr int kDaysBefore = 7, kLeastDays = 49, kMostDays = 200, kDaysAfter = 10;

void add_bands(const Theme& theme, const Words& words, const BookingPlan& one, CalendarRow& row) {
  for (const PlannedStage& stage : one.stages) {
    CalendarBand band;
    band.from = stage.start_by.days;
    band.until = stage.until.days;
    band.colour = stage_colour(theme, stage.stage);
    band.label = words("stage." + std::string(name_of(stage.stage)));
    band.short_label = words.number(static_cast<int>(stage.stage), 0);
    if (&stage == &one.stages.front()) band.fade_before = stage.start_by.days - stage.early.days;
    if (&stage == &one.stages.back()) band.fade_after = std::max(0, one.ready_late.days - one.ready.days);
    if (band.until > band.from || band.fade_after > 0) row.bands.push_back(std::move(band));
  }
}

}  // namespace

Colour stage_colour(const Theme& theme, Stage stage) {
  const auto water = [&theme](WaterColour colour) { return theme.water[static_cast<std::size_t>(colour)]; };
  switch (stage) {
    case Stage::bottom:
      return theme.soil;
    case Stage::first_fill:
    case Stage::second_fill:
      return water(WaterColour::clear);
    case Stage::rest:
    case Stage::first_dose:
      return water(WaterColour::pale_gold);
    case Stage::bloom:
    case Stage::third_fill:
      return stage == Stage::bloom ? water(WaterColour::golden) : water(WaterColour::clear);
    case Stage::hold_band:
      return water(WaterColour::golden);
    case Stage::release:
    case Stage::early_cycle:
      break;
  }
  return water(WaterColour::golden_brown);
}

std::string mark_id(std::string_view booking) { return std::string(kMark) + std::string(booking); }

std::string booking_of_mark(std::string_view id) {
  return id.substr(0, kMark.size()) == kMark ? std::string(id.substr(kMark.size())) : std::string();
}

std::string booking_name(const App& app, const Words& words, const BookingPlan& plan) {
  return words(Message("plan.booking.name")
                   .with("pond", Text{plan.booking.pond.empty() ? words("booking.pond.none")
                                                                : pond_name(app, plan.booking.pond)})
                   .with("day", Text{weekday_date(words, plan.booking.deliver_on)})
                   .with("count", Quantity{plan.booking.pl_count, 0, {}})
                   .with("slack", Text{words(slack_message(plan))})
                   .with("chance", Text{words(chance_message(plan))}));
}

Calendar plan_calendar(const App& app, const Ui& ui, const Plan& plan, const Plan& at_rest,
                       const CalendarAsk& ask) {
  const Theme& theme = ui.theme();
  const Words& words = ui.words();
  Calendar calendar;
  CivilDay last = at_rest.today.plus(kLeastDays - kDaysBefore);
  for (const BookingPlan& one : at_rest.bookings) {
    if (one.state != BookingState::past) last = std::max(last, one.booking.deliver_on.plus(kDaysAfter));
  }
  const CivilDay first = at_rest.today.plus(-kDaysBefore);
  calendar.first = first.days;
  calendar.days = std::min(last.days - first.days, kMostDays);
  calendar.today = at_rest.today.days;
  // A week begins on its Monday: 5 January 1970 was one.
  const int monday = first.days + (7 - ((first.days - 4) % 7 + 7) % 7) % 7;
  for (int day = monday; day < first.days + calendar.days; day += 7) {
    calendar.ticks.push_back({static_cast<double>(day), weekday_date(words, CivilDay{day})});
  }
  std::map<std::string, std::size_t, std::less<>> row_of;
  for (const FarmPond& pond : app.farm().ponds) {
    CalendarRow row;
    row.name = pond.history.pond.name;
    if (pond.state.unsupported) {
      row.remark = words("pond.unsupported.short");
    } else if (pond.state.in_cycle) {
      row.remark = stage_word(words, pond.state.stage);
    } else {
      row.remark = words("pond.no_cycle");
    }
    row_of.emplace(pond.history.pond.id, calendar.rows.size());
    calendar.rows.push_back(std::move(row));
  }
  for (const BookingPlan& one : plan.bookings) {
    if (one.state == BookingState::past) continue;
    auto found = row_of.find(one.booking.pond);
    if (found == row_of.end()) {
      CalendarRow row;
      row.name = one.booking.pond.empty() ? words("booking.pond.none") : one.booking.pond;
      found = row_of.emplace(one.booking.pond, calendar.rows.size()).first;
      calendar.rows.push_back(std::move(row));
    }
    CalendarRow& row = calendar.rows[found->second];
    add_bands(theme, words, one, row);
    if (one.slack_days > 0 && !one.stages.empty() && !one.new_cycle) {
      row.spare_from = plan.today.days;
      row.spare_until = one.stages.front().start_by.days;
    }
    CalendarMark mark;
    mark.id = mark_id(one.booking.booking);
    mark.name = booking_name(app, words, one);
    mark.day = one.booking.deliver_on.days;
    mark.picked = one.booking.booking == ask.picked;
    mark.alarm = one.too_late();
    if (mark.picked) {
      mark.label = weekday_date(words, one.booking.deliver_on);
      if (ask.was && *ask.was != one.booking.deliver_on) mark.was = ask.was->days;
    }
    row.marks.push_back(std::move(mark));
  }
  return calendar;
}

}  // namespace tawny::ui
