#include "farm/farm.h"

#include <gmock/gmock.h>

#include <functional>

#include "core/farm/parts.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

using farm_test::clock;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

// Seals drafts one after another on one device, each a minute later than the one before.
class Book {
 public:
  Entry put(std::string_view kind, std::string_view pond, Values values, std::string corrects = {},
            std::string voids = {}) {
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = std::string(pond);
    draft.who = "Maren";
    draft.observed = now_ = now_.plus_min(1);
    draft.values = std::move(values);
    draft.corrects = std::move(corrects);
    draft.voids = std::move(voids);
    auto entry = seal(draft, now_, chain_);
    EXPECT_TRUE(entry);
    logbook_.add(*entry);
    return *entry;
  }
  Farm fold() const { return fold_farm(logbook_, farm_test::protocol(), now_); }

 private:
  Instant now_ = clock("08:00");
  DeviceChain chain_{"farm", "device", 0, 0, std::string(64, '0')};
  Logbook logbook_;
};

Values farm_values() {
  return {{"name", std::string("Heron Bend")}, {"latitude_deg", -2.4}, {"longitude_deg", -81.6},
          {"utc_offset_min", -300.0},          {"altitude_m", 3.0},    {"demo", true}};
}

Values basin_values(std::string name = "Reed", double walk_order = 1) {
  return {{"name", std::move(name)},
          {"walk_order", walk_order},
          {"build", std::string("earthen")},
          {"nominal_area_ha", 1.0},
          {"inlets", std::vector<std::string>{"east", "west"}},
          {"bottom_length_m", 100.0},
          {"bottom_width_m", 80.0},
          {"depth_m", 1.5},
          {"bank_slope", 2.0}};
}

Values survey_values() {
  Values values = basin_values();
  for (const char* key : {"bottom_length_m", "bottom_width_m", "depth_m", "bank_slope"}) values.erase(key);
  values["survey_level_cm"] = std::vector<double>{10, 60, 140};
  values["survey_area_m2"] = std::vector<double>{7000, 8000, 9000};
  return values;
}

Entry entry_with(std::string_view kind, Values values) {
  Entry entry;
  entry.kind = std::string(kind);
  entry.pond = "p1";
  entry.values = std::move(values);
  return entry;
}

std::vector<std::string> ids(const std::vector<Message>& messages) {
  std::vector<std::string> result;
  for (const Message& one : messages) result.push_back(one.id);
  return result;
}

TEST(PondSetUp, BasinGivesShapeAndOutline) {
  const auto pond = read_pond_setup(entry_with(kind::kPondSetup, basin_values()));
  ASSERT_TRUE(pond);
  EXPECT_EQ(pond->id, "p1");
  EXPECT_EQ(pond->name, "Reed");
  EXPECT_EQ(pond->kind, PondKind::earthen);
  EXPECT_THAT(pond->inlets, ElementsAre("east", "west"));
  // Prismoid: 8000 * 1.5 + 2 * 180 * 1.5^2 + 4/3 * 4 * 1.5^3 = 12 828 m3.
  EXPECT_NEAR(pond->curve->full_volume_m3(), 12828, 0.001);
  EXPECT_DOUBLE_EQ(pond->length_m, 106);
  EXPECT_DOUBLE_EQ(pond->width_m, 86);
}

TEST(PondSetUp, SurveyGivesShape) {
  const auto pond = read_pond_setup(entry_with(kind::kPondSetup, survey_values()));
  ASSERT_TRUE(pond);
  // 0.5 m * 7500 m2 + 0.8 m * 8500 m2.
  EXPECT_NEAR(pond->curve->full_volume_m3(), 3750 + 6800, 0.001);
  EXPECT_DOUBLE_EQ(pond->length_m, 0);
}

TEST(PondSetUp, OutlineAsToldWins) {
  Values values = basin_values();
  values["outline_length_m"] = 120.0;
  EXPECT_DOUBLE_EQ(read_pond_setup(entry_with(kind::kPondSetup, values))->length_m, 120);
}

