// What the logbook tells of a pond's inlets and of the tide before its gate, as the filling plan takes it.
#pragma once

#include "logbook/entry.h"
#include "pond/inlet.h"
#include "pond/tide.h"

namespace tawny {

// Of an inlet_setup entry; refused when something is missing or cannot be. `discharge_coefficient` stands in
// where the entry gives none of its own.
Result<Inlet> read_inlet_setup(const Entry& entry, double discharge_coefficient);

// Of a tide_table entry.
Result<TideTable> read_tide_table(const Entry& entry);

// The entry's values for a table of these high and low waters.
Values tide_table_values(const std::vector<TidePoint>& points);

}  // namespace tawny
