#include "logbook/reference.h"

#include <algorithm>
#include <limits>

namespace tawny {
namespace {

constexpr std::size_t kMaxDeviceIdBytes = 64;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace

bool is_device_id(std::string_view text) {
  return !text.empty() && text.size() <= kMaxDeviceIdBytes && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || is_digit(c) || c == '-' || c == '_';
  });
}

std::uint64_t hash_start_bits(std::string_view hash) {
  std::uint64_t bits = 0;
  for (const char digit : hash.substr(0, kHashStartDigits)) {
    bits = bits << 4 | static_cast<std::uint64_t>(digit <= '9' ? digit - '0' : digit - 'a' + 10);
  }
  return bits;
}

bool is_hash_start(std::string_view text) {
  return text.size() == kHashStartDigits &&
         std::all_of(text.begin(), text.end(), [](char c) { return is_digit(c) || (c >= 'a' && c <= 'f'); });
}

std::optional<Reference> parse_reference(std::string_view text) {
  const std::size_t first = text.find('/');
  if (first == std::string_view::npos) return std::nullopt;
  const std::size_t second = text.find('/', first + 1);
  if (second == std::string_view::npos) return std::nullopt;
  const std::string_view digits = text.substr(first + 1, second - first - 1);
  if (digits.empty() || digits.size() > 10 || digits.front() == '0') return std::nullopt;
  std::uint64_t number = 0;
  for (const char c : digits) {
    if (!is_digit(c)) return std::nullopt;
    number = number * 10 + static_cast<std::uint64_t>(c - '0');
  }
  Reference reference;
  reference.device = text.substr(0, first);
  reference.hash_start = text.substr(second + 1);
  if (number > std::numeric_limits<std::uint32_t>::max() || !is_device_id(reference.device) ||
      !is_hash_start(reference.hash_start)) {
    return std::nullopt;
  }
  reference.number = static_cast<std::uint32_t>(number);
  return reference;
}

}  // namespace tawny
