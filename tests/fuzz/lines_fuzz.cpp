// A logbook file from anywhere: what is taken writes back to the same bytes, and taking it twice changes nothing.
#include <set>

#include "fuzz/lines.h"
#include "logbook/bundle_index.h"
#include "logbook/export.h"
#include "logbook/line_reader.h"
#include "logbook/logbook.h"
#include "logbook/receipts.h"
#include "logbook/reference.h"
#include "logbook/segment.h"
#include "logbook/utf8.h"

namespace tawny::fuzz {
namespace {

void try_segments(const Logbook& logbook) {
  logbook.visit([&](const Logbook::Line& line) {
    const std::string bytes = segment_bytes(logbook, line.device, line.number, line.number);
    expect(!bytes.empty(), "a number that is here has bytes");
    const SegmentName name{"w", std::string(line.device), line.number, line.number, segment_hash(bytes)};
    const auto read = parse_segment_name(to_string(name));
    expect(read && *read == name, "a segment's name reads back");
  });
}

void try_logbook(std::string_view text) {
  Logbook logbook;
  std::size_t whole = 0;
  const LoadReport report =
      logbook.load(text, [&](std::string_view line, AddOutcome outcome, const LineSeen& seen) {
        expect(line.find('\n') == std::string_view::npos, "a line is one line");
        if (outcome == AddOutcome::refused || outcome == AddOutcome::other_farm) return;
        ++whole;
        expect(is_device_id(seen.id.device) && seen.id.number > 0, "what is taken says who wrote it");
      });
  expect(report.added + report.already_there == whole, "the report counts what was taken");
  expect(report.added == logbook.size(), "what was added is here");

  const std::string lines = logbook.to_lines();
  std::set<std::string, std::less<>> given;
  for (const std::string& line : lines_of(text)) {
    given.insert(!line.empty() && line.back() == '\r' ? line.substr(0, line.size() - 1) : line);
  }
  for (const std::string& line : lines_of(lines)) {
    const bool first = given.count(line) > 0 || given.count("\xef\xbb\xbf" + line) > 0;
    expect(first, "what is taken stood in the file, byte for byte");
    expect(is_utf8(line) && line.size() <= kMaxLineBytes, "a line is text of a fair length");
  }

  Logbook again;
  const LoadReport second = again.load(lines);
  expect(second.added == logbook.size(), "what was written is taken");
  expect(again.to_lines() == lines, "what was written writes back to the same bytes");
  expect(again.load(lines).added == 0 && again.to_lines() == lines, "taken twice is taken once");
  Logbook merged = logbook;
  expect(merged.merge(again).added == 0 && merged.to_lines() == lines, "a union with itself changes nothing");

  for (const Entry* entry : logbook.all()) {
    const Entry* found = logbook.find(to_reference(entry->id));
    expect(found != nullptr && found->id == entry->id, "a reference finds its entry");
    logbook.standing(entry->id);
  }
  expect(logbook.effective().size() <= logbook.size(), "no entry counts twice");
  logbook.check_chains();
  receipts_of(logbook, "");
  for (const std::string& device : logbook.devices()) {
    receipt_due(logbook, device);
    logbook.chain_of(device);
  }
  try_segments(logbook);
  to_csv(logbook);
}

}  // namespace
}  // namespace tawny::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  tawny::fuzz::try_logbook(tawny::fuzz::text_of(data, size));
  return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size, std::size_t limit,
                                               unsigned seed) {
  if (seed % 8 == 0) return LLVMFuzzerMutate(data, size, limit);
  return tawny::fuzz::put(tawny::fuzz::changed_logbook(tawny::fuzz::text_of(data, size), limit, seed), data,
                          limit);
}

extern "C" std::size_t LLVMFuzzerCustomCrossOver(const std::uint8_t* one, std::size_t one_size,
                                                 const std::uint8_t* other, std::size_t other_size,
                                                 std::uint8_t* out, std::size_t limit, unsigned seed) {
  using namespace tawny::fuzz;
  return put(crossed(text_of(one, one_size), text_of(other, other_size), limit, seed), out, limit);
}
