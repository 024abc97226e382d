#include "protocol/history.h"

#include <gtest/gtest.h>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::at;
using test::Story;

TEST(History, TakesTheLastStartedCycleAndLeavesOutWhatCameBefore) {
  Story story;
  story.start().level(1, "10:00", 50).tell(5, "08:00", kind::kCycleStart, {{"cycle", std::string("B")}});
  story.level(6, "10:00", 20);
  const PondHistory history = story.history();
  EXPECT_EQ(history.cycle, "B");
  EXPECT_EQ(history.cycle_start, at(5, "08:00"));
  ASSERT_EQ(history.levels.size(), 1U);
  EXPECT_EQ(history.levels[0].level_cm, 20);
}

TEST(History, ProtocolChangesCountFromBeforeTheCycleToo) {
  Story story;
  story.tell(0, "07:00", kind::kProtocolChange,
             {{"path", std::string("stage.rest.rest_h")}, {"value", 60.0}, {"from", to_iso(at(0, "00:00"))}},
             "");
  story.start();
  EXPECT_EQ(story.history().protocol_changes.size(), 1U);
}

TEST(History, TakesTheFarmsSkyAndNotAnotherPondsWater) {
  Story story;
  story.start().sky(1, "bright");
  story.tell(1, "10:00", kind::kLevelReading, {{"level_cm", 50.0}}, "p2");
  const PondHistory history = story.history();
  EXPECT_EQ(history.skies.size(), 1U);
  EXPECT_TRUE(history.levels.empty());
}

TEST(History, EntriesWithoutWhatTheirKindDemandsAreListedAndNotGuessed) {
  const std::pair<std::string_view, Values> unfit[] = {
      {kind::kWaterReading, {{"do_bottom_mg_l", 4.0}}},
      {kind::kLevelReading, {{"level_cm", std::string("50")}}},
      {kind::kSecchiReading, {{"secchi_vanish_cm", 50.0}}},
      {kind::kSecchiReading, {{"seen_on_bottom", true}}},
      {kind::kWaterColour, {{"colour", std::string("blue")}}},
      {kind::kSky, {}},
      {kind::kWaterTest, {}},
      {kind::kBottomGrab, {{"grabs", 5.0}, {"grabs_with_animals", 6.0}}},
      {kind::kPestLook, {{"bivalves", std::string("none")}}},
      {kind::kBottomLook, {{"dried_days", 7.0}}},
      {kind::kScreenCheck, {{"mesh_um", 300.0}}},
      {kind::kInletMoved, {{"position", std::string("ajar")}}},
      {kind::kDose, {{"product", std::string("sodium_nitrate")}}},
      {kind::kGatePassed, {{"stage", 1.0}, {"reason", std::string()}}},
      {kind::kGatePassed, {{"stage", 11.0}, {"reason", std::string("x")}}},
      {kind::kProtocolChange, {{"path", std::string("x")}, {"value", 1.0}}},
      {kind::kQuestionSettled, {{"question", std::string("x")}, {"keep", std::string("some")}}},
      {kind::kDoseWalkStart, {{"walk", std::string("w")}}},
  };
  for (const auto& [kind_name, values] : unfit) {
    Story story;
    story.start().tell(1, "10:00", kind_name, values);
    const PondHistory history = story.history();
    EXPECT_EQ(history.unreadable.size(), 1U) << kind_name;
    EXPECT_EQ(history.entries.size(), 2U);
  }
}

TEST(History, KindsOfANewerVersionAreNoProblem) {
  Story story;
  story.start().tell(1, "10:00", "moon_phase", {});
  EXPECT_TRUE(story.history().unreadable.empty());
}

TEST(History, TheRateOfADoseIsWhatWasSpreadOverTheArea) {
  Story story;
  story.start().dose(4, 20);
  story.set(4, kind::kDose, "rate_kg_ha", 25.0).set(4, kind::kDose, "area_ha", 2.0);
  EXPECT_DOUBLE_EQ(story.history().doses[0].rate_kg_ha, 10);
}

Story with_walk() {
  Story story;
  story.start().tell(4, "06:00", kind::kDoseWalkStart,
                     {{"walk", std::string("w1")},
                      {"product", std::string("sodium_nitrate")},
                      {"rate_kg_ha", 25.0},
                      {"area_ha", 1.0},
                      {"product_kg", 25.0},
                      {"bins", 3.0},
                      {"salt_per_bin_kg", 8.3},
                      {"water_per_bin_l", 60.0},
                      {"sky", std::string("bright")}});
  return story;
}

Story& step(Story& story, const char* hh_mm, const char* what, double bin) {
  return story.tell(4, hh_mm, kind::kDoseStep,
                    {{"walk", std::string("w1")}, {"step", std::string(what)}, {"bin", bin}});
}

TEST(DoseWalk, ResumesAtTheBinAfterTheLastTickInTurn) {
  Story story = with_walk();
  step(story, "06:05", "mixed", 1);
  step(story, "06:10", "spread", 1);
  step(story, "06:15", "mixed", 2);
  step(story, "06:16", "mixed", 2);
  const PondState state = story.assess_at(4, "06:20");
  ASSERT_TRUE(state.open_walk);
  EXPECT_EQ(state.open_walk->mixed, (std::vector<Instant>{at(4, "06:05"), at(4, "06:15")}));
  EXPECT_EQ(state.open_walk->spread, (std::vector<Instant>{at(4, "06:10")}));
}

TEST(DoseWalk, ABinOutOfTurnWaitsForTheOnesBeforeIt) {
  Story story = with_walk();
  step(story, "06:05", "mixed", 2);
  EXPECT_TRUE(story.assess_at(4, "06:20").open_walk->mixed.empty());
  step(story, "06:06", "mixed", 1);
  EXPECT_EQ(story.assess_at(4, "06:20").open_walk->mixed.size(), 2U);
}

TEST(DoseWalk, IsOverOnceItIsStoppedOrRecorded) {
  Story stopped = with_walk();
  stopped.tell(4, "06:30", kind::kDoseWalkStop, {{"walk", std::string("w1")}});
  EXPECT_FALSE(stopped.assess_at(4, "07:00").open_walk);
  Story recorded = with_walk();
  recorded.dose(4, 25).set(4, kind::kDose, "walk", std::string("w1"));
  EXPECT_FALSE(recorded.assess_at(4, "07:00").open_walk);
}

}  // namespace
}  // namespace tawny
