// What the plan asks for that cannot be had: each thing by name, with who and when.
//
//   late        a delivery whose stages ahead take longer than there are days
//   too_early   a new cycle that would have to start before the one before leaves the pond
//   twice       two deliveries for one pond within one cycle
//   no_pond, unknown, unsupported   a delivery that has no pond to go to
//   pump        one pump or gate (inlet_setup's "pump") that two ponds fill from on the same days
//   doses       first doses of one morning that take longer than boats and crews have
//   deliveries  deliveries of one day that want more people than there are
//   doses_person       first doses of one morning at ponds of one worker that take longer than the morning has
//   deliveries_person  two deliveries of one day at ponds that one person has for the same part
//   tide        a fill through gates alone, on days whose highest water does not reach the level
//
// Stages stand on their latest days; a fill or a first dose that is under way stands on today. One morning has
// min(boats, bin_crews) times the minutes of its dose window; a pond takes "plan.minutes_per_pond" and
// "plan.minutes_per_bin" for each bin.
//
// What does not hold: doses of the band, which nobody can plan days ahead; tides beyond the table, of which
// nothing is said.
#pragma once

#include <string>
#include <vector>

#include "office/plan.h"

namespace tawny {

struct Conflict {
  std::string id;  // "pump", ...
  Message what;
  std::vector<std::string> bookings;  // that take part
  CivilDay from, until;
  bool operator==(const Conflict&) const = default;
};

// By day, then in the order of the table above.
std::vector<Conflict> conflicts_of(const Farm& farm, const Protocol& standard, const Plan& plan,
                                   const PlanSetUp& set_up);

}  // namespace tawny