struct Refusal {
  std::string name;
  std::function<void(Values&)> change;
  ProblemKind kind;
  std::string parameter;
};

TEST(PondSetUp, RefusesWhatIsMissingOrCannotBe) {
  const auto drop = [](const char* key) { return [key](Values& values) { values.erase(key); }; };
  const auto set = [](const char* key, Value value) {
    return [key, value](Values& values) { values[key] = value; };
  };
  const std::vector<Refusal> rows = {
      {"no name", drop("name"), ProblemKind::missing, "name"},
      {"empty name", set("name", std::string()), ProblemKind::missing, "name"},
      {"no place on the round", drop("walk_order"), ProblemKind::missing, "walk_order"},
      {"no build", drop("build"), ProblemKind::missing, "build"},
      {"a build of another kind", set("build", std::string("concrete")), ProblemKind::malformed, "build"},
      {"no area", drop("nominal_area_ha"), ProblemKind::missing, "nominal_area_ha"},
      {"no ground at all", set("nominal_area_ha", 0.0), ProblemKind::out_of_range, "nominal_area_ha"},
      {"no inlets", drop("inlets"), ProblemKind::missing, "inlets"},
      {"neither survey nor depth", drop("depth_m"), ProblemKind::missing, "depth_m"},
      {"levels without areas", set("survey_level_cm", std::vector<double>{0, 100}), ProblemKind::missing,
       "survey_area_m2"},
      {"stocking level over the banks", set("stocking_level_cm", 151.0), ProblemKind::out_of_range,
       "stocking_level_cm"},
  };
  for (const Refusal& row : rows) {
    Values values = basin_values();
    row.change(values);
    const auto pond = read_pond_setup(entry_with(kind::kPondSetup, values));
    ASSERT_FALSE(pond) << row.name;
    EXPECT_EQ(pond.error().kind, row.kind) << row.name;
    EXPECT_EQ(pond.error().parameter, row.parameter) << row.name;
  }
}

TEST(PondSetUp, RefusesASurveyThatDoesNotRise) {
  Values values = survey_values();
  values["survey_level_cm"] = std::vector<double>{10, 60, 60};
  EXPECT_FALSE(read_pond_setup(entry_with(kind::kPondSetup, values)));
}

TEST(FarmSetUp, RefusesWhatIsMissingOrCannotBe) {
  const std::vector<Refusal> rows = {
      {"no name", [](Values& values) { values.erase("name"); }, ProblemKind::missing, "name"},
      {"no latitude", [](Values& values) { values.erase("latitude_deg"); }, ProblemKind::missing,
       "latitude_deg"},
      {"beyond the sun's range", [](Values& values) { values["latitude_deg"] = 80.0; },
       ProblemKind::out_of_range, "latitude_deg"},
      {"an offset in hours", [](Values& values) { values["utc_offset_min"] = 900.0; },
       ProblemKind::out_of_range, "utc_offset_min"},
      {"windows by the moon", [](Values& values) { values["windows_by"] = std::string("moon"); },
       ProblemKind::malformed, "windows_by"},
  };
  for (const Refusal& row : rows) {
    Values values = farm_values();
    row.change(values);
    const auto farm = read_farm_setup(entry_with(kind::kFarmSetup, values));
    ASSERT_FALSE(farm) << row.name;
    EXPECT_EQ(farm.error().kind, row.kind) << row.name;
    EXPECT_EQ(farm.error().parameter, row.parameter) << row.name;
  }
}

TEST(FoldFarm, EmptyLogbookIsAFarmThatIsNotSetUp) {
  const Farm farm = Book().fold();
  EXPECT_FALSE(farm.set_up);
  EXPECT_THAT(farm.ponds, IsEmpty());
  EXPECT_THAT(farm.problems, IsEmpty());
}

