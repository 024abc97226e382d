#include "protocol/usable.h"

#include <gtest/gtest.h>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::at;
using test::Story;

// The Secchi of day 5 as the state tells it at the end of the day; nothing when no pair counts.
std::optional<SecchiDay> secchi_of(Story story) {
  story.start();
  const PondState state = story.assess_at(5, "23:00");
  if (state.secchi_days.empty()) return std::nullopt;
  return state.secchi_days.back();
}

TEST(UsableSecchi, APairIsTheMeanOfVanishAndReturn) {
  Story story;
  story.tell(5, "12:00", kind::kSecchiReading, {{"secchi_vanish_cm", 53.0}, {"secchi_return_cm", 49.0}});
  EXPECT_DOUBLE_EQ(secchi_of(story)->secchi_cm, 51);
}

TEST(UsableSecchi, ADayIsTheMedianOfItsPairs) {
  EXPECT_DOUBLE_EQ(secchi_of(Story().secchi(5, 50).secchi(5, 51, "12:05").secchi(5, 70, "12:10"))->secchi_cm,
                   51);
  EXPECT_DOUBLE_EQ(secchi_of(Story().secchi(5, 50).secchi(5, 53, "12:05"))->secchi_cm, 51.5);
}

TEST(UsableSecchi, OnlyPairsInsideThePeakWindowCount) {
  const auto windows = windows_of(test::day_zero().plus(5), test::place(), test::protocol());
  for (const auto& [offset_s, counts] : {std::pair(-1, false), std::pair(0, true)}) {
    Story story;
    story.start().secchi(5, 50);
    PondHistory history = story.history();
    history.secchi[0].at = windows->peak.from.plus_s(offset_s);
    EXPECT_EQ(!assess(history, test::protocol(), test::place(), at(5, "23:00")).secchi_days.empty(), counts);
    history.secchi[0].at = windows->peak.until.plus_s(-offset_s);
    EXPECT_EQ(!assess(history, test::protocol(), test::place(), at(5, "23:00")).secchi_days.empty(), counts);
  }
}

TEST(UsableSecchi, ASpreadOverFiveCentimetresOrTenPercentAsksForOneMorePair) {
  // max(5 cm, 10 %)
  EXPECT_FALSE(secchi_of(Story().secchi(5, 40).secchi(5, 45, "12:05"))->asks_for_another);
  EXPECT_TRUE(secchi_of(Story().secchi(5, 40).secchi(5, 45.2, "12:05"))->asks_for_another);
  EXPECT_FALSE(secchi_of(Story().secchi(5, 80).secchi(5, 88, "12:05"))->asks_for_another);
  EXPECT_TRUE(secchi_of(Story().secchi(5, 80).secchi(5, 89, "12:05"))->asks_for_another);
  EXPECT_FALSE(
      secchi_of(Story().secchi(5, 40).secchi(5, 50, "12:05").secchi(5, 42, "12:10"))->asks_for_another);
}

TEST(UsableSecchi, SeenOnTheBottomIsMoreThanTheDepth) {
  const SecchiDay day = *secchi_of(Story().on_bottom(5, 48));
  EXPECT_TRUE(day.more_than);
  EXPECT_DOUBLE_EQ(day.secchi_cm, 48);
}

TEST(UsableSecchi, AMixedDayIsANumberOnlyWhereTheBottomDoesNotMatter) {
  // Bottom at 40 cm may hide any depth beyond: the median of 50, 52 and more than 40 lies between 50 and 52.
  EXPECT_TRUE(secchi_of(Story().secchi(5, 50).secchi(5, 52, "12:05").on_bottom(5, 40, "12:10"))->more_than);
  // 50, 52 and more than 60: the median is 52 whatever was hidden.
  const SecchiDay day = *secchi_of(Story().secchi(5, 50).secchi(5, 52, "12:05").on_bottom(5, 60, "12:10"));
  EXPECT_FALSE(day.more_than);
  EXPECT_DOUBLE_EQ(day.secchi_cm, 52);
}

TEST(UsableSecchi, ImpossiblePairsAreKeptButDoNotCount) {
  Story story;
  story.secchi(5, 450);
  EXPECT_FALSE(secchi_of(story));
}

TEST(UsableSecchi, ADiscSeenDeeperThanTheWaterDoesNotCount) {
  Story story;
  story.start().tell(1, "12:00", kind::kSecchiReading,
                     {{"secchi_vanish_cm", 62.0}, {"secchi_return_cm", 60.0}, {"depth_at_disc_cm", 48.0}});
  EXPECT_TRUE(story.assess_at(1, "13:00").secchi_days.empty());
}

TEST(UsableWater, TheLastReadingOfEachWindowMakesTheSwing) {
  Story story;
  story.start().water(5, "06:00", 4.0, 7.7).water(5, "06:30", 4.2, 7.8).water(5, "16:00", 8.0, 8.3);
  story.water(5, "17:00", 8.5, 8.4).water(5, "12:00", 20, 9.9).water(5, "20:00", 1, 7.0);
  const DayPair day = story.assess_at(5, "23:00").day_pairs.back();
  EXPECT_DOUBLE_EQ(*day.do_swing_mg_l(), 8.5 - 4.2);
  EXPECT_DOUBLE_EQ(*day.ph_swing(), 8.4 - 7.8);
  EXPECT_EQ(day.evidence.size(), 2U);
}

TEST(UsableWater, OxygenAndPhMayComeFromTwoEntries) {
  Story story;
  story.start().tell(5, "06:00", kind::kWaterReading, {{"do_mg_l", 4.0}});
  story.tell(5, "06:10", kind::kWaterReading, {{"ph", 7.8}}).water(5, "16:00", 8.0, 8.3);
  const DayPair day = story.assess_at(5, "23:00").day_pairs.back();
  EXPECT_TRUE(day.do_swing_mg_l() && day.ph_swing());
  EXPECT_EQ(day.evidence.size(), 3U);
}

TEST(UsableWater, ImpossibleReadingsDoNotCount) {
  Story story;
  story.start().water(5, "06:00", -0.1, 7.8).water(5, "16:00", 40.1, 12.1);
  const std::vector<DayPair> days = story.assess_at(5, "23:00").day_pairs;
  ASSERT_EQ(days.size(), 1U);
  EXPECT_FALSE(days[0].dawn_do_mg_l);
  EXPECT_FALSE(days[0].afternoon_do_mg_l);
  EXPECT_FALSE(days[0].afternoon_ph);
  EXPECT_EQ(days[0].dawn_ph, 7.8);
}

TEST(UsableWater, ADawnReadingAtHalfPastEightIsNoDawnReading) {
  Story story;
  story.start().water(5, "08:30", 4.0, 7.8);
  EXPECT_TRUE(story.assess_at(5, "23:00").day_pairs.empty());
}

TEST(UsableWater, ReadingsAfterNowAreNotSeen) {
  Story story;
  story.start().pair(5, 4.0, 7.8, 8.0, 8.2);
  EXPECT_FALSE(story.assess_at(5, "12:00").day_pairs.back().afternoon_do_mg_l);
}

}  // namespace
}  // namespace tawny
