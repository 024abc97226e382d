#include "protocol/history.h"

#include <algorithm>

#include "base/sort_stably.h"
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
  sort_stably(changes, [](const ProtocolChange& a, const ProtocolChange& b) { return a.from < b.from; });
}

// True when the reading is left out; then it goes into no other list.
bool leave_out(const WordsOnReadings& said, const Entry& entry, PondHistory& history) {
  const Entry* word = said.on(entry);
  if (word == nullptr) return false;
  const bool out = said.leaving_out(entry) != nullptr;
  if (out) {
    history.left_out.push_back({&entry, word});
  } else {
    history.kept.push_back(&entry);
  }
  return out;
}

}  // namespace

std::vector<CycleSpan> cycle_spans(std::string_view pond_id, const std::vector<const Entry*>& effective) {
  std::vector<CycleSpan> spans;
  for (const Entry* entry : effective) {
    if (entry->pond != pond_id) continue;
    const bool running = !spans.empty() && !spans.back().ended;
    if (entry->kind == kind::kCycleEnd && running) {
      spans.back().end = entry->observed;
      spans.back().ended = true;
    }
    if (!starts_cycle(*entry)) continue;
    // Two phones that start one cycle, each without having met the other, leave it started once: by the first.
    if (running && *spans.back().start->text("cycle") == *entry->text("cycle")) continue;
    if (running) spans.back().end = entry->observed;
    if (running && spans.back().start->observed == entry->observed) spans.pop_back();
    spans.push_back({entry, std::nullopt, false});
  }
  return spans;
}

PondHistory build_history(const Pond& pond, const std::vector<const Entry*>& effective,
                          const std::optional<CycleSpan>& span) {
  PondHistory history;
  history.pond = pond;
  if (span) {
    history.cycle = *span->start->text("cycle");
    history.cycle_start = span->start->observed;
  }
  const WordsOnReadings said(effective);
  for (const Entry* entry : effective) {
    if (!entry->pond.empty() && entry->pond != pond.id) continue;
    // What is observed at the instant of the next start is already that cycle's.
    const bool over = span && span->end && !span->ended && entry->observed >= *span->end;
    const bool in_cycle = span && entry->observed >= span->start->observed && !history.cycle_ended && !over;
    if (!in_cycle) {
      if (entry->kind != kind::kProtocolChange) continue;
      if (!read_observation(*entry, history)) history.unreadable.push_back(entry);
      continue;
    }
    if (entry->kind == kind::kCycleStart && entry != span->start) {
      // The same start told twice, or one without a label.
      if (!starts_cycle(*entry)) history.unreadable.push_back(entry);
      continue;
    }
    if (leave_out(said, *entry, history)) continue;
    history.entries.push_back(entry);
    const bool ends = entry->kind == kind::kCycleEnd && !entry->pond.empty();
    if (ends && span->ended && entry->observed == *span->end) history.cycle_ended = true;
    if (!read_observation(*entry, history)) history.unreadable.push_back(entry);
  }
  sort_changes(history.protocol_changes);
  read_walks(history);
  return history;
}

PondHistory build_history(const Pond& pond, const std::vector<const Entry*>& effective) {
  const std::vector<CycleSpan> spans = cycle_spans(pond.id, effective);
  return build_history(pond, effective, spans.empty() ? std::nullopt : std::optional(spans.back()));
}

}  // namespace tawny
