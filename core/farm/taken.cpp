#include "farm/taken.h"

namespace tawny {
namespace {

// Lists are in order of time.
template <typename T>
const Observed* last_within(const std::vector<T>& list, Instant from, Instant until) {
  for (auto one = list.rbegin(); one != list.rend(); ++one) {
    if (one->at >= from && one->at <= until) return &*one;
  }
  return nullptr;
}

}  // namespace

const Observed* last_taken(const PondHistory& history, Act act, Instant from, Instant until) {
  switch (act) {
    case Act::bottom_look:
      return last_within(history.bottoms, from, until);
    case Act::soil_broadcast:
      return last_within(history.broadcasts, from, until);
    case Act::screen_check:
      return last_within(history.screens, from, until);
    case Act::source_look:
      return last_within(history.source_colours, from, until);
    case Act::level_reading:
      return last_within(history.levels, from, until);
    case Act::water_reading:
      return last_within(history.water, from, until);
    case Act::secchi_reading:
      return last_within(history.secchi, from, until);
    case Act::water_colour:
      return last_within(history.colours, from, until);
    case Act::sky:
      return last_within(history.skies, from, until);
    case Act::dose:
      return last_within(history.doses, from, until);
    case Act::water_test:
      return last_within(history.tests, from, until);
    case Act::grazer_count:
      return last_within(history.grazers, from, until);
    case Act::bottom_grab:
      return last_within(history.grabs, from, until);
    case Act::pest_look:
      return last_within(history.pests, from, until);
    case Act::meter_check:
      return last_within(history.meter_checks, from, until);
    case Act::fill:
    case Act::shut_inlets:
      return last_within(history.inlet_moves, from, until);
    case Act::sign_release:
      return last_within(history.releases, from, until);
    case Act::decide_gate:
      return last_within(history.gate_decisions, from, until);
    case Act::settle_question:
    case Act::start_cycle:
      break;
  }
  return nullptr;
}

}  // namespace tawny
