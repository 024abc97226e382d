#include <gtest/gtest.h>

#include "core/protocol/story.h"
#include "protocol/dose_advice.h"

namespace tawny {
namespace {

using test::at;
using test::Story;
using test::whole_cycle;

// A pond that holds the band: gate 7 opened on day 6, the last dose was on day 4. Day 8: bright, with a swing.
Story holding(double secchi_day_7, double secchi_day_8) {
  Story story = whole_cycle();
  story.told.erase(
      std::remove_if(story.told.begin(), story.told.end(), [](const test::Told& one) { return one.day > 6; }),
      story.told.end());
  story.secchi(7, secchi_day_7).secchi(8, secchi_day_8);
  story.pair(8, 5.0, 7.8, 8.0, 8.1).sky(8, "bright").colour(8, "golden");
  return story;
}

DoseAdvice advice(Story& story, int day = 8, const char* hh_mm = "20:00") {
  return story.assess_at(day, hh_mm).dose;
}

struct Step {
  double secchi_cm, rate_kg_ha;
};

TEST(DoseAdvice, RateFollowsTheStepsOfSecchi) {
  // protocol: 10 kg/ha up to 60 cm, 15 up to 70, 20 above
  for (const Step& step :
       {Step{56, 10}, Step{60, 10}, Step{60.5, 15}, Step{70, 15}, Step{71, 20}, Step{120, 20}}) {
    Story story = holding(57, step.secchi_cm);
    const DoseAdvice dose = advice(story);
    EXPECT_TRUE(dose.advised) << step.secchi_cm << " " << (dose.why.empty() ? "" : dose.why[0].id);
    EXPECT_TRUE(dose.allowed);
    EXPECT_EQ(dose.rate_kg_ha, step.rate_kg_ha) << step.secchi_cm;
    EXPECT_EQ(dose.least_kg_ha, 10);
    EXPECT_EQ(dose.most_kg_ha, 20);
  }
}

TEST(DoseAdvice, NextWindowIsTomorrowsEarlyMorning) {
  Story story = holding(57, 58);
  const auto windows = windows_of(test::day_zero().plus(9), test::place(), test::protocol());
  EXPECT_EQ(advice(story).window_from, windows->dose.from);
  EXPECT_EQ(advice(story).window_until, windows->dose.until);
}

struct Against {
  const char* name;
  const char* reason;
  bool allowed;  // without the manager's word
  std::function<Story()> story;
};

void PrintTo(const Against& one, std::ostream* out) { *out << one.name; }

class NoDose : public ::testing::TestWithParam<Against> {};

TEST_P(NoDose, IsAdvisedAndTheReasonIsSaid) {
  Story story = GetParam().story();
  const DoseAdvice dose = advice(story);
  EXPECT_FALSE(dose.advised);
  EXPECT_EQ(dose.allowed, GetParam().allowed);
  EXPECT_TRUE(test::says(dose.why, GetParam().reason)) << (dose.why.empty() ? "" : dose.why[0].id);
}

INSTANTIATE_TEST_SUITE_P(
    Table, NoDose,
    ::testing::Values(Against{"in the band at 55", "dose.in_band", false, [] { return holding(57, 55); }},
                      Against{"in the band at 45", "dose.in_band", false, [] { return holding(57, 45); }},
                      Against{"44 is watched", "dose.watch", false, [] { return holding(57, 44); }},
                      Against{"40 is watched", "dose.watch", false, [] { return holding(57, 40); }},
                      Against{"39 is too dense", "dose.too_dense", false, [] { return holding(57, 39); }},
                      Against{"over on one day only", "dose.over_one_day", true,
                              [] { return holding(54, 58); }},
                      Against{"seen on the bottom at 50", "dose.bottom_seen", true,
                              [] {
                                Story story = holding(57, 58);
                                story.forget(8, kind::kSecchiReading).on_bottom(8, 50);
                                return story;
                              }},
                      Against{"pairs that differ", "dose.secchi_asks", true,
                              [] {
                                Story story = holding(57, 58);
                                story.secchi(8, 70, "12:05");
                                return story;
                              }},
                      Against{"two days after a dose", "dose.too_soon", false,
                              [] {
                                Story story = holding(57, 58);
                                story.dose(7, 10);
                                return story;
                              }},
                      Against{"colour moved to light green", "dose.colour_drifting", false,
                              [] {
                                Story story = holding(57, 58);
                                story.forget(8, kind::kWaterColour).colour(8, "light_green");
                                return story;
                              }},
                      Against{"swing flat", "dose.swing_flat", false,
                              [] {
                                Story story = holding(57, 58);
                                story.forget(8, kind::kWaterReading).pair(8, 5.0, 7.8, 6.0, 7.9);
                                return story;
                              }},
                      Against{"swing not read", "dose.swing_none", true,
                              [] {
                                Story story = holding(57, 58);
                                story.forget(8, kind::kWaterReading).forget(7, kind::kWaterReading);
                                return story;
                              }},
                      Against{"mixed sky", "dose.sky_not_bright", true,
                              [] {
                                Story story = holding(57, 58);
                                story.forget(8, kind::kSky).sky(8, "mixed");
                                return story;
                              }},
                      Against{"sky unknown", "dose.sky_unknown", true,
                              [] {
                                Story story = holding(57, 58);
                                story.forget(8, kind::kSky);
                                return story;
                              }},
                      Against{"a trouble that forbids it", "dose.trouble", false, [] {
                                Story story = holding(57, 58);
                                story.colour(8, "red_brown", "12:20");
                                return story;
                              }}));

TEST(DoseAdvice, TooDenseWarns) {
  Story story = holding(57, 39);
  EXPECT_TRUE(test::says(advice(story).warnings, "dose.warn_too_dense"));
}

TEST(DoseAdvice, SeenOnTheBottomAtMoreThanTheBandAsksForTheLeastThatFits) {
  Story story = holding(57, 58);
  story.forget(8, kind::kSecchiReading).on_bottom(8, 58);
  const DoseAdvice dose = advice(story);
  EXPECT_TRUE(dose.advised);
  EXPECT_EQ(dose.rate_kg_ha, 10);
}

TEST(DoseAdvice, ExactlyThreeDaysAfterTheLastDoseIsLongEnough) {
  Story story = holding(57, 58);
  story.dose(6, 10);
  EXPECT_TRUE(advice(story).advised);  // for the morning of day 9
  EXPECT_FALSE(advice(story, 8, "07:00").advised);
}

TEST(DoseAdvice, FirstDoseIsTwentyFiveAndWarnsOfAnUnknownSky) {
  Story story = whole_cycle();
  const DoseAdvice dose = story.assess_at(3, "20:00").dose;
  EXPECT_TRUE(dose.advised);
  EXPECT_EQ(dose.rate_kg_ha, 25);
  EXPECT_NEAR(*dose.least_kg_ha, 22.5, 1e-9);
  EXPECT_NEAR(*dose.most_kg_ha, 27.5, 1e-9);
  EXPECT_TRUE(test::says(dose.warnings, "dose.first_sky_unknown"));
}

TEST(DoseAdvice, FirstDoseWaitsForABrightDay) {
  Story story = whole_cycle();
  story.sky(3, "dull", "18:00");
  EXPECT_FALSE(story.assess_at(3, "20:00").dose.advised);
}

TEST(DoseAdvice, NoDoseInStagesWithoutOne) {
  Story story = whole_cycle();
  const DoseAdvice dose = story.assess_at(1, "12:00").dose;
  EXPECT_FALSE(dose.advised);
  EXPECT_FALSE(dose.allowed);
  EXPECT_TRUE(test::says(dose.why, "dose.not_in_stage"));
}

Story slow_bloom() {
  Story story = whole_cycle();
  story.told.erase(
      std::remove_if(story.told.begin(), story.told.end(), [](const test::Told& one) { return one.day > 4; }),
      story.told.end());
  story.secchi(6, 58).colour(6, "golden").pair(6, 5.0, 7.8, 7.0, 8.1).sky(6, "bright");
  return story;
}

TEST(DoseAdvice, ABloomStillOverTheBandAfterThreeDaysGetsOneDoseByTheSameTable) {
  Story story = slow_bloom();
  // Day 6 is two days after the dose: the bloom has one more to come.
  DoseAdvice dose = story.assess_at(6, "20:00").dose;
  EXPECT_FALSE(dose.advised);
  EXPECT_TRUE(test::says(dose.why, "dose.bloom_wait"));
  story.secchi(7, 58).sky(7, "bright");
  dose = story.assess_at(7, "20:00").dose;
  EXPECT_TRUE(dose.advised);
  EXPECT_EQ(dose.rate_kg_ha, 10);
  story.dose(8, 10).secchi(11, 58).pair(11, 5.0, 7.8, 7.0, 8.1).sky(11, "bright");
  dose = story.assess_at(11, "20:00").dose;
  EXPECT_FALSE(dose.advised);
  EXPECT_TRUE(test::says(dose.why, "dose.bloom_once"));
}

TEST(DoubleDose, IsAskedAboutAndBothCountUntilItIsSettled) {
  Story story = whole_cycle();
  story.tell(4, "07:10", kind::kDose,
             {{"product", std::string("sodium_nitrate")},
              {"product_kg", 24.0},
              {"started", to_iso(at(4, "06:15"))},
              {"ended", to_iso(at(4, "07:05"))},
              {"coverage", std::string("whole")},
              {"dissolved", true},
              {"area_ha", 1.0}});
  PondState state = story.assess_at(4, "12:00");
  ASSERT_EQ(state.questions.size(), 1U);
  EXPECT_EQ(state.questions[0].id, "double_dose");
  ASSERT_EQ(state.questions[0].evidence.size(), 2U);
  const std::string later = to_reference(state.questions[0].evidence[1]);
  for (const char* keep : {"both", "first", "second"}) {
    Story settled = story;
    settled.tell(4, "13:00", kind::kQuestionSettled,
                 {{"question", later}, {"keep", std::string(keep)}, {"reason", std::string("asked")}});
    EXPECT_TRUE(settled.assess_at(4, "14:00").questions.empty()) << keep;
    EXPECT_EQ(settled.assess_at(4, "12:30").questions.size(), 1U) << keep;
  }
}

TEST(DoubleDose, OtherProductsOrOtherDaysAreNoQuestion) {
  Story story = holding(57, 58);
  story.dose(9, 10);
  EXPECT_TRUE(story.assess_at(9, "12:00").questions.empty());
}

TEST(DoubleDose, BothCountUntilOneIsSettledAway) {
  Story story = holding(57, 58);
  story.dose(6, 10, "06:10").dose(6, 12, "06:20");
  const PondState before = story.assess_at(8, "20:00");
  ASSERT_EQ(before.questions.size(), 1U);
  const std::string later = to_reference(before.questions[0].evidence[1]);
  for (const auto& [keep, kept_kg] : {std::pair("first", 10.0), std::pair("second", 12.0)}) {
    Story settled = story;
    settled.tell(8, "21:00", kind::kQuestionSettled, {{"question", later}, {"keep", std::string(keep)}});
    const PondHistory history = settled.history();
    EXPECT_EQ(doses_at(history, at(8, "20:59")).size(), 3U);
    const auto doses = doses_at(history, at(8, "21:00"));
    ASSERT_EQ(doses.size(), 2U);
    EXPECT_EQ(doses[1]->product_kg, kept_kg);
  }
}

}  // namespace
}  // namespace tawny
