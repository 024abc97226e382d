#include "science/seepage.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// V = 240 K A [published: documentation of SWAT+]; 1 mm/h over a hectare is 10 m3/h.
TEST(Seepage, OfAMillimetreAnHourIsTenCubicMetresAnHourFromAHectare) {
  EXPECT_NEAR(*seepage_m3_d(1, 1), 240, 1e-9);
  EXPECT_NEAR(*seepage_m3_d(0.5, 0.8), 96, 1e-9);
  EXPECT_EQ(*seepage_m3_d(0, 1), 0);
}

// Ponds at Auburn over 214 days: evaporation 77 cm, seepage 58.7 to 260.2 cm, printed as 2.7 to 12.2 mm/d
// [published: Boyd 1982, Trans. Am. Fish. Soc. 111:638].
TEST(Seepage, MatchesTheMeasuredPonds) {
  const double days = 214;
  EXPECT_NEAR(*seepage_mm_d((770 + 587) / days, 770 / days, 0), 2.7, 0.05);
  EXPECT_NEAR(*seepage_mm_d((770 + 2602) / days, 770 / days, 0), 12.2, 0.05);
}

TEST(Seepage, CountsRainAsWaterThatLeftToo) {
  EXPECT_NEAR(*seepage_mm_d(4, 5, 12), 11, 1e-12);
  EXPECT_NEAR(*seepage_mm_d(-3, 5, 12), 4, 1e-12);
  EXPECT_EQ(*seepage_mm_d(5, 5, 0), 0);
}

TEST(Seepage, SaysSoWhenMoreWaterComesInThanIsExplained) {
  const Result<double> seepage = seepage_mm_d(2, 5, 0);
  ASSERT_FALSE(seepage);
  EXPECT_EQ(seepage.error().kind, ProblemKind::impossible);
  EXPECT_EQ(seepage.error().parameter, "level_fall_mm_d");
  EXPECT_EQ(seepage.error().message, Message("problem.water_comes_in").with("gain", Quantity{3, 1, "mm_d"}));
}

TEST(Seepage, RefusesWhatCannotBe) {
  EXPECT_EQ(seepage_m3_d(-0.1, 1).error().parameter, "conductivity_mm_h");
  EXPECT_EQ(seepage_m3_d(501, 1).error().parameter, "conductivity_mm_h");
  EXPECT_EQ(seepage_m3_d(1, 0).error().parameter, "area_ha");
  EXPECT_EQ(seepage_m3_d(1, 1001).error().parameter, "area_ha");
  EXPECT_EQ(seepage_mm_d(-501, 0, 1000).error().parameter, "level_fall_mm_d");
  EXPECT_EQ(seepage_mm_d(501, 0, 0).error().parameter, "level_fall_mm_d");
  EXPECT_EQ(seepage_mm_d(10, -0.1, 0).error().parameter, "evaporation_mm_d");
  EXPECT_EQ(seepage_mm_d(10, 40.1, 0).error().parameter, "evaporation_mm_d");
  EXPECT_EQ(seepage_mm_d(10, 5, -0.1).error().parameter, "rain_mm_d");
  EXPECT_EQ(seepage_mm_d(10, 5, 1001).error().parameter, "rain_mm_d");
}

}  // namespace
}  // namespace tawny
