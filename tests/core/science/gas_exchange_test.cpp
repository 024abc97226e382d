#include "science/gas_exchange.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tawny {
namespace {

// Wanninkhof 2014 [20 C printed in the paper, from memory; the rest computed: an independent coding].
TEST(Schmidt, MatchesWanninkhof2014) {
  struct Row {
    double temperature_c, salinity, schmidt, tolerance;
  };
  const Row rows[] = {
      {20, 0, 510, 0.5},    {20, 35, 568, 0.5},    {20, 0, 510.2, 0.06},    {20, 35, 568.2, 0.06},
      {5, 0, 1231.4, 0.06}, {10, 0, 889.8, 0.06},  {25, 0, 398.8, 0.06},    {30, 0, 312.2, 0.06},
      {35, 0, 246.3, 0.06}, {25, 35, 445.1, 0.06}, {30, 35, 349.4, 0.06},   {35, 35, 276.5, 0.06},
      {0, 0, 1745.1, 1e-9}, {0, 35, 1920.4, 1e-9}, {29, 20, 350.15, 0.006},
  };
  for (const Row& row : rows) {
    EXPECT_NEAR(*schmidt_number_oxygen(row.temperature_c, row.salinity), row.schmidt, row.tolerance)
        << row.temperature_c << ", " << row.salinity;
  }
}

TEST(Schmidt, IsLinearInSalinity) {
  for (double t : {0.0, 17.0, 33.0}) {
    const double fresh = *schmidt_number_oxygen(t, 0);
    const double sea = *schmidt_number_oxygen(t, 35);
    EXPECT_NEAR(*schmidt_number_oxygen(t, 7), fresh + (sea - fresh) / 5, 1e-9);
    EXPECT_NEAR(*schmidt_number_oxygen(t, 42), fresh + (sea - fresh) * 1.2, 1e-9);
  }
}

// Wanninkhof 1992, cubics for 0 to 30 C [fresh from memory, sea via public models].
double schmidt_1992(double t, bool sea) {
  return sea ? 1953.4 - 128.00 * t + 3.9918 * t * t - 0.050091 * t * t * t
             : 1800.6 - 120.10 * t + 3.7818 * t * t - 0.047608 * t * t * t;
}

TEST(Schmidt, DoesNotCollapseInWarmWaterAsTheCubicsOf1992Do) {
  EXPECT_NEAR(schmidt_1992(20, false), 530.5, 0.06);
  EXPECT_NEAR(schmidt_1992(20, true), 589.4, 0.06);
  EXPECT_NEAR(schmidt_1992(30, false), 315.8, 0.06);
  EXPECT_NEAR(schmidt_1992(35, false), 188.6, 0.06);
  EXPECT_NEAR(schmidt_1992(40, false), 0.6, 0.06);
  for (double salinity : {0.0, 35.0}) {
    EXPECT_NEAR(*schmidt_number_oxygen(30, salinity) / schmidt_1992(30, salinity > 0), 1, 0.02);
    EXPECT_GT(*schmidt_number_oxygen(40, salinity), 200);
    // Each degree takes a little less than the one before, over the whole range.
    double last_fall = 1e9;
    for (int t = 0; t < 40; ++t) {
      const double fall = *schmidt_number_oxygen(t, salinity) - *schmidt_number_oxygen(t + 1, salinity);
      EXPECT_GT(fall, 0) << t;
      EXPECT_LT(fall, last_fall) << t;
      last_fall = fall;
    }
  }
}

// Arya 1988 [computed: LakeMetabolizer 1.5.6].
TEST(Wind, IsCarriedToTenMetres) {
  EXPECT_NEAR(*wind_at_10_m_m_s(5.1, 2), 6.492556, 6e-7);
  EXPECT_NEAR(*wind_at_10_m_m_s(5.1, 10), 5.1, 1e-12);
  EXPECT_LT(*wind_at_10_m_m_s(5.1, 15), 5.1);
  EXPECT_EQ(*wind_at_10_m_m_s(0, 2), 0);
}

// Cole & Caraco 1998, in cm/h [computed: LakeMetabolizer 1.5.6].
TEST(GasExchange, MatchesColeAndCaraco) {
  struct Row {
    double wind_10_m_s, k600_cm_h;
  };
  const Row rows[] = {{0, 2.07},     {1, 2.285},    {2, 2.768537}, {3, 3.461697},
                      {5, 5.386557}, {7, 7.946316}, {10, 12.84553}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*gas_exchange_600_m_d(row.wind_10_m_s) / 0.24, row.k600_cm_h, row.k600_cm_h < 10 ? 6e-7 : 6e-6)
        << row.wind_10_m_s;
  }
}

