#include "pond/filling.h"

#include <gtest/gtest.h>

#include <cmath>

#include "science/fill_time.h"

namespace tawny {
namespace {

const Instant kStart = *parse_instant("2026-11-25T00:00:00Z");

StageCurve box_of_5000_m2() { return *StageCurve::from_basin(100, 50, 1.5, 0); }
StageCurve pond_94_by_44() { return *StageCurve::from_basin(94, 44, 1.2, 2); }

Inlet pump(double rate_l_s) { return {"pump", PumpInlet{rate_l_s}, {}, true}; }
Inlet sluice(bool keeps_water = true) { return {"sluice", GateInlet{1.0, 0.5, 0, 0.61}, {}, keeps_water}; }

// Two highs and lows a day, 12 h 25 min apart, the first low at the start.
TideTable tides(double low_cm, double high_cm, int days) {
  std::vector<TidePoint> points;
  for (int i = 0; i * 6.2 <= 24.0 * days; ++i) {
    points.push_back({kStart.plus_h(i * 149 / 24.0), i % 2 == 0 ? low_cm : high_cm});
  }
  return *TideTable::from_points(points);
}

FillingSetup pumped(double rate_l_s, double evaporation_mm_d = 0, double seepage_mm_d = 0) {
  FillingSetup setup;
  setup.inlets = {pump(rate_l_s)};
  setup.evaporation_mm_d = evaporation_mm_d;
  setup.seepage_mm_d = seepage_mm_d;
  return setup;
}

FillingSetup tidal(bool keeps_water = true) {
  FillingSetup setup;
  setup.inlets = {sluice(keeps_water)};
  setup.tide = tides(-20, 110, 10);
  setup.evaporation_mm_d = 5;
  setup.seepage_mm_d = 5;
  return setup;
}

double imbalance(const FillingPlan& plan) {
  const double told = plan.start_volume_m3 + plan.inflow_m3 + plan.rain_m3 - plan.lost_m3 - plan.ran_out_m3;
  return std::fabs(plan.end_volume_m3 - told) / std::fmax(1, plan.end_volume_m3);
}

// t = integral of A dh / (Q - A (e + s)), by Simpson over 2000 slices.
double closed_form_h(const StageCurve& curve, double from_cm, double to_cm, double flow_l_s, double loss_mm_d) {
  const int slices = 2000;
  const double slice_cm = (to_cm - from_cm) / slices;
  double sum = 0;
  for (int i = 0; i <= slices; ++i) {
    const double area_m2 = *curve.area_m2(i == slices ? to_cm : from_cm + i * slice_cm);
    const double weight = i == 0 || i == slices ? 1 : i % 2 == 1 ? 4 : 2;
    sum += weight * area_m2 / (flow_l_s / 1000 - area_m2 * loss_mm_d / 86400000);
  }
  return sum * slice_cm / 100 / 3 / 3600;
}

// 5000 m3 at 100 L/s in 13.889 h, with 10 mm/d over 5000 m2 in 13.970 h [computed: an independent coding].
TEST(Filling, ByPumpMatchesTheHandReckoning) {
  const FillingPlan plain = *plan_filling(box_of_5000_m2(), pumped(100), 10, 110, kStart);
  EXPECT_TRUE(plain.reached);
  EXPECT_NEAR(plain.hours, 13.889, 0.0005);
  EXPECT_NEAR(plain.hours, *fill_time_h(5000, 100, 5000, 0), 1e-9);
  const FillingPlan losing = *plan_filling(box_of_5000_m2(), pumped(100, 4, 6), 10, 110, kStart);
  EXPECT_NEAR(losing.hours, 13.970, 0.0005);
  EXPECT_NEAR(losing.hours, *fill_time_h(5000, 100, 5000, 10), 1e-9);
}

TEST(Filling, ByPumpAgreesWithTheClosedFormOverAGrowingSurface) {
  for (const double loss_mm_d : {0.0, 10.0, 60.0, 300.0}) {
    const StageCurve pond = pond_94_by_44();
    const FillingPlan plan = *plan_filling(pond, pumped(40, 0, loss_mm_d), 5, 97.41, kStart);
    EXPECT_TRUE(plan.reached);
    const double hours = closed_form_h(pond, 5, 97.41, 40, loss_mm_d);
    EXPECT_NEAR(plan.hours / hours, 1, 1e-7) << loss_mm_d;
  }
}

TEST(Filling, StartsFromADryBottom) {
  const FillingPlan plan = *plan_filling(pond_94_by_44(), pumped(50, 5, 5), 0, 25.53, kStart);
  EXPECT_TRUE(plan.reached);
  EXPECT_EQ(plan.start_volume_m3, 0);
  EXPECT_NEAR(plan.hours / closed_form_h(pond_94_by_44(), 0, 25.53, 50, 10), 1, 2e-4);
  const StageCurve pit = *StageCurve::from_survey({{-20, 0}, {0, 0}, {40, 3000}, {120, 3600}});
  const FillingPlan into_pit = *plan_filling(pit, pumped(50, 5, 5), -20, 90, kStart);
  EXPECT_TRUE(into_pit.reached);
  EXPECT_LT(imbalance(into_pit), 1e-9);
}

TEST(Filling, TellsWhatCameAndWent) {
  FillingSetup setup = pumped(60, 5, 10);
  setup.inlets.push_back({"second pump", PumpInlet{20}, {}, true});
  setup.rain_mm_d = 12;
  const FillingPlan plan = *plan_filling(box_of_5000_m2(), setup, 20, 80, kStart);
  ASSERT_EQ(plan.inlets.size(), 2u);
  EXPECT_EQ(plan.inlets[1].name, "second pump");
  EXPECT_NEAR(plan.inlets[0].in_m3, 0.060 * 3600 * plan.hours, 1e-6);
  EXPECT_NEAR(plan.inlets[1].in_m3, 0.020 * 3600 * plan.hours, 1e-6);
  EXPECT_NEAR(plan.inflow_m3, plan.inlets[0].in_m3 + plan.inlets[1].in_m3, 1e-6);
  EXPECT_NEAR(plan.rain_m3, 5000 * 0.012 * plan.hours / 24, 1e-6);
  EXPECT_NEAR(plan.lost_m3, 5000 * 0.015 * plan.hours / 24, 1e-6);
  EXPECT_EQ(plan.ran_out_m3, 0);
  EXPECT_NEAR(plan.largest_inflow_l_s, 80, 1e-9);
  EXPECT_NEAR(plan.inlets[0].largest_flow_l_s, 60, 1e-9);
  EXPECT_LT(imbalance(plan), 1e-9);
  EXPECT_EQ(plan.ended_at, kStart.plus_h(plan.hours));
  EXPECT_EQ(plan.end_level_cm, 80);
  EXPECT_NEAR(plan.end_volume_m3, 4000, 1e-6);
}

TEST(Filling, HasASeriesToPlot) {
  const FillingPlan plan = *plan_filling(box_of_5000_m2(), pumped(100), 10, 110, kStart);
  EXPECT_EQ(plan.series.front().at, kStart);
  EXPECT_EQ(plan.series.front().level_cm, 10);
  EXPECT_EQ(plan.series.back().at, plan.ended_at);
  EXPECT_EQ(plan.series.back().level_cm, 110);
  for (std::size_t i = 0; i < plan.series.size(); ++i) {
    const FillingPoint& point = plan.series[i];
    EXPECT_NEAR(point.level_cm, 10 + 100 * 0.1 * hours_between(kStart, point.at) * 3600 / 5000, 0.001);
    EXPECT_NEAR(point.inflow_l_s, 100, 1e-9);
    EXPECT_FALSE(point.outside_level_cm);
    if (i > 0) {
      EXPECT_LE(hours_between(plan.series[i - 1].at, point.at), 0.26);
    }
  }
}

TEST(Filling, PumpsOnlyInItsHours) {
  FillingSetup setup = pumped(100);
  setup.inlets[0].open = {{kStart.plus_h(2), kStart.plus_h(7)}, {kStart.plus_h(22), kStart.plus_h(72)}};
  const FillingPlan plan = *plan_filling(box_of_5000_m2(), setup, 10, 110, kStart);
  EXPECT_NEAR(plan.hours, 22 + 5000 / 360.0 - 5, 1e-6);
  EXPECT_NEAR(plan.inflow_m3, 5000, 1e-6);
}

TEST(Filling, SaysWhenTheLossesKeepTheLevelDown) {
  // 5000 m2 losing 20 mm/d lose 1.16 L/s.
  const FillingPlan plan = *plan_filling(box_of_5000_m2(), pumped(1.1, 0, 20), 50, 60, kStart);
  EXPECT_FALSE(plan.reached);
  EXPECT_NEAR(plan.hours, 720, 1e-9);
  EXPECT_EQ(plan.ended_at, kStart.plus_h(720));
  EXPECT_LT(plan.end_level_cm, 50);
  EXPECT_EQ(plan.highest_level_cm, 50);
  EXPECT_LT(imbalance(plan), 1e-9);
}

TEST(Filling, WaitsForTheFlood) {
  const FillingPlan plan = *plan_filling(pond_94_by_44(), tidal(), 5, 80, kStart);
  EXPECT_TRUE(plan.reached);
  EXPECT_LT(imbalance(plan), 1e-9);
  EXPECT_EQ(plan.ran_out_m3, 0);
  EXPECT_FALSE(plan.uncovered_from);
  for (const FillingPoint& point : plan.series) {
    ASSERT_TRUE(point.outside_level_cm);
    EXPECT_GE(point.inflow_l_s, 0);
    if (*point.outside_level_cm <= point.level_cm) {
      EXPECT_EQ(point.inflow_l_s, 0);
    }
  }
}

TEST(Filling, RunsOutOnTheEbbWhenTheGateStaysOpen) {
  FillingSetup setup = tidal(false);
  setup.tide = tides(-20, 70, 10);
  const FillingPlan open = *plan_filling(pond_94_by_44(), setup, 40, 80, kStart);
  EXPECT_FALSE(open.reached);
  EXPECT_GT(open.ran_out_m3, 100);
  EXPECT_LT(open.highest_level_cm, 71);
  EXPECT_LT(imbalance(open), 1e-9);
  setup.tide = tides(-20, 90, 10);
  setup.inlets[0].keeps_water = true;
  EXPECT_TRUE(plan_filling(pond_94_by_44(), setup, 40, 80, kStart)->reached);
}

// A wide gate on a small pond: the level has nowhere to go but with the tide.
TEST(Filling, FollowsTheTideThroughAWideGateWithoutShaking) {
  FillingSetup setup = tidal(false);
  setup.inlets[0].kind = GateInlet{10, 2, -10, 0.61};
  setup.tide = tides(30, 90, 4);
  const StageCurve small = *StageCurve::from_basin(20, 20, 1.2, 1);
  const FillingPlan plan = *plan_filling(small, setup, 30, 100, kStart);
  EXPECT_FALSE(plan.reached);
  EXPECT_LT(imbalance(plan), 1e-9);
  for (const FillingPoint& point : plan.series) {
    if (point.outside_level_cm) {
      EXPECT_NEAR(point.level_cm, *point.outside_level_cm, 0.5);
    }
  }
}

TEST(Filling, RunsDryAndNoFurther) {
  FillingSetup setup = tidal(false);
  setup.tide = TideTable::from_points({{kStart, -100}, {kStart.plus_h(800), -100}}).value();
  setup.inlets[0].kind = GateInlet{3, 1, -50, 0.61};
  setup.inlets.push_back(pump(5));
  const FillingPlan plan = *plan_filling(pond_94_by_44(), setup, 60, 80, kStart);
  EXPECT_FALSE(plan.reached);
  EXPECT_GE(plan.end_volume_m3, -1e-6);
  EXPECT_LT(plan.end_level_cm, 0.2);
  EXPECT_LT(imbalance(plan), 1e-6);
}

TEST(Filling, SaysWhereTheTideTableEnds) {
  FillingSetup setup = tidal();
  setup.tide = tides(-20, 110, 1);
  const FillingPlan plan = *plan_filling(pond_94_by_44(), setup, 5, 115, kStart);
  EXPECT_FALSE(plan.reached);
  ASSERT_TRUE(plan.uncovered_from);
  EXPECT_EQ(*plan.uncovered_from, setup.tide->until());
  const FillingPlan early = *plan_filling(pond_94_by_44(), setup, 5, 20, kStart.plus_h(-3));
  ASSERT_TRUE(early.uncovered_from);
  EXPECT_EQ(*early.uncovered_from, kStart.plus_h(-3));
  EXPECT_TRUE(early.reached);
}

TEST(Filling, DoesNotAskForATideWhileTheGateIsShut) {
  FillingSetup setup = tidal();
  setup.inlets = {pump(50), sluice()};
  setup.inlets[1].open = {{kStart, kStart.plus_h(6)}};
  const FillingPlan plan = *plan_filling(pond_94_by_44(), setup, 5, 115, kStart.plus_h(6));
  EXPECT_TRUE(plan.reached);
  EXPECT_FALSE(plan.uncovered_from);
  EXPECT_EQ(plan.inlets[1].in_m3, 0);
}

TEST(Filling, EndHardlyMovesWithHalfTheStep) {
  for (const FillingSetup& base : {tidal(), tidal(false), pumped(40, 5, 30)}) {
    FillingSetup setup = base;
    setup.longest_step_s = 300;
    const double hours = plan_filling(pond_94_by_44(), setup, 5, 90, kStart)->hours;
    setup.longest_step_s = 150;
    const double finer = plan_filling(pond_94_by_44(), setup, 5, 90, kStart)->hours;
    setup.longest_step_s = 20;
    const double finest = plan_filling(pond_94_by_44(), setup, 5, 90, kStart)->hours;
    EXPECT_NEAR(hours / finer, 1, 5e-5);
    EXPECT_NEAR(hours / finest, 1, 5e-5);
  }
}

TEST(Filling, TellsThatAWeirWorkedOutsideItsFit) {
  FillingSetup setup = tidal();
  setup.inlets[0].kind = WeirInlet{WeirKind::v_notch_90, 60, 0, 0, 0};
  EXPECT_TRUE(plan_filling(pond_94_by_44(), setup, 20, 25, kStart)->outside_fit);
  EXPECT_FALSE(plan_filling(pond_94_by_44(), tidal(), 20, 25, kStart)->outside_fit);
}

TEST(Filling, RefusesWhatCannotBe) {
  const auto refused = [](const FillingSetup& setup, double from_cm, double to_cm) {
    const Result<FillingPlan> plan = plan_filling(pond_94_by_44(), setup, from_cm, to_cm, kStart);
    return plan ? std::string("nothing") : plan.error().parameter + ": " + plan.error().message.id;
  };
  EXPECT_EQ(refused(pumped(50), 60, 60), "to_level_cm: problem.filling_not_up");
  EXPECT_EQ(refused(pumped(50), 60, 50), "to_level_cm: problem.filling_not_up");
  EXPECT_EQ(refused(pumped(50), -1, 50), "from_level_cm: problem.out_of_range");
  EXPECT_EQ(refused(pumped(50), 60, 121), "to_level_cm: problem.out_of_range");
  EXPECT_EQ(refused(pumped(50, 51), 60, 70), "evaporation_mm_d: problem.out_of_range");
  EXPECT_EQ(refused(pumped(50, 0, -1), 60, 70), "seepage_mm_d: problem.out_of_range");
  EXPECT_EQ(refused(pumped(0), 60, 70), "rate_l_s: problem.out_of_range");
  FillingSetup setup = tidal();
  setup.rain_mm_d = -1;
  EXPECT_EQ(refused(setup, 60, 70), "rain_mm_d: problem.out_of_range");
  setup = tidal();
  setup.longest_step_s = 0;
  EXPECT_EQ(refused(setup, 60, 70), "longest_step_s: problem.out_of_range");
  setup = tidal();
  setup.tide.reset();
  EXPECT_EQ(refused(setup, 60, 70), "tide: problem.inlet_needs_tide");
  setup.inlets.clear();
  EXPECT_EQ(refused(setup, 60, 70), "inlets: problem.no_inlet");
  setup.inlets.assign(21, pump(1));
  EXPECT_EQ(refused(setup, 60, 70), "inlets: problem.too_many_inlets");
  setup = tidal();
  setup.inlets[0].kind = WeirInlet{WeirKind::contracted, 100, 0.05, 0, 0};
  setup.tide = tides(-20, 200, 2);
  EXPECT_EQ(refused(setup, 60, 70), "head_up_m: problem.contractions_close");
}

TEST(FillingStart, ByPumpLeavesJustTimeEnough) {
  const StageCurve pond = box_of_5000_m2();
  const FillingStart found = *start_for(pond, pumped(100), 10, 110, kStart.plus_h(48), kStart);
  const double spare_s = (48 - 5000 / 360.0) * 3600 - 3600 * hours_between(kStart, found.start);
  EXPECT_GE(spare_s, 0);
  EXPECT_LE(spare_s, found.resolution_s);
  EXPECT_LE(found.plan.ended_at, kStart.plus_h(48));
  EXPECT_NEAR(found.plan.hours, 13.889, 0.0005);
}

TEST(FillingStart, ByTideIsTheLatestOfAllThatDo) {
  for (const bool keeps_water : {true, false}) {
    const StageCurve pond = pond_94_by_44();
    const Instant wanted = kStart.plus_h(90);
    const FillingSetup setup = tidal(keeps_water);
    const Result<FillingStart> found = start_for(pond, setup, 20, 95, wanted, kStart);
    ASSERT_TRUE(found) << keeps_water;
    EXPECT_TRUE(found->plan.reached);
    EXPECT_LE(found->plan.ended_at, wanted);
    for (Instant later = found->start.plus_s(301); later < wanted; later = later.plus_s(600)) {
      const FillingPlan plan = *plan_filling(pond, setup, 20, 95, later);
      EXPECT_FALSE(plan.reached && plan.ended_at <= wanted) << to_iso(later);
    }
  }
}

TEST(FillingStart, SaysWhyThereIsNone) {
  const auto why = [](const FillingSetup& setup, double to_cm, double wanted_h) {
    const Result<FillingStart> found =
        start_for(pond_94_by_44(), setup, 20, to_cm, kStart.plus_h(wanted_h), kStart);
    return found ? std::string("found") : found.error().message.id;
  };
  EXPECT_EQ(why(pumped(40), 110, 10), "problem.filling_too_late");
  EXPECT_EQ(why(pumped(0.1, 0, 20), 110, 100), "problem.filling_never");
  EXPECT_EQ(why(tidal(), 119, 200), "problem.filling_never");
  FillingSetup one_day = tidal();
  one_day.tide = tides(-20, 60, 1);
  EXPECT_EQ(why(one_day, 100, 200), "problem.filling_tide_ends");
  EXPECT_EQ(why(pumped(40), 110, 0), "problem.filling_no_time");
  EXPECT_EQ(why(pumped(40), 110, 721), "problem.filling_horizon");
  EXPECT_EQ(why(pumped(40), 110, 720), "found");
}

TEST(FillingStart, TooLateTellsWhenTheEarliestStartWouldDo) {
  const Result<FillingStart> found =
      start_for(box_of_5000_m2(), pumped(100), 10, 110, kStart.plus_h(10), kStart);
  ASSERT_FALSE(found);
  EXPECT_EQ(found.error().kind, ProblemKind::impossible);
  const MessageValue* at = found.error().message.find("at");
  ASSERT_NE(at, nullptr);
  EXPECT_EQ(std::get<Instant>(*at), kStart.plus_h(5000 / 360.0));
}

}  // namespace
}  // namespace tawny
