// Numbers as JSON writes them, read to the nearest double, the same natively and as wasm.
//
// RapidJSON 1.1.0 reads outside its table of powers when a number has hundreds of zeros or a far exponent, and
// takes "-0" for 0. So the reader hands us the characters, and what reaches RapidJSON is kept inside its table.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace tawny {

// `token` has the grammar of a JSON number. Nothing when it is longer than 64 characters or too large for a
// double; a number too small for one is zero.
std::optional<double> read_json_number(std::string_view token);

// Digits only, no leading zero, at most `limit`.
std::optional<std::uint64_t> read_json_whole(std::string_view token, std::uint64_t limit);

}  // namespace tawny
