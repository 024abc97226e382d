// The part of check_entry that looks at what is put into a pond: product, amount and days since the last dose.
//
// A forbidden product, too large a dose or one too early is refused, unless it is the manager's word: the draft
// then holds manager_override (true) and a reason, and is questioned. The end of a walk that was started, and
// the correction of a recorded dose, are questioned too where the amount or the days are at fault: what is in
// the water has to go on record.
#pragma once

#include <vector>

#include "protocol/check_entry.h"

namespace tawny {

// `standard` is the default protocol, `protocol` as it stands when the draft was observed.
void check_dose(const Draft& draft, const PondHistory& history, const Protocol& standard,
                const Protocol& protocol, const FarmPlace& place, Instant now, std::vector<Finding>& findings);

}  // namespace tawny
