// What a depot holds, as far as it is known for sure; what is to be fetched and what to be put follows from it.
#include <algorithm>
#include <cstdint>
#include <utility>

#include "base/sort_stably.h"
#include "logbook/depot_run.h"
#include "logbook/reference.h"

namespace tawny {
namespace {

constexpr std::size_t kMostLinesPut = 200;
constexpr char kLookedAgainMark = '@';

// The logbook's lines of a segment's numbers. The sum of their hashes' starts tells whether a line came or
// went.
struct Extent {
  std::uint64_t sum = 0;
  std::uint32_t numbers = 0;
};

Extent extent_of(const SegmentName& name, const Logbook& logbook) {
  Extent extent;
  std::uint32_t number_before = 0;
  logbook.visit(name.device, name.first, name.last, [&](const Logbook::Line& line) {
    extent.sum += hash_start_bits(line.hash);
    if (line.number != number_before) ++extent.numbers;
    number_before = line.number;
  });
  return extent;
}

std::string digits_of(std::uint64_t sum) {
  std::string digits(kHashStartDigits, '0');
  for (std::size_t at = kHashStartDigits; at-- > 0; sum >>= 4) digits[at] = "0123456789abcdef"[sum & 15];
  return digits;
}

}  // namespace

DepotRun::LineMark DepotRun::mark_of(std::string_view hash) {
  return {hash_start_bits(hash), hash_start_bits(hash.substr(std::min(hash.size(), kHashStartDigits)))};
}

// "name proof sum", the sum as 16 digits; "@folder" is the closed folder looked at again last.
void DepotRun::read_known(const std::set<std::string>& known) {
  for (const std::string& text : known) {
    if (!text.empty() && text.front() == kLookedAgainMark) looked_again_ = text.substr(1);
    const std::size_t at = text.find(' ');
    if (at == std::string::npos || text.size() != at + 3 + kHashStartDigits || text[at + 2] != ' ') continue;
    const std::string_view sum = std::string_view(text).substr(at + 3);
    const char proof = text[at + 1];
    if ((proof != '=' && proof != '<' && proof != '!') || digits_of(hash_start_bits(sum)) != sum) continue;
    known_[text.substr(0, at)] = Known{static_cast<Proof>(proof), hash_start_bits(sum)};
  }
}

std::set<std::string> DepotRun::known() const {
  std::set<std::string> closed;
  for (const auto& [name, found] : known_) {
    const std::optional<SegmentName> segment = parse_segment_name(name);
    if (segment && segment->whole_thousand() && found.proof != Proof::other) closed.insert(folder_of(*segment));
  }
  std::set<std::string> known;
  if (!looked_again_.empty()) known.insert(kLookedAgainMark + looked_again_);
  for (const auto& [name, found] : known_) {
    const std::optional<SegmentName> segment = parse_segment_name(name);
    if (!segment) continue;
    // The whole thousand speaks for them.
    if (found.proof == Proof::same && !segment->whole_thousand() && closed.count(folder_of(*segment)) > 0)
      continue;
    known.insert(name + ' ' + static_cast<char>(found.proof) + ' ' + digits_of(found.lines_sum));
  }
  return known;
}

// What came is in the logbook by now, or the driver could not keep it: then it is fetched again another time.
void DepotRun::settle(const Logbook& logbook) {
  if (!taken_) return;
  const Taken taken = *std::exchange(taken_, std::nullopt);
  for (const EntryId& line : taken.lines) held_.insert(mark_of(line.hash));
  if (!std::all_of(taken.lines.begin(), taken.lines.end(),
                   [&](const EntryId& id) { return logbook.has(id); })) {
    return;
  }
  const SegmentName& name = taken.name;
  Proof proof = taken.as_named ? Proof::part : Proof::other;
  if (segment_hash(segment_bytes(logbook, name.device, name.first, name.last)) == name.hash)
    proof = Proof::same;
  known_[to_string(name)] = Known{proof, extent_of(name, logbook).sum};
  proven_.push_back(name);
  if (name.whole_thousand() && proof != Proof::other) thousands_held_.insert({name.device, name.thousand()});
}

// Its whole thousand was read, and since then no line of it came or went here.
bool DepotRun::is_closed(const std::string& folder, const Logbook& logbook) {
  if (!faulty_devices_) {
    faulty_devices_.emplace();
    for (const ChainProblem& problem : logbook.check_chains()) {
      if (problem.message.id != "chain.clock_back") faulty_devices_->insert(problem.device);
    }
  }
  for (auto at = known_.lower_bound(folder); at != known_.end() && at->first.rfind(folder, 0) == 0; ++at) {
    const std::optional<SegmentName> name = parse_segment_name(at->first);
    if (!name || folder_of(*name) != folder || !name->whole_thousand()) continue;
    if (at->second.proof == Proof::other || faulty_devices_->count(name->device) > 0) continue;
    if (extent_of(*name, logbook).sum != at->second.lines_sum) continue;
    hold(*name, at->second.proof, logbook);
    return true;
  }
  return false;
}

void DepotRun::sort(const Logbook& logbook) {
  receipts_ = receipts_of(logbook, options_.device);
  std::vector<SegmentName> names;
  for (const auto& [text, name] : names_) names.push_back(name);
  const auto longer = [](const SegmentName& a, const SegmentName& b) { return a.numbers() > b.numbers(); };
  sort_stably(names, longer);
  for (const SegmentName& name : names) {
    if (!needs_no_get(name, logbook)) gets_.push_back(name);
  }
  std::reverse(gets_.begin(), gets_.end());
  tally_.to_get = gets_.size();
}

bool DepotRun::needs_no_get(const SegmentName& name, const Logbook& logbook) {
  const std::string text = to_string(name);
  const Extent extent = extent_of(name, logbook);
  const auto known = known_.find(text);
  if (known != known_.end() && known->second.lines_sum == extent.sum) {
    hold(name, known->second.proof, logbook);
    return true;
  }
  if (extent.numbers != name.numbers()) return false;
  if (segment_hash(segment_bytes(logbook, name.device, name.first, name.last)) != name.hash) return false;
  // Nothing new is to be had of it. Are the bytes there too?
  const bool own = name.writer == options_.writer;
  const auto receipt = receipts_.find(name.device);
  const bool acknowledged = receipt != receipts_.end() && receipt->second.number >= name.last;
  const bool spare = holds_all(name, logbook) && !(own && name.whole_thousand());
  if (known == known_.end() && !(acknowledged && !own) && !spare) return false;
  known_[text] = Known{Proof::same, extent.sum};
  hold(name, Proof::same, logbook);
  return true;
}

bool DepotRun::holds_all(const SegmentName& name, const Logbook& logbook) const {
  bool all = true;
  logbook.visit(name.device, name.first, name.last,
                [&](const Logbook::Line& line) { all = all && held_.count(mark_of(line.hash)) > 0; });
  return all;
}

std::size_t DepotRun::lines_lacking(const Span& span, const Logbook& logbook) const {
  std::size_t lines = 0;
  logbook.visit(span.device, span.first, span.last, [&](const Logbook::Line& line) {
    if (held_.count(mark_of(line.hash)) == 0) ++lines;
  });
  return lines;
}

void DepotRun::hold(const SegmentName& name, Proof proof, const Logbook& logbook) {
  proven_.push_back(name);
  if (proof == Proof::other) return;
  if (name.whole_thousand()) thousands_held_.insert({name.device, name.thousand()});
  // Of a number in conflict a part holds one line or another: which, is not known.
  LineMark line_before;
  std::uint32_t number_before = 0;
  bool alone = false;
  const auto keep = [&] {
    if (alone) held_.insert(line_before);
  };
  logbook.visit(name.device, name.first, name.last, [&](const Logbook::Line& line) {
    const LineMark mark = mark_of(line.hash);
    if (proof == Proof::same) {
      held_.insert(mark);
      return;
    }
    if (line.number == number_before) {
      alone = false;
      return;
    }
    keep();
    alone = true;
    number_before = line.number;
    line_before = mark;
  });
  keep();
}

// Lines of a number in conflict may have come from a later file. The logbook still holds all of the earlier
// one.
void DepotRun::bring_known_up_to_date(const Logbook& logbook) {
  for (const SegmentName& name : std::exchange(proven_, {})) {
    const auto known = known_.find(to_string(name));
    if (known == known_.end()) continue;
    const std::uint64_t sum = extent_of(name, logbook).sum;
    if (sum == known->second.lines_sum) continue;
    known->second.lines_sum = sum;
    if (known->second.proof == Proof::same) known->second.proof = Proof::part;
  }
}

void DepotRun::plan(const Logbook& logbook) {
  bring_known_up_to_date(logbook);
  // Where a folder could not be listed, most of what seems to be lacking lies in it.
  if (!own_unseen_) {
    plan_lacking(options_.device, logbook);
    for (const std::string& device : logbook.devices()) {
      if (device != options_.device && !other_unseen_) plan_lacking(device, logbook);
    }
    plan_whole_thousands(logbook);
  }
  tally_.to_put = puts_.size();
}

// Numbers one after another of which the depot lacks a line. All lines of a number go together.
void DepotRun::plan_lacking(const std::string& device, const Logbook& logbook) {
  Span span{device, 0, 0};
  std::size_t lines = 0;
  std::uint32_t number = 0;
  std::size_t lines_of_number = 0;
  bool lacking = false;
  const auto close_number = [&] {
    if (number == 0) return;
    const bool follows = span.first != 0 && number == span.last + 1 &&
                         thousand_of(number) == thousand_of(span.first) &&
                         lines + lines_of_number <= kMostLinesPut;
    if (span.first != 0 && (!lacking || !follows)) {
      puts_.push_back(span);
      span.first = 0;
    }
    if (!lacking) return;
    if (span.first == 0) {
      span.first = number;
      lines = 0;
    }
    span.last = number;
    lines += lines_of_number;
  };
  const auto look = [&](const Logbook::Line& line) {
    if (line.number != number) {
      close_number();
      number = line.number;
      lines_of_number = 0;
      lacking = false;
    }
    ++lines_of_number;
    lacking = lacking || held_.count(mark_of(line.hash)) == 0;
  };
  logbook.visit(device, 1, UINT32_MAX, look);
  close_number();
  if (span.first != 0) puts_.push_back(span);
}

void DepotRun::plan_whole_thousands(const Logbook& logbook) {
  std::map<std::uint32_t, std::uint32_t> numbers_in;
  std::uint32_t number_before = 0;
  logbook.visit(options_.device, 1, UINT32_MAX, [&](const Logbook::Line& line) {
    if (line.number != number_before) ++numbers_in[thousand_of(line.number)];
    number_before = line.number;
  });
  for (const auto& [thousand, numbers] : numbers_in) {
    if (numbers != kNumbersPerThousand || thousands_held_.count({options_.device, thousand}) > 0) continue;
    const std::uint32_t first = thousand * kNumbersPerThousand + 1;
    puts_.push_back({options_.device, first, first + kNumbersPerThousand - 1});
  }
}

}  // namespace tawny
