// A segment: entries first..last of one device, in a file that never changes. FORMAT.md gives name and bytes.
//
// The unit in which a logbook lies in a depot and in a bundle. The name tells whose entries it holds and the
// hash of the bytes, so a reader sees damage, and a writer who holds the same lines can reckon the same name.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "logbook/logbook.h"

namespace tawny {

inline constexpr std::uint32_t kNumbersPerThousand = 1000;

// Which thousand an entry number lies in: 1..1000 is 0. A segment never crosses from one to the next.
constexpr std::uint32_t thousand_of(std::uint32_t number) { return (number - 1) / kNumbersPerThousand; }

struct SegmentName {
  std::string writer;  // the folder of the depot under which it was put
  std::string device;  // whose entries
  std::uint32_t first = 0;
  std::uint32_t last = 0;
  std::string hash;  // first 16 hexadecimal digits of SHA-256 of the bytes

  std::uint32_t thousand() const { return thousand_of(first); }
  std::uint32_t numbers() const { return last - first + 1; }
  // All numbers of its thousand.
  bool whole_thousand() const { return numbers() == kNumbersPerThousand; }
  bool operator==(const SegmentName&) const = default;
};

// "writer/device/thousand/first-last-hash.jsonl"; nothing when it is not exactly of that form.
std::optional<SegmentName> parse_segment_name(std::string_view name);
std::string to_string(const SegmentName& name);

// The folder of a depot in which it lies: "writer/device/thousand/".
std::string folder_of(const SegmentName& name);

// What stands in a name for these bytes.
std::string segment_hash(std::string_view bytes);

// The device's lines first..last as to_lines() has them, of a number in conflict all. Empty when one of the
// numbers is not here.
std::string segment_bytes(const Logbook& logbook, std::string_view device, std::uint32_t first,
                          std::uint32_t last);

}  // namespace tawny
