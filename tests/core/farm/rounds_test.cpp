#include "farm/rounds.h"

#include <gmock/gmock.h>

#include <functional>

#include "core/farm/parts.h"

namespace tawny {
namespace {

using farm_test::at;
using farm_test::clock;
using farm_test::farm_of;
using farm_test::pond_in;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::UnorderedElementsAreArray;

// "now water_reading dawn", "overdue screen_check east".
std::string told(const DueItem& item) {
  std::string text(name_of(item.state));
  text.append(" ").append(name_of(item.act));
  if (item.window) text.append(" ").append(name_of(*item.window));
  if (!item.detail.empty()) text.append(" ").append(item.detail);
  return text;
}

std::vector<DueItem> due(const Farm& farm, Instant now) {
  auto result = rounds(farm, farm_test::protocol(), now);
  return result ? result->items : std::vector<DueItem>{};
}

std::vector<std::string> told(const Farm& farm, Instant now) {
  std::vector<std::string> texts;
  for (const DueItem& item : due(farm, now)) texts.push_back(told(item));
  return texts;
}

Criterion open_criterion(std::string id, Act settles, Verdict verdict = Verdict::unknown) {
  Criterion one;
  one.id = std::move(id);
  one.verdict = verdict;
  one.settles = settles;
  return one;
}

WaterReading water(Instant when) {
  auto one = at<WaterReading>(when);
  one.do_mg_l = 4.8;
  one.ph = 8.0;
  return one;
}

Trouble trouble(std::string id, bool forbids_dose) {
  Trouble one;
  one.id = std::move(id);
  one.forbids_dose = forbids_dose;
  return one;
}

// On 10 March 2026 at the place of the tests the sun rises at 06:32, peaks at 12:37 and sets at 18:41, to
// within two minutes. So dawn is 05:32-07:32, dose 05:47-09:02, peak 10:37-14:37, afternoon 15:07-18:11.
TEST(Rounds, WindowsOfTheTestDayAreWhereTheTablePutsThem) {
  const auto result = rounds(farm_of({}, clock("10:00")), farm_test::protocol(), clock("10:00"));
  ASSERT_TRUE(result);
  EXPECT_TRUE(result->today.dawn.contains(clock("05:40")));
  EXPECT_TRUE(result->today.dawn.contains(clock("07:25")));
  EXPECT_FALSE(result->today.dawn.contains(clock("07:40")));
  EXPECT_TRUE(result->today.dose.contains(clock("08:55")));
  EXPECT_FALSE(result->today.dose.contains(clock("09:10")));
  EXPECT_TRUE(result->today.peak.contains(clock("12:00")));
  EXPECT_TRUE(result->today.afternoon.contains(clock("16:00")));
  EXPECT_THAT(result->items, IsEmpty());
}

struct Row {
  std::string name;
  Stage stage;
  std::string hour;
  std::function<void(FarmPond&)> change;
  std::vector<std::string> expected;
};

TEST(Rounds, EachStageAsksForItsOwnAtEachHour) {
  const std::vector<Row> rows = {
      {"bottom: what the gate waits for",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) {
         pond.state.criteria = {open_criterion("bottom.sludge", Act::bottom_look),
                                open_criterion("bottom.broadcast", Act::soil_broadcast),
                                open_criterion("bottom.source", Act::source_look),
                                open_criterion("bottom.dried", Act::bottom_look, Verdict::unmet)};
       },
       {"now bottom_look", "now soil_broadcast", "now source_look"}},
      {"bottom: looked at today, still not clean",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) {
         pond.history.bottoms.push_back(at<BottomLook>(clock("09:00")));
         pond.state.criteria = {open_criterion("bottom.sludge", Act::bottom_look, Verdict::unmet)};
       },
       {"done bottom_look"}},
      {"bottom: the chance comes on another day",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) {
         pond.state.criteria = {open_criterion("bottom.dried", Act::bottom_look, Verdict::unmet)};
         pond.state.criteria[0].next_chance = clock("06:00", 2);
       },
       {}},
      {"a screen last seen four days ago",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.history.screens[0].at = clock("08:00", -4); },
       {"overdue screen_check east"}},
      {"a screen last seen three days ago",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.history.screens[0].at = clock("08:00", -3); },
       {"now screen_check east"}},
      {"a screen seen torn yesterday",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.history.screens[0].whole = false; },
       {"now screen_check east"}},
      {"a screen never seen",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.history.screens.clear(); },
       {"overdue screen_check east"}},
      {"first fill: fill and read the level",
       Stage::first_fill,
       "12:00",
       nullptr,
       {"now fill", "now level_reading"}},
      {"first fill: level read today",
       Stage::first_fill,
       "12:00",
       [](FarmPond& pond) { pond.history.levels.push_back(at<LevelReading>(clock("07:00"))); },
       {"now fill", "done level_reading"}},
      {"rest at night",
       Stage::rest,
       "03:00",
       nullptr,
       {"later water_reading dawn", "later level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon"}},
      {"rest at dawn",
       Stage::rest,
       "06:00",
       nullptr,
       {"now water_reading dawn", "now level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon"}},
      {"rest at dawn, read",
       Stage::rest,
       "07:00",
       [](FarmPond& pond) {
         pond.history.water.push_back(water(clock("06:10")));
         pond.history.levels.push_back(at<LevelReading>(clock("06:12")));
       },
       {"done water_reading dawn", "done level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon"}},
      {"rest at dawn, oxygen without pH",
       Stage::rest,
       "07:00",
       [](FarmPond& pond) {
         pond.history.water.push_back(water(clock("06:10")));
         pond.history.water.back().ph.reset();
       },
       {"now water_reading dawn", "now level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon"}},
      {"rest: read after the dawn window does not count",
       Stage::rest,
       "09:00",
       [](FarmPond& pond) { pond.history.water.push_back(water(clock("08:30"))); },
       {"missed water_reading dawn", "missed level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon"}},
      {"rest in the afternoon",
       Stage::rest,
       "16:00",
       [](FarmPond& pond) { pond.history.colours.push_back(at<ColourLook>(clock("11:00"))); },
       {"missed water_reading dawn", "missed level_reading dawn", "now water_reading afternoon",
        "done water_colour afternoon"}},
      {"first dose at dawn",
       Stage::first_dose,
       "06:00",
       nullptr,
       {"now water_reading dawn", "now level_reading dawn", "now dose dose", "later water_reading afternoon",
        "later water_colour afternoon", "later sky afternoon"}},
      {"first dose, the window has closed",
       Stage::first_dose,
       "09:30",
       nullptr,
       {"missed water_reading dawn", "missed level_reading dawn", "missed dose dose",
        "later water_reading afternoon", "later water_colour afternoon", "later sky afternoon"}},
      {"first dose: stage reached after this morning's window",
       Stage::first_dose,
       "17:00",
       [](FarmPond& pond) { pond.state.stage_since = clock("16:30"); },
       {"missed water_reading dawn", "missed level_reading dawn", "now water_reading afternoon",
        "now water_colour afternoon", "now sky afternoon"}},
      {"first dose: not advised, after one that did not count",
       Stage::first_dose,
       "06:00",
       [](FarmPond& pond) { pond.state.dose.advised = false; },
       {"now water_reading dawn", "now level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon", "later sky afternoon"}},
      {"first dose: a trouble forbids it",
       Stage::first_dose,
       "06:00",
       [](FarmPond& pond) { pond.state.troubles = {trouble("red_brown", true)}; },
       {"now water_reading dawn", "now level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon", "later sky afternoon"}},
      {"bloom at the peak, dosed this morning",
       Stage::bloom,
       "11:00",
       [](FarmPond& pond) { pond.history.doses.push_back(at<DoseRecord>(clock("07:30"))); },
       {"missed water_reading dawn", "missed level_reading dawn", "done dose dose", "now secchi_reading peak",
        "now water_colour peak", "later water_reading afternoon", "later sky afternoon"}},
      {"bloom: pairs that differ ask for one more",
       Stage::bloom,
       "11:00",
       [](FarmPond& pond) {
         pond.history.secchi.push_back(at<SecchiPair>(clock("10:50")));
         SecchiDay day;
         day.day = civil_day(clock("10:50"), farm_test::place().offset);
         day.asks_for_another = true;
         pond.state.secchi_days = {day};
       },
       {"missed water_reading dawn", "missed level_reading dawn", "now secchi_reading peak",
        "now water_colour peak", "later water_reading afternoon"}},
      {"hold the band: dosed three days ago, grazers due, grabs not",
       Stage::hold_band,
       "19:00",
       [](FarmPond& pond) {
         pond.history.doses.push_back(at<DoseRecord>(clock("07:30", -3)));
         pond.history.grazers.push_back(at<GrazerCount>(clock("11:00", -4)));
         pond.history.grabs.push_back(at<BottomGrab>(clock("11:00", -2)));
       },
       {"overdue grazer_count", "missed water_reading dawn", "missed level_reading dawn",
        "missed secchi_reading peak", "missed water_colour peak", "missed water_reading afternoon",
        "missed sky afternoon"}},
      {"hold the band: advised, before the window",
       Stage::hold_band,
       "04:00",
       [](FarmPond& pond) {
         pond.history.grazers.push_back(at<GrazerCount>(clock("11:00", -1)));
         pond.history.grabs.push_back(at<BottomGrab>(clock("11:00", -1)));
         pond.state.dose.advised = true;
         SecchiDay day;
         day.day = civil_day(clock("12:00", -1), farm_test::place().offset);
         pond.state.secchi_days = {day};
       },
       {"later water_reading dawn", "later level_reading dawn", "later dose dose", "later secchi_reading peak",
        "later water_colour peak", "later water_reading afternoon", "later sky afternoon"}},
      {"hold the band: advised by this noon's reading is for tomorrow",
       Stage::hold_band,
       "19:00",
       [](FarmPond& pond) {
         pond.history.grazers.push_back(at<GrazerCount>(clock("11:00", -1)));
         pond.history.grabs.push_back(at<BottomGrab>(clock("11:00", -1)));
         pond.history.secchi.push_back(at<SecchiPair>(clock("12:00")));
         pond.state.dose.advised = true;
         SecchiDay day;
         day.day = civil_day(clock("12:00"), farm_test::place().offset);
         pond.state.secchi_days = {day};
       },
       {"missed water_reading dawn", "missed level_reading dawn", "done secchi_reading peak",
        "missed water_colour peak", "missed water_reading afternoon", "missed sky afternoon"}},
      {"release: all but the signature holds",
       Stage::release,
       "12:00",
       [](FarmPond& pond) {
         pond.history.tests.push_back(at<WaterTest>(clock("11:00", -1)));
         pond.history.pests.push_back(at<PestLook>(clock("11:00", -1)));
         pond.state.criteria = {open_criterion("release.signed", Act::sign_release, Verdict::unmet)};
       },
       {"now sign_release", "now secchi_reading peak", "now water_colour peak", "missed water_reading dawn",
        "missed level_reading dawn", "later water_reading afternoon"}},
      {"release: a test is missing, so nothing to sign",
       Stage::release,
       "12:00",
       [](FarmPond& pond) {
         pond.history.pests.push_back(at<PestLook>(clock("11:00", -1)));
         pond.state.criteria = {open_criterion("release.alkalinity", Act::water_test),
                                open_criterion("release.signed", Act::sign_release, Verdict::unmet)};
       },
       {"overdue water_test", "now secchi_reading peak", "now water_colour peak", "missed water_reading dawn",
        "missed level_reading dawn", "later water_reading afternoon"}},
      {"a walk begun yesterday",
       Stage::first_dose,
       "12:00",
       [](FarmPond& pond) { pond.state.open_walk = DoseWalk{}; },
       {"now dose", "missed water_reading dawn", "missed level_reading dawn", "later water_reading afternoon",
        "later water_colour afternoon", "later sky afternoon"}},
      {"a doubtful meter",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.state.troubles = {trouble("doubtful_meter", false)}; },
       {"now meter_check"}},
      {"a crash asks for two readings after sunset",
       Stage::bottom,
       "19:00",
       [](FarmPond& pond) { pond.state.troubles = {trouble("crash", true)}; },
       {"now water_reading"}},
      {"the first of them taken",
       Stage::bottom,
       "19:00",
       [](FarmPond& pond) {
         pond.state.troubles = {trouble("crash", true)};
         pond.history.water.push_back(water(clock("18:50")));
       },
       {"done water_reading"}},
      {"the second after it",
       Stage::bottom,
       "20:00",
       [](FarmPond& pond) {
         pond.state.troubles = {trouble("crash", true)};
         pond.history.water.push_back(water(clock("18:50")));
       },
       {"later water_reading"}},
      {"held shut by the manager, all else met",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.state.refused = true; },
       {"now decide_gate"}},
      {"two entries that may be one dose",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) {
         pond.state.questions = {Question{}, Question{}};
       },
       {"now settle_question"}},
      {"no cycle",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.state.in_cycle = false; },
       {"now start_cycle"}},
      {"a lined pond asks for nothing",
       Stage::bottom,
       "12:00",
       [](FarmPond& pond) { pond.state.unsupported = true; },
       {}},
      {"early cycle over", Stage::early_cycle, "12:00", [](FarmPond& pond) { pond.state.finished = true; }, {}},
  };
  for (const Row& row : rows) {
    FarmPond pond = pond_in(row.stage);
    pond.state.dose.advised = row.stage == Stage::first_dose;
    if (row.change) row.change(pond);
    const Instant now = clock(row.hour);
    EXPECT_THAT(told(farm_of({pond}, now), now), UnorderedElementsAreArray(row.expected)) << row.name;
  }
}

