#include "science/oxygen.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// EN 25814 / ISO 5814, fresh water at 101.325 kPa [published: via an instrument's manual].
TEST(Oxygen, MatchesTheIsoTable) {
  struct Row {
    double temperature_c, oxygen_mg_l;
  };
  const Row rows[] = {{16, 9.87}, {18, 9.47}, {20, 9.09}, {22, 8.74}, {24, 8.42},
                      {25, 8.26}, {26, 8.11}, {28, 7.83}, {30, 7.56}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*oxygen_saturation_mg_l(row.temperature_c, 0, 1), row.oxygen_mg_l, 0.0051) << row.temperature_c;
  }
}

// APHA Standard Methods 4500-O, three decimals [from memory].
TEST(Oxygen, MatchesTheAphaThirdDecimals) {
  struct Row {
    double temperature_c, oxygen_mg_l;
  };
  const Row rows[] = {{0, 14.621}, {5, 12.770}, {10, 11.288}, {15, 10.084}, {20, 9.092},
                      {25, 8.263}, {30, 7.559}, {35, 6.949},  {40, 6.412}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*oxygen_saturation_mg_l(row.temperature_c, 0, 1), row.oxygen_mg_l, 0.0015) << row.temperature_c;
  }
}

// [computed: an independent coding; Garcia & Gordon by gsw 3.6.16 agrees to 0.003]
TEST(Oxygen, MatchesTheRegressionTable) {
  const double salinities[] = {0, 5, 10, 20, 30, 35, 40};
  struct Row {
    double temperature_c;
    double oxygen_mg_l[7];
  };
  const Row rows[] = {
      {0, {14.621, 14.118, 13.633, 12.712, 11.853, 11.446, 11.052}},
      {10, {11.288, 10.933, 10.589, 9.933, 9.317, 9.024, 8.740}},
      {20, {9.092, 8.828, 8.572, 8.080, 7.617, 7.396, 7.181}},
      {25, {8.263, 8.032, 7.807, 7.375, 6.967, 6.772, 6.582}},
      {30, {7.559, 7.354, 7.155, 6.772, 6.410, 6.237, 6.068}},
      {35, {6.949, 6.767, 6.589, 6.248, 5.924, 5.769, 5.617}},
      {40, {6.413, 6.249, 6.090, 5.784, 5.493, 5.353, 5.216}},
  };
  for (const Row& row : rows) {
    for (int i = 0; i < 7; ++i) {
      EXPECT_NEAR(*oxygen_saturation_mg_l(row.temperature_c, salinities[i], 1), row.oxygen_mg_l[i], 0.0006)
          << row.temperature_c << ", " << salinities[i];
    }
  }
}

// [computed: an independent coding]. Taking theta with kelvin moves the first by 0.0013.
TEST(Oxygen, PressureTermTakesDegreesCelsius) {
  EXPECT_NEAR(*oxygen_saturation_mg_l(20, 0, 0.90), 8.162292, 2e-6);
  EXPECT_NEAR(*oxygen_saturation_mg_l(30, 20, 0.98), 6.631005, 2e-6);
  EXPECT_NEAR(*oxygen_saturation_mg_l(25, 15, 1), 7.587823, 2e-6);
}

// An instrument's manual, one decimal, coarse [published].
TEST(Oxygen, FallsWithPressureAsTheMeterTableSays) {
  struct Row {
    double mmhg, at_0_c, at_20_c;
  };
  const Row rows[] = {{775, 14.9, 9.3}, {750, 14.4, 9.1}, {700, 13.5, 8.4}, {650, 12.5, 7.8}, {625, 12.0, 7.5}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*oxygen_saturation_mg_l(0, 0, row.mmhg / 760), row.at_0_c, 0.14) << row.mmhg;
    EXPECT_NEAR(*oxygen_saturation_mg_l(20, 0, row.mmhg / 760), row.at_20_c, 0.14) << row.mmhg;
  }
}

TEST(Oxygen, RefusesWhatTheFitDoesNotCover) {
  EXPECT_EQ(oxygen_saturation_mg_l(-0.1, 0, 1).error().parameter, "temperature_c");
  EXPECT_EQ(oxygen_saturation_mg_l(40.1, 0, 1).error().parameter, "temperature_c");
  EXPECT_EQ(oxygen_saturation_mg_l(20, 40.1, 1).error().parameter, "salinity");
  EXPECT_EQ(oxygen_saturation_mg_l(20, 0, 0.49).error().parameter, "pressure_atm");
  EXPECT_EQ(oxygen_saturation_mg_l(20, 0, 101.3).error().parameter, "pressure_atm");
}

// FAO-56, example 2: 81.8 kPa at 1800 m [published: via PyETo tests].
TEST(Pressure, MatchesTheFaoExample) {
  EXPECT_NEAR(*pressure_at_altitude_atm(1800) * 101.325, 81.8, 0.05);
  EXPECT_NEAR(*pressure_at_altitude_atm(0), 101.3 / 101.325, 1e-12);
  EXPECT_FALSE(pressure_at_altitude_atm(-401));
  EXPECT_FALSE(pressure_at_altitude_atm(5001));
}

TEST(Pressure, OfEveryAltitudeIsOneThatOxygenTakes) {
  EXPECT_TRUE(oxygen_saturation_mg_l(20, 0, *pressure_at_altitude_atm(5000)));
  EXPECT_TRUE(oxygen_saturation_mg_l(20, 0, *pressure_at_altitude_atm(-400)));
}

}  // namespace
}  // namespace tawny
