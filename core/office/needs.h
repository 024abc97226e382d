// What the ponds still need of each product, day by day: what the protocol has coming for them.
//
// For a pond in a cycle, from its present stage on, each stage taking what the protocol gives it (rest, bloom,
// days in the band, weeks of the early cycle; a fill takes stock.fill_days):
//   soil broadcast   at the end of the bottom stage, where none is recorded: area x broadcast_low to
//                    broadcast_high; expected: the median of what this farm has broadcast for a hectare so far,
//                    else the middle
//   first dose       area x first_dose.rate_kg_ha, give or take its tolerance
//   holding doses    from the bloom's end to the end of the early cycle.
//                    least:    dose.low_kg_ha every stock.dose_seldom_days
//                    expected: dose.middle_kg_ha every stock.dose_every_days, first what is advised now
//                    most:     the most at once, every dose.days_between
// The area is the nominal one: how much water will stand in the pond on that day is not known. These are sums
// to order by, not a plan of doses: the Secchi of the day decides on every single one.
#pragma once

#include <string>
#include <vector>

#include "farm/farm.h"
#include "protocol/protocol.h"

namespace tawny {

struct StockNeed {
  enum class What { broadcast, first_dose, holding } what = What::holding;
  std::string pond;
  std::string product;
  CivilDay day;
  double least_kg = 0, expected_kg = 0, most_kg = 0;
};

// A pond whose cycle is to begin: what is known of it besides its set-up.
struct CycleAhead {
  std::string pond;
  CivilDay bottom_done;  // when the bottom stage ends, and filling starts
};

// Of the ponds in a cycle, then of `ahead`; in order of the days.
std::vector<StockNeed> needs_of_ponds(const Farm& farm, const Protocol& standard, Instant now,
                                      const std::vector<CycleAhead>& ahead = {});

// The product that a pond takes: of its own last dose or broadcast, else of the farm's, else the first in use.
std::string product_of_pond(const Farm& farm, const FarmPond& pond);

}  // namespace tawny
