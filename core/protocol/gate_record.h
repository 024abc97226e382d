// The criteria of gates that have opened, as they stood when each opened: what a record of the cycle shows.
//
// Judged by the entries up to that instant and the protocol that stood then. An entry that was corrected or
// taken back since counts as it counts now, as everywhere.
#pragma once

#include <vector>

#include "protocol/assess.h"
#include "protocol/look.h"

namespace tawny {

// Every criterion of the stage that `look` judges, in the order of the stage's table, with reason and evidence.
std::vector<Criterion> judge_all(Look look);

// For each of `gates`, which are those of assess() on the same history: its criteria, at its instant.
std::vector<std::vector<Criterion>> criteria_at_gates(const PondHistory& history, const Protocol& protocol,
                                                      const FarmPlace& place,
                                                      const std::vector<GateOpened>& gates);

}  // namespace tawny
