// The first line of a bundle: which entries of which devices the file ought to hold.
//
// FORMAT.md beside this file gives the bytes. The line carries its own hash, like an entry, so that a list that
// was changed or cut off is never believed. It begins with other bytes than an entry, so a reader of plain
// logbook lines knows it and passes over it.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "base/time.h"

namespace tawny {

// Entries first..last of one device without a gap, as lines, byte for byte.
struct BundleSegment {
  std::string device;
  std::uint32_t first = 0;
  std::uint32_t last = 0;
  std::string hash;  // first 16 digits of SHA-256 over the bytes
  std::uint64_t bytes = 0;
  bool operator==(const BundleSegment&) const = default;
};

struct BundleIndex {
  std::string farm;       // id; empty when the logbook was empty
  std::string farm_name;  // for people; may be empty
  Instant made;
  std::string by;  // the device that wrote the file; may be empty
  std::vector<BundleSegment> segments;
  bool operator==(const BundleIndex&) const = default;
};

inline constexpr int kBundleFormat = 1;
inline constexpr std::string_view kBundleStart = "{\"bundle\":";

// Sound or not: no entry begins like this.
bool is_bundle_index(std::string_view line);

// Without a line feed. Texts that are not UTF-8 are left empty.
std::string to_line(const BundleIndex& index);

// Refuses (malformed, "problem.bundle_index") a line that was changed, cut off or never was an index, and
// (unsupported, "problem.bundle_newer") one of a newer version: what the file ought to hold is then not known.
Result<BundleIndex> parse_bundle_index(std::string_view line);

}  // namespace tawny
