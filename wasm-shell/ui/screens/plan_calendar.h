// The plan as a calendar: its rows, bands and marks.
#pragma once

#include <optional>
#include <string>

#include "office/plan.h"
#include "ui/app.h"
#include "ui/drawings/calendar.h"

namespace tawny::ui {

struct CalendarAsk {
  std::string picked;           // booking
  std::optional<CivilDay> was;  // where it stood before it was moved
};
// `plan` as it is to be drawn, moved or not; `at_rest` as it is saved, which tells the days shown.
Calendar plan_calendar(const App& app, const Ui& ui, const Plan& plan, const Plan& at_rest,
                       const CalendarAsk& ask);

// "plan/mark/<booking>" and back.
std::string mark_id(std::string_view booking);
std::string booking_of_mark(std::string_view id);

Colour stage_colour(const Theme& theme, Stage stage);

// What a mark says to who does not see it.
std::string booking_name(const App& app, const Words& words, const BookingPlan& plan);

}  // namespace tawny::ui
