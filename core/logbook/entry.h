// An entry: one thing that one person saw, did or decided, on one line of JSON that never changes.
//
// FORMAT.md beside this file gives the bytes. An entry is written once by the device that saw it; a mistake is
// mended by a further entry that corrects or voids it, and both stay. The raw line is kept as it came, so keys
// and kinds that this version does not know travel on untouched.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "base/problem.h"
#include "base/time.h"
#include "logbook/values.h"

namespace tawny {

// Names an entry: device and number are unique unless a device was cloned; then the hash tells the two apart.
struct EntryId {
  std::string device;
  std::uint32_t number = 0;
  std::string hash;  // 64 hexadecimal digits
  bool operator==(const EntryId&) const = default;
  // Spelled out: std::string of Emscripten's library has no <=> of its own.
  std::strong_ordering operator<=>(const EntryId& other) const {
    if (const int order = device.compare(other.device); order != 0) return order <=> 0;
    if (number != other.number) return number <=> other.number;
    return hash.compare(other.hash) <=> 0;
  }
};

// For tables by the hash of an entry: its digits are spread evenly as they are.
struct ByHash {
  std::size_t operator()(std::string_view hash) const {
    std::uint64_t digits[2] = {};
    std::memcpy(digits, hash.data(), hash.size() < sizeof digits ? hash.size() : sizeof digits);
    const std::uint64_t mixed = (digits[0] ^ digits[1] << 3) * 0x9e3779b97f4a7c15u;
    return static_cast<std::size_t>(mixed ^ mixed >> 32);
  }
};
using HashSet = std::unordered_set<std::string, ByHash>;
template <typename T>
using HashMap = std::unordered_map<std::string, T, ByHash>;

// "device/number/first 16 digits of the hash": how one entry points at another.
std::string to_reference(const EntryId& id);

// What a person is about to put on record; the device's chain makes an Entry of it (seal).
struct Draft {
  std::string kind;  // see kinds.h
  std::string pond;  // pond id, empty for the whole farm
  std::string who;
  Instant observed;      // when it was seen or done
  std::string corrects;  // reference of the entry that this one replaces, or empty
  std::string voids;     // reference of the entry that this one takes back, or empty (kind "void")
  Values values;
  bool operator==(const Draft&) const = default;
};

struct Entry {
  EntryId id;
  int format = 0;  // version of the line format
  std::uint64_t lamport = 0;
  Instant observed;
  Instant recorded;
  std::string who;
  std::string pond;
  std::string kind;
  std::string corrects;
  std::string voids;
  Values values;
  std::string line;  // the bytes as written, without the line feed
  // Filled in only where the line does not have them where tawny writes them, as second and as last but one.
  std::string farm_apart;
  std::string previous_apart;

  // These point into this entry.
  std::string_view farm() const;
  std::string_view previous_hash() const;  // of the same device's entry before this one; 64 zeros for number 1

  // Null when the key is absent or of another type.
  const double* number(std::string_view key) const;
  const bool* flag(std::string_view key) const;
  const std::string* text(std::string_view key) const;
  const std::vector<double>* numbers(std::string_view key) const;
  const std::vector<std::string>* texts(std::string_view key) const;
};

// Where a device stands: what the next entry's number, counter and chain follow from.
struct DeviceChain {
  std::string farm;
  std::string device;
  std::uint32_t last_number = 0;
  std::uint64_t lamport = 0;  // highest counter seen from any device
  std::string last_hash = std::string(64, '0');
};

// Writes the draft as the device's next entry and moves the chain on. `recorded` is the phone's clock.
// Refuses (malformed): an empty kind, a key or text that is not UTF-8, a number that is not finite.
Result<Entry> seal(const Draft& draft, Instant recorded, DeviceChain& chain);

// When a line is held against its own hash: as it is read, or, where these bytes were checked once and have been kept
// under a hash of their own since, by LaterHashes.
enum class Hashes { now, later };

// Reads one line. Refuses (malformed) what is not a whole entry whose hash fits its bytes; refuses
// (unsupported) a format number newer than kEntryFormat, so that no newer line is ever misread (Logbook keeps
// it all the same).
Result<Entry> parse_entry(std::string_view line, Hashes hashes = Hashes::now);

inline constexpr int kEntryFormat = 1;

}  // namespace tawny
