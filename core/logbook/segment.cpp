#include "logbook/segment.h"

#include <limits>

#include "logbook/reference.h"
#include "logbook/sha256.h"

namespace tawny {
namespace {

constexpr std::string_view kEnding = ".jsonl";

// What stands before `mark`; `text` keeps what stands behind it. Nothing when there is no mark.
std::optional<std::string_view> take_until(std::string_view& text, char mark) {
  const std::size_t at = text.find(mark);
  if (at == std::string_view::npos) return std::nullopt;
  const std::string_view part = text.substr(0, at);
  text.remove_prefix(at + 1);
  return part;
}

// An entry number: 1..4294967295. Zeros in front are seen by whoever writes it back.
std::optional<std::uint32_t> entry_number(std::string_view text) {
  if (text.empty() || text.size() > 10) return std::nullopt;
  std::uint64_t number = 0;
  for (const char digit : text) {
    if (digit < '0' || digit > '9') return std::nullopt;
    number = number * 10 + static_cast<std::uint64_t>(digit - '0');
  }
  if (number == 0 || number > std::numeric_limits<std::uint32_t>::max()) return std::nullopt;
  return static_cast<std::uint32_t>(number);
}

}  // namespace

std::optional<SegmentName> parse_segment_name(std::string_view name) {
  std::string_view rest = name;
  const auto writer = take_until(rest, '/');
  const auto device = take_until(rest, '/');
  const auto thousand = take_until(rest, '/');
  const auto first = take_until(rest, '-');
  const auto last = take_until(rest, '-');
  if (!writer || !device || !thousand || !first || !last) return std::nullopt;
  if (!is_device_id(*writer) || !is_device_id(*device)) return std::nullopt;
  const auto first_number = entry_number(*first);
  const auto last_number = entry_number(*last);
  if (!first_number || !last_number || *first_number > *last_number) return std::nullopt;
  if (thousand_of(*first_number) != thousand_of(*last_number)) return std::nullopt;
  SegmentName segment{std::string(*writer), std::string(*device), *first_number, *last_number,
                      std::string(rest.substr(0, kHashStartDigits))};
  // The thousand, the ending and numbers without zeros in front: only one name is right for these parts.
  if (!is_hash_start(segment.hash) || to_string(segment) != name) return std::nullopt;
  return segment;
}

std::string folder_of(const SegmentName& name) {
  return name.writer + "/" + name.device + "/" + std::to_string(name.thousand()) + "/";
}

std::string to_string(const SegmentName& name) {
  return folder_of(name) + std::to_string(name.first) + "-" + std::to_string(name.last) + "-" + name.hash +
         std::string(kEnding);
}

std::string segment_hash(std::string_view bytes) { return sha256_hex(bytes).substr(0, kHashStartDigits); }

std::string segment_bytes(const Logbook& logbook, std::string_view device, std::uint32_t first,
                          std::uint32_t last) {
  std::string bytes;
  std::uint32_t next = first;  // the number still to come
  bool whole = first <= last;
  logbook.visit(device, first, last, [&](const Logbook::Line& line) {
    if (line.number == next) {
      ++next;
    } else if (line.number != next - 1) {
      whole = false;
    }
    (bytes += line.bytes) += '\n';
  });
  if (!whole || next != last + 1) bytes.clear();
  return bytes;
}

}  // namespace tawny
