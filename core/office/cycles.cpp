#include "office/cycles.h"

#include <utility>

#include "logbook/kinds.h"

namespace tawny {
namespace {

// The set-up of then: the newest up to `end` that can be read, else the first after it, else that of now.
void take_setup_of_then(const std::vector<const Entry*>& effective, Instant end, FarmPond& one) {
  std::optional<Pond> then;
  for (const Entry* entry : effective) {
    if (entry->kind != kind::kPondSetup || entry->pond != one.history.pond.id) continue;
    if (then && entry->observed > end) break;
    Result<Pond> read = read_pond_setup(*entry);
    if (!read) continue;
    then = *std::move(read);
    one.setup = entry;
  }
  if (then) one.history.pond = *std::move(then);
}

// `effective` holds the entries of the pond and of the whole farm.
std::vector<Cycle> cycles_among(const std::vector<const Entry*>& effective, const Farm& farm,
                                const FarmPond& now_pond, const Protocol& standard, Instant now) {
  std::vector<Cycle> cycles;
  for (const CycleSpan& span : cycle_spans(now_pond.history.pond.id, effective)) {
    if (span.start->observed > now) break;
    Cycle cycle;
    cycle.label = *span.start->text("cycle");
    cycle.start = span.start->observed;
    if (span.end && *span.end <= now) cycle.end = span.end;
    FarmPond& pond = cycle.pond;
    pond.history.pond = now_pond.history.pond;
    pond.setup = now_pond.setup;
    if (cycle.end) {
      take_setup_of_then(effective, *cycle.end, pond);
    } else {
      pond.inlets = now_pond.inlets;
      pond.tide = now_pond.tide;
      pond.own_tide = now_pond.own_tide;
    }
    pond.history = build_history(pond.history.pond, effective, span);
    // At its own end a cycle is judged as it stood until then; an ended one would have no stage to judge.
    const bool ended = std::exchange(pond.history.cycle_ended, false);
    pond.state = assess(pond.history, standard, farm.place, cycle.until(now));
    pond.history.cycle_ended = ended;
    cycles.push_back(std::move(cycle));
  }
  return cycles;
}

}  // namespace

std::vector<Cycle> cycles_of(const Logbook& logbook, const Farm& farm, std::string_view pond,
                             const Protocol& standard, Instant now) {
  const FarmPond* now_pond = farm.pond(pond);
  if (now_pond == nullptr) return {};
  std::vector<const Entry*> own;
  for (const Entry* entry : logbook.effective()) {
    if (entry->pond.empty() || entry->pond == pond) own.push_back(entry);
  }
  return cycles_among(own, farm, *now_pond, standard, now);
}

std::map<std::string, std::vector<Cycle>> all_cycles(const Logbook& logbook, const Farm& farm,
                                                     const Protocol& standard, Instant now) {
  std::map<std::string, std::vector<const Entry*>> own;
  for (const FarmPond& pond : farm.ponds) own[pond.history.pond.id];
  for (const Entry* entry : logbook.effective()) {
    if (!entry->pond.empty()) {
      const auto found = own.find(entry->pond);
      if (found != own.end()) found->second.push_back(entry);
      continue;
    }
    for (auto& [id, entries] : own) entries.push_back(entry);
  }
  std::map<std::string, std::vector<Cycle>> cycles;
  for (const FarmPond& pond : farm.ponds) {
    const std::string& id = pond.history.pond.id;
    cycles.emplace(id, cycles_among(own[id], farm, pond, standard, now));
  }
  return cycles;
}

}  // namespace tawny
