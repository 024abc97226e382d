// Which pond a command is asked about.
#pragma once

#include <string>

#include "base/result.h"
#include "farm/farm.h"

namespace tawny::cli {

// The id of the pond with this id or name. An id goes before a name; a name that two ponds share tells nothing.
// The error is the line to say.
tl::expected<std::string, std::string> pond_id(const Farm& farm, const std::string& asked);

}  // namespace tawny::cli
