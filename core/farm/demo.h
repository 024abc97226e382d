// The demo farm: assets/demo-farm.json tells an invented farm's entries by day before today and by the sun; this
// makes drafts of them for any "now", so that the demo always stands in the middle of a living season.
#pragma once

#include <string_view>
#include <vector>

#include "logbook/entry.h"
#include "protocol/protocol.h"

namespace tawny {

// In order of observation, none later than `now`. Refuses a malformed script.
Result<std::vector<Draft>> demo_drafts(std::string_view script_json, const Protocol& protocol, Instant now);

}  // namespace tawny
