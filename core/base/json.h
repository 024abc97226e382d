// Reads a JSON text whole: the one place where RapidJSON's reader is compiled for documents, since each set of
// options is one more reader in the download. (The logbook reads its lines another way, for speed.)
//
// Numbers are read to the nearest double. No depth of nesting can exhaust the stack: it is read without recursion.
#pragma once

#include <rapidjson/document.h>

#include <string_view>

namespace tawny {

// Ask HasParseError() before anything else. Refuses a number of more than 64 characters, and an exponent of more
// than two digits: no table has them.
rapidjson::Document parse_json(std::string_view text);

// The same without a look at the numbers: whoever asks knows that none is out of any double's reach.
rapidjson::Document parse_json_number(std::string_view token);

}  // namespace tawny