TEST(FoldFarm, TheLatestSetUpCounts) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  Values values = farm_values();
  values["name"] = std::string("Heron Reach");
  values["windows_by"] = std::string("clock");
  book.put(kind::kFarmSetup, "", values);
  book.put(kind::kPondSetup, "p1", basin_values("Old name"));
  const Entry latest = book.put(kind::kPondSetup, "p1", basin_values("New name"));
  const Farm farm = book.fold();
  EXPECT_TRUE(farm.set_up);
  EXPECT_TRUE(farm.demo);
  EXPECT_EQ(farm.name, "Heron Reach");
  EXPECT_TRUE(farm.place.windows_by_clock);
  ASSERT_THAT(farm.ponds, SizeIs(1));
  EXPECT_EQ(farm.pond("p1")->history.pond.name, "New name");
  EXPECT_EQ(farm.pond("p1")->setup->id, latest.id);
  EXPECT_EQ(farm.pond("p2"), nullptr);
}

TEST(FoldFarm, AVoidedSetUpGivesWayToTheOneBefore) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  book.put(kind::kPondSetup, "p1", basin_values("First"));
  const Entry second = book.put(kind::kPondSetup, "p1", basin_values("Second"));
  book.put(kind::kVoid, "p1", {}, {}, to_reference(second.id));
  EXPECT_EQ(book.fold().pond("p1")->history.pond.name, "First");
}

TEST(FoldFarm, ASetUpThatCannotBeReadIsSaidAndTheOlderOneStands) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  book.put(kind::kPondSetup, "p1", basin_values("First"));
  Values broken = basin_values("Broken");
  broken.erase("nominal_area_ha");
  book.put(kind::kPondSetup, "p1", broken);
  const Farm farm = book.fold();
  EXPECT_EQ(farm.pond("p1")->history.pond.name, "First");
  ASSERT_THAT(farm.problems, SizeIs(1));
  EXPECT_EQ(std::get<Text>(*farm.problems[0].find("pond")).text, "p1");
}

TEST(FoldFarm, NothingIsDroppedInSilence) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  book.put(kind::kLevelReading, "p7", {{"level_cm", 40.0}});
  book.put(kind::kPondSetup, "", basin_values());
  book.put(kind::kProductSetup, "", {{"bag_kg", 25.0}});
  book.put(kind::kDeviceSetup, "", {{"person", std::string("Ines")}});
  book.put(kind::kBinSetup, "", {{"bin_volume_l", -5.0}});
  EXPECT_THAT(
      ids(book.fold().problems),
      testing::UnorderedElementsAre("farm.pond_without_setup", "problem.setup_missing", "problem.setup_missing",
                                    "problem.setup_missing", "problem.out_of_range"));
}

TEST(FoldFarm, EntriesWithoutAFarmSetUpAreSaid) {
  Book book;
  book.put(kind::kPondSetup, "p1", basin_values());
  EXPECT_THAT(ids(book.fold().problems), ElementsAre("farm.no_setup"));
}

TEST(FoldFarm, PondsStandInWalkingOrderThenByName) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  book.put(kind::kPondSetup, "a", basin_values("Third", 3));
  book.put(kind::kPondSetup, "b", basin_values("Beta", 1));
  book.put(kind::kPondSetup, "c", basin_values("Alpha", 1));
  std::vector<std::string> names;
  const Farm farm = book.fold();
  for (const FarmPond& pond : farm.ponds) names.push_back(pond.history.pond.name);
  EXPECT_THAT(names, ElementsAre("Alpha", "Beta", "Third"));
}

