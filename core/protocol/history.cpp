#include "protocol/history.h"

#include <algorithm>

#include "logbook/kinds.h"
#include "protocol/read_kinds.h"

namespace tawny {
namespace {

bool starts_cycle(const Entry& entry) {
  const std::string* label = entry.text("cycle");
  return entry.kind == kind::kCycleStart && label != nullptr && !label->empty();
}

// A change without a time that can be read is no change: it stays in `unreadable`.
void sort_changes(std::vector<ProtocolChange>& changes) {
  std::stable_sort(changes.begin(), changes.end(),
                   [](const ProtocolChange& a, const ProtocolChange& b) { return a.from < b.from; });
}

}  // namespace

PondHistory build_history(const Pond& pond, const std::vector<const Entry*>& effective) {
  PondHistory history;
  history.pond = pond;
  const Entry* start = nullptr;
  bool ended = false;
  for (const Entry* entry : effective) {
    if (entry->pond != pond.id) continue;
    ended = ended || entry->kind == kind::kCycleEnd;
    if (!starts_cycle(*entry)) continue;
    // Two phones that start one cycle, each without having met the other, leave it started once: by the first.
    const bool told_twice = start != nullptr && !ended && *start->text("cycle") == *entry->text("cycle");
    if (told_twice) continue;
    start = entry;
    ended = false;
  }
  if (start != nullptr) {
    history.cycle = *start->text("cycle");
    history.cycle_start = start->observed;
  }
  for (const Entry* entry : effective) {
    if (!entry->pond.empty() && entry->pond != pond.id) continue;
    const bool change = entry->kind == kind::kProtocolChange;
    const bool in_cycle = start != nullptr && entry->observed >= start->observed && !history.cycle_ended;
    if (!in_cycle && !change) continue;
    if (!in_cycle) {
      if (!read_observation(*entry, history)) history.unreadable.push_back(entry);
      continue;
    }
    if (entry->kind == kind::kCycleStart && entry != start) {
      // The same start told twice, or one without a label.
      if (!starts_cycle(*entry)) history.unreadable.push_back(entry);
      continue;
    }
    history.entries.push_back(entry);
    if (entry->kind == kind::kCycleEnd && !entry->pond.empty()) history.cycle_ended = true;
    if (!read_observation(*entry, history)) history.unreadable.push_back(entry);
  }
  sort_changes(history.protocol_changes);
  read_walks(history);
  return history;
}

}  // namespace tawny