TEST(Rounds, DoneNamesTheEntryThatDidIt) {
  FarmPond pond = pond_in(Stage::rest);
  pond.history.water.push_back(water(clock("06:10")));
  const Instant now = clock("07:00");
  const std::vector<DueItem> items = due(farm_of({pond}, now), now);
  ASSERT_EQ(told(items.back()), "done water_reading dawn");
  EXPECT_EQ(items.back().done_by, pond.history.water.back().entry->id);
}

TEST(Rounds, ClosingWindowsComeFirstThenOverdueThenNowLaterMissedDoneEachInWalkingOrder) {
  FarmPond first = pond_in(Stage::rest, "p9", 1);
  FarmPond second = pond_in(Stage::rest, "p1", 2);
  second.history.screens.clear();
  second.history.water.push_back(water(clock("06:10")));
  second.history.levels.push_back(at<LevelReading>(clock("06:10")));
  second.state.questions = {Question{}};
  const Instant now = clock("06:30");
  std::vector<std::string> order;
  for (const DueItem& item : due(farm_of({first, second}, now), now))
    order.push_back(item.pond + " " + told(item));
  EXPECT_THAT(order, ElementsAre("p9 now water_reading dawn", "p9 now level_reading dawn",
                                 "p1 overdue screen_check east", "p1 now settle_question",
                                 "p9 later water_reading afternoon", "p9 later water_colour afternoon",
                                 "p1 later water_reading afternoon", "p1 later water_colour afternoon",
                                 "p1 done water_reading dawn", "p1 done level_reading dawn"));
}

