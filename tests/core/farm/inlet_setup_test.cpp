// Inlets and tides from the logbook, and what a filling of a pond aims at.
#include "farm/inlet_setup.h"

#include <gmock/gmock.h>

#include "core/farm/parts.h"
#include "farm/pond_filling.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

using farm_test::clock;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

constexpr double kCoefficient = 0.61;

Entry entry_with(std::string_view kind, Values values, std::string pond = "p1") {
  Entry entry;
  entry.kind = std::string(kind);
  entry.pond = std::move(pond);
  entry.values = std::move(values);
  return entry;
}

Values pump(std::string inlet = "east", double rate_l_s = 60) {
  return {{"inlet", std::move(inlet)}, {"kind", std::string("pump")}, {"rate_l_s", rate_l_s}};
}

Values gate(std::string inlet = "west") {
  return {{"inlet", std::move(inlet)}, {"kind", std::string("gate")}, {"width_m", 1.2},
          {"opening_m", 0.4},          {"sill_level_cm", -15.0},      {"keeps_water", false}};
}

Values tide() {
  return {{"times", std::vector<std::string>{"2026-03-10T10:00:00Z", "2026-03-10T16:12:00Z"}},
          {"levels_cm", std::vector<double>{140, 20}}};
}

// Seals drafts one after another on one device, each a minute later than the one before.
class Book {
 public:
  explicit Book(Instant start = clock("08:00")) : now_(start) {
    put(kind::kFarmSetup, "",
        {{"name", std::string("Heron Bend")},
         {"latitude_deg", -2.4},
         {"longitude_deg", -81.6},
         {"utc_offset_min", -300.0}});
    for (const char* id : {"p1", "p2"}) put(kind::kPondSetup, id, pond());
  }
  static Values pond(std::vector<std::string> inlets = {"east", "west"}) {
    return {{"name", std::string("Reed")},
            {"walk_order", 1.0},
            {"build", std::string("earthen")},
            {"nominal_area_ha", 1.0},
            {"inlets", std::move(inlets)},
            {"bottom_length_m", 100.0},
            {"bottom_width_m", 80.0},
            {"depth_m", 1.5},
            {"bank_slope", 2.0}};
  }
  Entry put(std::string_view kind, std::string_view pond, Values values) {
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = std::string(pond);
    draft.observed = now_ = now_.plus_min(1);
    draft.values = std::move(values);
    auto entry = seal(draft, now_, chain_);
    EXPECT_TRUE(entry);
    logbook_.add(*entry);
    return *entry;
  }
  Farm fold() const { return fold_farm(logbook_, farm_test::protocol(), now_); }
  Instant now() const { return now_; }

 private:
  Instant now_;
  DeviceChain chain_{"farm", "device", 0, 0, std::string(64, '0')};
  Logbook logbook_;
};

std::vector<std::string> names(const std::vector<Inlet>& inlets) {
  std::vector<std::string> all;
  for (const Inlet& inlet : inlets) all.push_back(inlet.name);
  return all;
}

TEST(InletSetup, APumpIsReadWithItsRate) {
  const auto inlet = read_inlet_setup(entry_with(kind::kInletSetup, pump()), kCoefficient);
  ASSERT_TRUE(inlet);
  EXPECT_EQ(inlet->name, "east");
  EXPECT_EQ(std::get<PumpInlet>(inlet->kind).rate_l_s, 60);
  EXPECT_TRUE(inlet->keeps_water);
}

TEST(InletSetup, AGateIsReadWithItsSizesAndTheCoefficientThatStandsIn) {
  const auto inlet = read_inlet_setup(entry_with(kind::kInletSetup, gate()), kCoefficient);
  ASSERT_TRUE(inlet);
  const GateInlet& read = std::get<GateInlet>(inlet->kind);
  EXPECT_EQ(read.width_m, 1.2);
  EXPECT_EQ(read.opening_m, 0.4);
  EXPECT_EQ(read.sill_level_cm, -15);
  EXPECT_EQ(read.discharge_coefficient, kCoefficient);
  EXPECT_FALSE(inlet->keeps_water);
}

TEST(InletSetup, APipeIsReadWithItsOwnCoefficientAndKeepsWaterUnlessTold) {
  const auto inlet = read_inlet_setup(entry_with(kind::kInletSetup, {{"inlet", std::string("south")},
                                                                     {"kind", std::string("pipe")},
                                                                     {"diameter_m", 0.4},
                                                                     {"invert_level_cm", 10.0},
                                                                     {"discharge_coefficient", 0.5}}),
                                      kCoefficient);
  ASSERT_TRUE(inlet);
  const PipeInlet& read = std::get<PipeInlet>(inlet->kind);
  EXPECT_EQ(read.diameter_m, 0.4);
  EXPECT_EQ(read.invert_level_cm, 10);
  EXPECT_EQ(read.discharge_coefficient, 0.5);
  EXPECT_TRUE(inlet->keeps_water);
}

