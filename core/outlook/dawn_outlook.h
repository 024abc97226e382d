// Oxygen at the coming sunrise, from the best that was read of this evening, as a range of 80 %.
//
//   two_dusk     two readings after sunset, dusk_hours_apart or more: respiration and exchange with the air
//                (science/dawn_oxygen.h)
//   own_nights   one reading from the afternoon on, less the pond's own loss in an hour times the hours
//   last_pair    the same where fewer than nights_enough nights are known: the loss of the newest of them
//
//   loss of a night   (last reading of the evening - dawn) / hours between, brought to tonight's water by
//                     q10 ^ ((T - T_then) / 10); the middle is the median of the newest nights_most nights
//   range             middle +- 1.2816 sd, sd^2 = (error of the way)^2 + (reading error)^2; for own_nights and
//                     last_pair also (spread of the loss times the hours)^2, the spread being 1.4826 times the
//                     median distance of the losses, for last_pair one_night_share of the loss itself
//   chance            of being under the floor: normal with that sd
//
// Sources: Boyd, Romaire & Johnston 1978, Trans. Am. Fish. Soc. 107:484 (readings after dusk, from memory);
// Madenjian, Rogers & Fast 1987, Aquacult. Eng. 6:191-208, 209-225: 0.40 mg/L mean error over 40 nights, which
// is the error of the first way (times 1.2533 for a normal sd). The rest is our own estimate.
//
// What does not hold: a wind that changes, rain, water let in, a bloom that dies tonight.
#pragma once

#include <optional>
#include <vector>

#include "outlook/priors.h"
#include "protocol/assess.h"

namespace tawny {

enum class DawnWay { two_dusk, own_nights, last_pair };

struct DawnOutlook {
  DawnWay way = DawnWay::own_nights;
  Instant dawn;
  double middle_mg_l = 0, low_mg_l = 0, high_mg_l = 0;  // never under 0: what is under nothing is nothing
  double floor_mg_l = 0;
  double under_floor = 0;  // chance
  std::size_t nights = 0;  // that the loss was learned from
  std::vector<EntryId> evidence;
};

// For the sunrise after `now`. Refuses (missing) where nothing was read this evening, or no night's loss is
// known and there are no two readings after sunset; whatever the sun refuses.
Result<DawnOutlook> dawn_outlook(const PondHistory& history, const PondState& state, const Protocol& protocol,
                                 const FarmPlace& place, const OutlookPriors& priors, Instant now);

}  // namespace tawny