TEST(Rounds, TheWindowThatClosesSoonestComesFirstWhateverTheWalkingOrder) {
  FarmPond near = pond_in(Stage::first_dose, "p1", 1);
  FarmPond far = pond_in(Stage::rest, "p2", 2);
  near.state.dose.advised = true;
  const Instant now = clock("06:30");
  std::vector<std::string> order;
  for (const DueItem& item : due(farm_of({near, far}, now), now)) {
    if (item.state == DueState::now) order.push_back(item.pond + " " + told(item));
  }
  // Dawn ends at 07:32, the dose window at 09:02.
  EXPECT_THAT(order, ElementsAre("p1 now water_reading dawn", "p1 now level_reading dawn",
                                 "p2 now water_reading dawn", "p2 now level_reading dawn", "p1 now dose dose"));
}

TEST(Rounds, TheSkyIsAskedForOnceForTheWholeFarm) {
  const Instant now = clock("16:00");
  int skies = 0;
  for (const DueItem& item :
       due(farm_of({pond_in(Stage::first_dose, "p1", 1), pond_in(Stage::first_dose, "p2", 2)}, now), now)) {
    if (item.act != Act::sky) continue;
    ++skies;
    EXPECT_EQ(item.pond, "");
  }
  EXPECT_EQ(skies, 1);
}

