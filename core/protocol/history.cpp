#include "protocol/history.h"

#include <algorithm>
#include <iterator>
#include <unordered_map>

#include "logbook/kinds.h"
#include "protocol/read_kinds.h"

namespace tawny {
namespace {

constexpr std::string_view kReadings[] = {kind::kWaterReading, kind::kLevelReading, kind::kSecchiReading,
                                          kind::kWaterColour,  kind::kWaterTest,    kind::kGrazerCount,
                                          kind::kBottomGrab,   kind::kPestLook,     kind::kMeterCheck};

bool starts_cycle(const Entry& entry) {
  const std::string* label = entry.text("cycle");
  return entry.kind == kind::kCycleStart && label != nullptr && !label->empty();
}

// A change without a time that can be read is no change: it stays in `unreadable`.
void sort_changes(std::vector<ProtocolChange>& changes) {
  std::stable_sort(changes.begin(), changes.end(),
                   [](const ProtocolChange& a, const ProtocolChange& b) { return a.from < b.from; });
}

// The manager's last word on each reading, by its reference; a later word takes the place of an earlier one.
using Decisions = std::unordered_map<std::string, const Entry*>;
Decisions decisions_on_readings(const std::string& pond, const std::vector<const Entry*>& effective) {
  Decisions decisions;
  for (const Entry* entry : effective) {
    if (entry->pond == pond && settles_reading(*entry)) decisions[*entry->text("question")] = entry;
  }
  return decisions;
}

// True when the reading is left out; then it goes into no other list.
bool leave_out(const Decisions& decisions, const Entry& entry, PondHistory& history) {
  if (decisions.empty() || entry.pond.empty() || !is_reading(entry.kind)) return false;
  const auto decision = decisions.find(to_reference(entry.id));
  if (decision == decisions.end()) return false;
  const bool out = *decision->second->text("keep") == "none";
  if (out) {
    history.left_out.push_back({&entry, decision->second});
  } else {
    history.kept.push_back(&entry);
  }
  return out;
}

}  // namespace

bool is_reading(std::string_view kind) {
  return std::find(std::begin(kReadings), std::end(kReadings), kind) != std::end(kReadings);
}

bool settles_reading(const Entry& entry) {
  if (entry.kind != kind::kQuestionSettled || entry.text("question") == nullptr) return false;
  const std::string* keep = entry.text("keep");
  return keep != nullptr && (*keep == "reading" || *keep == "none");
}

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
  const Decisions decisions = decisions_on_readings(pond.id, effective);
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
    if (leave_out(decisions, *entry, history)) continue;
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
