// A bundle from anywhere: read at once and in parts it says the same, and what it promises is never believed
// further than its lines go.
#include <algorithm>

#include "fuzz/lines.h"
#include "logbook/bundle.h"
#include "logbook/reference.h"

namespace tawny::fuzz {
namespace {

bool same(const BundlePreview& a, const BundlePreview& b) {
  const auto devices = [](const BundleDevice& one, const BundleDevice& other) {
    return one.device == other.device && one.person == other.person && one.entries == other.entries &&
           one.fresh == other.fresh && one.unread == other.unread &&
           one.first_observed == other.first_observed && one.last_observed == other.last_observed;
  };
  return a.farm == b.farm && a.farm_name == b.farm_name && a.made == b.made && a.by == b.by &&
         a.has_index == b.has_index && a.missing == b.missing && a.problems == b.problems &&
         std::equal(a.devices.begin(), a.devices.end(), b.devices.begin(), b.devices.end(), devices);
}

// As the app reads: whole lines, about so many bytes at a time.
BundleContent in_parts(std::string_view text, std::size_t part_bytes, const Logbook& have) {
  BundleReader reader(have);
  while (!text.empty() && !reader.is_refused()) {
    const std::size_t end = text.find('\n', std::min(text.size(), part_bytes) - 1);
    const std::size_t whole = end == std::string_view::npos ? text.size() : end + 1;
    reader.take(text.substr(0, whole));
    text.remove_prefix(whole);
  }
  reader.finish();
  return {reader.release(), reader.report(), reader.preview()};
}

void try_bundle(Bytes bytes) {
  constexpr std::size_t kParts[] = {1, 7, 100, 3000};
  const std::size_t part_bytes = kParts[bytes.byte() % 4];
  const bool has_farm = bytes.byte() % 4 == 0;
  const Logbook have(has_farm ? "demo" : "");
  const BundleContent whole = read_bundle(bytes.rest(), have);
  const BundleContent parts = in_parts(bytes.rest(), part_bytes, have);
  expect(whole.logbook.to_lines() == parts.logbook.to_lines(), "in parts the same entries");
  expect(same(whole.preview, parts.preview), "in parts the same said");
  expect(whole.report.lines == parts.report.lines && whole.report.added == parts.report.added,
         "in parts the same counted");
  for (const NumberSpan& span : whole.preview.missing) {
    expect(span.first > 0 && span.first <= span.last, "what is missing is a span of numbers");
  }
  whole.preview.missing_count();

  const std::string written = write_bundle(whole.logbook, Instant{1795700000}, "phone-1");
  const BundleContent back = read_bundle(written);
  expect(back.logbook.to_lines() == whole.logbook.to_lines(), "a bundle brings every line");
  expect(back.preview.has_index && back.preview.missing.empty() && back.preview.problems.empty(),
         "what was just written lacks nothing");
}

// The index with one of its values changed, sealed anew.
std::string changed_index(const std::string& line, Dice& dice) {
  Result<BundleIndex> index = parse_bundle_index(line);
  const std::size_t hash_at = line.rfind(",\"hash\":");
  if (!index || dice.one_in(4)) {
    std::string body = line.substr(0, hash_at);
    std::vector<std::uint8_t> bytes(body.begin(), body.end());
    bytes.resize(body.size() + 64);
    bytes.resize(LLVMFuzzerMutate(bytes.data(), body.size(), bytes.size()));
    body.assign(bytes.begin(), bytes.end());
    if (dice.one_in(8)) body += ",\"deep\":" + std::string(1 + dice.below(20000), '[');
    return sealed_line(body);
  }
  constexpr std::uint64_t kBytes[] = {0, 1, 429, 65536, 18446744073709551615u};
  constexpr std::uint32_t kNumbers[] = {1, 2, 999, 1000, 1001, 4294967295u};
  if (dice.one_in(6)) index->farm = dice.of(hostile_texts());
  if (dice.one_in(6)) index->farm_name = dice.of(hostile_texts());
  if (dice.one_in(6)) index->by = dice.of(hostile_texts());
  for (BundleSegment& segment : index->segments) {
    if (dice.one_in(4)) segment.first = dice.of(kNumbers);
    if (dice.one_in(4)) segment.last = dice.of(kNumbers);
    if (dice.one_in(4)) segment.bytes = dice.of(kBytes);
    if (dice.one_in(8)) segment.device = "device-" + std::to_string(dice.below(4));
  }
  if (!index->segments.empty() && dice.one_in(4)) {
    index->segments.push_back(index->segments[dice.below(index->segments.size())]);
  }
  return to_line(*index);
}

std::string changed_bundle(std::string_view text, std::size_t limit, unsigned seed) {
  Dice dice(seed);
  std::string made(text.substr(0, 2));
  made.resize(2, 'x');
  if (dice.one_in(4)) made[dice.below(2)] = static_cast<char>('a' + dice.below(4));
  std::vector<std::string> lines = lines_of(text.substr(std::min<std::size_t>(2, text.size())));
  if (lines.empty()) return made;
  for (std::size_t count = 1 + dice.below(3); count > 0 && !lines.empty(); --count) {
    const std::size_t at = dice.below(lines.size());
    const std::size_t index_at = dice.one_in(2) ? 0 : at;
    switch (dice.below(6)) {
      case 0:
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
        break;
      case 1:
        lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at), lines[dice.below(lines.size())]);
        break;
      case 2:
        lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at),
                     read_bundle(joined(lines, limit)).preview.has_index ? lines.front() : lines.back());
        break;
      default:
        if (is_bundle_index(lines[index_at])) {
          lines[index_at] = changed_index(lines[index_at], dice);
        } else {
          lines[at] = changed_line(lines[at], lines, dice);
        }
    }
  }
  return made + joined(lines, limit > 2 ? limit - 2 : 0);
}

}  // namespace
}  // namespace tawny::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  tawny::fuzz::try_bundle(tawny::fuzz::Bytes(data, size));
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t limit,
                                               unsigned seed) {
  if (seed % 8 == 0) return LLVMFuzzerMutate(data, size, limit);
  return tawny::fuzz::put(tawny::fuzz::changed_bundle(tawny::fuzz::text_of(data, size), limit, seed), data,
                          limit);
}
