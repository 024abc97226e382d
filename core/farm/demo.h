// The demo farm: assets/demo-farm.json tells an invented farm's entries by day before today and by the sun;
// this makes drafts of them for any "now", so that the demo always stands in the middle of a living season.
//
// The script:
//   people    {"key": "name"}; an entry's "who" is such a key
//   farm      {"day", "at", "who", "values"} of the farm_setup
//   set_up    farm-wide entries (bins, products, the sky)
//   blocks    {"name": [entry, ...]}: courses that several ponds run through, days counted from the block's
//   ponds     [{"pond": id, "set_up": values of the pond_setup, "entries": [...]}]; an item of "entries" is
//             an entry or {"block": name, "day": n}
//   device    values of the device_setup of whoever opens the demo
// An entry:
//   kind, who, values      as in logbook/kinds.h; a text "@dose+20" among the values, or in a list of them,
//                          stands for that time of the day, "@date+12" for the date twelve days after it,
//                          an "inlet" of "*" makes one entry for each of the pond's inlets, two minutes apart
//   day                    days from today, 0 or negative; or
//   days, every            [first, last] and the step (1): one entry a day, its "series" giving {"key":
//                          [a value a day, or null]}; a day whose series are all null has no entry
//   at                     "dawn+20": minutes after the start of a window (dawn, dose, peak, afternoon) or
//                          after sunrise, noon or sunset
#pragma once

#include <string_view>
#include <vector>

#include "logbook/entry.h"
#include "protocol/protocol.h"

namespace tawny {

// In order of observation, none later than `now`. Refuses a malformed script.
Result<std::vector<Draft>> demo_drafts(std::string_view script_json, const Protocol& protocol, Instant now);

}  // namespace tawny
