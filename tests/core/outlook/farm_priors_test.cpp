#include "outlook/farm_priors.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

constexpr auto kBackground = static_cast<std::size_t>(Trait::background_per_m);

// The cycles of a farm whose water, from its source on, has so much of the median's algae and silt.
OutlookPriors of_farm_with_water(double share) {
  std::vector<CycleLesson> lessons;
  for (std::uint64_t seed = 300; seed < 308; ++seed) {
    const MadePond made = made_pond(seed, 30, 0, [&](Particle& truth) {
      double& algae = trait_of(truth.traits, Trait::source_chlorophyll_mg_m3);
      algae *= share;
      trait_of(truth.traits, Trait::background_per_m) *= share;
      truth.state.chlorophyll_mg_m3 = algae;
    });
    lessons.push_back(lesson_of(made.record, priors()));
  }
  return priors_of_farm(priors(), lessons);
}

TEST(FarmPriors, AFarmWithClearerSourceWaterStartsFromClearerWater) {
  const OutlookPriors clear = of_farm_with_water(0.4), usual = of_farm_with_water(1),
                      dull = of_farm_with_water(2.5);
  const auto background = [](const OutlookPriors& of) { return std::exp(of.traits[kBackground].log_median); };
  std::printf("attenuation without algae: published %.2f, clear farm %.2f, usual %.2f, dull %.2f 1/m\n",
              background(priors()), background(clear), background(usual), background(dull));
  EXPECT_LT(background(clear), 0.85 * background(priors()));
  EXPECT_GT(background(dull), 1.15 * background(priors()));
  EXPECT_NEAR(background(usual) / background(priors()), 1, 0.2);
}

TEST(FarmPriors, WithoutAFinishedCycleThePublishedOnesStand) {
  const OutlookPriors same = priors_of_farm(priors(), {});
  for (std::size_t t = 0; t < kTraits; ++t) {
    EXPECT_EQ(same.traits[t].log_median, priors().traits[t].log_median);
  }
}

// By hand, with r = 0.3. One cycle that told all of its trait (i = 1) and lies 1 above: 1 / 0.7 over
// (1 / 0.3 + 1 / 0.7) = 0.3. Ten of them: (10 / 0.7) / (1 / 0.3 + 10 / 0.7) = 0.8108. One with i = 0.5 that
// lies 0.5 above (its truth 1 above): (0.5 / 0.85) / (1 / 0.3 + 0.5 / 0.85) = 0.15.
TEST(FarmPriors, ShrinkTowardsThePublishedMedian) {
  ASSERT_EQ(priors().farm_share, 0.3);
  const double published = priors().traits[kBackground].log_median;
  const auto shift = [&](std::size_t cycles, double off, double learned) {
    CycleLesson lesson;
    lesson.log_median[kBackground] = published + off;
    lesson.learned[kBackground] = learned;
    return priors_of_farm(priors(), std::vector<CycleLesson>(cycles, lesson)).traits[kBackground].log_median -
           published;
  };
  EXPECT_NEAR(shift(1, 1, 1), 0.3, 1e-12);
  EXPECT_NEAR(shift(10, 1, 1), 0.8108, 1e-4);
  EXPECT_NEAR(shift(1, 0.5, 0.5), 0.15, 1e-12);
  EXPECT_EQ(shift(10, 1, 0), 0);
}

TEST(FarmPriors, NoTraitLeavesItsPublishedBoundsHoweverFarTheCyclesLie) {
  Dice dice(7);
  for (int i = 0; i < 200; ++i) {
    std::vector<CycleLesson> lessons(1 + dice.word() % 30);
    for (CycleLesson& lesson : lessons) {
      for (std::size_t t = 0; t < kTraits; ++t) {
        lesson.log_median[t] = 20 * (dice.uniform() - 0.5);
        lesson.learned[t] = dice.uniform();
      }
    }
    const OutlookPriors shifted = priors_of_farm(priors(), lessons);
    for (std::size_t t = 0; t < kTraits; ++t) {
      EXPECT_GT(shifted.traits[t].log_median, priors().traits[t].log_low);
      EXPECT_LT(shifted.traits[t].log_median, priors().traits[t].log_high);
      EXPECT_EQ(shifted.traits[t].low, priors().traits[t].low);
    }
  }
}

}  // namespace
}  // namespace tawny
