#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

double between(double low, double high) { return low + (high - low) * *rc::gen::inRange(0, 1000001) * 1e-6; }

// Any pond within the bounds of its traits.
Particle any_particle() {
  Particle particle;
  for (std::size_t t = 0; t < kTraits; ++t) {
    const TraitPrior& prior = priors().traits[t];
    particle.traits[t] = std::exp(between(prior.log_low, prior.log_high));
  }
  particle.state = {between(0.1, 300), between(0, 3), between(0, 2000), 0};
  return particle;
}

BloomWater any_water() {
  BloomWater water = tropical_water();
  water.temperature_c = between(15, 36);
  water.depth_m = between(0.05, 2);
  water.daylight_h = between(9, 15);
  return water;
}

double nitrogen_mg_l(const Particle& particle, const BloomWater& water) {
  return nitrogen_in_water_mg_l(particle) + particle.state.soil_nitrogen_mg_m2 / (1000 * water.depth_m);
}

RC_GTEST_PROP(BloomModelProperty, NitrogenStaysToRoundingWhereNothingBringsOrTakesIt, ()) {
  Particle particle = any_particle();
  trait_of(particle.traits, Trait::recycled_share) = 1;
  trait_of(particle.traits, Trait::bottom_nitrogen_mg_m2_d) = 0;
  trait_of(particle.traits, Trait::nitrogen_loss_per_d) = 0;
  const BloomWater water = any_water();
  const double before = nitrogen_mg_l(particle, water);
  for (int day = 0; day < 20; ++day) {
    to_noon(particle, water, between(0.05, 1.05));
    to_evening(particle, water, between(0.05, 1.05));
  }
  RC_ASSERT(std::fabs(nitrogen_mg_l(particle, water) / before - 1) < 1e-12);
}

RC_GTEST_PROP(BloomModelProperty, ADoseBringsWhatItHoldsAndNoMore, ()) {
  Particle without = any_particle();
  trait_of(without.traits, Trait::recycled_share) = 1;
  trait_of(without.traits, Trait::bottom_nitrogen_mg_m2_d) = 0;
  trait_of(without.traits, Trait::nitrogen_loss_per_d) = 0;
  BloomWater water = any_water();
  Particle with = without;
  to_noon(without, water, 0.9);
  water.dose_nitrogen_mg_l = between(0, 2);
  to_noon(with, water, 0.9);
  RC_ASSERT(std::fabs(nitrogen_mg_l(with, water) - nitrogen_mg_l(without, water) - water.dose_nitrogen_mg_l) <
            1e-12 * (1 + nitrogen_mg_l(with, water)));
}

RC_GTEST_PROP(BloomModelProperty, NeitherAlgaeNorNitrogenFallUnderNothing, ()) {
  Particle particle = any_particle();
  const BloomWater water = any_water();
  for (int day = 0; day < 30; ++day) {
    to_noon(particle, water, between(0.05, 1.05));
    to_evening(particle, water, between(0.05, 1.05));
    RC_ASSERT(particle.state.nitrogen_mg_l >= 0);
    RC_ASSERT(particle.state.chlorophyll_mg_m3 > 0);
    RC_ASSERT(particle.state.oxygen_made_mg_l >= 0);
  }
}

}  // namespace
}  // namespace tawny
