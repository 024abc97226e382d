// Cycles side by side: the days of each are counted from the same event, so that a good pond and a poor one can
// be told apart however many seasons lie between them.
//
//   day      whole days of the farm's calendar from the day of the event: the day of the event is day 0, the
//            day before it day -1
//   kg/ha    what was spread as doses over the pond's nominal area of that cycle; the broadcast on the dry soil
//            is counted apart
#pragma once

#include <optional>
#include <vector>

#include "office/cycles.h"

namespace tawny {

// first_fill: the first inlet that was opened, or the first level on the gauge, whichever is on record earlier.
enum class CountFrom { start, first_fill, first_dose };
std::string_view name_of(CountFrom from);

// Nothing where that has not happened by `now`.
std::optional<CivilDay> day_zero_of(const Cycle& cycle, CountFrom from, UtcOffset offset, Instant now);

struct GateDay {
  Stage stage = Stage::bottom;  // whose gate opened
  int day = 0;
  bool by_hand = false;
};

struct CycleFigures {
  int days = 0;  // from the start to the end or now, both days counted
  std::vector<GateDay> gates;
  int doses = 0;
  double dose_kg = 0;                // of product
  std::optional<double> dose_kg_ha;  // none: the pond has no nominal area
  double broadcast_kg = 0;
};
CycleFigures figures_of(const Cycle& cycle, CivilDay day_zero, UtcOffset offset, Instant now);

// One cycle of the farm by its name only: what one chooses from.
struct CycleName {
  std::string pond, label;
  Instant start;
  std::optional<Instant> end;  // none: running
};
// Of every pond in walking order, each pond's newest first. Judges nothing, so it is quick for 200 ponds.
std::vector<CycleName> cycle_names(const Logbook& logbook, const Farm& farm, Instant now);

}  // namespace tawny
