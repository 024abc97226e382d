// What the plan's screens work on: bookings, plan and conflicts, reckoned once for a fold of the farm, and the
// same as they would be with one delivery moved.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "office/conflicts.h"
#include "office/tomorrow.h"
#include "ui/app.h"

namespace tawny::ui {

class PlanWork {
 public:
  // To be called first in each frame; reckons anew where the farm was folded since.
  void refresh(const App& app);
  const Bookings& bookings() const { return bookings_; }
  const Plan& plan() const { return plan_; }
  const std::vector<Conflict>& conflicts() const { return conflicts_; }
  // Nothing where the sun neither rises nor sets.
  const std::optional<Tomorrow>& tomorrow(const App& app);

  struct Moved {
    Plan plan;
    std::vector<Conflict> conflicts;
  };
  // As if the booking were delivered that day.
  const Moved& moved(const App& app, std::string_view booking, CivilDay day);

 private:
  std::optional<std::size_t> entries_;
  Instant at_;
  Bookings bookings_;
  OwnDays own_;
  PlanBasis basis_;
  Plan plan_;
  std::vector<Conflict> conflicts_;
  std::optional<std::size_t> own_entries_;
  bool tomorrow_known_ = false;
  std::optional<Tomorrow> tomorrow_;
  std::string moved_booking_;
  CivilDay moved_day_;
  std::optional<Moved> moved_;
};

// "Thu 10 Dec".
std::string weekday_date(const Words& words, CivilDay day);

}  // namespace tawny::ui
