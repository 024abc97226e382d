// Every cycle of a pond, past ones too: what was seen in it, and where it stood when it was over.
//
// A past cycle is judged as of its end: by the entries up to then, by the protocol as it stood then and by the
// pond's set-up of then (the first one told later, where none was told yet), however late it is asked for. What
// is corrected afterwards counts corrected. Inlets and tide are for fills to come, so a past cycle has none.
// The histories point into the logbook, so cycles are good until it changes.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "farm/farm.h"

namespace tawny {

struct Cycle {
  std::string label;  // not unique: a label may be used again after an end
  Instant start;
  std::optional<Instant> end;  // none: running
  // Of that cycle, as of its end or of now. The state of a cycle that is over is the last it had, still in
  // cycle.
  FarmPond pond;

  Instant until(Instant now) const { return end.value_or(now); }
};

// Every cycle of the pond that was started by `now`, oldest first, the running one last. Nothing for a pond
// that the farm does not have. series_of(cycle.pond, standard, farm.place, cycle.until(now)) gives its charts.
std::vector<Cycle> cycles_of(const Logbook& logbook, const Farm& farm, std::string_view pond,
                             const Protocol& standard, Instant now);

// The same for every pond of the farm, by pond id; reads the logbook once.
std::map<std::string, std::vector<Cycle>> all_cycles(const Logbook& logbook, const Farm& farm,
                                                     const Protocol& standard, Instant now);

}  // namespace tawny
