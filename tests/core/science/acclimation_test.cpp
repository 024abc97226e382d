#include "science/acclimation.h"

#include <gtest/gtest.h>

#include <string>

namespace tawny {
namespace {

// The rates to start with; handbooks [from memory] give 1 to 3 an hour, 1 C in 15 to 30 min and 4 C in all, 0.5
// an hour.
constexpr AcclimationRates kRates{2, 2, 0.5};
constexpr double kTotal_c = 4;

// By hand; no published worked case was found.
TEST(Acclimation, TakesAsLongAsTheStrictestRate) {
  struct Row {
    AcclimationWater bag, pond;
    double salinity_h, temperature_h, ph_h, hours;
    const char* governs;
  };
  const Row rows[] = {
      {{28, 30, 8.0}, {28, 15, 8.0}, 7.5, 0, 0, 7.5, "salinity"},
      {{24, 20, 8.0}, {28, 20, 8.0}, 0, 2, 0, 2, "temperature"},
      {{28, 20, 7.2}, {28, 20, 8.4}, 0, 0, 2.4, 2.4, "ph"},
      {{25, 22, 7.5}, {28, 18, 8.0}, 2, 1.5, 1, 2, "salinity"},
      {{25, 19, 7.5}, {28, 18, 8.5}, 0.5, 1.5, 2, 2, "ph"},
      {{28, 20, 8.0}, {28, 20, 8.0}, 0, 0, 0, 0, "none"},
  };
  for (const Row& row : rows) {
    const Result<Acclimation> result = acclimation(row.bag, row.pond, kRates, kTotal_c);
    ASSERT_TRUE(result);
    EXPECT_NEAR(result->salinity_h, row.salinity_h, 1e-9);
    EXPECT_NEAR(result->temperature_h, row.temperature_h, 1e-9);
    EXPECT_NEAR(result->ph_h, row.ph_h, 1e-9);
    EXPECT_NEAR(result->hours, row.hours, 1e-9);
    EXPECT_EQ(name_of(result->governs), row.governs);
  }
}

TEST(Acclimation, TakesTheSameTimeBothWays) {
  const AcclimationWater one{25, 30, 7.5};
  const AcclimationWater other{28, 12, 8.6};
  EXPECT_EQ(acclimation(one, other, kRates, kTotal_c)->hours, acclimation(other, one, kRates, kTotal_c)->hours);
}

TEST(Acclimation, SaysWhenTemperatureLiesTooFarApart) {
  EXPECT_FALSE(acclimation({24, 20, 8}, {28, 20, 8}, kRates, kTotal_c)->temperature_too_far);
  EXPECT_TRUE(acclimation({24, 20, 8}, {28.1, 20, 8}, kRates, kTotal_c)->temperature_too_far);
  EXPECT_TRUE(acclimation({30, 20, 8}, {25, 20, 8}, kRates, kTotal_c)->temperature_too_far);
}

TEST(Acclimation, RefusesWhatCannotBe) {
  const AcclimationWater good{28, 20, 8};
  const auto refused = [&](const AcclimationWater& bag, const AcclimationWater& pond,
                           const AcclimationRates& rates, double total_c) {
    const Result<Acclimation> result = acclimation(bag, pond, rates, total_c);
    return result ? std::string("nothing") : result.error().parameter;
  };
  EXPECT_EQ(refused({-0.1, 20, 8}, good, kRates, kTotal_c), "bag_temperature_c");
  EXPECT_EQ(refused({40.1, 20, 8}, good, kRates, kTotal_c), "bag_temperature_c");
  EXPECT_EQ(refused({28, -0.1, 8}, good, kRates, kTotal_c), "bag_salinity");
  EXPECT_EQ(refused({28, 60.1, 8}, good, kRates, kTotal_c), "bag_salinity");
  EXPECT_EQ(refused({28, 20, 2.9}, good, kRates, kTotal_c), "bag_ph");
  EXPECT_EQ(refused({28, 20, 12.1}, good, kRates, kTotal_c), "bag_ph");
  EXPECT_EQ(refused(good, {40.1, 20, 8}, kRates, kTotal_c), "pond_temperature_c");
  EXPECT_EQ(refused(good, {28, 60.1, 8}, kRates, kTotal_c), "pond_salinity");
  EXPECT_EQ(refused(good, {28, 20, 2.9}, kRates, kTotal_c), "pond_ph");
  EXPECT_EQ(refused(good, good, {0, 2, 0.5}, kTotal_c), "salinity_per_h");
  EXPECT_EQ(refused(good, good, {51, 2, 0.5}, kTotal_c), "salinity_per_h");
  EXPECT_EQ(refused(good, good, {2, 0, 0.5}, kTotal_c), "temperature_c_per_h");
  EXPECT_EQ(refused(good, good, {2, 21, 0.5}, kTotal_c), "temperature_c_per_h");
  EXPECT_EQ(refused(good, good, {2, 2, 0}, kTotal_c), "ph_per_h");
  EXPECT_EQ(refused(good, good, {2, 2, 5.1}, kTotal_c), "ph_per_h");
  EXPECT_EQ(refused(good, good, kRates, 0), "temperature_total_c");
  EXPECT_EQ(refused(good, good, kRates, 41), "temperature_total_c");
}

// PL10 only down to a salinity of 4, PL15 to PL20 down to 1 [published: McGraw et al. 2002, J. World Aquacult.
// Soc. 33:78].
TEST(Acclimation, OlderLarvaeStandFresherWater) {
  const PlSalinity rule{10, 4, 15, 1};
  EXPECT_EQ(*pl_lowest_salinity(10, rule), 4);
  EXPECT_EQ(*pl_lowest_salinity(14, rule), 4);
  EXPECT_EQ(*pl_lowest_salinity(15, rule), 1);
  EXPECT_EQ(*pl_lowest_salinity(20, rule), 1);
}

TEST(Acclimation, SaysNothingOfLarvaeTooYoungToKnow) {
  const PlSalinity rule{10, 4, 15, 1};
  EXPECT_EQ(pl_lowest_salinity(9, rule).error().parameter, "pl_age_days");
  EXPECT_EQ(pl_lowest_salinity(61, rule).error().parameter, "pl_age_days");
  EXPECT_EQ(pl_lowest_salinity(12, {-1, 4, 15, 1}).error().parameter, "young_days");
  EXPECT_EQ(pl_lowest_salinity(12, {10, 4, 9, 1}).error().parameter, "older_days");
  EXPECT_EQ(pl_lowest_salinity(12, {10, -1, 15, 1}).error().parameter, "young_lowest");
  EXPECT_EQ(pl_lowest_salinity(12, {10, 4, 15, 61}).error().parameter, "older_lowest");
}

}  // namespace
}  // namespace tawny
