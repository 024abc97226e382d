#include "core/outlook/outlook_bench.h"

#include <cmath>

namespace tawny {

MadePond made_pond(std::uint64_t seed, int days, int days_after, const std::function<void(Particle&)>& alter) {
  // Not the seed of the traits: what happens later must not hang on what was drawn first.
  Dice dice(seed_of("days", static_cast<std::int64_t>(seed)));
  const auto read_with = [&](double error_share) {
    const bool slip = dice.uniform() < priors().wild_chance;
    return std::exp((slip ? std::max(error_share, priors().wild_error_share) : error_share) * dice.normal());
  };
  Particle truth = BloomFilter(priors(), 1, seed).particles().front();
  if (alter) alter(truth);
  MadePond made;
  made.record.pond = "pond " + std::to_string(seed);
  made.record.volume_m3 = 8000;
  double depth_m = 0.4;
  for (int i = 0; i < days + days_after; ++i) {
    BloomDay day;
    day.day = CivilDay{20000 + i};
    if (i == 5) day.water.inflow_share = 0.5;
    if (i == 12) day.water.inflow_share = 0.2;
    if (i == 5) depth_m = 0.8;
    if (i == 12) depth_m = 1;
    const double inflow = day.water.inflow_share;
    day.water = tropical_water(day.day);
    day.water.inflow_share = inflow;
    day.water.depth_m = depth_m;
    if (i == 0) day.water.soil_nitrogen_mg_m2 = 800;
    if (i == 6) day.water.dose_nitrogen_mg_l = 0.5;
    if (i == 16) day.water.dose_nitrogen_mg_l = 0.25;
    const Sky sky = static_cast<Sky>(dice.word() % 3);
    if (i == 0) {
      truth.state.soil_nitrogen_mg_m2 =
          day.water.soil_nitrogen_mg_m2 * trait_of(truth.traits, Trait::soil_kept_share);
    } else {
      drift(truth.traits, priors(), dice);
      const double share = drawn_sky_share(priors(), sky, dice);
      to_noon(truth, day.water, share);
    }
    const double secchi = secchi_cm(truth, priors());
    const double share = drawn_sky_share(priors(), sky, dice);
    to_evening(truth, day.water, share);
    made.evenings.push_back(truth);
    if (i >= days) continue;
    day.sky = sky;
    const double read_cm = secchi * read_with(trait_of(truth.traits, Trait::secchi_error_share));
    const bool bottom = read_cm > 100 * depth_m;
    if (i >= 3) day.secchi = SecchiSeen{bottom ? 100 * depth_m : read_cm, bottom};
    day.do_swing_mg_l = trait_of(truth.traits, Trait::oxygen_share) * truth.state.oxygen_made_mg_l *
                        read_with(priors().swing_error_share);
    made.record.days.push_back(day);
  }
  return made;
}

OutlookRules band_rules() {
  OutlookRules rules;
  rules.band_low_cm = 45;
  rules.band_high_cm = 55;
  rules.floor_cm = 40;
  rules.least_kg_ha = 10;
  rules.most_kg_ha = 20;
  rules.nitrogen_mg_l_per_kg_ha = 1000 * 0.1648 / 8000;
  return rules;
}

}  // namespace tawny
