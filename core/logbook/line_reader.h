// Reading a line: the checks that hold for every version of the format, and what can be known of a newer one.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "logbook/entry.h"

namespace tawny {

inline constexpr std::size_t kMaxLineBytes = 65536;
// The largest counter that every JSON reader holds exactly.
inline constexpr std::uint64_t kMaxLamport = 9007199254740991;
// How a line of this version begins: the farm's id and a quotation mark follow.
inline constexpr std::string_view kFarmStart = "{\"v\":1,\"farm\":\"";
// What stands before and after the last key's 64 digits; the hash is taken over the bytes before it.
inline constexpr std::string_view kLineStart = "{\"v\":";
inline constexpr std::string_view kHashKey = ",\"hash\":\"";
inline constexpr std::string_view kLineEnd = "\"}";

// The part of a line that keeps its place and its meaning in every version.
struct LineHead {
  int format = 0;
  EntryId id;
  std::string farm;
  std::uint64_t lamport = 0;  // 0 when a newer version wrote it in another way
};

// Of any version whatever. Refuses (malformed) a line that is damaged or does not say which entry it is.
Result<LineHead> read_line_head(std::string_view line);

// Is the line, which was read before, what its hash was taken over?
bool hash_fits(std::string_view line);

// The 64 digits at the end of a line that was read before.
std::string_view hash_of_line(std::string_view line);

}  // namespace tawny
