// How many days each stage of a pond takes: from the protocol, from the pond's own inlets and tide, and from
// what the farm's finished cycles took.
//
// The protocol gives for each stage the days that its criteria ask for at least (seven of drying, 48 hours of
// rest, ...), a median and a late day (9 of 10 times no longer). Where a fill can be reckoned, its hours plus
// "plan.fill.extra_d" stand in for the median, and the hours alone for the least.
//
// With n stages of the farm's own behind it, x_i days each, the median and the spread shrink toward the
// protocol's as if that were k stages more ("plan.own_weight"); y = ln x, prior mean m0 = ln median, prior
// spread s0 = sigma_of(median, late):
//
//   m = (k m0 + sum y) / (k + n)
//   s^2 = (k s0^2 + sum (y - mean y)^2 + k n / (k + n) (mean y - m0)^2) / (k + n) * (1 + 1 / (k + n))
//
// The conjugate prior of a normal law with both mean and variance unknown (Gelman et al., Bayesian Data
// Analysis, 3rd ed., 3.3; from memory), its predictive Student law taken as normal; the same k for both is our
// own choice. A stage that took less than a quarter day counts as a quarter day, the step of the plan.
//
// What does not hold: a farm that changed its ways between cycles; seasons.
#pragma once

#include <array>
#include <map>
#include <string>
#include <vector>

#include "farm/farm.h"
#include "office/cycles.h"
#include "office/day_spread.h"

namespace tawny {

inline constexpr int kPlannedStages = 9;  // bottom .. release

// The three fills; the top-up before release is part of its stage.
bool is_fill(Stage stage);

// Days that the farm's own stages took, by stage from 1; each in no order.
struct OwnDays {
  std::array<std::vector<double>, kPlannedStages + 1> days;
  const std::vector<double>& of(Stage stage) const { return days[static_cast<std::size_t>(stage)]; }
};

// Adds the stages of one cycle. Only a cycle that came to its release counts: of one that is under way, only
// the short stages would be over.
void add_cycle(OwnDays& own, Instant start, const std::vector<GateOpened>& gates);
OwnDays own_days_of(const std::map<std::string, std::vector<Cycle>>& cycles);

struct StageDays {
  Stage stage = Stage::bottom;
  double least_d = 0;
  double median_d = 0;             // to a quarter day
  double early_d = 0, late_d = 0;  // 1 and 9 of 10 times no longer
  int own = 0;                     // stages of the farm that it rests on
  bool by_inlets = false;          // a fill whose hours are reckoned
  DaySpread spread = DaySpread::exactly(0);
};

// All of bottom .. release, for a cycle that starts anew.
std::vector<StageDays> stage_days(const FarmPond& pond, const Protocol& protocol, const OwnDays& own,
                                  Instant now);

// What is ahead of a pond in its cycle, its present stage first, counted from `from`, the start of today; empty
// once it is released.
std::vector<StageDays> stage_days_left(const FarmPond& pond, const Protocol& protocol, const OwnDays& own,
                                       Instant from);

}  // namespace tawny
