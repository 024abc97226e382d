// What is due at one pond on one day of the farm; rounds.h puts the ponds together.
//
// Each act is asked for once: the daily rounds first, then what the stage asks for every so many days, then
// whatever else the present gate waits for (the criteria's own `settles`, `window` and `next_chance`).
#pragma once

#include <vector>

#include "farm/rounds.h"

namespace tawny {

struct Day {
  CivilDay day;
  UtcOffset offset;
  Instant from, until;  // the civil day, whole
  Instant now;
  DayWindows windows;

  CivilDay of(Instant instant) const { return civil_day(instant, offset); }
};

Role role_for(Act act);

// Where a window stands against the clock: later, now or missed.
DueState state_of(const Window& window, Instant now);

void collect_due(const FarmPond& pond, const Protocol& protocol, const Day& day, std::vector<DueItem>& items);

}  // namespace tawny
