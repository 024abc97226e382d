// Reads one entry into the typed lists of a pond's history. Used by build_history and check_entry only.
#pragma once

#include "protocol/history.h"

namespace tawny {

// False when the entry is of a known kind but lacks what its kind demands (kinds.h); then nothing was added.
// Kinds that leave no typed observation (set-up, notes, kinds of a newer version) read as nothing, and are
// fine.
bool read_observation(const Entry& entry, PondHistory& history);

// Ties the steps, stops and dose entries of a cycle to the walks they belong to.
void read_walks(PondHistory& history);

}  // namespace tawny
