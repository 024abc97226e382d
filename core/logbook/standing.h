// What became of entries that others correct or void.
//
// An entry's corrections, and theirs, make a tree. Voids take single entries out of it; of what is left, an
// entry with a correction gives way to it, and of several that could stand the latest by (Lamport, device,
// number, hash) does. A void counts only while it stands itself. Corrections of an entry that is not here
// compete with each other all the same; they stand in its place.
#pragma once

#include <vector>

#include "logbook/logbook.h"

namespace tawny {

// By hash, the entries that do not stand. `pointing` are all entries that correct or void another.
HashMap<Logbook::Standing> find_fallen(const Logbook& logbook, const std::vector<const Entry*>& pointing);

// Later by (Lamport, device, number, hash).
bool is_later(const Entry& a, const Entry& b);

}  // namespace tawny
