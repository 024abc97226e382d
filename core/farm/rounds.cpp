#include "farm/rounds.h"

#include <algorithm>
#include <tuple>
#include <utility>

#include "base/sort_stably.h"
#include "farm/pond_day.h"
#include "farm/taken.h"
#include "protocol/protocol_times.h"

namespace tawny {
namespace {

// The sky is one for the whole farm: asked for on the days that a dose rests on, before and after it.
void ask_for_sky(const Farm& farm, const Protocol& protocol, const Day& day, std::vector<DueItem>& items) {
  const int days_after = static_cast<int>(protocol.number("rounds.sky_days_after_dose"));
  const Window& window = day.windows.afternoon;
  const Observed* taken = nullptr;
  bool matters = false;
  for (const FarmPond& pond : farm.ponds) {
    const PondHistory& history = pond.history;
    if (!pond.state.in_cycle || pond.state.finished) continue;
    const Observed* dose = last_taken(history, Act::dose, history.cycle_start, day.now);
    const bool dosed = dose != nullptr && day.day.days - day.of(dose->at).days <= days_after;
    if (!dosed && !pond.state.dose.advised && pond.state.stage != Stage::first_dose) continue;
    matters = true;
    if (taken == nullptr) taken = last_taken(history, Act::sky, window.from, std::min(window.until, day.now));
  }
  if (!matters) return;
  DueItem item;
  item.act = Act::sky;
  item.role = role_for(Act::sky);
  item.state = taken != nullptr ? DueState::done : state_of(window, day.now);
  item.window = WindowName::afternoon;
  item.from = window.from;
  item.until = window.until;
  item.why = Message("due.why.sky");
  if (taken != nullptr && taken->entry != nullptr) item.done_by = taken->entry->id;
  items.push_back(std::move(item));
}

// The changes that the farm made for all its ponds: those that every pond's history carries.
std::vector<ProtocolChange> farm_changes(const Farm& farm) {
  std::vector<ProtocolChange> changes;
  if (farm.ponds.empty()) return changes;
  for (const ProtocolChange& one : farm.ponds.front().history.protocol_changes) {
    if (one.entry != nullptr && one.entry->pond.empty()) changes.push_back(one);
  }
  return changes;
}

bool in_closing_window(const DueItem& item, const Day& day) {
  return item.state == DueState::now && item.until < day.until;
}

int rank(const DueItem& item, const Day& day) {
  if (in_closing_window(item, day)) return 0;
  switch (item.state) {
    case DueState::overdue:
      return 1;
    case DueState::now:
      return 2;
    case DueState::later:
      return 3;
    case DueState::missed:
      return 4;
    case DueState::done:
      break;
  }
  return 5;
}

bool comes_before(const DueItem& a, const DueItem& b, const Day& day) {
  const int rank_a = rank(a, day);
  const int rank_b = rank(b, day);
  if (rank_a != rank_b) return rank_a < rank_b;
  if (in_closing_window(a, day) && a.until != b.until) return a.until < b.until;
  return std::tie(a.walk_order, a.pond, a.from) < std::tie(b.walk_order, b.pond, b.from);
}

}  // namespace

std::string_view name_of(DueState state) {
  switch (state) {
    case DueState::now:
      return "now";
    case DueState::later:
      return "later";
    case DueState::overdue:
      return "overdue";
    case DueState::missed:
      return "missed";
    case DueState::done:
      break;
  }
  return "done";
}

Result<Rounds> rounds(const Farm& farm, const Protocol& protocol, Instant now) {
  Day day;
  day.offset = farm.place.offset;
  day.day = civil_day(now, day.offset);
  day.from = instant_at(day.day, 0, day.offset);
  day.until = instant_at(day.day.plus(1), -1, day.offset);
  day.now = now;
  const std::vector<ProtocolChange> changes = farm_changes(farm);
  const ProtocolTimes farm_times(protocol, changes);
  auto windows = windows_of(day.day, farm.place, farm_times.at(now));
  if (!windows) return tl::unexpected<Problem>(windows.error());
  day.windows = *windows;

  Rounds result;
  result.today = day.windows;
  ask_for_sky(farm, farm_times.at(now), day, result.items);
  for (const FarmPond& pond : farm.ponds) {
    const ProtocolTimes times(protocol, pond.history.protocol_changes);
    Day pond_day = day;
    if (!pond.history.protocol_changes.empty()) {
      auto own = windows_of(day.day, farm.place, times.at(now));
      if (!own) return tl::unexpected<Problem>(own.error());
      pond_day.windows = *own;
    }
    collect_due(pond, times.at(now), pond_day, result.items);
  }
  sort_stably(result.items, [&](const DueItem& a, const DueItem& b) { return comes_before(a, b, day); });
  return result;
}

}  // namespace tawny
