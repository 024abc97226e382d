#include "logbook/utf8.h"

#include <cstdint>
#include <cstring>

namespace tawny {
namespace {

// Length of the well-formed character at the start of `bytes` (not empty); 0 when there is none.
// Table 3-7 of the Unicode Standard: only the second byte has bounds of its own.
std::size_t character_length(std::string_view bytes) {
  const auto at = [bytes](std::size_t i) { return static_cast<std::uint8_t>(bytes[i]); };
  const std::uint8_t lead = at(0);
  if (lead < 0x80) return 1;
  std::size_t length = 0;
  std::uint8_t low = 0x80;
  std::uint8_t high = 0xbf;
  if (lead >= 0xc2 && lead <= 0xdf) {
    length = 2;
  } else if (lead >= 0xe0 && lead <= 0xef) {
    length = 3;
    if (lead == 0xe0) low = 0xa0;
    if (lead == 0xed) high = 0x9f;
  } else if (lead >= 0xf0 && lead <= 0xf4) {
    length = 4;
    if (lead == 0xf0) low = 0x90;
    if (lead == 0xf4) high = 0x8f;
  } else {
    return 0;
  }
  if (bytes.size() < length || at(1) < low || at(1) > high) return 0;
  for (std::size_t i = 2; i < length; ++i) {
    if (at(i) < 0x80 || at(i) > 0xbf) return 0;
  }
  return length;
}

}  // namespace

bool is_utf8(std::string_view bytes) {
  while (!bytes.empty()) {
    // Nearly all text is ASCII: eight bytes at a glance.
    std::uint64_t eight = 0;
    if (bytes.size() >= sizeof eight) {
      std::memcpy(&eight, bytes.data(), sizeof eight);
      if ((eight & 0x8080808080808080u) == 0) {
        bytes.remove_prefix(sizeof eight);
        continue;
      }
    }
    const std::size_t length = character_length(bytes);
    if (length == 0) return false;
    bytes.remove_prefix(length);
  }
  return true;
}

std::string excerpt_of(std::string_view bytes, std::size_t limit_bytes) {
  std::string out;
  std::size_t taken = 0;
  while (taken < bytes.size()) {
    const std::string_view rest = bytes.substr(taken);
    const std::size_t length = character_length(rest);
    const std::size_t step = length == 0 ? 1 : length;
    if (taken + step > limit_bytes) {
      out += "\u2026";
      break;
    }
    const auto lead = static_cast<std::uint8_t>(rest.front());
    if (length == 0 || lead < 0x20 || lead == 0x7f) {
      out += "\ufffd";
    } else {
      out += rest.substr(0, length);
    }
    taken += step;
  }
  return out;
}

}  // namespace tawny
