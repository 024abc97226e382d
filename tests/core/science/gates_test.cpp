#include "science/gates.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tawny {
namespace {

// [computed by hand from Q = Cd A sqrt(2 g dh), Cd 0.61; the formula is from memory]
TEST(Gate, PassesWhatTheOrificeRuleSays) {
  struct Row {
    double width_m, opening_m, up_m, down_m, flow_m3_s;
    FlowRegime regime;
    bool drowned;
  };
  const Row rows[] = {
      // 0.61 x 1 x 0.3 x sqrt(2 x 9.80665 x 0.85)
      {1, 0.3, 1.0, 0, 0.747197, FlowRegime::free, false},
      {1, 0.3, 1.0, 0.15, 0.747197, FlowRegime::free, false},
      // 0.61 x 1 x 0.3 x sqrt(2 x 9.80665 x 0.4)
      {1, 0.3, 1.0, 0.6, 0.512573, FlowRegime::drowned, true},
      // 0.61 x 1.2 x 0.5 x sqrt(2 x 9.80665 x 0.1)
      {1.2, 0.5, 0.9, 0.8, 0.512573, FlowRegime::drowned, true},
      // Clear of the water: 1.7046 x 0.8627 x 1 x 0.3^1.5, a broad crest.
      {1, 0.5, 0.3, 0, 0.241630, FlowRegime::weir, false},
      {1, 0.5, 0.3, -2, 0.241630, FlowRegime::weir, false},
      {1, 0.5, 0, -0.1, 0, FlowRegime::dry, false},
      {1, 0.5, -1, -2, 0, FlowRegime::dry, false},
      {1, 0.3, 0.7, 0.7, 0, FlowRegime::drowned, true},
  };
  for (const Row& row : rows) {
    const OpeningFlow flow = *gate_flow(row.width_m, row.opening_m, row.up_m, row.down_m, 0.61);
    EXPECT_NEAR(flow.flow_m3_s, row.flow_m3_s, 2e-6) << row.up_m << " over " << row.down_m;
    EXPECT_EQ(name_of(flow.regime), name_of(row.regime)) << row.up_m << " over " << row.down_m;
    EXPECT_EQ(flow.drowned, row.drowned) << row.up_m << " over " << row.down_m;
  }
}

TEST(Gate, LiftedClearIsABroadCrestOfItsOwnCoefficient) {
  const double crest = std::sqrt(2.0) * 0.61;
  EXPECT_GT(crest, 0.85);  // of the handbooks' 0.85 to 1 [from memory]
  EXPECT_LT(crest, 1);
  EXPECT_NEAR(gate_flow(2, 3, 0.6, 0, 0.61)->flow_m3_s, 1.7046 * crest * 2 * std::pow(0.6, 1.5), 1e-4);
}

TEST(Gate, DrownedSillLiesNearVillemonte) {
  for (const double ratio : {0.35, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95}) {
    const double share =
        gate_flow(1, 5, 0.4, 0.4 * ratio, 0.61)->flow_m3_s / gate_flow(1, 5, 0.4, 0, 0.61)->flow_m3_s;
    const double villemonte = std::pow(1 - std::pow(ratio, 1.5), 0.385);
    EXPECT_NEAR(share / villemonte, 1, 0.10) << ratio;
  }
}

TEST(Gate, LowerCoefficientLetsLessThrough) {
  EXPECT_NEAR(gate_flow(1, 0.3, 1, 0, 0.5)->flow_m3_s / gate_flow(1, 0.3, 1, 0, 0.61)->flow_m3_s, 0.5 / 0.61,
              1e-12);
}

TEST(Gate, TurnsRoundWhenTheOtherSideStandsHigher) {
  const OpeningFlow in = *gate_flow(1, 0.3, 1.0, 0.6, 0.61);
  const OpeningFlow out = *gate_flow(1, 0.3, 0.6, 1.0, 0.61);
  EXPECT_EQ(out.flow_m3_s, -in.flow_m3_s);
  EXPECT_EQ(out.regime, in.regime);
}

// [computed by hand from Q = Cd A sqrt(2 g dh)]
TEST(Pipe, PassesWhatTheOrificeRuleSays) {
  const double full_m2 = 3.14159265358979 * 0.3 * 0.3 / 4;
  const OpeningFlow free = *pipe_flow(0.3, 1, 0, 0.61);
  EXPECT_NEAR(free.flow_m3_s, 0.61 * full_m2 * std::sqrt(2 * 9.80665 * 0.85), 1e-12);
  EXPECT_EQ(free.regime, FlowRegime::free);
  const OpeningFlow drowned = *pipe_flow(0.3, 1, 0.7, 0.61);
  EXPECT_NEAR(drowned.flow_m3_s, 0.61 * full_m2 * std::sqrt(2 * 9.80665 * 0.3), 1e-12);
  EXPECT_EQ(drowned.regime, FlowRegime::drowned);
  // Half full: 3/4 of the head is the pipe's half.
  const OpeningFlow half = *pipe_flow(0.3, 0.2, 0, 0.61);
  EXPECT_NEAR(half.flow_m3_s, 0.61 * full_m2 / 2 * std::sqrt(2 * 9.80665 * 0.125), 1e-12);
  EXPECT_EQ(half.regime, FlowRegime::weir);
  EXPECT_EQ(pipe_flow(0.3, 0, -1, 0.61)->regime, FlowRegime::dry);
  EXPECT_EQ(pipe_flow(0.3, 0.7, 1, 0.61)->flow_m3_s, -drowned.flow_m3_s);
}

// [formula: Chow, Open-Channel Hydraulics, 1959, chapter 4, from memory; that a crest passes 0.85 to 1 of it: handbooks,
// from memory]
TEST(Pipe, PassesNearlyTheCriticalFlowWhileItIsNotFull) {
  constexpr double kDiameter_m = 0.6;
  for (const double share : {0.03, 0.1, 0.3, 0.5, 0.8, 1.0, 1.2, 1.3}) {
    const double head_m = share * kDiameter_m;
    double low_rad = 0, high_rad = 2 * 3.14159265358979;
    double critical_m3_s = 0;
    for (int i = 0; i < 100; ++i) {
      const double angle_rad = (low_rad + high_rad) / 2;  // that the water takes of the round
      const double depth_m = kDiameter_m / 2 * (1 - std::cos(angle_rad / 2));
      const double area_m2 = kDiameter_m * kDiameter_m / 8 * (angle_rad - std::sin(angle_rad));
      const double top_m = kDiameter_m * std::sin(angle_rad / 2);
      critical_m3_s = std::sqrt(9.80665 * area_m2 * area_m2 * area_m2 / top_m);
      (depth_m + area_m2 / (2 * top_m) < head_m ? low_rad : high_rad) = angle_rad;
    }
    const double passed = pipe_flow(kDiameter_m, head_m, 0, 0.61)->flow_m3_s / critical_m3_s;
    EXPECT_GT(passed, 0.85) << head_m;
    EXPECT_LT(passed, 1) << head_m;
  }
}

TEST(Pipe, NeverPassesMoreWhenTheLowerSideRises) {
  for (const double up_m : {0.05, 0.2, 0.3, 0.38, 0.41, 0.6}) {
    double before = pipe_flow(0.3, up_m, 0, 0.61)->flow_m3_s;
    for (int i = 1; i <= 1000; ++i) {
      const double here = pipe_flow(0.3, up_m, up_m * i / 1000, 0.61)->flow_m3_s;
      EXPECT_LE(here, before + 1e-12) << up_m << " " << i;
      before = here;
    }
  }
}

TEST(Gate, RefusesWhatCannotBe) {
  EXPECT_EQ(gate_flow(0, 0.3, 1, 0, 0.61).error().parameter, "width_m");
  EXPECT_EQ(gate_flow(1, 0, 1, 0, 0.61).error().parameter, "opening_m");
  EXPECT_EQ(gate_flow(1, 0.3, 31, 0, 0.61).error().parameter, "head_up_m");
  EXPECT_EQ(gate_flow(1, 0.3, 1, std::nan(""), 0.61).error().parameter, "head_down_m");
  EXPECT_EQ(gate_flow(1, 0.3, 1, 0, 1.1).error().parameter, "discharge_coefficient");
  EXPECT_EQ(pipe_flow(6, 1, 0, 0.61).error().parameter, "diameter_m");
  EXPECT_EQ(pipe_flow(0.3, -31, 0, 0.61).error().parameter, "head_up_m");
  EXPECT_EQ(pipe_flow(0.3, 1, 31, 0.61).error().parameter, "head_down_m");
  EXPECT_EQ(pipe_flow(0.3, 1, 0, 0.2).error().parameter, "discharge_coefficient");
}

}  // namespace
}  // namespace tawny
