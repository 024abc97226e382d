// How one entry points at another: "device/number/first 16 digits of the hash".
//
// The piece of the hash tells two entries of one number apart when a device was cloned. Because the hash of the
// entry pointed at has to be known first, entries cannot point at each other in a ring.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tawny {

// How much of a hash tells the few entries of one number apart: in references, names of segments, receipts.
inline constexpr std::size_t kHashStartDigits = 16;

// Those digits as a number; of a text that is no hash, some number.
std::uint64_t hash_start_bits(std::string_view hash);

// Exactly so many of 0-9 and a-f.
bool is_hash_start(std::string_view text);

struct Reference {
  std::string_view device;
  std::uint32_t number = 0;
  std::string_view hash_start;  // 16 lower-case hexadecimal digits
};

// The parts, which look into `text`; nothing when it is not of that form.
std::optional<Reference> parse_reference(std::string_view text);

// 1 to 64 of A-Z a-z 0-9 - _: a device id also names folders, and parts a reference.
bool is_device_id(std::string_view text);

}  // namespace tawny