// LakeMetabolizer 1.5.6 brings k600 to oxygen with the exponent -1/2: Sc 418.25 gives 1.197726, Sc 331.4 gives
// 1.345549 times k600 [computed].
TEST(GasExchange, BringsK600ToOxygenWithTheSquareRootAtEveryWind) {
  EXPECT_NEAR(std::sqrt(600 / 418.25), 1.197726, 1e-5);
  EXPECT_NEAR(std::sqrt(600 / 331.4), 1.345549, 1e-5);
  for (double wind : {0.0, 2.0, 3.6, 3.8, 9.0}) {
    const double ratio = *oxygen_exchange_m_d(25, 12, wind) / *gas_exchange_600_m_d(wind);
    EXPECT_NEAR(ratio * ratio * *schmidt_number_oxygen(25, 12), 600, 1e-9) << wind;
  }
}

// [computed: an independent coding] 29 C, S 20, 1 m deep, 2 m/s.
TEST(GasExchange, MatchesTheUnitCase) {
  EXPECT_NEAR(*gas_exchange_600_m_d(2), 0.66445, 6e-6);
  EXPECT_NEAR(*oxygen_exchange_m_d(29, 20, 2), 0.8698, 6e-5);
  EXPECT_NEAR(*oxygen_exchange_per_h(29, 20, 2, 1), 0.03624, 6e-6);
  EXPECT_NEAR(*oxygen_exchange_per_h(29, 20, 2, 2), *oxygen_exchange_per_h(29, 20, 2, 1) / 2, 1e-15);
}

TEST(GasExchange, RisesWithWindAndWithWarmth) {
  for (double wind = 0; wind < 30; wind += 1.5) {
    EXPECT_LT(*oxygen_exchange_m_d(28, 15, wind), *oxygen_exchange_m_d(28, 15, wind + 1.5)) << wind;
    EXPECT_LT(*oxygen_exchange_m_d(20, 15, wind), *oxygen_exchange_m_d(30, 15, wind)) << wind;
  }
}

TEST(GasExchange, RefusesWhatTheFitsDoNotCover) {
  EXPECT_EQ(schmidt_number_oxygen(-0.1, 0).error().parameter, "temperature_c");
  EXPECT_EQ(schmidt_number_oxygen(40.1, 0).error().parameter, "temperature_c");
  EXPECT_EQ(schmidt_number_oxygen(20, 42.1).error().parameter, "salinity");
  EXPECT_EQ(wind_at_10_m_m_s(-1, 2).error().parameter, "wind_m_s");
  EXPECT_EQ(wind_at_10_m_m_s(3, 0.4).error().parameter, "height_m");
  EXPECT_EQ(wind_at_10_m_m_s(3, std::nan("")).error().parameter, "height_m");
  EXPECT_EQ(gas_exchange_600_m_d(30.1).error().parameter, "wind_10_m_s");
  EXPECT_EQ(oxygen_exchange_m_d(20, 0, -0.1).error().parameter, "wind_10_m_s");
  EXPECT_EQ(oxygen_exchange_m_d(41, 0, 2).error().parameter, "temperature_c");
  EXPECT_EQ(oxygen_exchange_per_h(20, 0, 2, 0.04).error().parameter, "depth_m");
  EXPECT_EQ(oxygen_exchange_per_h(20, -1, 2, 1).error().parameter, "salinity");
}

}  // namespace
}  // namespace tawny
