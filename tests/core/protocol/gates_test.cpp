#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::at;
using test::kOpenings;
using test::Story;
using test::whole_cycle;

TEST(Gates, WholeCyclePassesAllTenStagesAndEnds) {
  Story story = whole_cycle();
  const PondState state = story.assess_at(40, "12:00");
  ASSERT_EQ(state.gates.size(), 10U);
  for (std::size_t i = 0; i < state.gates.size(); ++i) {
    EXPECT_EQ(static_cast<std::size_t>(state.gates[i].stage), i + 1);
    EXPECT_EQ(to_iso(state.gates[i].at), to_iso(at(kOpenings[i].day, kOpenings[i].hh_mm))) << "gate " << i + 1;
    EXPECT_FALSE(state.gates[i].by_hand);
  }
  EXPECT_TRUE(state.finished);
  EXPECT_EQ(state.stage, Stage::early_cycle);
}

TEST(Gates, StageSinceIsTheInstantOfTheGateBeforeHoweverLateItIsAsked) {
  Story story = whole_cycle();
  for (const char* hh_mm : {"10:00", "12:00", "23:59"}) {
    const PondState state = story.assess_at(9, hh_mm);
    EXPECT_EQ(state.stage, Stage::early_cycle);
    EXPECT_EQ(state.stage_since, at(9, "10:00"));
  }
  EXPECT_EQ(story.assess_at(20, "12:00").stage_since, at(9, "10:00"));
}

TEST(Gates, NothingBeforeTheCycleAndNothingOfALinedPond) {
  Story story = whole_cycle();
  EXPECT_FALSE(story.assess_at(0, "07:59").in_cycle);
  story.pond_setup.kind = PondKind::lined;
  const PondState state = story.assess_at(5, "12:00");
  EXPECT_TRUE(state.unsupported);
  EXPECT_TRUE(state.gates.empty());
}

TEST(Gates, AnEndedCycleIsNoCycle) {
  Story story = whole_cycle();
  story.tell(10, "08:00", kind::kCycleEnd, {});
  EXPECT_TRUE(story.assess_at(10, "07:59").in_cycle);
  EXPECT_FALSE(story.assess_at(10, "08:00").in_cycle);
}

TEST(Gates, ReleaseSignedBeforeTheRestHoldsDoesNotCountAndAsksForAnother) {
  Story story = whole_cycle();
  story.mend(9, kind::kReleaseSigned, [](test::Told& one) {
    one.hh_mm = "09:15";  // the level is read at 09:20
    return true;
  });
  PondState state = story.assess_at(9, "12:00");
  EXPECT_EQ(state.stage, Stage::release);
  EXPECT_EQ(state.holds, "release.decision");
  EXPECT_EQ(test::find(state.criteria, "release.decision")->why.id, "why.release_signed_early");
  story.tell(9, "13:00", kind::kReleaseSigned, {{"decision", std::string("release")}});
  state = story.assess_at(9, "13:30");
  EXPECT_EQ(state.stage, Stage::early_cycle);
  EXPECT_EQ(state.stage_since, at(9, "13:00"));
}

TEST(Gates, AManagerPassesAGateByHandAndWhatDidNotHoldIsOnRecord) {
  Story story = whole_cycle();
  story.set(0, kind::kBottomLook, "dried_days", 3.0);
  story.decide(0, "10:30", 1, true, "treated with lime, see note");
  const PondState state = story.assess_at(0, "11:00");
  ASSERT_EQ(state.gates.size(), 1U);
  EXPECT_TRUE(state.gates[0].by_hand);
  EXPECT_EQ(state.gates[0].reason, "treated with lime, see note");
  EXPECT_EQ(state.gates[0].at, at(0, "10:30"));
  ASSERT_EQ(state.gates[0].unmet_then.size(), 1U);
  EXPECT_EQ(state.gates[0].unmet_then[0].id, "bottom.dried");
  EXPECT_EQ(state.stage, Stage::first_fill);
}

TEST(Gates, APassOfAStageThatIsNotYetReachedOpensNothing) {
  Story story = whole_cycle();
  story.forget(0, kind::kSourceLook).decide(0, "10:30", 2, true);
  const PondState state = story.assess_at(0, "14:00");
  EXPECT_EQ(state.stage, Stage::bottom);
}

TEST(Gates, ARefusedGateStaysShutUntilItIsPassed) {
  Story story = whole_cycle();
  story.decide(0, "12:00", 2, false, "wait for clearer water");
  PondState state = story.assess_at(1, "12:00");
  EXPECT_EQ(state.stage, Stage::first_fill);
  EXPECT_TRUE(state.refused);
  EXPECT_EQ(state.holds, std::nullopt);
  story.decide(1, "13:00", 2, true, "clear now");
  state = story.assess_at(1, "13:30");
  EXPECT_EQ(state.stage, Stage::rest);
  EXPECT_EQ(state.stage_since, at(1, "13:00"));
  EXPECT_TRUE(state.gates[1].by_hand);
}

TEST(Gates, ALaterReadingNeverClosesAGate) {
  Story story = whole_cycle();
  story.secchi(5, 80, "12:30").level(4, "12:00", 20);
  EXPECT_EQ(story.assess_at(5, "12:20").stage, Stage::third_fill);
  EXPECT_EQ(story.assess_at(5, "13:00").stage, Stage::third_fill);
}

