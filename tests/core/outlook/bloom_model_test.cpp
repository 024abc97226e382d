#include "outlook/bloom_model.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

// A day of full light over a film of water: nothing but the envelope of growth holds the algae back.
Particle growing_freely(const OutlookPriors& priors) {
  Particle particle = median_particle(priors);
  trait_of(particle.traits, Trait::growth_share) = 1;
  trait_of(particle.traits, Trait::half_light_umol_m2_s) = 1e-6;
  trait_of(particle.traits, Trait::half_nitrogen_mg_l) = 1e-9;
  trait_of(particle.traits, Trait::loss_per_d) = 0;
  trait_of(particle.traits, Trait::grazing_per_d) = 0;
  particle.state = {1, 10, 0, 0};
  return particle;
}

// Eppley 1972, Fish. Bull. 70:1063: 0.851 * 1.066^T doublings a day; 0.59 exp(0.0633 T) is the same per day,
// rounded.
TEST(BloomModel, GrowsByEppleysEnvelopeWhereNothingHoldsItBack) {
  for (const double temperature_c : {10.0, 20.0, 30.0}) {
    Particle particle = growing_freely(priors());
    BloomWater water = tropical_water();
    water.temperature_c = temperature_c;
    water.depth_m = 0.1;
    to_noon(particle, water, 1);
    const double grown_d = water.daylight_h / 24 / 2;
    const double doublings = 0.851 * std::pow(1.066, temperature_c) * grown_d;
    EXPECT_NEAR(std::log2(particle.state.chlorophyll_mg_m3) / doublings, 1, 0.02) << temperature_c;
  }
}

// I / (I + Ih) averaged over the depth, against the mean of ten thousand layers.
TEST(BloomModel, TakesTheLightOfTheWholeDepth) {
  Particle particle = growing_freely(priors());
  const double half_light = 150;
  trait_of(particle.traits, Trait::half_light_umol_m2_s) = half_light;
  BloomWater water = tropical_water();
  water.depth_m = 1.3;
  // So short a growth that it is a straight line, and both steps of the morning add up.
  trait_of(particle.traits, Trait::growth_share) = 1e-6;
  to_noon(particle, water, 1);
  const double attenuation = trait_of(particle.traits, Trait::background_per_m) +
                             priors().water_attenuation_per_m +
                             trait_of(particle.traits, Trait::chlorophyll_attenuation_m2_mg) * 1;
  const double step_s = water.daylight_h * 3600 / 4;
  double expected = 0;
  for (const double from_deg : {0.0, 45.0}) {
    const double radians = std::acos(-1.0) / 180;
    const double share = (std::sin((from_deg + 45) * radians) - std::sin(from_deg * radians)) / 2;
    const double light = water.clear_light_mol_m2_d * priors().surface_share * share * 1e6 / step_s;
    double mean = 0;
    for (int i = 0; i < 10000; ++i) {
      const double here = light * std::exp(-attenuation * water.depth_m * (i + 0.5) / 10000);
      mean += here / (here + half_light) / 10000;
    }
    expected += 1e-6 * 0.59 * std::exp(0.0633 * water.temperature_c) * step_s / 86400 * mean;
  }
  EXPECT_NEAR((particle.state.chlorophyll_mg_m3 - 1) / expected, 1, 1e-4);
}

// Monod 1949: half the growth where the nitrogen is half_nitrogen. So little algae that they use none of it up.
TEST(BloomModel, GrowsHalfAsFastWhereNitrogenIsAtItsHalf) {
  Particle particle = growing_freely(priors());
  trait_of(particle.traits, Trait::growth_share) = 1e-3;
  trait_of(particle.traits, Trait::half_nitrogen_mg_l) = 0.02;
  trait_of(particle.traits, Trait::bottom_nitrogen_mg_m2_d) = 0;
  trait_of(particle.traits, Trait::nitrogen_loss_per_d) = 0;
  particle.state = {1, 0.02, 0, 0};
  Particle fed = particle;
  fed.state.nitrogen_mg_l = 20;
  to_noon(particle, tropical_water(), 1);
  to_noon(fed, tropical_water(), 1);
  EXPECT_NEAR((particle.state.chlorophyll_mg_m3 - 1) / (fed.state.chlorophyll_mg_m3 - 1), 0.5, 2e-3);
}

