// Reads a JSON text whole: the one place where RapidJSON's reader is compiled for documents, since each set of
// options is one more reader in the download. (The logbook reads its lines another way, for speed.)
//
// Numbers are read to the nearest double. No depth of nesting can exhaust the stack.
#pragma once

#include <rapidjson/document.h>

#include <string_view>

namespace tawny {

// Ask HasParseError() before anything else.
rapidjson::Document parse_json(std::string_view text);

}  // namespace tawny
