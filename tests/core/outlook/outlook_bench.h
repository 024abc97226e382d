// What the tests of the forecasts share: the priors of the assets, a pond of the tropics, a pond drawn from the
// priors.
#pragma once

#include <functional>

#include "assets.h"
#include "outlook/outlook.h"

namespace tawny {

inline const OutlookPriors& priors() {
  static const OutlookPriors parsed = *parse_outlook_priors(assets::find("outlook.json"));
  return parsed;
}

inline FarmPlace tropical_place() {
  FarmPlace place;
  place.latitude_deg = -3;
  place.longitude_deg = -79;
  place.offset = UtcOffset{-300};
  return place;
}

inline BloomWater tropical_water(CivilDay day = CivilDay{20000}) {
  BloomDay like;
  like.day = day;
  like.water.temperature_c = 29;
  like.water.depth_m = 1;
  return water_of_day_to_come(like, day, tropical_place());
}

inline Particle median_particle(const OutlookPriors& of) {
  Particle particle;
  for (std::size_t i = 0; i < kTraits; ++i) particle.traits[i] = std::exp(of.traits[i].log_median);
  particle.state.chlorophyll_mg_m3 = trait_of(particle.traits, Trait::source_chlorophyll_mg_m3);
  particle.state.nitrogen_mg_l = trait_of(particle.traits, Trait::source_nitrogen_mg_l);
  return particle;
}

// Half a day of one pond alone.
inline void to_noon(Particle& particle, const BloomWater& water, double sky_share) {
  BloomStates states;
  states.put(0, particle.state);
  BloomDayRates(&particle, 1, water, priors()).run_night_and_morning(states, {sky_share});
  particle.state = states.at(0);
}
inline void to_evening(Particle& particle, const BloomWater& water, double sky_share) {
  BloomStates states;
  states.put(0, particle.state);
  BloomDayRates(&particle, 1, water, priors()).run_afternoon(states, {sky_share});
  particle.state = states.at(0);
}

// A pond that the model itself made, with its record as people would have read it, slips and all.
struct MadePond {
  BloomRecord record;
  std::vector<Particle> evenings;  // how it truly was, each day of the record and of the days after it
};
// `alter`: changes what was drawn, before the first day.
MadePond made_pond(std::uint64_t seed, int days, int days_after,
                   const std::function<void(Particle&)>& alter = nullptr);

OutlookRules band_rules();

}  // namespace tawny
