#include "office/side_by_side.h"

#include <algorithm>

namespace tawny {
namespace {

template <typename Observations>
void take_first(const Observations& observations, std::optional<Instant>& first) {
  if (observations.empty()) return;
  if (!first || observations.front().at < *first) first = observations.front().at;
}

}  // namespace

std::string_view name_of(CountFrom from) {
  constexpr std::string_view kNames[] = {"start", "first_fill", "first_dose"};
  return kNames[static_cast<std::size_t>(from)];
}

std::optional<CivilDay> day_zero_of(const Cycle& cycle, CountFrom from, UtcOffset offset, Instant now) {
  const PondHistory& history = cycle.pond.history;
  std::optional<Instant> first;
  if (from == CountFrom::start) first = cycle.start;
  if (from == CountFrom::first_fill) {
    take_first(history.levels, first);
    for (const InletMove& move : history.inlet_moves) {
      if (move.open && (!first || move.at < *first)) first = move.at;
    }
  }
  if (from == CountFrom::first_dose) take_first(history.doses, first);
  if (!first || *first > now) return std::nullopt;
  return civil_day(*first, offset);
}

CycleFigures figures_of(const Cycle& cycle, CivilDay day_zero, UtcOffset offset, Instant now) {
  CycleFigures figures;
  const PondHistory& history = cycle.pond.history;
  const Instant until = cycle.until(now);
  figures.days = civil_day(until, offset).days - civil_day(cycle.start, offset).days + 1;
  for (const GateOpened& gate : cycle.pond.state.gates) {
    figures.gates.push_back({gate.stage, civil_day(gate.at, offset).days - day_zero.days, gate.by_hand});
  }
  for (const DoseRecord& dose : history.doses) {
    if (dose.at > until) break;
    ++figures.doses;
    figures.dose_kg += dose.product_kg;
  }
  if (history.pond.nominal_area_ha > 0) figures.dose_kg_ha = figures.dose_kg / history.pond.nominal_area_ha;
  for (const SoilBroadcast& broadcast : history.broadcasts) {
    if (broadcast.at <= until) figures.broadcast_kg += broadcast.product_kg;
  }
  return figures;
}

std::vector<CycleName> cycle_names(const Logbook& logbook, const Farm& farm, Instant now) {
  std::map<std::string_view, std::vector<const Entry*>> own;
  for (const FarmPond& pond : farm.ponds) own[pond.history.pond.id];
  for (const Entry* entry : logbook.effective()) {
    const auto found = own.find(entry->pond);
    if (found != own.end()) found->second.push_back(entry);
  }
  std::vector<CycleName> names;
  for (const FarmPond& pond : farm.ponds) {
    const std::string& id = pond.history.pond.id;
    const std::vector<CycleSpan> spans = cycle_spans(id, own[id]);
    for (auto span = spans.rbegin(); span != spans.rend(); ++span) {
      if (span->start->observed > now) continue;
      CycleName name{id, *span->start->text("cycle"), span->start->observed, std::nullopt};
      if (span->end && *span->end <= now) name.end = span->end;
      names.push_back(std::move(name));
    }
  }
  return names;
}

}  // namespace tawny