TEST(Rounds, TheSkyNoLongerMattersFourDaysAfterADose) {
  FarmPond pond = pond_in(Stage::bloom);
  pond.history.doses.push_back(at<DoseRecord>(clock("07:00", -4)));
  const Instant now = clock("16:00");
  EXPECT_THAT(told(farm_of({pond}, now), now), testing::Not(testing::Contains("now sky afternoon")));
}

TEST(Rounds, EachActGoesToWhoDoesIt) {
  FarmPond pond = pond_in(Stage::first_dose);
  pond.state.questions = {Question{}};
  const Instant now = clock("06:00");
  for (const DueItem& item : due(farm_of({pond}, now), now)) {
    const Role role = item.act == Act::dose              ? Role::worker
                      : item.act == Act::settle_question ? Role::manager
                                                         : Role::technician;
    EXPECT_EQ(item.role, role) << told(item);
  }
}

TEST(Rounds, FillNamesTheLevelToReach) {
  const Instant now = clock("12:00");
  for (const DueItem& item : due(farm_of({pond_in(Stage::third_fill)}, now), now)) {
    if (item.act != Act::fill) continue;
    ASSERT_NE(item.why.find("level"), nullptr);
    // 100 x 80 m, 1.5 m deep, banks 2:1: 12 828 m3 (prismoid); the 80 % aimed at stand at 1.215 m.
    EXPECT_NEAR(std::get<Quantity>(*item.why.find("level")).value, 121.5, 0.5);
  }
}

TEST(Rounds, AGateThatWaitsSaysSoInTheReason) {
  FarmPond pond = pond_in(Stage::rest);
  pond.state.criteria = {open_criterion("rest.colour", Act::water_colour)};
  const Instant now = clock("16:00");
  for (const DueItem& item : due(farm_of({pond}, now), now)) {
    EXPECT_EQ(item.why.id == "due.why.gate", item.act == Act::water_colour) << told(item);
  }
}

TEST(Rounds, RefusesAFarmWhereTheSunNeitherRisesNorSets) {
  Farm farm = farm_of({}, clock("12:00"));
  farm.place.latitude_deg = 71;
  EXPECT_FALSE(rounds(farm, farm_test::protocol(), *parse_instant("2026-06-21T12:00:00Z")));
}

TEST(Role, NamesGoThereAndBack) {
  for (const Role role : {Role::worker, Role::technician, Role::manager})
    EXPECT_EQ(role_of(name_of(role)), role);
  EXPECT_EQ(role_of("owner"), std::nullopt);
}

}  // namespace
}  // namespace tawny
