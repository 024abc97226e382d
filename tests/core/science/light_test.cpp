#include "science/light.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tawny {
namespace {

// k and the depth of 1 % at the edges and the middle of the band, c 1.44 of Holmes 1970 [computed: an
// independent coding; c from memory].
TEST(Light, OfTheBandIsAsReckonedElsewhere) {
  struct Row {
    double secchi_cm, attenuation_per_m, lit_depth_m;
  };
  const Row rows[] = {{45, 3.20, 1.44}, {50, 2.88, 1.60}, {55, 2.62, 1.76}};
  for (const Row& row : rows) {
    const Result<double> attenuation = attenuation_per_m(row.secchi_cm, 1.44);
    ASSERT_TRUE(attenuation);
    EXPECT_NEAR(*attenuation, row.attenuation_per_m, 0.0051) << row.secchi_cm;
    EXPECT_NEAR(*lit_depth_m(*attenuation, 0.01), row.lit_depth_m, 0.0051) << row.secchi_cm;
  }
}

// k = c / Z with the c of each water, Z 1 m: Poole & Atkins 1929; Walker 1980; Padial & Thomaz 2008
// [published].
TEST(Light, AttenuationOfADiscSeenToOneMetreIsTheCoefficient) {
  for (double coefficient : {1.7, 1.45, 2.26}) {
    EXPECT_NEAR(*attenuation_per_m(100, coefficient), coefficient, 1e-12);
  }
}

// ln 100 = 4.605 [published: the definition of the 1 % depth].
TEST(Light, OnePercentIsLeftAtFourPointSixOverAttenuation) {
  EXPECT_NEAR(*lit_depth_m(1, 0.01), 4.605, 0.0005);
  EXPECT_NEAR(*lit_depth_m(2, 0.5), std::log(2.0) / 2, 1e-12);
  EXPECT_EQ(*lit_depth_m(2, 1), 0);
}

TEST(Light, MeanOverTheDepthIsTheIntegralOfTheCurve) {
  for (double k : {0.1, 2.88, 9.0}) {
    for (double depth_m : {0.05, 1.0, 2.4}) {
      double sum = 0;
      const int slices = 20000;
      for (int i = 0; i < slices; ++i) sum += std::exp(-k * depth_m * (i + 0.5) / slices);
      EXPECT_NEAR(*mean_light_share(k, depth_m), sum / slices, 1e-7) << k << ", " << depth_m;
    }
  }
}

TEST(Light, OfNoDepthIsAllOfIt) {
  EXPECT_EQ(*mean_light_share(3, 0), 1);
  EXPECT_NEAR(*mean_light_share(3, 1e-9), 1, 1e-8);
}

TEST(Light, RefusesWhatCannotBe) {
  EXPECT_EQ(attenuation_per_m(0.9, 1.44).error().parameter, "secchi_cm");
  EXPECT_EQ(attenuation_per_m(5001, 1.44).error().parameter, "secchi_cm");
  EXPECT_EQ(attenuation_per_m(50, 0.49).error().parameter, "coefficient");
  EXPECT_EQ(attenuation_per_m(50, 4.1).error().parameter, "coefficient");
  EXPECT_EQ(lit_depth_m(0, 0.01).error().parameter, "attenuation_per_m");
  EXPECT_EQ(lit_depth_m(401, 0.01).error().parameter, "attenuation_per_m");
  EXPECT_EQ(lit_depth_m(3, 0).error().parameter, "share");
  EXPECT_EQ(lit_depth_m(3, 1.01).error().parameter, "share");
  EXPECT_EQ(mean_light_share(0, 1).error().parameter, "attenuation_per_m");
  EXPECT_EQ(mean_light_share(401, 1).error().parameter, "attenuation_per_m");
  EXPECT_EQ(mean_light_share(3, -0.1).error().parameter, "depth_m");
  EXPECT_EQ(mean_light_share(3, 101).error().parameter, "depth_m");
}

TEST(Light, TakesEveryDiscThatAttenuationGives) {
  for (double secchi_cm : {1.0, 5000.0}) {
    for (double coefficient : {0.5, 4.0}) {
      const Result<double> attenuation = attenuation_per_m(secchi_cm, coefficient);
      ASSERT_TRUE(attenuation);
      EXPECT_TRUE(lit_depth_m(*attenuation, 0.01));
      EXPECT_TRUE(mean_light_share(*attenuation, 1));
    }
  }
}

}  // namespace
}  // namespace tawny
