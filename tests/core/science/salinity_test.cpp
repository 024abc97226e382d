#include "science/salinity.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/open_data.h"

namespace tawny {
namespace {

// The scale's own pressure factor, by which a conductivity ratio measured in the deep is brought to the
// surface.
double to_the_surface(double ratio, double t68_c, double pressure_dbar) {
  const double p = pressure_dbar;
  const double factor =
      1 + p * (2.070e-5 + p * (-6.370e-10 + p * 3.989e-15)) /
              (1 + t68_c * (3.426e-2 + t68_c * 4.464e-4) + (4.215e-1 - 3.107e-3 * t68_c) * ratio);
  return ratio / factor;
}

// UNESCO Technical Papers in Marine Science 44 [published: via public ports; the last from memory];
// temperatures on the scale of 1968.
TEST(Salinity, MatchesTheUnescoCheckValues) {
  struct Row {
    double ratio, t68_c, pressure_dbar, salinity, tolerance;
  };
  const Row rows[] = {{1, 15, 0, 35, 1e-6}, {1.2, 20, 2000, 37.245628, 1e-6}, {0.65, 5, 1500, 27.995347, 1e-6}};
  for (const Row& row : rows) {
    const double conductivity_ms_cm = 42.914 * to_the_surface(row.ratio, row.t68_c, row.pressure_dbar);
    const Result<double> salinity = salinity_from_conductivity(conductivity_ms_cm, row.t68_c / 1.00024);
    ASSERT_TRUE(salinity);
    EXPECT_NEAR(*salinity, row.salinity, row.tolerance);
  }
  // UNESCO's value at 40 C; the paper prints 40.0000.
  EXPECT_NEAR(*salinity_from_conductivity(42.914 * to_the_surface(1.888091, 40, 10000), 40 / 1.00024), 40.0000,
              5e-5);
}

// [computed: gsw 3.6.16, SP_from_C; below 2 it scales the same correction by up to 0.0001]
TEST(Salinity, MatchesAnIndependentLibrary) {
  struct Row {
    double conductivity_ms_cm, temperature_c, salinity;
  };
  const Row rows[] = {{1, 25, 0.4925},   {2, 25, 1.0166},   {5, 25, 2.6796},   {10, 25, 5.6266},
                      {20, 25, 11.9150}, {30, 25, 18.5699}, {50, 25, 32.7332}, {18.7551, 30, 10},
                      {35.3223, 30, 20}, {53.0710, 25, 35}, {58.3570, 30, 35}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*salinity_from_conductivity(row.conductivity_ms_cm, row.temperature_c), row.salinity, 1.5e-4)
        << row.conductivity_ms_cm << ", " << row.temperature_c;
  }
}

// [computed: an independent coding with the correction of Hill et al. 1986]
TEST(Salinity, IsCorrectedInNearlyFreshWater) {
  EXPECT_NEAR(*salinity_from_conductivity(1, 25), 0.4924, 6e-5);
  EXPECT_NEAR(*salinity_from_conductivity(2, 25), 1.0165, 6e-5);
  EXPECT_NEAR(*salinity_from_conductivity(0.05, 15), 0.028175, 1e-6);
  EXPECT_NEAR(*salinity_from_conductivity(0.05, 25), 0.022191, 1e-6);
  EXPECT_NEAR(*salinity_from_conductivity(0.2, 25), 0.094122, 1e-6);
  EXPECT_NEAR(*salinity_from_conductivity(0.5, 30), 0.217174, 1e-6);
  EXPECT_NEAR(*salinity_from_conductivity(0, 25), 0, 1e-12);
}

TEST(Salinity, OfPureWaterIsNothingAndNeverBelow) {
  for (double t = 0; t <= 40; t += 0.5) {
    for (double c = 0; c <= 0.2; c += 0.001) {
      const Result<double> salinity = salinity_from_conductivity(c, t);
      ASSERT_TRUE(salinity);
      EXPECT_GE(*salinity, 0) << c << ", " << t;
    }
  }
}

TEST(Salinity, RisesWithConductivityAcrossTheWholeScale) {
  for (double t = 0; t <= 40; t += 4) {
    double below = -1;
    for (double c = 0; c < 90; c += 0.01) {
      const Result<double> salinity = salinity_from_conductivity(c, t);
      if (!salinity) break;
      EXPECT_GT(*salinity, below) << c << ", " << t;
      below = *salinity;
    }
    EXPECT_GT(below, 41.9) << t;
  }
}

TEST(Salinity, UndoesTheMetersStraightLine) {
  for (double t : {5.0, 25.0, 33.0}) {
    EXPECT_NEAR(*salinity_from_specific_conductance(20, t),
                *salinity_from_conductivity(20 * (1 + 0.0191 * (t - 25)), t), 1e-12)
        << t;
  }
}

TEST(Salinity, RefusesWhatTheScaleDoesNotCover) {
  EXPECT_EQ(salinity_from_conductivity(-0.01, 25).error().parameter, "conductivity_ms_cm");
  EXPECT_EQ(salinity_from_conductivity(100.1, 25).error().parameter, "conductivity_ms_cm");
  EXPECT_EQ(salinity_from_conductivity(std::nan(""), 25).error().parameter, "conductivity_ms_cm");
  EXPECT_EQ(salinity_from_conductivity(20, -0.1).error().parameter, "temperature_c");
  EXPECT_EQ(salinity_from_conductivity(20, 40.1).error().parameter, "temperature_c");
  EXPECT_EQ(salinity_from_specific_conductance(-0.01, 25).error().parameter, "specific_conductance_ms_cm");
  EXPECT_EQ(salinity_from_specific_conductance(20, 40.1).error().parameter, "temperature_c");
  EXPECT_TRUE(salinity_from_conductivity(20, 0));
  EXPECT_TRUE(salinity_from_conductivity(20, 40));
}

TEST(Salinity, RefusesConductivityPastTheEndOfTheScale) {
  // 62.0 mS/cm at 25 C is just under a salinity of 42 [computed: gsw 3.6.16].
  EXPECT_TRUE(salinity_from_conductivity(62.0, 25));
  const Result<double> beyond = salinity_from_conductivity(63.0, 25);
  ASSERT_FALSE(beyond);
  EXPECT_EQ(beyond.error().kind, ProblemKind::out_of_range);
  EXPECT_EQ(beyond.error().parameter, "conductivity_ms_cm");
  EXPECT_EQ(beyond.error().message.id, "problem.salinity_beyond_scale");
  EXPECT_EQ(salinity_from_specific_conductance(63.0, 25).error().parameter, "specific_conductance_ms_cm");
}

// Sondes of an estuary, warm and brackish (Grand Bay, Mississippi, 2021; NOAA NERRS): they print salinity to
// 0.1, whose rounding alone is 0.1 / 12^(1/2) = 0.0289.
TEST(Salinity, OfFieldSondesIsTheirOwnFromSpecificConductance) {
  const std::optional<OpenData::Table> sonde = open_data("grand-bay-2021-sonde.csv");
  if (!sonde) GTEST_SKIP() << kNoOpenData;
  const std::vector<double> temperature_c = sonde->column("temperature_c");
  const std::vector<double> shown_ms_cm = sonde->column("specific_conductance_ms_cm");
  const std::vector<double> shown = sonde->column("salinity");
  Differences ours;
  Differences as_if_not_compensated;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    if (std::isnan(temperature_c[i]) || std::isnan(shown_ms_cm[i]) || std::isnan(shown[i])) continue;
    const Result<double> salinity = salinity_from_specific_conductance(shown_ms_cm[i], temperature_c[i]);
    ASSERT_TRUE(salinity) << i;
    ours.add(*salinity - shown[i]);
    as_if_not_compensated.add(*salinity_from_conductivity(shown_ms_cm[i], temperature_c[i]) - shown[i]);
  }
  EXPECT_EQ(ours.count, 5333);
  EXPECT_NEAR(ours.mean, -0.0064, 0.0005);
  EXPECT_NEAR(ours.sd, 0.0291, 0.0003);
  EXPECT_LT(ours.largest, 0.1);
  EXPECT_GT(std::fabs(as_if_not_compensated.mean), 0.5);
}

}  // namespace
}  // namespace tawny
