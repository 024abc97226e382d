// What a forecast is told of a pond, day by day: its water, light, doses and readings, from the first day with
// water, the last days_most of them.
//
//   level          at noon, on the straight line between gauge readings; before the first and after the last as
//                  there
//   inflow         only where the level rose: (V - V of the day before) / V
//   dose           nitrate-N over the volume of its day; one given after noon counts on the next morning
//   soil nitrate   what was broadcast before the first water, over the nominal area, is flooded on that day
//   temperature    mean of the day's readings, else the last one, else the prior's
//   light          0.45 of the clear sky's radiation (science/radiation.h), as moles
//
// What does not hold: evaporation and rain, which move a concentration by a few per cent a day; water exchanged
// without a level reading between.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dose/product.h"
#include "outlook/bloom_filter.h"
#include "protocol/assess.h"

namespace tawny {

struct BloomDay {
  CivilDay day;
  BloomWater water;
  std::optional<Sky> sky;
  std::optional<SecchiSeen> secchi;
  std::optional<double> do_swing_mg_l;

  bool operator==(const BloomDay&) const = default;
};

struct BloomRecord {
  std::string pond;  // id
  // In order, from the first day with water; a day on which it was dry is not there.
  std::vector<BloomDay> days;
  double volume_m3 = 0;  // on the last of them

  bool operator==(const BloomRecord&) const = default;
};

// Up to the day `last`, with what was known at `now`. Refuses (missing) a pond without a curve or without a
// level reading above its bottom in this cycle; whatever the curve and the sun refuse.
Result<BloomRecord> bloom_record(const PondHistory& history, const PondState& state, const FarmPlace& place,
                                 const std::vector<Product>& products, const OutlookPriors& priors,
                                 CivilDay last, Instant now);

// The water of a day to come: as on the last day, no fill, no dose, the light of its own date.
BloomWater water_of_day_to_come(const BloomDay& last, CivilDay day, const FarmPlace& place);

}  // namespace tawny
