#include "pond/curve.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace tawny {
namespace {

constexpr double kFoot_m = 0.3048;

// The bottom of a 100 x 50 m pond, 1.5 m deep with banks of 2 to 1.
StageCurve pond_94_by_44(double depth_m) { return *StageCurve::from_basin(94, 44, depth_m, 2); }

// USDA NRCS Agriculture Handbook 590: bottom 40 x 100 ft, 12 ft deep, 2:1 gives 3612 cubic yards [from memory].
TEST(Basin, MatchesTheHandbooksWorkedCase) {
  const Result<StageCurve> curve = StageCurve::from_basin(100 * kFoot_m, 40 * kFoot_m, 12 * kFoot_m, 2);
  ASSERT_TRUE(curve);
  const double cubic_yard_m3 = std::pow(3 * kFoot_m, 3);
  EXPECT_NEAR(curve->full_volume_m3() / cubic_yard_m3, 3612.44, 0.01);
}

// 385 x 335 ft at the top, 18 ft, 4:1: bottom 241 ft long [published: a worked answer]; volume [computed].
TEST(Basin, FromTheTopMatchesTheWorkedCase) {
  const Result<StageCurve> curve = StageCurve::from_top(385 * kFoot_m, 335 * kFoot_m, 18 * kFoot_m, 4);
  ASSERT_TRUE(curve);
  EXPECT_NEAR(*curve->area_m2(0), 241 * 191 * kFoot_m * kFoot_m, 1e-6);
  EXPECT_NEAR(curve->full_volume_m3() / std::pow(kFoot_m, 3), 1512846, 0.5);
}

// 100 x 50 m at the top, 1.5 m, 2:1 [computed]: the prismoid, not the mean of the end areas (6852.0) nor a
// pyramid (6841.76).
TEST(Basin, IsThePrismoidExactly) {
  const StageCurve curve = pond_94_by_44(1.5);
  EXPECT_NEAR(*curve.area_m2(150), 5000, 1e-9);
  EXPECT_NEAR(*curve.area_m2(75), 4559, 1e-9);
  EXPECT_NEAR(*curve.area_m2(0), 4136, 1e-9);
  EXPECT_NEAR(curve.full_volume_m3(), 6843.0, 1e-9);
  EXPECT_NEAR(*curve.volume_m3(150), 6843.0, 1e-9);
}

// Bottom 94 x 44 m, 1.2 m, 2:1 [computed by halving, an independent coding].
TEST(Basin, GaugeForAShareOfTheVolumeIsNotAShareOfTheDepth) {
  const StageCurve curve = pond_94_by_44(1.2);
  EXPECT_NEAR(curve.full_volume_m3(), 5369.9, 0.05);
  struct Row {
    double share, level_cm;
  };
  for (const Row& row : {Row{0.20, 25.53}, Row{0.25, 31.78}, Row{0.30, 37.98}, Row{0.50, 62.30},
                         Row{0.65, 80.05}, Row{0.80, 97.41}}) {
    EXPECT_NEAR(*curve.level_cm_for_share(row.share), row.level_cm, 0.0051) << row.share;
  }
}

TEST(Basin, WithUprightWallsIsABox) {
  const StageCurve curve = *StageCurve::from_basin(50, 20, 1, 0);
  EXPECT_DOUBLE_EQ(*curve.volume_m3(40), 400);
  EXPECT_DOUBLE_EQ(*curve.area_m2(0), 1000);
  EXPECT_DOUBLE_EQ(*curve.mean_depth_m(40), 0.4);
  EXPECT_NEAR(*curve.level_cm_for_share(0.3), 30, 1e-9);
}

TEST(Basin, GaugeZeroIsTheBottom) {
  const StageCurve curve = pond_94_by_44(1.2);
  EXPECT_EQ(curve.lowest_level_cm(), 0);
  EXPECT_EQ(curve.full_level_cm(), 120);
  EXPECT_EQ(*curve.volume_m3(0), 0);
  EXPECT_EQ(*curve.mean_depth_m(0), 0);
}

TEST(Basin, RefusesShapesThatCannotBe) {
  EXPECT_EQ(StageCurve::from_basin(0, 44, 1, 2).error().parameter, "bottom_length_m");
  EXPECT_EQ(StageCurve::from_basin(94, -44, 1, 2).error().parameter, "bottom_width_m");
  EXPECT_EQ(StageCurve::from_basin(94, 44, 0, 2).error().parameter, "depth_m");
  EXPECT_EQ(StageCurve::from_basin(94, 44, 120, 2).error().parameter, "depth_m");  // cm for m
  EXPECT_EQ(StageCurve::from_basin(94, 44, 1, -1).error().parameter, "bank_slope");
  EXPECT_EQ(StageCurve::from_basin(94, 44, std::numeric_limits<double>::quiet_NaN(), 2).error().parameter,
            "depth_m");
}

TEST(Basin, RefusesBanksThatMeetAboveTheBottom) {
  const Result<StageCurve> curve = StageCurve::from_top(100, 6, 1.5, 2);
  ASSERT_FALSE(curve);
  EXPECT_EQ(curve.error().kind, ProblemKind::conflict);
  EXPECT_EQ(curve.error().message.id, "problem.banks_meet");
}

// A survey, its zero not at the bottom. By hand: slices 1/2 (1000+3000) 0.2 = 400, 1/2 (3000+4000) 0.3 = 1050,
// 1/2 (4000+4000) 0.5 = 2000 m3.
std::vector<SurveyPoint> hand_survey() { return {{-20, 1000}, {0, 3000}, {30, 4000}, {80, 4000}}; }

TEST(Survey, VolumeIsTheExactIntegralFromTheLowestPoint) {
  const StageCurve curve = *StageCurve::from_survey(hand_survey());
  struct Row {
    double level_cm, area_m2, volume_m3;
  };
  for (const Row& row : {Row{-20, 1000, 0}, Row{-10, 2000, 150}, Row{0, 3000, 400}, Row{15, 3500, 887.5},
                         Row{30, 4000, 1450}, Row{55, 4000, 2450}, Row{80, 4000, 3450}}) {
    EXPECT_NEAR(*curve.area_m2(row.level_cm), row.area_m2, 1e-9) << row.level_cm;
    EXPECT_NEAR(*curve.volume_m3(row.level_cm), row.volume_m3, 1e-9) << row.level_cm;
  }
  EXPECT_EQ(curve.lowest_level_cm(), -20);
  EXPECT_EQ(curve.full_level_cm(), 80);
  EXPECT_NEAR(curve.full_volume_m3(), 3450, 1e-9);
  EXPECT_NEAR(*curve.mean_depth_m(80), 3450.0 / 4000, 1e-12);
}

TEST(Survey, SharesReachFromTheLowestPointToTheHighest) {
  const StageCurve curve = *StageCurve::from_survey(hand_survey());
  EXPECT_NEAR(*curve.level_cm_for_share(0), -20, 1e-9);
  EXPECT_NEAR(*curve.level_cm_for_share(400.0 / 3450), 0, 1e-9);
  EXPECT_NEAR(*curve.level_cm_for_share(887.5 / 3450), 15, 1e-9);
  EXPECT_NEAR(*curve.level_cm_for_share(2450.0 / 3450), 55, 1e-9);
  EXPECT_NEAR(*curve.level_cm_for_share(1), 80, 1e-9);
  EXPECT_TRUE(curve.volume_m3(*curve.level_cm_for_share(1)));
  EXPECT_FALSE(curve.level_cm_for_share(-0.01));
  EXPECT_FALSE(curve.level_cm_for_share(1.01));
  EXPECT_FALSE(curve.level_cm_for_share(30));  // percent for share
}

TEST(Survey, OutsideItNothingIsSaid) {
  const StageCurve curve = *StageCurve::from_survey(hand_survey());
  for (const double level_cm : {-20.1, 80.1, 1e9, std::numeric_limits<double>::quiet_NaN()}) {
    const Result<double> volume = curve.volume_m3(level_cm);
    ASSERT_FALSE(volume) << level_cm;
    EXPECT_EQ(volume.error().parameter, "level_cm");
    EXPECT_FALSE(curve.area_m2(level_cm));
    EXPECT_FALSE(curve.mean_depth_m(level_cm));
  }
}

TEST(Survey, MayStartAtADryPoint) {
  const StageCurve curve = *StageCurve::from_survey({{0, 0}, {50, 0}, {100, 2000}});
  EXPECT_EQ(*curve.volume_m3(50), 0);
  EXPECT_NEAR(curve.full_volume_m3(), 500, 1e-9);
  const Result<double> depth = curve.mean_depth_m(20);
  ASSERT_FALSE(depth);
  EXPECT_EQ(depth.error().kind, ProblemKind::impossible);
  EXPECT_EQ(depth.error().message.id, "problem.pond_is_dry");
}

TEST(Survey, RefusesWhatIsNotIncreasing) {
  struct Row {
    std::vector<SurveyPoint> points;
    const char* id;
  };
  const Row rows[] = {
      {{}, "problem.survey_too_short"},
      {{{0, 1000}}, "problem.survey_too_short"},
      {{{0, 1000}, {0, 1200}}, "problem.survey_level_not_rising"},
      {{{0, 1000}, {50, 1200}, {40, 1300}}, "problem.survey_level_not_rising"},
      {{{0, 1000}, {50, 999}}, "problem.survey_area_shrinks"},
      {{{0, 0}, {50, 0}}, "problem.survey_holds_nothing"},
      {{{0, -1}, {50, 1200}}, "problem.out_of_range"},
      {{{0, 1000}, {5000, 1200}}, "problem.out_of_range"},
      {{{0, 1000}, {50, std::numeric_limits<double>::infinity()}}, "problem.out_of_range"},
  };
  for (const Row& row : rows) {
    const Result<StageCurve> curve = StageCurve::from_survey(row.points);
    ASSERT_FALSE(curve) << row.id;
    EXPECT_EQ(curve.error().message.id, row.id);
  }
}

TEST(Survey, OfABasinsLevelsComesNearTheBasin) {
  const StageCurve basin = pond_94_by_44(1.2);
  std::vector<SurveyPoint> points;
  for (int level_cm = 0; level_cm <= 120; level_cm += 10) {
    points.push_back({static_cast<double>(level_cm), *basin.area_m2(level_cm)});
  }
  const StageCurve survey = *StageCurve::from_survey(points);
  EXPECT_NEAR(survey.full_volume_m3(), basin.full_volume_m3(), 0.05);
}

}  // namespace
}  // namespace tawny