// Redfield, Ketchum & Richards 1963: C106 N16, with 12.011 and 14.007 g/mol: 5.68 g/g.
TEST(BloomModel, HoldsNitrogenByRedfieldsRatio) {
  EXPECT_NEAR(kCarbonPerNitrogen, 5.68, 0.005);
  Particle particle = median_particle(priors());
  trait_of(particle.traits, Trait::carbon_per_chlorophyll) = 56.8;
  particle.state = {100, 0, 0, 0};
  // 100 mg/m3 of chlorophyll are 5680 mg of carbon and 1000 mg of nitrogen: 1 mg/L.
  EXPECT_NEAR(nitrogen_in_water_mg_l(particle), 1, 1e-3);
}

TEST(BloomModel, KeepsTheNitrogenThatNothingBringsOrTakes) {
  Particle particle = median_particle(priors());
  trait_of(particle.traits, Trait::recycled_share) = 1;
  trait_of(particle.traits, Trait::bottom_nitrogen_mg_m2_d) = 0;
  trait_of(particle.traits, Trait::nitrogen_loss_per_d) = 0;
  particle.state = {8, 0.7, 0, 0};
  const double before = nitrogen_in_water_mg_l(particle);
  const BloomWater water = tropical_water();
  for (int day = 0; day < 60; ++day) {
    to_noon(particle, water, 0.9);
    to_evening(particle, water, 0.9);
    ASSERT_NEAR(nitrogen_in_water_mg_l(particle) / before, 1, 1e-12) << day;
    ASSERT_GE(particle.state.nitrogen_mg_l, 0);
  }
}

TEST(BloomModel, ADoseAddsItsNitrogenAndTheSoilGivesUpAllThatItKept) {
  Particle particle = median_particle(priors());
  trait_of(particle.traits, Trait::recycled_share) = 1;
  trait_of(particle.traits, Trait::bottom_nitrogen_mg_m2_d) = 0;
  trait_of(particle.traits, Trait::nitrogen_loss_per_d) = 0;
  trait_of(particle.traits, Trait::soil_kept_share) = 0.5;
  const double before = nitrogen_in_water_mg_l(particle);
  BloomWater water = tropical_water();
  water.dose_nitrogen_mg_l = 0.25;
  water.soil_nitrogen_mg_m2 = 800;
  to_noon(particle, water, 0.9);
  const BloomWater later = tropical_water();
  for (int day = 0; day < 200; ++day) to_noon(particle, later, 0.9);
  // 800 mg/m2, half of it kept, in 1 m of water: 0.4 mg/L.
  EXPECT_NEAR(nitrogen_in_water_mg_l(particle) - before, 0.25 + 0.4, 1e-9);
}

TEST(BloomModel, AFillMixesByItsShare) {
  Particle particle = median_particle(priors());
  trait_of(particle.traits, Trait::source_chlorophyll_mg_m3) = 4;
  trait_of(particle.traits, Trait::source_nitrogen_mg_l) = 0.1;
  trait_of(particle.traits, Trait::loss_per_d) = 0;
  trait_of(particle.traits, Trait::grazing_per_d) = 0;
  trait_of(particle.traits, Trait::nitrogen_loss_per_d) = 0;
  trait_of(particle.traits, Trait::bottom_nitrogen_mg_m2_d) = 0;
  trait_of(particle.traits, Trait::growth_share) = 1e-12;
  particle.state = {40, 0.5, 0, 0};
  BloomWater water = tropical_water();
  water.inflow_share = 0.25;
  to_noon(particle, water, 0.9);
  EXPECT_NEAR(particle.state.chlorophyll_mg_m3, 0.75 * 40 + 0.25 * 4, 1e-6);
  EXPECT_NEAR(particle.state.nitrogen_mg_l, 0.75 * 0.5 + 0.25 * 0.1, 1e-6);
}

// k = c / Z (science/light.h): a disc at 50 cm with c 1.44 is an attenuation of 2.88 1/m.
TEST(BloomModel, TheDiscStandsWhereTheLightSaysSo) {
  Particle particle = median_particle(priors());
  trait_of(particle.traits, Trait::secchi_coefficient) = 1.44;
  trait_of(particle.traits, Trait::chlorophyll_attenuation_m2_mg) = 0.02;
  trait_of(particle.traits, Trait::background_per_m) = 2.88 - 0.02 * 60 - priors().water_attenuation_per_m;
  particle.state.chlorophyll_mg_m3 = 60;
  EXPECT_NEAR(secchi_cm(particle, priors()), 50, 1e-9);
}

}  // namespace
}  // namespace tawny
