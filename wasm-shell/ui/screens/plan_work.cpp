#include "ui/screens/plan_work.h"

#include "office/cycles.h"

namespace tawny::ui {

void PlanWork::refresh(const App& app) {
  if (entries_ == app.logbook().size() && at_ == app.farm().at) return;
  const bool new_entries = entries_ != app.logbook().size();
  const UtcOffset offset = app.farm().place.offset;
  const bool new_day = civil_day(at_, offset) != civil_day(app.farm().at, offset);
  entries_ = app.logbook().size();
  at_ = app.farm().at;
  // The plan goes by the day, and so does the basis that it stands on.
  if (!new_entries && !new_day) return;
  bookings_ = bookings_of(app.logbook(), app.protocol());
  bool any = false;
  for (const Booking& booking : bookings_.all) any = any || !booking.cancelled;
  // Old cycles are read only where a plan rests on them.
  if (any && own_entries_ != entries_) {
    own_entries_ = entries_;
    own_ = own_days_of(all_cycles(app.logbook(), app.farm(), app.protocol(), app.farm().at));
  }
  basis_ = plan_basis(app.farm(), app.protocol(), app.products(), own_, bookings_.all);
  plan_ = make_plan(app.farm(), app.protocol(), basis_, bookings_.all);
  conflicts_ = conflicts_of(app.farm(), app.protocol(), plan_, bookings_.set_up);
  tomorrow_known_ = false;
  tomorrow_.reset();
  moved_.reset();
}

const std::optional<Tomorrow>& PlanWork::tomorrow(const App& app) {
  if (!tomorrow_known_) {
    tomorrow_known_ = true;
    auto told = tomorrow_of(app.logbook(), app.protocol(), app.products(), plan_, app.farm().place.offset,
                            app.farm().at);
    if (told) tomorrow_ = *std::move(told);
  }
  return tomorrow_;
}

const PlanWork::Moved& PlanWork::moved(const App& app, std::string_view booking, CivilDay day) {
  if (moved_ && moved_booking_ == booking && moved_day_ == day) return *moved_;
  std::vector<Booking> all = bookings_.all;
  for (Booking& one : all) {
    if (one.booking == booking) one.deliver_on = day;
  }
  Moved moved;
  moved.plan = make_plan(app.farm(), app.protocol(), basis_, all);
  moved.conflicts = conflicts_of(app.farm(), app.protocol(), moved.plan, bookings_.set_up);
  moved_booking_ = booking;
  moved_day_ = day;
  moved_ = std::move(moved);
  return *moved_;
}

std::string weekday_date(const Words& words, CivilDay day) {
  const YearMonthDay date = year_month_day(day);
  // 1 January 1970 was a Thursday.
  const int weekday = ((day.days + 3) % 7 + 7) % 7 + 1;
  return words(Message("plan.date")
                   .with("weekday", Word{"weekday." + std::to_string(weekday)})
                   .with("day", bare(date.day))
                   .with("month", Word{"month." + std::to_string(date.month)}));
}

}  // namespace tawny::ui
