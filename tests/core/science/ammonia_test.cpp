#include "science/ammonia.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// Emerson et al. 1975 [25 and 30 C at pH 8 and 9 from memory; the rest computed with their T = t + 273.2].
TEST(Ammonia, MatchesEmersonsTableInFreshWater) {
  const double phs[] = {7.0, 7.5, 8.0, 8.5, 9.0, 9.5};
  struct Row {
    double temperature_c;
    double percent[6];
    double half_digit[6];
  };
  const Row rows[] = {
      {20, {0.396, 1.24, 3.82, 11.2, 28.4, 55.7}, {0.0006, 0.006, 0.006, 0.06, 0.06, 0.06}},
      {25, {0.566, 1.77, 5.38, 15.3, 36.3, 64.3}, {0.0006, 0.006, 0.006, 0.06, 0.06, 0.06}},
      {30, {0.799, 2.48, 7.46, 20.3, 44.6, 71.8}, {0.0006, 0.006, 0.006, 0.06, 0.06, 0.06}},
  };
  for (const Row& row : rows) {
    for (int i = 0; i < 6; ++i) {
      EXPECT_NEAR(100 * *un_ionized_ammonia_fraction(phs[i], row.temperature_c, 0), row.percent[i],
                  row.half_digit[i])
          << row.temperature_c << ", pH " << phs[i];
    }
  }
}

// A public package prints 2727.92 for Emerson's 2729.92: at 25 C and pH 8 it would give 5.46 %.
TEST(Ammonia, EmersonsConstantIs2729) { EXPECT_NEAR(100 * *un_ionized_ammonia_fraction(8, 25, 0), 5.38, 0.01); }

// Hampson 1977 [computed: an independent coding].
TEST(Ammonia, MatchesHampsonInBrackishWater) {
  struct Row {
    double temperature_c, salinity, percent_at_ph_8;
  };
  const Row rows[] = {{25, 10, 5.115}, {25, 20, 4.855}, {25, 35, 4.480}, {30, 20, 6.899}, {30, 35, 6.376}};
  for (const Row& row : rows) {
    EXPECT_NEAR(100 * *un_ionized_ammonia_fraction(8, row.temperature_c, row.salinity), row.percent_at_ph_8,
                0.001)
        << row.temperature_c << ", " << row.salinity;
  }
}

// Pairs of TAN and NH3-N printed in toxicity papers [published: Lin & Chen 2001; Cobo et al. 2012; Kir et al.
// 2004].
TEST(Ammonia, StaysWithinAFifthOfPrintedPairs) {
  struct Row {
    double ph, temperature_c, salinity, percent;
  };
  const Row rows[] = {{8.05, 23, 15, 4.93}, {8.05, 23, 25, 4.42}, {8.05, 23, 35, 4.05},
                      {8.5, 26, 34, 14.8},  {8.2, 14, 39, 3.45},  {8.2, 26, 39, 8.74}};
  for (const Row& row : rows) {
    const double ratio =
        100 * *un_ionized_ammonia_fraction(row.ph, row.temperature_c, row.salinity) / row.percent;
    EXPECT_GT(ratio, 0.8) << row.salinity;
    EXPECT_LT(ratio, 1.2) << row.salinity;
  }
}

TEST(Ammonia, FormulaChangesAtSalinityOne) {
  const double below = *un_ionized_ammonia_fraction(8, 25, 0.999);
  const double at_one = *un_ionized_ammonia_fraction(8, 25, 1);
  EXPECT_EQ(below, *un_ionized_ammonia_fraction(8, 25, 0));
  EXPECT_NEAR(at_one / below, 1, 0.02);
  EXPECT_NE(at_one, below);
}

TEST(Ammonia, NitrogenIsTheFractionOfTan) {
  EXPECT_NEAR(*un_ionized_ammonia_n_mg_l(2, 8, 25, 20), 0.0971, 0.0001);
  EXPECT_EQ(*un_ionized_ammonia_n_mg_l(0, 8, 25, 20), 0);
}

TEST(Ammonia, RefusesWhatCannotBe) {
  EXPECT_EQ(un_ionized_ammonia_fraction(2.9, 25, 0).error().parameter, "ph");
  EXPECT_EQ(un_ionized_ammonia_fraction(12.1, 25, 0).error().parameter, "ph");
  EXPECT_EQ(un_ionized_ammonia_fraction(8, -0.1, 0).error().parameter, "temperature_c");
  EXPECT_EQ(un_ionized_ammonia_fraction(8, 40.1, 0).error().parameter, "temperature_c");
  EXPECT_EQ(un_ionized_ammonia_fraction(8, 25, 40.1).error().parameter, "salinity");
  EXPECT_EQ(un_ionized_ammonia_n_mg_l(-1, 8, 25, 20).error().parameter, "tan_mg_l");
}

}  // namespace
}  // namespace tawny
