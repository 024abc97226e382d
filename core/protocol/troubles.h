// What goes wrong in a pond, as of one instant. Each trouble is one function of a Look that answers nothing, or
// the trouble with its numbers, what to check next and the entries that show it.
#pragma once

#include <optional>
#include <vector>

#include "protocol/look.h"

namespace tawny {

// Most severe first.
std::vector<Trouble> find_troubles(const Look& look);

// Of the bloom (troubles_bloom.cpp): what Secchi, swing and colour tell.
std::optional<Trouble> clear_water(const Look& look);  // clear and flat, or a slow start
std::optional<Trouble> too_dense(const Look& look);
std::optional<Trouble> crash(const Look& look);
std::optional<Trouble> drifting_green(const Look& look);
std::optional<Trouble> red_brown(const Look& look);
// Of the water and the instruments (troubles_water.cpp).
std::optional<Trouble> stratified(const Look& look);
std::optional<Trouble> losing_water(const Look& look);
std::optional<Trouble> doubtful_meter(const Look& look);

// No rise worth the name from dawn to afternoon, in oxygen and in pH.
bool is_flat(const Look& look, const DayWater& day);
// How often running the colour class last moved towards green, and whether it jumped to dark green: 0 when the
// last move was another one.
struct GreenDrift {
  int moves = 0;
  bool light_to_dark = false;
  std::vector<const ColourLook*> looks;  // oldest first
};
GreenDrift green_drift(const Look& look);
// The sky of a day as last recorded; nothing without a record.
std::optional<Sky> sky_of_day(const Look& look, CivilDay day, std::vector<const Entry*>& entries);

}  // namespace tawny
