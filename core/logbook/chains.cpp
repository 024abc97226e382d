// Looks over each device's sequence as a whole, and at what a witness outside the store has seen.
#include <algorithm>

#include "logbook/line_reader.h"
#include "logbook/logbook.h"
#include "logbook/reference.h"

namespace tawny {
namespace {

// Phones set their clock by the network now and then; smaller steps back are no sign of anything.
constexpr std::int64_t kClockSlackMin = 10;

Quantity count_of(std::uint64_t count) { return Quantity{static_cast<double>(count), 0, ""}; }

ChainProblem fault(const std::string& device, std::uint32_t number, std::string_view id) {
  return ChainProblem{device, number,
                      Message(id).with("device", Text{device}).with("number", count_of(number))};
}

ChainProblem gap(const std::string& device, std::uint32_t first, std::uint32_t last) {
  Message message = Message("chain.gap")
                        .with("device", Text{device})
                        .with("first", count_of(first))
                        .with("last", count_of(last))
                        .with("count", count_of(std::uint64_t{last} - first + 1));
  return ChainProblem{device, first, std::move(message)};
}

ChainProblem clock_back(const std::string& device, std::uint32_t number, Instant was, Instant is) {
  ChainProblem problem = fault(device, number, "chain.clock_back");
  // Built in place: moving a MessageValue that holds an Instant trips a false alarm of g++ 12 at -O3.
  problem.message.values.emplace_back("before", was);
  problem.message.values.emplace_back("after", is);
  return problem;
}

// Of one number, by design of whoever made them: chance would not in the life of the universe.
bool has_alike(const std::vector<std::string_view>& hashes) {
  for (std::size_t i = 1; i < hashes.size(); ++i) {
    if (hashes[i - 1].substr(0, kHashStartDigits) == hashes[i].substr(0, kHashStartDigits)) return true;
  }
  return false;
}

Instant first_recorded(const std::vector<Entry>& entries) {
  return std::min_element(entries.begin(), entries.end(),
                          [](const Entry& a, const Entry& b) { return a.recorded < b.recorded; })
      ->recorded;
}

}  // namespace

std::vector<ChainProblem> Logbook::check_chains() const {
  std::vector<ChainProblem> problems;
  const std::string no_hash(64, '0');
  for (const auto& [device, slots] : devices_) {
    const Slot* before = nullptr;
    std::uint32_t number_before = 0;
    for (const auto& [number, slot] : slots) {
      const bool follows = number - number_before == 1;
      if (!follows) problems.push_back(gap(device, number_before + 1, number - 1));
      if (slot.count() > 1) {
        problems.push_back(fault(device, number, "chain.conflict"));
        std::vector<std::string_view> hashes;
        for (const Entry& entry : slot.entries) hashes.push_back(entry.id.hash);
        for (const std::string& line : slot.unread) hashes.push_back(hash_of_line(line));
        std::sort(hashes.begin(), hashes.end());
        if (has_alike(hashes)) problems.push_back(fault(device, number, "chain.alike"));
      }
      for (const Entry& entry : slot.entries) {
        const bool first = number == 1;
        const bool linked =
            first ? entry.previous_hash() == no_hash : !follows || before->has(entry.previous_hash());
        if (!linked) problems.push_back(fault(device, number, "chain.broken"));
      }
      if (before != nullptr && !before->entries.empty() && !slot.entries.empty()) {
        const Instant was = first_recorded(before->entries);
        const Instant is = first_recorded(slot.entries);
        if (is.plus_min(kClockSlackMin) < was) problems.push_back(clock_back(device, number, was, is));
      }
      before = &slot;
      number_before = number;
    }
  }
  return problems;
}

std::optional<Problem> compare_with_witness(const Logbook& logbook, const Witness& witness) {
  const auto alarm = [&witness](ProblemKind kind, std::string_view id) {
    return Problem{
        kind, "witness",
        Message(id).with("device", Text{witness.device}).with("number", count_of(witness.last_number))};
  };
  if (witness.last_number == 0) return std::nullopt;
  std::uint64_t present = 0;
  const Logbook::Slot* last = nullptr;
  const auto slots = logbook.devices_.find(witness.device);
  if (slots != logbook.devices_.end()) {
    for (const auto& [number, slot] : slots->second) {
      if (number > witness.last_number) break;
      ++present;
      if (number == witness.last_number) last = &slot;
    }
  }
  if (present < witness.last_number) {
    Problem problem = alarm(ProblemKind::missing, "witness.lost");
    problem.message.with("missing", count_of(witness.last_number - present));
    return problem;
  }
  if (!last->has(witness.last_hash)) return alarm(ProblemKind::conflict, "witness.changed");
  return std::nullopt;
}

}  // namespace tawny
