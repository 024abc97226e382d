// The part of check_entry that looks at what is put into a pond: product, amount and days since the last dose.
//
// Only the manager may put a forbidden product, or a walk that breaks the dose rules, on record: the draft then
// holds manager_override (true) and a reason. What was already spread is questioned, not refused: the record
// has to tell what happened.
#pragma once

#include <vector>

#include "protocol/check_entry.h"

namespace tawny {

// `protocol` as it stands when the draft was observed.
void check_dose(const Draft& draft, const PondHistory& history, const Protocol& protocol,
                const FarmPlace& place, std::vector<Finding>& findings);

}  // namespace tawny