TEST(InletSetup, RefusesWhatIsMissingByName) {
  for (const char* key : {"inlet", "kind", "width_m", "opening_m", "sill_level_cm"}) {
    Values values = gate();
    values.erase(key);
    const auto inlet = read_inlet_setup(entry_with(kind::kInletSetup, values), kCoefficient);
    ASSERT_FALSE(inlet) << key;
    EXPECT_EQ(inlet.error().kind, ProblemKind::missing) << key;
    EXPECT_EQ(inlet.error().parameter, key);
  }
  EXPECT_EQ(read_inlet_setup(entry_with(kind::kInletSetup, pump(), ""), kCoefficient).error().parameter,
            "pond");
}

TEST(InletSetup, RefusesSizesThatCannotBeAndKindsThatItDoesNotKnow) {
  const auto slow = read_inlet_setup(entry_with(kind::kInletSetup, pump("east", 0)), kCoefficient);
  ASSERT_FALSE(slow);
  EXPECT_EQ(slow.error().parameter, "rate_l_s");
  Values siphon = pump();
  siphon["kind"] = std::string("siphon");
  const auto unknown = read_inlet_setup(entry_with(kind::kInletSetup, siphon), kCoefficient);
  ASSERT_FALSE(unknown);
  EXPECT_EQ(unknown.error().kind, ProblemKind::malformed);
}

TEST(TideTableEntry, IsReadAndWrittenAlike) {
  const auto table = read_tide_table(entry_with(kind::kTideTable, tide()));
  ASSERT_TRUE(table);
  EXPECT_EQ(table->highest_cm(), 140);
  EXPECT_EQ(table->lowest_cm(), 20);
  EXPECT_EQ(tide_table_values(
                {{*parse_instant("2026-03-10T10:00:00Z"), 140}, {*parse_instant("2026-03-10T16:12:00Z"), 20}}),
            tide());
}

TEST(TideTableEntry, RefusesTimesWithoutLevelsAndTimesThatAreNone) {
  Values values = tide();
  values["levels_cm"] = std::vector<double>{140};
  EXPECT_EQ(read_tide_table(entry_with(kind::kTideTable, values)).error().parameter, "levels_cm");
  values = tide();
  values["times"] = std::vector<std::string>{"10:00", "16:12"};
  EXPECT_EQ(read_tide_table(entry_with(kind::kTideTable, values)).error().kind, ProblemKind::malformed);
}

TEST(FarmInlets, TheLatestOfEachInletCountsInTheOrderOfThePond) {
  Book book;
  book.put(kind::kInletSetup, "p1", gate("west"));
  book.put(kind::kInletSetup, "p1", pump("east", 40));
  book.put(kind::kInletSetup, "p1", pump("east", 60));
  const Farm farm = book.fold();
  EXPECT_THAT(farm.problems, IsEmpty());
  EXPECT_THAT(names(farm.pond("p1")->inlets), ElementsAre("east", "west"));
  EXPECT_EQ(std::get<PumpInlet>(farm.pond("p1")->inlets[0].kind).rate_l_s, 60);
  EXPECT_THAT(farm.pond("p2")->inlets, IsEmpty());
}

TEST(FarmInlets, OneThatThePondNoLongerHasIsLeftOut) {
  Book book;
  book.put(kind::kInletSetup, "p1", pump("east"));
  book.put(kind::kPondSetup, "p1", Book::pond({"west"}));
  EXPECT_THAT(book.fold().pond("p1")->inlets, IsEmpty());
}

TEST(FarmInlets, ThoseOfBeforeTheCycleCountAndAreNoObservations) {
  Book book;
  book.put(kind::kInletSetup, "p1", pump("east"));
  book.put(kind::kCycleStart, "p1", {{"cycle", std::string("first")}});
  book.put(kind::kInletSetup, "p1", gate("west"));
  book.put(kind::kTideTable, "", tide());
  const Farm farm = book.fold();
  EXPECT_THAT(farm.pond("p1")->inlets, SizeIs(2));
  EXPECT_THAT(farm.pond("p1")->history.unreadable, IsEmpty());
}

TEST(FarmInlets, AnUnreadableOneIsSaidAndTheOlderStands) {
  Book book;
  book.put(kind::kInletSetup, "p1", pump("east", 60));
  book.put(kind::kInletSetup, "p1", pump("east", -1));
  const Farm farm = book.fold();
  ASSERT_THAT(farm.problems, SizeIs(1));
  EXPECT_EQ(farm.problems[0].id, "problem.out_of_range");
  EXPECT_EQ(std::get<PumpInlet>(farm.pond("p1")->inlets[0].kind).rate_l_s, 60);
}

