#include "pond/filling.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "science/gates.h"

namespace tawny {
namespace {

const Instant kStart = *parse_instant("2026-11-25T00:00:00Z");

double any_between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 10001) / 10000.0;
}
bool any_flag() { return *rc::gen::arbitrary<bool>(); }

StageCurve any_pond() {
  if (any_flag())
    return *StageCurve::from_basin(any_between(20, 300), any_between(20, 200), 1.5, any_between(0, 4));
  std::vector<SurveyPoint> points;
  double level_cm = 0;
  double area_m2 = any_flag() ? 0 : any_between(500, 5000);
  for (int i = 0; i < 6; ++i) {
    points.push_back({level_cm, area_m2});
    level_cm += 30;
    area_m2 += any_between(100, 2000);
  }
  return *StageCurve::from_survey(points);
}

TideTable any_tides() {
  std::vector<TidePoint> points;
  Instant at = kStart.plus_h(-any_between(0, 6));
  const int count = *rc::gen::inRange(2, 20);
  for (int i = 0; i < count; ++i) {
    points.push_back({at, i % 2 == 0 ? any_between(-80, 30) : any_between(30, 180)});
    at = at.plus_h(any_between(5, 8));
  }
  return *TideTable::from_points(points);
}

Inlet any_inlet(int number) {
  Inlet inlet;
  inlet.name = "inlet " + std::to_string(number);
  inlet.keeps_water = any_flag();
  switch (*rc::gen::inRange(0, 4)) {
    case 0:
      inlet.kind = PumpInlet{any_between(1, 200)};
      break;
    case 1:
      inlet.kind = GateInlet{any_between(0.3, 4), any_between(0.05, 2), any_between(-60, 80), 0.61};
      break;
    case 2:
      inlet.kind = PipeInlet{any_between(0.1, 1), any_between(-60, 80), 0.61};
      break;
    default:
      inlet.kind = WeirInlet{static_cast<WeirKind>(*rc::gen::inRange(0, 5)), any_between(0, 120),
                             any_between(0.5, 3), 0.5, 0.9};
  }
  if (any_flag()) {
    const Instant from = kStart.plus_h(any_between(-5, 40));
    inlet.open = {{from, from.plus_h(any_between(0.5, 30))}};
  }
  return inlet;
}

FillingSetup any_setup() {
  FillingSetup setup;
  const int count = *rc::gen::inRange(1, 5);
  for (int i = 0; i < count; ++i) setup.inlets.push_back(any_inlet(i));
  setup.tide = any_tides();
  setup.evaporation_mm_d = any_between(0, 10);
  setup.seepage_mm_d = any_flag() ? 0 : any_between(0, 100);
  setup.rain_mm_d = any_flag() ? 0 : any_between(0, 100);
  return setup;
}

struct Levels {
  double from_cm, to_cm;
};

Levels any_levels() {
  const double from_cm = any_flag() ? 0 : any_between(0, 100);
  return {from_cm, from_cm + any_between(1, 149 - from_cm)};
}

RC_GTEST_PROP(FillingProperty, WaterIsNeitherMadeNorLost, ()) {
  const StageCurve pond = any_pond();
  const Levels levels = any_levels();
  const FillingPlan plan = *plan_filling(pond, any_setup(), levels.from_cm, levels.to_cm, kStart);
  const double told = plan.start_volume_m3 + plan.inflow_m3 + plan.rain_m3 - plan.lost_m3 - plan.ran_out_m3;
  const double moved = plan.start_volume_m3 + plan.inflow_m3 + plan.rain_m3 + plan.lost_m3 + plan.ran_out_m3;
  RC_ASSERT(std::fabs(plan.end_volume_m3 - told) <= 1e-6 * moved);
  // What was booked is also what the gauge says.
  RC_ASSERT(std::fabs(*pond.volume_m3(plan.end_level_cm) - plan.end_volume_m3) <= 1e-6 * pond.full_volume_m3());
  double in_m3 = 0;
  for (const InletShare& share : plan.inlets) in_m3 += share.in_m3;
  RC_ASSERT(std::fabs(in_m3 - plan.inflow_m3) <= 1e-9 * moved);
}

RC_GTEST_PROP(FillingProperty, LevelsStayInThePondAndTimeRunsOn, ()) {
  const StageCurve pond = any_pond();
  const Levels levels = any_levels();
  const FillingPlan plan = *plan_filling(pond, any_setup(), levels.from_cm, levels.to_cm, kStart);
  for (std::size_t i = 0; i < plan.series.size(); ++i) {
    RC_ASSERT(plan.series[i].level_cm >= 0);
    RC_ASSERT(plan.series[i].level_cm <= levels.to_cm + 1e-9);
    RC_ASSERT(plan.series[i].level_cm <= plan.highest_level_cm + 1e-9);
    if (i > 0) RC_ASSERT(plan.series[i - 1].at <= plan.series[i].at);
  }
  RC_ASSERT(plan.reached || plan.hours == 720);
}

