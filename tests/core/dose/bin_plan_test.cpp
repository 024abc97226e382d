#include "dose/bin_plan.h"

#include <gtest/gtest.h>

#include <limits>

#include "core/dose/products_of_the_app.h"
#include "science/salts.h"

namespace tawny {
namespace {

// A farm's drum of 100 L used to 85 %, two people lifting 40 kg, a small boat.
BinLimits usual_limits() {
  BinLimits limits;
  limits.bin_volume_l = 100;
  limits.fill_share = 0.85;
  limits.lift_kg = 40;
  limits.boat_load_kg = 200;
  limits.water_temperature_c = 26;
  limits.water_salinity = 20;
  limits.saturation_share = 0.5;
  return limits;
}

BinPlan plan(const char* product, double product_kg, const BinLimits& limits) {
  const Result<BinPlan> result = plan_bins(app_product(product), product_kg, limits);
  EXPECT_TRUE(result.has_value()) << product << " " << product_kg;
  return result ? *result : BinPlan{};
}

TEST(BinPlan, OneBinWhereOneIsEnough) {
  const BinPlan one = plan("sodium_nitrate", 12.5, usual_limits());
  EXPECT_EQ(one.bins, 1);
  EXPECT_DOUBLE_EQ(one.salt_per_bin_kg, 12.5);
  EXPECT_NEAR(one.solution_per_bin_l, 85, 1e-6);
  EXPECT_EQ(one.bound_by, "none");
}

TEST(BinPlan, VolumeIsTheSolutionsNotTheWaters) {
  const BinPlan one = plan("sodium_nitrate", 20, usual_limits());
  ASSERT_EQ(one.bins, 1);
  // Dissolved, 20 kg take the room of 7.8 L of the 85: neither none, nor that of the dry crystals (8.9 L
  // at 2.26 kg/L).
  EXPECT_NEAR(one.water_per_bin_l, 85 - 7.8, 0.1);
  // By density: close to that of the salt in pure water plus the pond's own 15 kg/m3.
  const double w = 20 / one.solution_mass_kg;
  const double density = one.solution_mass_kg / one.solution_per_bin_l * 1000;
  EXPECT_GT(density, *solution_density_kg_m3(Salt::sodium_nitrate, w, 26));
  EXPECT_LT(density, *solution_density_kg_m3(Salt::sodium_nitrate, w, 26) + 15.5);
}

TEST(BinPlan, BinsTogetherHoldTheDose) {
  for (const char* product :
       {"sodium_nitrate", "potassium_nitrate", "calcium_nitrate_tetrahydrate", "calcium_nitrate_fertilizer"}) {
    const BinPlan many = plan(product, 137.5, usual_limits());
    EXPECT_NEAR(many.bins * many.salt_per_bin_kg, 137.5, 1e-9) << product;
  }
}

TEST(BinPlan, PotassiumNitrateAsksForManyMoreBins) {
  const BinPlan sodium = plan("sodium_nitrate", 125, usual_limits());
  const BinPlan potassium = plan("potassium_nitrate", 125, usual_limits());
  EXPECT_EQ(potassium.bound_by, "solubility");
  EXPECT_GE(potassium.bins, 2 * sodium.bins);
  EXPECT_LE(potassium.share_of_saturation, 0.5);
}

// The table at the pond's 26 C promises 40 kg in 100 kg of water, so 20 kg would be half; the water that the
// salt chills holds far less.
TEST(BinPlan, SolubilityCountsAtTheChilledTemperature) {
  const BinPlan potassium = plan("potassium_nitrate", 125, usual_limits());
  const double w = *solubility_mass_fraction(Salt::potassium_nitrate, 26);
  const double half_of_what_the_table_promises = 0.5 * w / (1 - w);
  const double water_kg = potassium.solution_mass_kg - potassium.salt_per_bin_kg;
  EXPECT_LT(potassium.salt_per_bin_kg / water_kg, 0.75 * half_of_what_the_table_promises);
  EXPECT_NEAR(potassium.start_temperature_c, 26, 0);
  EXPECT_LT(potassium.final_temperature_c, 18);
  const Dissolving state = *dissolve(Salt::potassium_nitrate, potassium.salt_per_bin_kg, water_kg, 26);
  EXPECT_DOUBLE_EQ(state.final_temperature_c, potassium.final_temperature_c);
}

TEST(BinPlan, CoolWaterAsksForMoreBins) {
  BinLimits cool = usual_limits();
  cool.water_temperature_c = 14;
  EXPECT_GT(plan("potassium_nitrate", 125, cool).bins, plan("potassium_nitrate", 125, usual_limits()).bins);
}

TEST(BinPlan, IsTheFewestBins) {
  const BinLimits limits = usual_limits();
  for (const char* product : {"sodium_nitrate", "potassium_nitrate", "calcium_nitrate_fertilizer"}) {
    const BinPlan found = plan(product, 137.5, limits);
    ASSERT_GT(found.bins, 1) << product;
    // All in fewer, fuller bins: the same product per bin must break a bound, so it is not one bin's plan.
    const Result<BinPlan> fuller = plan_bins(app_product(product), 137.5 / (found.bins - 1), limits);
    ASSERT_TRUE(fuller) << product;
    EXPECT_GT(fuller->bins, 1) << product;
  }
}

TEST(BinPlan, LiftBindsWhereTheBackIsTheWeakestPart) {
  BinLimits limits = usual_limits();
  limits.lift_kg = 10;
  const BinPlan found = plan("sodium_nitrate", 100, limits);
  EXPECT_EQ(found.bins, 10);
  EXPECT_EQ(found.bound_by, "lift");
}

TEST(BinPlan, BoatBindsWhereItLeavesTooLittleWater) {
  BinLimits limits = usual_limits();
  limits.boat_load_kg = 30;
  const BinPlan found = plan("sodium_nitrate", 100, limits);
  EXPECT_EQ(found.bound_by, "boat");
  EXPECT_LE(found.solution_mass_kg, 30 + 1e-9);
  EXPECT_LT(found.solution_per_bin_l, 30);
  EXPECT_GT(found.bins, plan("sodium_nitrate", 100, usual_limits()).bins);
}

TEST(BinPlan, VolumeBindsWhereTheBinIsSmallerThanTheSalt) {
  BinLimits limits = usual_limits();
  limits.bin_volume_l = 10;
  limits.lift_kg = 100;
  const Result<BinPlan> found = plan_bins(app_product("sodium_nitrate"), 50, limits);
  ASSERT_TRUE(found);
  EXPECT_LE(found->solution_per_bin_l, 8.5 + 1e-9);
  EXPECT_GT(found->bins, 10);
}

TEST(BinPlan, CrystalWaterCountsAsWater) {
  const BinPlan tetrahydrate = plan("calcium_nitrate_tetrahydrate", 30, usual_limits());
  ASSERT_EQ(tetrahydrate.bins, 1);
  // 30 kg of crystals bring 9.2 kg of water along; they leave more room for water than 30 kg of anhydrous salt.
  EXPECT_NEAR(tetrahydrate.solution_per_bin_l, 85, 1e-6);
  EXPECT_GT(tetrahydrate.water_per_bin_l, 68);
  EXPECT_LT(tetrahydrate.share_of_saturation, 0.5);
}

TEST(BinPlan, WaterPouredIsPondWaterByItsOwnDensity) {
  BinLimits salty = usual_limits();
  salty.water_salinity = 35;
  const BinPlan one = plan("sodium_nitrate", 10, salty);
  const double water_kg = one.solution_mass_kg - one.salt_per_bin_kg;
  EXPECT_NEAR(water_kg / one.water_per_bin_l, 1.0230, 0.0005);  // sea water at 26 C
}

TEST(BinPlan, ImpossibleNamesTheBound) {
  struct Row {
    const char* product;
    double product_kg;
    double bin_volume_l, lift_kg, boat_load_kg;
    const char* bound;
  };
  const Row rows[] = {
      {"sodium_nitrate", 100000, 100, 40, 200, "lift"},
      {"potassium_nitrate", 20000, 100, 40, 200, "solubility"},
      {"sodium_nitrate", 30000, 10000, 1000, 20, "boat"},
      {"sodium_nitrate", 200, 1, 40, 200, "solubility"},
      {"sodium_nitrate", 15000, 1, 40, 200, "volume"},
  };
  for (const Row& row : rows) {
    BinLimits limits = usual_limits();
    limits.bin_volume_l = row.bin_volume_l;
    limits.lift_kg = row.lift_kg;
    limits.boat_load_kg = row.boat_load_kg;
    const Result<BinPlan> found = plan_bins(app_product(row.product), row.product_kg, limits);
    ASSERT_FALSE(found) << row.product << " " << row.product_kg;
    EXPECT_EQ(found.error().kind, ProblemKind::impossible);
    EXPECT_EQ(found.error().parameter, row.bound) << row.product << " " << row.product_kg;
    EXPECT_EQ(*found.error().message.find("bound"), MessageValue(Word{std::string("bin_bound.") + row.bound}));
  }
}

TEST(BinPlan, RefusesNothingToDissolve) {
  for (const double product_kg : {0.0, -5.0, 0.009, std::numeric_limits<double>::quiet_NaN()}) {
    const Result<BinPlan> found = plan_bins(app_product("sodium_nitrate"), product_kg, usual_limits());
    ASSERT_FALSE(found) << product_kg;
    EXPECT_EQ(found.error().parameter, "product_kg");
  }
}

TEST(BinPlan, RefusesLimitsThatWereNotSet) {
  const Result<BinPlan> found = plan_bins(app_product("sodium_nitrate"), 10, BinLimits{});
  ASSERT_FALSE(found);
  EXPECT_EQ(found.error().kind, ProblemKind::out_of_range);
  struct Row {
    double BinLimits::*limit;
    double value;
    const char* parameter;
  };
  const Row rows[] = {
      {&BinLimits::bin_volume_l, 0.5, "bin_volume_l"},
      {&BinLimits::fill_share, 85, "fill_share"},
      {&BinLimits::lift_kg, 0, "lift_kg"},
      {&BinLimits::boat_load_kg, -1, "boat_load_kg"},
      {&BinLimits::water_temperature_c, 41, "water_temperature_c"},
      {&BinLimits::water_salinity, 43, "water_salinity"},
      {&BinLimits::saturation_share, 1, "saturation_share"},
  };
  for (const Row& row : rows) {
    BinLimits limits = usual_limits();
    limits.*row.limit = row.value;
    EXPECT_EQ(plan_bins(app_product("sodium_nitrate"), 10, limits).error().parameter, row.parameter);
  }
}

TEST(BinPlan, RefusesForbiddenProductsWithTheReason) {
  for (const char* id : {"urea", "superphosphate", "ammonium_nitrate", "molasses", "manure"}) {
    const Result<BinPlan> found = plan_bins(app_product(id), 10, usual_limits());
    ASSERT_FALSE(found) << id;
    EXPECT_EQ(found.error().kind, ProblemKind::unsupported) << id;
    EXPECT_EQ(*found.error().message.find("reason"),
              MessageValue(Word{std::string("product.") + id + ".reason"}));
  }
}

TEST(BinPlan, HoldsAtTheEdgesOfWhatALimitMayBe) {
  BinLimits cold = usual_limits();
  cold.water_temperature_c = 0;
  // Any salt would chill it below freezing.
  const Result<BinPlan> frozen = plan_bins(app_product("sodium_nitrate"), 10, cold);
  ASSERT_FALSE(frozen);
  EXPECT_EQ(frozen.error().parameter, "solubility");
  BinLimits warm = usual_limits();
  warm.water_temperature_c = 40;
  warm.water_salinity = 42;
  EXPECT_TRUE(plan_bins(app_product("sodium_nitrate"), 10, warm));
}

}  // namespace
}  // namespace tawny
