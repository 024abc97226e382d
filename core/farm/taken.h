// Whether an act was done within a span of time: the link from what a person is asked for to what was put on
// record.
#pragma once

#include "protocol/assess.h"

namespace tawny {

// The last observation that answers `act` in [from, until]; null when there is none. Acts that are decisions
// about other entries (settle_question, start_cycle) have none.
const Observed* last_taken(const PondHistory& history, Act act, Instant from, Instant until);

}  // namespace tawny
