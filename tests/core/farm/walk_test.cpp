#include "farm/walk.h"

#include <gmock/gmock.h>

#include <functional>

#include "core/farm/parts.h"

namespace tawny {
namespace {

using farm_test::at;
using farm_test::clock;
using farm_test::farm_of;
using farm_test::pond_in;
using testing::IsEmpty;
using Verdict = WalkCheck::Verdict;

const std::vector<Product>& products() {
  static const Result<std::vector<Product>> kParsed = parse_products(assets::find("products.json"));
  return *kParsed;
}

WaterReading water(Instant when, double temperature_c, double salinity) {
  auto one = at<WaterReading>(when);
  one.temperature_c = temperature_c;
  one.salinity = salinity;
  return one;
}

// Ready for the first dose at dawn: level 90 cm, warm water of yesterday.
FarmPond ready() {
  FarmPond pond = pond_in(Stage::first_dose);
  pond.history.pond.nominal_area_ha = 1.2;
  pond.state.level_cm = 90;
  pond.state.dose.allowed = true;
  pond.state.dose.most_kg_ha = 27.5;
  pond.state.dose.least_kg_ha = 22.5;
  pond.history.water = {water(clock("06:00", -4), 19, 16), water(clock("06:00", -1), 26.5, 18),
                        water(clock("16:00", -1), 29.5, 18.2)};
  return pond;
}

Farm farm_with(FarmPond pond, Instant now) {
  Farm farm = farm_of({std::move(pond)}, now);
  FarmProduct product;
  product.product = "sodium_nitrate";
  product.price_per_kg = 0.9;
  farm.products = {product};
  return farm;
}

Result<WalkPlan> plan(const Farm& farm, std::string_view product = "sodium_nitrate", double rate_kg_ha = 25,
                      const Protocol& protocol = farm_test::protocol()) {
  return plan_walk(farm, protocol, products(), "p1", product, rate_kg_ha);
}

TEST(WalkPlan, ReckonsTheDoseOfAPond) {
  const auto walk = plan(farm_with(ready(), clock("06:00")));
  ASSERT_TRUE(walk);
  EXPECT_EQ(walk->area_counted, "nominal");
  EXPECT_DOUBLE_EQ(walk->area_ha, 1.2);
  EXPECT_DOUBLE_EQ(walk->product_kg, 30);
  // Sodium nitrate: 14.007 / 84.994 = 16.48 % N (molar masses).
  EXPECT_NEAR(walk->nitrogen_kg, 4.944, 0.002);
  // Prismoid at 0.9 m: 8000 * 0.9 + 2 * 180 * 0.81 + 16/3 * 0.729 = 7495.5 m3; 4.944 kg in it.
  ASSERT_TRUE(walk->nitrate_n_mg_l);
  EXPECT_NEAR(*walk->nitrate_n_mg_l, 0.6596, 0.0005);
  EXPECT_EQ(walk->bags.whole, 1);
  EXPECT_NEAR(walk->bags.part_kg, 5, 1e-9);
  ASSERT_TRUE(walk->cost);
  EXPECT_NEAR(*walk->cost, 27, 1e-9);
  // Two people lift 25 kg: 30 kg are two bins of 15.
  EXPECT_EQ(walk->bins.bins, 2);
  EXPECT_EQ(walk->bins.bound_by, "lift");
  ASSERT_FALSE(walk->lanes.empty());
  EXPECT_EQ(walk->lanes.front().bin, 1);
  EXPECT_EQ(walk->lanes.back().bin, 2);
}

TEST(WalkPlan, BinsAreFilledWithTheColdestWaterOfTheLastTwoDays) {
  const auto walk = plan(farm_with(ready(), clock("06:00")));
  ASSERT_TRUE(walk);
  EXPECT_DOUBLE_EQ(walk->water_temperature_c, 26.5);
  EXPECT_DOUBLE_EQ(walk->water_salinity, 18.2);
  EXPECT_FALSE(walk->water_assumed);
}

TEST(WalkPlan, WaterThatWasNeverReadIsTakenAsTheColdestAndSaltiestAndSaidSo) {
  FarmPond pond = ready();
  pond.history.water.clear();
  const auto walk = plan(farm_with(pond, clock("06:00")));
  ASSERT_TRUE(walk);
  EXPECT_TRUE(walk->water_assumed);
  EXPECT_DOUBLE_EQ(walk->water_temperature_c, farm_test::protocol().number("stage.release.temperature_low_c"));
  EXPECT_DOUBLE_EQ(walk->water_salinity, farm_test::protocol().number("stage.release.salinity_high"));
}

TEST(WalkPlan, TheRateCountsOnTheWaterSurfaceWhereTheProtocolSaysSo) {
  const auto surface = farm_test::protocol().with(kAreaCountedPath, std::string("surface"));
  ASSERT_TRUE(surface);
  const auto walk = plan(farm_with(ready(), clock("06:00")), "sodium_nitrate", 25, *surface);
  ASSERT_TRUE(walk);
  // (100 + 4 * 0.9)(80 + 4 * 0.9) = 8660.96 m2.
  EXPECT_NEAR(walk->area_ha, 0.866096, 1e-9);
  FarmPond dry = ready();
  dry.state.level_cm.reset();
  const auto refused = plan(farm_with(dry, clock("06:00")), "sodium_nitrate", 25, *surface);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().parameter, "level_cm");
}

TEST(WalkPlan, AProtocolChangeOfThePondCountsFromItsDay) {
  FarmPond pond = ready();
  auto change = at<ProtocolChange>(clock("12:00", -3));
  change.path = std::string(kAreaCountedPath);
  change.value = std::string("surface");
  change.from = clock("12:00", -1);
  pond.history.protocol_changes = {change};
  EXPECT_EQ(plan(farm_with(pond, clock("06:00", -1)))->area_counted, "nominal");
  EXPECT_EQ(plan(farm_with(pond, clock("06:00")))->area_counted, "surface");
}

TEST(WalkPlan, WithoutLevelOrOutlineThereIsStillADose) {
  FarmPond pond = ready();
  pond.state.level_cm.reset();
  pond.history.pond.length_m = 0;
  const auto walk = plan(farm_with(pond, clock("06:00")));
  ASSERT_TRUE(walk);
  EXPECT_FALSE(walk->nitrate_n_mg_l);
  EXPECT_THAT(walk->lanes, IsEmpty());
  EXPECT_DOUBLE_EQ(walk->product_kg, 30);
}

TEST(WalkPlan, RefusesWhatCannotBeWalked) {
  const Farm farm = farm_with(ready(), clock("06:00"));
  EXPECT_EQ(plan_walk(farm, farm_test::protocol(), products(), "p9", "sodium_nitrate", 25).error().parameter,
            "pond");
  EXPECT_EQ(plan(farm, "fairy_dust").error().parameter, "product");
  EXPECT_EQ(plan(farm, "urea").error().kind, ProblemKind::unsupported);
  EXPECT_EQ(plan(farm, "sodium_nitrate", 0).error().kind, ProblemKind::out_of_range);
}

std::vector<WalkCheck> checks(const FarmPond& pond, Instant now, std::string_view product = "sodium_nitrate",
                              double rate_kg_ha = 25, std::optional<Sky> sky = Sky::bright) {
  return walk_checks(farm_with(pond, now), farm_test::protocol(), products(), "p1", product, rate_kg_ha, sky,
                     now);
}

TEST(WalkChecks, AllSpeakForAFirstDoseOnABrightMorning) {
  std::vector<std::string> order;
  for (const WalkCheck& one : checks(ready(), clock("06:30"))) {
    EXPECT_EQ(one.verdict, Verdict::ok) << one.what.id;
    order.push_back(one.id);
  }
  EXPECT_THAT(
      order, testing::ElementsAre("product", "stage", "troubles", "rate", "last_dose", "sky", "time", "level"));
}

TEST(WalkChecks, NothingToSayOfAnUnknownPond) {
  EXPECT_THAT(walk_checks(farm_with(ready(), clock("06:30")), farm_test::protocol(), products(), "p9",
                          "sodium_nitrate", 25, Sky::bright, clock("06:30")),
              IsEmpty());
}

struct Row {
  std::string check;
  Verdict verdict;
  std::string message;
  std::function<void(FarmPond&)> change;
  std::string hour = "06:30";
  std::string product = "sodium_nitrate";
  double rate_kg_ha = 25;
  std::optional<Sky> sky = Sky::bright;
};

Trouble trouble(std::string id, bool forbids_dose) {
  Trouble one;
  one.id = std::move(id);
  one.forbids_dose = forbids_dose;
  return one;
}

TEST(WalkChecks, EachCheckSaysWhatSpeaksAgainst) {
  const auto stage = [](Stage at_stage) { return [at_stage](FarmPond& pond) { pond.state.stage = at_stage; }; };
  const auto dosed = [](int days, std::string_view hour) {
    return [days, hour](FarmPond& pond) {
      pond.history.doses = {at<DoseRecord>(clock(hour, days))};
      pond.history.doses[0].started = clock(hour, days);
    };
  };
  const auto holding = [](bool advised, bool allowed) {
    return [advised, allowed](FarmPond& pond) {
      pond.state.stage = Stage::hold_band;
      pond.state.dose.advised = advised;
      pond.state.dose.allowed = allowed;
    };
  };
  const auto looked = [](Sky sky, int days) {
    return [sky, days](FarmPond& pond) {
      auto look = at<SkyLook>(clock("16:00", days));
      look.sky = sky;
      pond.history.skies = {look};
    };
  };
  const std::vector<Row> rows = {
      {"product", Verdict::stop, "check.product.not_allowed", nullptr, "06:30", "urea"},
      {"product", Verdict::stop, "check.product.unknown", nullptr, "06:30", "fairy_dust"},
      {"product", Verdict::warn, "check.product.know", nullptr, "06:30", "potassium_nitrate"},
      {"stage", Verdict::stop, "check.stage.no_dose", stage(Stage::second_fill)},
      {"stage", Verdict::stop, "check.stage.lined", [](FarmPond& pond) { pond.state.unsupported = true; }},
      {"stage", Verdict::stop, "check.stage.no_cycle", [](FarmPond& pond) { pond.state.in_cycle = false; }},
      {"stage", Verdict::stop, "check.stage.no_dose", [](FarmPond& pond) { pond.state.finished = true; }},
      {"stage", Verdict::ok, "check.stage.advised", holding(true, true)},
      {"stage", Verdict::warn, "check.stage.not_advised", holding(false, true)},
      {"stage", Verdict::stop, "check.stage.not_advised", holding(false, false)},
      {"troubles", Verdict::stop, "check.troubles.forbid",
       [](FarmPond& pond) {
         pond.state.troubles = {trouble("stratified", false), trouble("red_brown", true)};
       }},
      {"troubles", Verdict::warn, "check.troubles.look",
       [](FarmPond& pond) { pond.state.troubles = {trouble("stratified", false)}; }},
      {"rate", Verdict::stop, "check.rate.over", nullptr, "06:30", "sodium_nitrate", 40},
      {"rate", Verdict::stop, "check.rate.whole", nullptr, "06:30", "sodium_nitrate",
       30},  // 25 on each of 1.2 ha
      {"rate", Verdict::warn, "check.rate.under", nullptr, "06:30", "sodium_nitrate", 20},
      {"last_dose", Verdict::stop, "check.last_dose.too_soon", dosed(-2, "07:00")},
      {"last_dose", Verdict::stop, "check.last_dose.too_soon", dosed(-2, "05:50")},
      {"last_dose", Verdict::ok, "check.last_dose.ok", dosed(-3, "08:50")},
      {"sky", Verdict::warn, "check.sky.mixed", nullptr, "06:30", "sodium_nitrate", 25, Sky::mixed},
      {"sky", Verdict::stop, "check.sky.dull", nullptr, "06:30", "sodium_nitrate", 25, Sky::dull},
      {"sky", Verdict::warn, "check.sky.dull", holding(true, true), "06:30", "sodium_nitrate", 25, Sky::dull},
      {"sky", Verdict::warn, "check.sky.unknown", nullptr, "06:30", "sodium_nitrate", 25, std::nullopt},
      {"sky", Verdict::ok, "check.sky.bright", nullptr, "06:30", "sodium_nitrate", 25, Sky::bright},
      {"sky", Verdict::ok, "dose.sky_bright", looked(Sky::bright, -1), "06:30", "sodium_nitrate", 25,
       std::nullopt},
      {"sky", Verdict::warn, "dose.sky_not_bright", looked(Sky::mixed, -1), "06:30", "sodium_nitrate", 25,
       std::nullopt},
      {"sky", Verdict::stop, "dose.sky_not_bright", looked(Sky::dull, -1), "06:30", "sodium_nitrate", 25,
       std::nullopt},
      {"sky", Verdict::warn, "check.sky.unknown", looked(Sky::bright, -2), "06:30", "sodium_nitrate", 25,
       std::nullopt},
      {"time", Verdict::warn, "check.time.early", nullptr, "05:00"},
      {"time", Verdict::stop, "check.time.late", nullptr, "10:00"},
      {"time", Verdict::warn, "check.time.late", holding(true, true), "10:00"},
      {"level", Verdict::warn, "check.level.unknown", [](FarmPond& pond) { pond.state.level_cm.reset(); }},
  };
  for (const Row& row : rows) {
    FarmPond pond = ready();
    if (row.change) row.change(pond);
    bool checked = false;
    for (const WalkCheck& one : checks(pond, clock(row.hour), row.product, row.rate_kg_ha, row.sky)) {
      if (one.id != row.check) continue;
      checked = true;
      EXPECT_EQ(one.verdict, row.verdict) << row.message;
      EXPECT_EQ(one.what.id, row.message);
    }
    EXPECT_TRUE(checked) << row.check;
  }
}

TEST(DoseWalk, GoesBinByBinMixThenSpreadThenRecord) {
  struct {
    std::size_t mixed, spread;
    WalkStep next;
  } const rows[] = {
      {0, 0, {WalkStep::What::mix, 1}},
      {1, 0, {WalkStep::What::spread, 1}},
      {1, 1, {WalkStep::What::mix, 2}},
      {2, 1, {WalkStep::What::spread, 2}},
      {2, 2, {WalkStep::What::mix, 3}},
      {3, 2, {WalkStep::What::spread, 3}},
      {3, 3, {WalkStep::What::record, 0}},
      // Two bins mixed ahead are spread one after the other.
      {2, 0, {WalkStep::What::spread, 1}},
  };
  for (const auto& row : rows) {
    DoseWalk walk;
    walk.bins = 3;
    walk.mixed.resize(row.mixed);
    walk.spread.resize(row.spread);
    EXPECT_EQ(next_step(walk), row.next) << row.mixed << " mixed, " << row.spread << " spread";
  }
}

}  // namespace
}  // namespace tawny