TEST(FarmInlets, AnInletOfNoPondIsSaid) {
  Book book;
  book.put(kind::kInletSetup, "", pump("east"));
  const Farm farm = book.fold();
  ASSERT_THAT(farm.problems, SizeIs(1));
  EXPECT_EQ(farm.problems[0].id, "problem.setup_missing");
}

TEST(FarmInlets, TheCoefficientThatStandsInIsThatOfThePondsProtocol) {
  Book book;
  book.put(kind::kInletSetup, "p1", gate("west"));
  book.put(kind::kProtocolChange, "p1",
           {{"path", std::string("filling.gate_coefficient")},
            {"value", 0.5},
            {"from", to_iso(book.now())},
            {"reason", std::string("round edges")}});
  const Farm farm = book.fold();
  EXPECT_EQ(std::get<GateInlet>(farm.pond("p1")->inlets[0].kind).discharge_coefficient, 0.5);
}

TEST(FarmTides, ThePondsOwnTableWinsOverTheFarms) {
  Book book;
  Values own = tide();
  own["levels_cm"] = std::vector<double>{99, 20};
  book.put(kind::kTideTable, "p2", own);
  book.put(kind::kTideTable, "", tide());
  const Farm farm = book.fold();
  ASSERT_TRUE(farm.pond("p1")->tide && farm.pond("p2")->tide);
  EXPECT_EQ(farm.pond("p1")->tide->highest_cm(), 140);
  EXPECT_EQ(farm.pond("p2")->tide->highest_cm(), 99);
  EXPECT_FALSE(farm.pond("p1")->own_tide);
  EXPECT_TRUE(farm.pond("p2")->own_tide);
}

TEST(FillTargets, AreTheProtocolsRangesOnThePondsGauge) {
  Book book;
  const Farm farm = book.fold();
  const FarmPond& pond = *farm.pond("p1");
  const StageCurve& curve = *pond.history.pond.curve;
  const auto first = fill_target(pond, farm_test::protocol(), Stage::first_fill);
  ASSERT_TRUE(first);
  EXPECT_DOUBLE_EQ(first->low_cm, *curve.level_cm_for_share(0.2));
  EXPECT_DOUBLE_EQ(first->high_cm, *curve.level_cm_for_share(0.3));
  EXPECT_NEAR(first->aim_cm, (first->low_cm + first->high_cm) / 2, 0.5);
  const auto third = fill_target(pond, farm_test::protocol(), Stage::third_fill);
  ASSERT_TRUE(third);
  EXPECT_NEAR(third->aim_cm, *curve.level_cm_for_share(0.8), 0.5);
  EXPECT_FALSE(fill_target(pond, farm_test::protocol(), Stage::rest));
}

TEST(FillTargets, AFillThatIsReachedGivesWayToTheNext) {
  Book book;
  book.put(kind::kCycleStart, "p1", {{"cycle", std::string("first")}});
  EXPECT_EQ(fill_to_plan(*book.fold().pond("p1"), farm_test::protocol()), Stage::first_fill);
  book.put(kind::kLevelReading, "p1", {{"level_cm", 50.0}});
  EXPECT_EQ(fill_to_plan(*book.fold().pond("p1"), farm_test::protocol()), Stage::second_fill);
}

TEST(ScreensDue, AScreenFoundWholeIsDueAgainByTheProtocolsDays) {
  Book book;
  book.put(kind::kCycleStart, "p1", {{"cycle", std::string("first")}});
  const Entry look =
      book.put(kind::kScreenCheck, "p1", {{"inlet", std::string("east")}, {"mesh_um", 300.0}, {"whole", true}});
  const Farm farm = book.fold();
  const std::vector<ScreenDue> due = screens_due(*farm.pond("p1"), farm_test::protocol(), book.now());
  ASSERT_THAT(due, SizeIs(2));
  EXPECT_EQ(due[0].due, look.observed.plus_h(3 * 24));
  EXPECT_EQ(due[1].last, std::nullopt);
  EXPECT_EQ(due[1].due, std::nullopt);
}

TEST(ScreensDue, ATornScreenIsDueBeforeAnyWater) {
  Book book;
  book.put(kind::kCycleStart, "p1", {{"cycle", std::string("first")}});
  book.put(kind::kScreenCheck, "p1", {{"inlet", std::string("east")}, {"mesh_um", 300.0}, {"whole", false}});
  const Farm farm = book.fold();
  const std::vector<ScreenDue> due = screens_due(*farm.pond("p1"), farm_test::protocol(), book.now());
  EXPECT_TRUE(due[0].last);
  EXPECT_FALSE(due[0].whole);
  EXPECT_EQ(due[0].due, std::nullopt);
}

}  // namespace
}  // namespace tawny