RC_GTEST_PROP(FillingProperty, MoreInflowIsNeverLater, ()) {
  const StageCurve pond = any_pond();
  const Levels levels = any_levels();
  FillingSetup setup = any_setup();
  const FillingPlan less = *plan_filling(pond, setup, levels.from_cm, levels.to_cm, kStart);
  setup.inlets.push_back({"one more", PumpInlet{any_between(1, 100)}, {}, true});
  const FillingPlan more = *plan_filling(pond, setup, levels.from_cm, levels.to_cm, kStart);
  if (less.reached) {
    RC_ASSERT(more.reached);
    RC_ASSERT(more.hours <= less.hours * 1.001);
  }
}

RC_GTEST_PROP(FillingProperty, OrderOfInletsIsIrrelevant, ()) {
  const StageCurve pond = any_pond();
  const Levels levels = any_levels();
  FillingSetup setup = any_setup();
  const FillingPlan one = *plan_filling(pond, setup, levels.from_cm, levels.to_cm, kStart);
  std::reverse(setup.inlets.begin(), setup.inlets.end());
  FillingPlan other = *plan_filling(pond, setup, levels.from_cm, levels.to_cm, kStart);
  std::reverse(other.inlets.begin(), other.inlets.end());
  RC_ASSERT(one.reached == other.reached);
  RC_ASSERT(std::fabs(one.hours - other.hours) <= 1e-4 * one.hours);
  const double moved = one.start_volume_m3 + one.inflow_m3 + one.rain_m3;
  for (std::size_t i = 0; i < one.inlets.size(); ++i) {
    RC_ASSERT(one.inlets[i].name == other.inlets[i].name);
    RC_ASSERT(std::fabs(one.inlets[i].in_m3 - other.inlets[i].in_m3) <= 1e-3 * moved);
  }
}

RC_GTEST_PROP(FillingProperty, AStartFoundIsInTime, ()) {
  const StageCurve pond = any_pond();
  const Levels levels = any_levels();
  const Instant wanted = kStart.plus_h(any_between(1, 60));
  const Result<FillingStart> found = start_for(pond, any_setup(), levels.from_cm, levels.to_cm, wanted, kStart);
  if (!found) {
    RC_ASSERT(found.error().kind == ProblemKind::impossible);
    return;
  }
  RC_ASSERT(found->start >= kStart);
  RC_ASSERT(found->plan.reached);
  RC_ASSERT(found->plan.ended_at <= wanted);
}

// However the levels move, a hair's difference of level makes no jump of the flow: not where the gate leaves
// the water, not where free turns to drowned, not where the tide turns.
RC_GTEST_PROP(FillingProperty, GateFlowHasNoJump, ()) {
  const double opening_m = any_between(0.05, 2);
  const bool pipe = any_flag();
  const auto flow = [&](double up_m, double down_m) {
    return pipe ? pipe_flow(opening_m, up_m, down_m, 0.61)->flow_m3_s
                : gate_flow(1, opening_m, up_m, down_m, 0.61)->flow_m3_s;
  };
  const double up0 = any_between(-0.5, 3);
  const double down0 = any_between(-0.5, 3);
  const double up1 = any_between(-0.5, 3);
  const double down1 = any_between(-0.5, 3);
  const int steps = 3000;
  double before = flow(up0, down0);
  double largest = 0;
  for (int i = 1; i <= steps; ++i) {
    const double along = static_cast<double>(i) / steps;
    const double here = flow(up0 + along * (up1 - up0), down0 + along * (down1 - down0));
    largest = std::max(largest, std::fabs(here - before));
    before = here;
  }
  // Steepest where the levels meet: 0.61 A sqrt(2 g dh) of a step of dh, on either side of it.
  const double step_m = (std::fabs(up1 - up0) + std::fabs(down1 - down0)) / steps;
  const double area_m2 = opening_m * (pipe ? opening_m : 1);
  RC_ASSERT(largest <= 1e-9 + 2 * 0.61 * area_m2 * std::sqrt(2 * 9.80665 * step_m));
}

RC_GTEST_PROP(FillingProperty, GateFlowGrowsWithTheUpperLevelAndFallsWithTheLower, ()) {
  const double opening_m = any_between(0.05, 2);
  const double up_m = any_between(-0.5, 3);
  const double down_m = any_between(-0.5, 3);
  const double more_m = any_between(0, 1);
  const auto gate = [&](double up, double down) { return gate_flow(1, opening_m, up, down, 0.61)->flow_m3_s; };
  const auto pipe = [&](double up, double down) { return pipe_flow(opening_m, up, down, 0.61)->flow_m3_s; };
  RC_ASSERT(gate(up_m + more_m, down_m) >= gate(up_m, down_m) - 1e-12);
  RC_ASSERT(gate(up_m, down_m + more_m) <= gate(up_m, down_m) + 1e-12);
  RC_ASSERT(pipe(up_m + more_m, down_m) >= pipe(up_m, down_m) - 1e-12);
  RC_ASSERT(pipe(up_m, down_m + more_m) <= pipe(up_m, down_m) + 1e-12);
}

}  // namespace
}  // namespace tawny