TEST(FoldFarm, BinsAreTheProtocolsUntilTheFarmTellsItsOwn) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  const Farm before = book.fold();
  EXPECT_FALSE(before.bin_set_up);
  EXPECT_DOUBLE_EQ(before.bin_limits.bin_volume_l, farm_test::protocol().number("bin.volume_l"));
  EXPECT_DOUBLE_EQ(before.bin_limits.saturation_share, farm_test::protocol().number("bin.saturation_share"));
  EXPECT_DOUBLE_EQ(before.lane_spacing_m, farm_test::protocol().number("bin.lane_spacing_m"));
  book.put(kind::kBinSetup, "", {{"bin_volume_l", 120.0}, {"lane_spacing_m", 8.0}});
  const Farm after = book.fold();
  EXPECT_TRUE(after.bin_set_up);
  EXPECT_DOUBLE_EQ(after.bin_limits.bin_volume_l, 120);
  EXPECT_DOUBLE_EQ(after.bin_limits.lift_kg, before.bin_limits.lift_kg);
  EXPECT_DOUBLE_EQ(after.lane_spacing_m, 8);
}

TEST(FoldFarm, KnowsWhoHoldsADeviceAndWhatProductsCost) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  book.put(kind::kDeviceSetup, "", {{"person", std::string("Ines")}, {"role", std::string("technician")}});
  book.put(kind::kProductSetup, "",
           {{"product", std::string("sodium_nitrate")}, {"bag_kg", 25.0}, {"in_use", true}});
  book.put(
      kind::kProductSetup, "",
      {{"product", std::string("sodium_nitrate")}, {"bag_kg", 50.0}, {"price_per_kg", 0.8}, {"in_use", false}});
  const Farm farm = book.fold();
  EXPECT_EQ(farm.people.at("device"), std::pair(std::string("Ines"), std::string("technician")));
  ASSERT_THAT(farm.products, SizeIs(1));
  EXPECT_DOUBLE_EQ(farm.products[0].bag_kg, 50);
  EXPECT_EQ(farm.products[0].price_per_kg, 0.8);
  EXPECT_FALSE(farm.products[0].in_use);
}

TEST(FoldFarm, APondsHistoryHoldsItsOwnEntriesAndTheFarms) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  book.put(kind::kPondSetup, "p1", basin_values("One", 1));
  book.put(kind::kPondSetup, "p2", basin_values("Two", 2));
  book.put(kind::kCycleStart, "p1", {{"cycle", std::string("dry season")}});
  book.put(kind::kCycleStart, "p2", {{"cycle", std::string("dry season")}});
  book.put(kind::kSky, "", {{"sky", std::string("bright")}});
  book.put(kind::kLevelReading, "p1", {{"level_cm", 40.0}});
  const Farm farm = book.fold();
  EXPECT_THAT(farm.pond("p1")->history.levels, SizeIs(1));
  EXPECT_THAT(farm.pond("p2")->history.levels, IsEmpty());
  EXPECT_THAT(farm.pond("p1")->history.skies, SizeIs(1));
  EXPECT_THAT(farm.pond("p2")->history.skies, SizeIs(1));
  EXPECT_TRUE(farm.pond("p1")->state.in_cycle);
}

TEST(FoldFarm, SignaturesAndReceiptsAreOfNoPond) {
  Book book;
  book.put(kind::kFarmSetup, "", farm_values());
  book.put(kind::kPondSetup, "p1", basin_values("One", 1));
  book.put(kind::kCycleStart, "p1", {{"cycle", std::string("dry season")}});
  book.put(kind::kSky, "", {{"sky", std::string("bright")}});
  book.put(kind::kOfficeReceipt, "", {});
  book.put(kind::kChainSigned, "", {{"signature", std::string("ab")}});
  book.put(kind::kLevelReading, "p1", {{"level_cm", 40.0}});
  const Farm farm = book.fold();
  std::vector<std::string> kinds;
  for (const Entry* entry : farm.pond("p1")->history.entries) kinds.push_back(entry->kind);
  EXPECT_THAT(kinds, ElementsAre(kind::kCycleStart, kind::kSky, kind::kLevelReading));
  EXPECT_THAT(farm.problems, IsEmpty());
}

}  // namespace
}  // namespace tawny
