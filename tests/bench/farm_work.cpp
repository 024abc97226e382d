#include "bench/farm_work.h"

#include <algorithm>
#include <map>
#include <utility>

#include "protocol/assess.h"

namespace tawny::bench {

std::string_view first_lines(std::string_view file, std::size_t entries) {
  std::size_t at = 0;
  for (; entries > 0; --entries) {
    const std::size_t end = file.find('\n', at);
    if (end == std::string_view::npos) return file;
    at = end + 1;
  }
  return file.substr(0, at);
}

std::string in_order(std::string_view segments) {
  const Logbook logbook = open(segments);
  std::vector<std::pair<std::uint64_t, std::string_view>> lines;
  logbook.visit([&lines](const Logbook::Line& line) {
    if (line.entry) lines.emplace_back(line.entry->lamport, line.bytes);
  });
  std::stable_sort(lines.begin(), lines.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::string file;
  for (const auto& [lamport, bytes] : lines) file.append(bytes).append("\n");
  return file;
}

Logbook open(std::string_view lines, Hashes hashes) {
  Logbook logbook;
  logbook.load(lines, {}, hashes);
  return logbook;
}

Instant just_after(const Logbook& logbook) {
  Instant last;
  for (const Entry* entry : logbook.all()) last = std::max(last, entry->recorded);
  last.unix_s += 3600;
  return last;
}

Assessed assess_all(const Farm& farm, const Protocol& protocol, Instant now) {
  Assessed all;
  for (const FarmPond& pond : farm.ponds) {
    const PondState state = assess(pond.history, protocol, farm.place, now);
    ++all.ponds;
    all.stages += static_cast<int>(state.stage);
  }
  return all;
}

}  // namespace tawny::bench
