// Rounds: what is due where, until when and for whom, in walking order.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/farm.h"

namespace tawny {

enum class DueState {
  now,      // inside its window, or without a window and due
  later,    // its window opens later today
  overdue,  // no window, and past its day
  missed,   // today's window has closed without it
  done,     // taken inside its window today
};
std::string_view name_of(DueState state);

struct DueItem {
  std::string pond;  // id; empty for what is one for the whole farm (the sky)
  Act act = Act::water_reading;
  std::string detail;  // an inlet's name for screen_check, else empty
  Role role = Role::technician;
  DueState state = DueState::now;
  std::optional<WindowName> window;
  Instant from;
  Instant until;
  Message why;  // six words at most once worded: "due.why.*"
  std::optional<EntryId> done_by;
  int walk_order = 0;
};

struct Rounds {
  DayWindows today;
  // What is to be done now: what a closing window asks for, the soonest end first; then what is overdue; then
  // what has no window. After that what comes later, what was missed, what is done. In walking order within
  // each.
  std::vector<DueItem> items;
};

// Refuses only where the sun neither rises nor sets.
Result<Rounds> rounds(const Farm& farm, const Protocol& protocol, Instant now);

}  // namespace tawny