TEST(Gates, TimeAloneOpensTheRestWhenAllElseHolds) {
  Story story = whole_cycle();
  story.mend(0, kind::kInletMoved, [](test::Told& one) {
    one.hh_mm = "17:00";
    return true;
  });
  PondState state = story.assess_at(2, "16:59");
  EXPECT_EQ(state.stage, Stage::rest);
  EXPECT_EQ(test::find(state.criteria, "rest.rested")->recheck_at, at(2, "17:00"));
  state = story.assess_at(2, "20:00");
  EXPECT_EQ(state.stage, Stage::second_fill);
  EXPECT_EQ(state.stage_since, at(2, "17:00"));
}

TEST(Gates, AProtocolChangeCountsFromItsDateOn) {
  Story story = whole_cycle();
  story.set(0, kind::kLevelReading, "level_cm", 40.0);  // 33 %
  EXPECT_EQ(story.assess_at(1, "12:00").stage, Stage::first_fill);
  story.tell(0, "16:00", kind::kProtocolChange,
             {{"path", std::string("stage.first_fill.level_high_share")},
              {"value", 0.35},
              {"from", to_iso(at(1, "00:00"))},
              {"reason", std::string("shallow pond")}},
             "");
  PondState state = story.assess_at(0, "23:59");
  EXPECT_EQ(state.stage, Stage::first_fill);
  state = story.assess_at(1, "12:00");
  EXPECT_EQ(state.stage, Stage::rest);
  EXPECT_EQ(state.stage_since, at(1, "00:00"));
}

TEST(Gates, ThePondsOwnProtocolWinsOverALaterOneOfTheFarm) {
  Story story = whole_cycle();
  story.set(0, kind::kLevelReading, "level_cm", 40.0);
  const auto change = [&](const char* hh_mm, double value, const char* pond) {
    story.tell(0, hh_mm, kind::kProtocolChange,
               {{"path", std::string("stage.first_fill.level_high_share")},
                {"value", value},
                {"from", to_iso(at(0, hh_mm))}},
               pond);
  };
  change("08:10", 0.35, "p1");
  change("08:20", 0.25, "");
  EXPECT_EQ(story.assess_at(0, "15:00").stage, Stage::rest);
}

TEST(Gates, AChangeThatIsDatedBackOpensNothingInThePast) {
  Story story = whole_cycle();
  story.set(0, kind::kLevelReading, "level_cm", 40.0);
  story.tell(1, "12:00", kind::kProtocolChange,
             {{"path", std::string("stage.first_fill.level_high_share")},
              {"value", 0.35},
              {"from", to_iso(at(0, "08:00"))}});
  EXPECT_EQ(story.assess_at(1, "13:00").stage_since, at(1, "12:00"));
}

TEST(Gates, TheStockingLevelOfThePondIsEnoughForTheRelease) {
  Story story = whole_cycle();
  story.set(9, kind::kLevelReading, "level_cm", 103.0);
  EXPECT_EQ(story.assess_at(9, "12:00").stage, Stage::release);
  story.pond_setup.stocking_level_cm = 103;
  EXPECT_EQ(story.assess_at(9, "12:00").stage, Stage::early_cycle);
}

TEST(Gates, RisingCopepodsAreEnoughWithoutFiftyPerLitre) {
  Story story = whole_cycle();
  story.set(8, kind::kGrazerCount, "copepods_per_l", 30.0);
  story.tell(6, "12:20", kind::kGrazerCount, {{"copepods_per_l", 12.0}});
  EXPECT_EQ(story.assess_at(8, "13:00").stage, Stage::release);
}

TEST(Gates, ScreensInspectedMoreThanThreeDaysAgoDoNotCount) {
  Story story = whole_cycle();
  story.forget(0, kind::kLevelReading).forget(3, kind::kLevelReading);
  story.mend(0, kind::kSourceLook, [](test::Told& one) {
    one.day = 3;
    one.hh_mm = "09:20";
    return true;
  });
  EXPECT_EQ(story.assess_at(3, "09:20").stage, Stage::first_fill);  // 72 h to the minute
  story.mend(3, kind::kSourceLook, [](test::Told& one) {
    one.hh_mm = "09:21";
    return true;
  });
  const PondState state = story.assess_at(3, "10:30");
  EXPECT_EQ(state.stage, Stage::bottom);
  EXPECT_EQ(test::find(state.criteria, "bottom.screens")->why.id, "why.screen_old");
}

TEST(Gates, UnknownCriteriaNameTheActAndWhenItCanNextBeTaken) {
  Story story = whole_cycle();
  story.forget(5, kind::kSecchiReading).forget(6, kind::kSecchiReading);
  const Criterion criterion = *test::find(story.assess_at(4, "12:00").criteria, "bloom.secchi");
  EXPECT_EQ(criterion.why.id, "why.secchi_too_early");
  EXPECT_EQ(criterion.settles, Act::secchi_reading);
  EXPECT_EQ(criterion.window, WindowName::peak);
  const auto windows = windows_of(test::day_zero().plus(5), test::place(), test::protocol());
  EXPECT_EQ(criterion.next_chance, windows->peak.from);
  EXPECT_FALSE(criterion.paths.empty());
}

TEST(Gates, TheLevelCriterionTellsTheGaugeReadingThatIsAskedFor) {
  Story story = whole_cycle();
  story.set(3, kind::kLevelReading, "level_cm", 45.0);
  const Criterion criterion = *test::find(story.assess_at(3, "11:00").criteria, "second_fill.level");
  EXPECT_EQ(std::get<Quantity>(*criterion.why.find("low")), (Quantity{60, 0, "cm"}));
  EXPECT_EQ(std::get<Quantity>(*criterion.why.find("high")), (Quantity{78, 0, "cm"}));
  EXPECT_EQ(std::get<Quantity>(*criterion.why.find("level")), (Quantity{45, 0, "cm"}));
  EXPECT_EQ(criterion.evidence.size(), 1U);
}

}  // namespace
}  // namespace tawny
