// What happens on a farm beside the plan: late typing, rain, two phones, a change of mind.
#include <gtest/gtest.h>

#include "core/protocol/story.h"
#include "protocol/dose_advice.h"

namespace tawny {
namespace {

using test::at;
using test::Story;
using test::whole_cycle;

Story before_day(int day) {
  Story story = whole_cycle();
  story.told.erase(std::remove_if(story.told.begin(), story.told.end(),
                                  [&](const test::Told& one) { return one.day >= day; }),
                   story.told.end());
  return story;
}

// --- readings -----------------------------------------------------------------------------------------------

TEST(FarmDays, AReadingTypedLateCountsForWhenItWasTaken) {
  Story late = whole_cycle();
  // Whatever was read at dawn is put into the phone last of all.
  std::stable_partition(late.told.begin(), late.told.end(),
                        [](const test::Told& one) { return one.hh_mm != "06:00"; });
  const PondState state = late.assess_at(40, "12:00");
  ASSERT_EQ(state.gates.size(), 10U);
  for (std::size_t i = 0; i < state.gates.size(); ++i) {
    EXPECT_EQ(state.gates[i].at, at(test::kOpenings[i].day, test::kOpenings[i].hh_mm)) << i;
  }
}

TEST(FarmDays, ADawnReadingAtHalfPastEightIsNamedAsTheReason) {
  Story story = before_day(2);
  story.forget(1, kind::kWaterReading).water(1, "08:30", 5.0, 7.8);
  const PondState state = story.assess_at(1, "09:00");
  ASSERT_EQ(state.stage, Stage::rest);
  EXPECT_EQ(test::find(state.criteria, "rest.pairs")->why.id, "why.outside_dawn");
  EXPECT_EQ(test::find(state.criteria, "rest.pairs")->verdict, Verdict::unknown);
}

TEST(FarmDays, PairsFarApartLeaveTheBloomUnknownUntilAThird) {
  Story story = before_day(5);
  story.secchi(5, 46).secchi(5, 54, "12:05").colour(5, "golden");
  const PondState asking = story.assess_at(5, "12:20");
  ASSERT_EQ(asking.stage, Stage::bloom);
  EXPECT_EQ(test::find(asking.criteria, "bloom.secchi")->verdict, Verdict::unknown);
  EXPECT_EQ(test::find(asking.criteria, "bloom.secchi")->next_chance, at(5, "12:20"));
  story.secchi(5, 50, "12:15");
  EXPECT_EQ(story.assess_at(5, "12:20").stage, Stage::third_fill);
}

TEST(FarmDays, TheDiscOnTheBottomIsNeverInTheBand) {
  struct Row {
    double depth_cm;
    Verdict verdict;
    const char* why;
  };
  for (const Row& row :
       {Row{40, Verdict::unknown, "why.secchi_bottom"}, Row{50, Verdict::unknown, "why.secchi_bottom"},
        Row{55, Verdict::unknown, "why.secchi_bottom"}, Row{70, Verdict::unmet, "why.secchi_bottom_over"}}) {
    Story story = before_day(5);
    story.on_bottom(5, row.depth_cm).colour(5, "golden");
    const PondState state = story.assess_at(5, "13:00");
    ASSERT_EQ(state.stage, Stage::bloom);
    EXPECT_EQ(test::find(state.criteria, "bloom.secchi")->verdict, row.verdict) << row.depth_cm;
    EXPECT_EQ(test::find(state.criteria, "bloom.secchi")->why.id, row.why) << row.depth_cm;
  }
}

// --- levels -------------------------------------------------------------------------------------------------

TEST(FarmDays, AnOverfilledPondPassesOnlyOnceWaterIsLetOut) {
  Story story = before_day(1);
  story.set(0, kind::kLevelReading, "level_cm", 40.0);
  const PondState over = story.assess_at(0, "20:00");
  ASSERT_EQ(over.stage, Stage::first_fill);
  EXPECT_EQ(over.criteria[0].verdict, Verdict::unmet);
  EXPECT_EQ(over.criteria[0].why.id, "why.level_high");
  story.tell(1, "08:00", kind::kOutflow, {}).level(1, "09:00", 36);
  const PondState state = story.assess_at(1, "10:00");
  EXPECT_EQ(state.stage, Stage::rest);
  EXPECT_EQ(state.stage_since, at(1, "09:00"));
}

TEST(FarmDays, RainDoesNotDisturbTheRestButOpeningTheInletStartsItAnew) {
  Story rain = whole_cycle();
  rain.level(1, "10:00", 42);
  EXPECT_EQ(rain.assess_at(2, "16:00").gates.size(), 3U);
  Story topped_up = whole_cycle();
  topped_up.tell(1, "10:00", kind::kInletMoved, {{"position", std::string("open")}});
  topped_up.tell(1, "11:00", kind::kInletMoved, {{"position", std::string("shut")}});
  EXPECT_EQ(topped_up.assess_at(2, "16:00").stage, Stage::rest);
  const PondState state = topped_up.assess_at(2, "16:00");
  EXPECT_EQ(test::find(state.criteria, "rest.rested")->recheck_at, at(3, "11:00"));
}

// The pond stood at 80 % before the bloom was there: the third fill needs no new water, only a look at the
// disc.
TEST(FarmDays, APondThatStandsHighEnoughAlreadyNeedsNoOtherLevelReading) {
  Story story = before_day(6);
  story.level(5, "09:00", 96).secchi(6, 50);
  const PondState state = story.assess_at(6, "13:00");
  EXPECT_EQ(state.stage, Stage::hold_band);
  EXPECT_EQ(state.stage_since, at(6, "12:00"));
}

TEST(FarmDays, APondWithoutAShapeSaysSoInsteadOfPassing) {
  Story story = whole_cycle();
  story.pond_setup.curve.reset();
  const PondState state = story.assess_at(9, "12:00");
  ASSERT_EQ(state.stage, Stage::first_fill);
  EXPECT_EQ(state.criteria[0].verdict, Verdict::unknown);
  EXPECT_EQ(state.criteria[0].why.id, "why.no_curve");
  EXPECT_FALSE(state.level_share);
}

TEST(FarmDays, APondWithoutNamedInletsCannotShowItsScreensAndRestsOnAMoveOfAll) {
  Story story = whole_cycle();
  story.pond_setup.inlets.clear();
  const PondState held = story.assess_at(0, "12:00");
  ASSERT_EQ(held.stage, Stage::bottom);
  EXPECT_EQ(test::find(held.criteria, "bottom.screens")->why.id, "why.no_inlets");
  story.decide(0, "10:00", 1, true);
  EXPECT_EQ(story.assess_at(2, "16:00").stage, Stage::second_fill);
}

// --- the bottom
// -----------------------------------------------------------------------------------------------

TEST(FarmDays, ABroadcastOfExactlyTheLimitIsInsideOnAnyArea) {
  for (const double area_ha : {0.17, 0.34, 0.69, 1.0, 2.3}) {
    for (const double rate_kg_ha : {25.0, 200.0}) {
      Story story = before_day(1);
      story.pond_setup.nominal_area_ha = area_ha;
      story.set(0, kind::kSoilBroadcast, "product_kg", rate_kg_ha * area_ha);
      EXPECT_GT(story.assess_at(0, "12:00").stage, Stage::bottom) << area_ha << " ha, " << rate_kg_ha;
    }
  }
}

// --- cycles
// ---------------------------------------------------------------------------------------------------

TEST(FarmDays, ASecondCycleStartsFromTheBottomAndForgetsTheDosesOfTheFirst) {
  Story story = whole_cycle();
  story.tell(40, "08:00", kind::kCycleEnd, {});
  EXPECT_FALSE(story.assess_at(40, "09:00").in_cycle);
  story.tell(50, "08:00", kind::kCycleStart, {{"cycle", std::string("B")}});
  const PondState state = story.assess_at(50, "09:00");
  EXPECT_TRUE(state.in_cycle);
  EXPECT_EQ(state.stage, Stage::bottom);
  EXPECT_TRUE(state.gates.empty());
  EXPECT_TRUE(story.history().doses.empty());
  EXPECT_FALSE(state.level_cm);
}

TEST(FarmDays, ACycleThatTwoPhonesStartedIsOneAndLosesNothing) {
  Story story = whole_cycle();
  story.tell(0, "09:25", kind::kCycleStart, {{"cycle", std::string("A")}});
  const PondState state = story.assess_at(0, "12:00");
  EXPECT_EQ(state.stage, Stage::first_fill);
  EXPECT_EQ(story.history().cycle_start, at(0, "08:00"));
}

TEST(FarmDays, ALabelMayComeAgainOnceItsCycleHasEnded) {
  Story story = before_day(2);
  story.tell(2, "08:00", kind::kCycleEnd, {})
      .tell(3, "08:00", kind::kCycleStart, {{"cycle", std::string("A")}});
  EXPECT_EQ(story.history().cycle_start, at(3, "08:00"));
  EXPECT_EQ(story.assess_at(3, "09:00").stage, Stage::bottom);
}

// --- gates
// ----------------------------------------------------------------------------------------------------

TEST(FarmDays, AGatePassedByHandStaysOpenWhenReadingsWorsen) {
  Story story = before_day(5);
  story.decide(5, "09:00", 6, true, "bloom looks right");
  story.secchi(5, 90).colour(5, "red_brown");
  const PondState state = story.assess_at(6, "12:00");
  EXPECT_EQ(state.stage, Stage::third_fill);
  ASSERT_EQ(state.gates.size(), 6U);
  EXPECT_TRUE(state.gates.back().by_hand);
  EXPECT_EQ(state.gates.back().unmet_then.size(), 3U);
  EXPECT_NE(test::find(state.troubles, "red_brown"), nullptr);
}

TEST(FarmDays, WithoutTheReadingThatOpenedItAGateIsShutAgain) {
  Story story = whole_cycle();
  ASSERT_EQ(story.assess_at(8, "13:00").stage, Stage::release);
  story.forget(8, kind::kBottomGrab);  // voided
  EXPECT_EQ(story.assess_at(8, "13:00").stage, Stage::hold_band);
  // Corrected to a quarter past: the gate opens then.
  story.tell(8, "12:45", kind::kBottomGrab, {{"grabs", 5.0}, {"grabs_with_animals", 3.0}});
  EXPECT_EQ(story.assess_at(8, "13:00").stage_since, at(8, "12:45"));
}

TEST(FarmDays, AReadingMovedOutOfItsWindowByACorrectionNoLongerMakesAPair) {
  Story story = whole_cycle();
  story.mend(1, kind::kWaterReading, [](test::Told& one) {
    if (one.hh_mm == "06:00") one.hh_mm = "08:00";
    return true;
  });
  EXPECT_EQ(story.assess_at(2, "16:00").stage, Stage::rest);
}

// --- release: pH holds all day
// ----------------------------------------------------------------------------------

TEST(ReleasePh, AReadingBetweenDawnAndAfternoonThatIsBeyondTheRangeCounts) {
  Story story = whole_cycle();
  story.water(8, "13:30", 9.0, 9.1);
  const PondState state = story.assess_at(9, "09:30");
  const Criterion* ph = test::find(state.criteria, "release.ph");
  ASSERT_NE(ph, nullptr);
  EXPECT_EQ(ph->verdict, Verdict::unmet);
  EXPECT_EQ(ph->why.id, "why.ph_outside");
}

TEST(ReleasePh, TodaysDawnBeyondTheRangeIsNotCoveredByYesterday) {
  Story story = whole_cycle();
  story.forget(9, kind::kWaterReading).water(9, "06:00", 4.8, 7.3);
  const PondState state = story.assess_at(9, "12:00");
  ASSERT_EQ(state.stage, Stage::release);
  EXPECT_EQ(test::find(state.criteria, "release.ph")->why.id, "why.ph_outside");
}

// --- doses
// ------------------------------------------------------------------------------------------------------

Story held() {
  Story story = before_day(7);
  story.pair(8, 5.0, 7.8, 8.0, 8.1).sky(8, "bright").colour(8, "golden");
  return story;
}

TEST(FarmDays, TwoDaysOverTheBandWithAGapBetweenThemAreNotRunning) {
  Story running = held();
  running.secchi(7, 58).secchi(8, 58);
  EXPECT_TRUE(running.assess_at(8, "20:00").dose.advised);
  Story gap = held();
  gap.forget(6, kind::kSecchiReading).forget(5, kind::kSecchiReading);
  gap.decide(5, "13:00", 6, true).decide(6, "11:00", 7, true).secchi(5, 58).secchi(8, 58);
  const DoseAdvice advice = gap.assess_at(8, "20:00").dose;
  EXPECT_FALSE(advice.advised);
  EXPECT_TRUE(test::says(advice.why, "dose.over_one_day"));
}

TEST(FarmDays, AReadingBeforeTheLastDoseWasAnsweredByIt) {
  Story story = held();
  story.secchi(6, 58, "12:30").forget(8, kind::kWaterColour).secchi(7, 58);
  story.dose(8, 10).pair(10, 5.0, 7.8, 8.0, 8.1).sky(10, "bright").colour(10, "golden").secchi(10, 58);
  EXPECT_TRUE(test::says(story.assess_at(10, "20:00").dose.why, "dose.over_one_day"));
  story.secchi(9, 57);
  EXPECT_TRUE(story.assess_at(10, "20:00").dose.advised);
}

TEST(FarmDays, ThreeRecordsOfOneDoseAreAskedAboutUntilOneIsLeft) {
  Story story = held();
  story.dose(8, 10, "06:10").dose(8, 10, "06:12").dose(8, 10, "06:14");
  PondState state = story.assess_at(8, "12:00");
  ASSERT_EQ(state.questions.size(), 2U);
  const auto settle = [&](const EntryId& later, const char* keep, const char* hh_mm) {
    story.tell(8, hh_mm, kind::kQuestionSettled,
               {{"question", to_reference(later)}, {"keep", std::string(keep)}});
  };
  settle(state.questions[0].evidence[1], "both", "13:00");
  state = story.assess_at(8, "13:01");
  ASSERT_EQ(state.questions.size(), 1U);
  settle(state.questions[0].evidence[1], "second", "13:02");
  state = story.assess_at(8, "13:03");
  ASSERT_EQ(state.questions.size(), 1U);
  settle(state.questions[0].evidence[1], "second", "13:04");
  EXPECT_TRUE(story.assess_at(8, "13:05").questions.empty());
  const PondHistory history = story.history();
  EXPECT_EQ(doses_at(history, at(8, "13:05")).size(), 2U);  // with the first dose of day 4
}

// Two managers answer without having heard of each other.
TEST(FarmDays, TwoAnswersAboutOneDoseNeverTakeOutBoth) {
  for (const bool second_first : {false, true}) {
    Story story = held();
    story.dose(8, 10, "06:10").dose(8, 10, "06:12");
    const PondState state = story.assess_at(8, "12:00");
    ASSERT_EQ(state.questions.size(), 1U);
    const std::vector<EntryId>& pair = state.questions[0].evidence;
    const auto settle = [&](const char* keep, const char* hh_mm) {
      story.tell(
          8, hh_mm, kind::kQuestionSettled,
          {{"question", to_reference(pair[1])}, {"other", to_reference(pair[0])}, {"keep", std::string(keep)}});
    };
    settle(second_first ? "second" : "first", "13:00");
    settle(second_first ? "first" : "second", "13:01");
    EXPECT_EQ(doses_at(story.history(), at(8, "13:05")).size(), 2U) << second_first;  // with the one of day 4
    EXPECT_TRUE(story.assess_at(8, "13:05").questions.empty());
  }
}

// --- troubles
// ---------------------------------------------------------------------------------------------------

TEST(FarmDays, ASmallLeakShowsOverSeveralDays) {
  Story story = before_day(4);
  for (int day = 4; day <= 7; ++day) story.level(day, "06:00", 69 - 2.4 * (day - 3));
  const Trouble* leak = nullptr;
  const PondState state = story.assess_at(7, "07:00");
  leak = test::find(state.troubles, "losing_water");
  ASSERT_NE(leak, nullptr);
  // Mended: the water stands.
  story.level(8, "06:00", 69 - 2.4 * 4);
  EXPECT_EQ(test::find(story.assess_at(8, "07:00").troubles, "losing_water"), nullptr);
}

// --- the sun
// ------------------------------------------------------------------------------------------------------

TEST(Places, WindowsLieInTheFarmsOwnDayWhereverItIs) {
  struct Row {
    const char* name;
    double latitude_deg, longitude_deg;
    int offset_min;
  };
  for (const Row& row :
       {Row{"54 S, summer and winter", -54.8, -68.3, -180}, Row{"14 h ahead", 1.9, -157.4, 840},
        Row{"12 h behind", 0.2, -176.5, -720}, Row{"half an hour off", 21, 72.8, 330}}) {
    FarmPlace place = test::place();
    place.latitude_deg = row.latitude_deg;
    place.longitude_deg = row.longitude_deg;
    place.offset = UtcOffset{row.offset_min};
    for (const char* date : {"2026-01-05", "2026-06-21", "2026-12-21"}) {
      const CivilDay day = *parse_civil_day(date);
      const auto windows = windows_of(day, place, test::protocol());
      ASSERT_TRUE(windows) << row.name << date;
      EXPECT_LT(windows->dawn.until, windows->peak.from) << row.name << date;
      EXPECT_LT(windows->peak.until, windows->afternoon.from) << row.name << date;
      EXPECT_LT(windows->afternoon.from, windows->afternoon.until) << row.name << date;
      for (const WindowName name :
           {WindowName::dawn, WindowName::dose, WindowName::peak, WindowName::afternoon}) {
        EXPECT_EQ(civil_day(windows->of(name).from, place.offset), day) << row.name << date;
        EXPECT_EQ(civil_day(windows->of(name).until, place.offset), day) << row.name << date;
      }
    }
  }
}

// At 157 W with a clock 14 h ahead the day changes in UTC at 14:00 on the farm's clock, inside the peak window.
TEST(Places, ADayChangeInUtcInsideTheWindowSplitsNoDay) {
  FarmPlace place = test::place();
  place.longitude_deg = -157.4;
  place.offset = UtcOffset{840};
  const CivilDay day = *parse_civil_day("2026-03-05");
  std::vector<Entry> entries;
  const auto told = [&](std::string_view kind_name, int second, Values values) {
    Entry entry;
    entry.id = EntryId{"phone", static_cast<std::uint32_t>(entries.size() + 1), std::string(64, 'b')};
    entry.pond = "p1";
    entry.kind = std::string(kind_name);
    entry.observed = instant_at(day, second, place.offset);
    entry.values = std::move(values);
    entries.push_back(std::move(entry));
  };
  told(kind::kCycleStart, 0, {{"cycle", std::string("A")}});
  told(kind::kSecchiReading, 14 * 3600 - 300, {{"secchi_vanish_cm", 50.0}, {"secchi_return_cm", 48.0}});
  told(kind::kSecchiReading, 14 * 3600 + 300, {{"secchi_vanish_cm", 52.0}, {"secchi_return_cm", 50.0}});
  std::vector<const Entry*> effective;
  for (const Entry& entry : entries) effective.push_back(&entry);
  const PondHistory history = build_history(test::pond(), effective);
  const PondState state = assess(history, test::protocol(), place, instant_at(day, 20 * 3600, place.offset));
  ASSERT_EQ(state.secchi_days.size(), 1U);
  EXPECT_EQ(state.secchi_days[0].day, day);
  EXPECT_EQ(state.secchi_days[0].secchi_cm, 50);
  EXPECT_EQ(state.secchi_days[0].evidence.size(), 2U);
}

}  // namespace
}  // namespace tawny
