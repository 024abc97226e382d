#include "dose/dose.h"

#include <gtest/gtest.h>

#include "core/dose/products_of_the_app.h"

namespace tawny {
namespace {

TEST(Dose, IsRateTimesArea) {
  EXPECT_DOUBLE_EQ(*product_for_pond_kg(25, 0.5), 12.5);
  EXPECT_DOUBLE_EQ(*product_for_pond_kg(10, 4), 40);
  EXPECT_EQ(product_for_pond_kg(0, 1).error().parameter, "rate_kg_ha");
  EXPECT_EQ(product_for_pond_kg(501, 1).error().parameter, "rate_kg_ha");
  EXPECT_EQ(product_for_pond_kg(25, 0).error().parameter, "area_ha");
  EXPECT_EQ(product_for_pond_kg(25, 5000).error().parameter, "area_ha");  // square metres for hectares
}

// 25 kg/ha in a mean depth of 0.60 m, mg N/L of all nitrogen [computed from the formulas' weights].
TEST(Dose, NitrogenMatchesTheTable) {
  struct Row {
    const char* product;
    double nitrogen_mg_l;
  };
  for (const Row& row : {Row{"sodium_nitrate", 0.687}, Row{"calcium_nitrate_fertilizer", 0.646},
                         Row{"potassium_nitrate", 0.577}, Row{"calcium_nitrate_tetrahydrate", 0.494}}) {
    const Product product = app_product(row.product);
    const double volume_m3 = 10000 * 0.60;
    const double nitrogen_kg = *nitrogen_in_product_kg(product, *product_for_pond_kg(25, 1));
    EXPECT_NEAR(1000 * nitrogen_kg / volume_m3, row.nitrogen_mg_l, 0.0006) << row.product;
  }
}

TEST(Dose, NitrateIsCountedWithoutTheAmmoniumPart) {
  const Product pure = app_product("sodium_nitrate");
  EXPECT_NEAR(*nitrate_n_added_mg_l(pure, 25, 6000), 0.687, 0.0006);
  const Product mixed = app_product("calcium_nitrate_fertilizer");
  EXPECT_NEAR(*nitrate_n_added_mg_l(mixed, 25, 6000), 25 * 0.1426 / 6, 1e-12);
  EXPECT_FALSE(nitrate_n_added_mg_l(pure, 25, 0));
}

TEST(Dose, ProductToNitrogenAndBack) {
  const Product product = app_product("sodium_nitrate");
  EXPECT_NEAR(*nitrogen_in_product_kg(product, 25), 4.12, 0.001);
  EXPECT_NEAR(*product_for_nitrogen_kg(product, *nitrogen_in_product_kg(product, 25)), 25, 1e-12);
  const Result<double> none = product_for_nitrogen_kg(app_product("molasses"), 1);
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().kind, ProblemKind::impossible);
}

TEST(Bags, AreWholeOnesAndAPart) {
  struct Row {
    double product_kg, bag_kg;
    int whole;
    double part_kg;
  };
  const Row rows[] = {
      {100, 25, 4, 0},     {112.5, 25, 4, 12.5}, {12.5, 25, 0, 12.5},        {0, 25, 0, 0},
      {24.9995, 25, 1, 0}, {25.0004, 25, 1, 0},  {3 * 0.1 * 10, 0.1, 30, 0}, {74.99, 25, 2, 24.99},
  };
  for (const Row& row : rows) {
    const Result<Bags> bags = bags_for(row.product_kg, row.bag_kg);
    ASSERT_TRUE(bags) << row.product_kg;
    EXPECT_EQ(bags->whole, row.whole) << row.product_kg;
    EXPECT_NEAR(bags->part_kg, row.part_kg, 1e-9) << row.product_kg;
  }
  EXPECT_EQ(bags_for(-1, 25).error().parameter, "product_kg");
  EXPECT_EQ(bags_for(10, 0).error().parameter, "bag_kg");
  EXPECT_EQ(bags_for(1e6, 0.1).error().parameter, "bags");
}

TEST(Cost, IsMoneyAndAShareOfTheProductionCost) {
  EXPECT_DOUBLE_EQ(*dose_cost(12.5, 1.6), 20);
  EXPECT_DOUBLE_EQ(*share_of_production_cost(20, 4000), 0.005);
  EXPECT_FALSE(dose_cost(12.5, -1));
  EXPECT_FALSE(share_of_production_cost(20, 0));
}

}  // namespace
}  // namespace tawny
