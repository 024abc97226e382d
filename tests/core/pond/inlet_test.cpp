#include "pond/inlet.h"

#include <gtest/gtest.h>

#include <cmath>

#include "pond/tide.h"
#include "science/gates.h"
#include "science/weirs.h"

namespace tawny {
namespace {

const Instant kDay = *parse_instant("2026-11-25T00:00:00Z");

TEST(Tide, SwingsByHalfACosineBetweenItsEntries) {
  const TideTable tide = *TideTable::from_points({{kDay, 20}, {kDay.plus_h(6), 120}, {kDay.plus_h(12.5), 0}});
  EXPECT_DOUBLE_EQ(*tide.level_cm(kDay), 20);
  EXPECT_DOUBLE_EQ(*tide.level_cm(kDay.plus_h(3)), 70);
  // A third of the way in time is a quarter of the way in level.
  EXPECT_NEAR(*tide.level_cm(kDay.plus_h(2)), 45, 1e-9);
  EXPECT_DOUBLE_EQ(*tide.level_cm(kDay.plus_h(6)), 120);
  EXPECT_NEAR(*tide.level_cm(kDay.plus_h(9.25)), 60, 1e-9);
  EXPECT_DOUBLE_EQ(*tide.level_cm(kDay.plus_h(12.5)), 0);
  EXPECT_DOUBLE_EQ(*tide.level_cm(kDay, 3 * 3600), 70);
  EXPECT_EQ(tide.lowest_cm(), 0);
  EXPECT_EQ(tide.highest_cm(), 120);
}

TEST(Tide, SaysNothingOutsideItsTable) {
  const TideTable tide = *TideTable::from_points({{kDay, 20}, {kDay.plus_h(6), 120}});
  EXPECT_FALSE(tide.level_cm(kDay.plus_s(-1)));
  EXPECT_FALSE(tide.level_cm(kDay.plus_h(6).plus_s(1)));
  EXPECT_FALSE(tide.level_cm(kDay, std::nan("")));
}

TEST(Tide, OfOneLevelStandsStill) {
  const TideTable canal = *TideTable::from_points({{kDay, 95}, {kDay.plus_h(72), 95}});
  for (int hour = 0; hour <= 72; ++hour) EXPECT_EQ(*canal.level_cm(kDay.plus_h(hour)), 95);
}

TEST(Tide, RefusesATableThatCannotBeRead) {
  EXPECT_EQ(TideTable::from_points({}).error().message.id, "problem.tide_too_short");
  EXPECT_EQ(TideTable::from_points({{kDay, 20}}).error().kind, ProblemKind::missing);
  EXPECT_EQ(TideTable::from_points({{kDay, 20}, {kDay, 30}}).error().message.id, "problem.tide_not_rising");
  EXPECT_EQ(TideTable::from_points({{kDay, 20}, {kDay.plus_h(-6), 30}}).error().parameter, "tide");
  EXPECT_EQ(TideTable::from_points({{kDay, 20}, {kDay.plus_h(6), 2001}}).error().parameter, "tide_level_cm");
  EXPECT_EQ(TideTable::from_points(std::vector<TidePoint>(1001)).error().message.id, "problem.tide_too_long");
}

Inlet gate(bool keeps_water = true) { return {"sluice", GateInlet{1.2, 0.4, -20, 0.61}, {}, keeps_water}; }

TEST(Inlet, PumpsGiveTheirRateWhateverTheLevels) {
  const Inlet pump{"pump", PumpInlet{85}, {}, true};
  EXPECT_FALSE(is_tidal(pump));
  EXPECT_EQ(inlet_flow(pump, 10, std::nullopt)->flow_l_s, 85);
  EXPECT_EQ(inlet_flow(pump, 190, 500)->flow_l_s, 85);
}

TEST(Inlet, OpeningsTakeTheirHeadsFromBothGaugeReadings) {
  EXPECT_TRUE(is_tidal(gate()));
  EXPECT_DOUBLE_EQ(inlet_flow(gate(), 35, 110)->flow_l_s,
                   1000 * gate_flow(1.2, 0.4, 1.3, 0.55, 0.61)->flow_m3_s);
  const Inlet pipe{"pipe", PipeInlet{0.4, -10, 0.6}, {}, true};
  EXPECT_DOUBLE_EQ(inlet_flow(pipe, 35, 110)->flow_l_s, 1000 * pipe_flow(0.4, 1.2, 0.45, 0.6)->flow_m3_s);
  struct Row {
    WeirInlet weir;
    Result<WeirFlow> flow;
  };
  const Row rows[] = {
      {{WeirKind::v_notch_60, 80, 0, 0, 0}, v_notch_flow(60, 0.25, 0.1)},
      {{WeirKind::v_notch_90, 80, 0, 0, 0}, v_notch_flow(90, 0.25, 0.1)},
      {{WeirKind::rectangular, 80, 1.1, 0.4, 0}, rectangular_weir_flow(1.1, 0.4, 0.25, 0.1)},
      {{WeirKind::contracted, 80, 1.1, 0, 0}, contracted_weir_flow(1.1, 2, 0.25, 0.1)},
      {{WeirKind::broad_crested, 80, 1.1, 0, 0.9}, broad_crested_weir_flow(1.1, 0.9, 0.25, 0.1)},
  };
  for (const Row& row : rows) {
    const Inlet weir{"weir", row.weir, {}, true};
    EXPECT_NEAR(inlet_flow(weir, 90, 105)->flow_l_s, 1000 * row.flow->flow_m3_s, 1e-9);
  }
}

TEST(Inlet, ThatKeepsWaterNeverLetsItOut) {
  EXPECT_EQ(inlet_flow(gate(true), 100, 40)->flow_l_s, 0);
  EXPECT_LT(inlet_flow(gate(false), 100, 40)->flow_l_s, 0);
  EXPECT_DOUBLE_EQ(inlet_flow(gate(false), 100, 40)->flow_l_s, -inlet_flow(gate(true), 40, 100)->flow_l_s);
}

TEST(Inlet, PassesNothingWhereNoTideIsKnown) {
  EXPECT_EQ(inlet_flow(gate(false), 100, std::nullopt)->flow_l_s, 0);
}

TEST(Inlet, TellsAWeirThatWorksOutsideItsFit) {
  const Inlet notch{"notch", WeirInlet{WeirKind::v_notch_90, 80, 0, 0, 0}, {}, true};
  EXPECT_TRUE(inlet_flow(notch, 50, 82)->outside_fit);
  EXPECT_FALSE(inlet_flow(notch, 50, 90)->outside_fit);
}

TEST(Inlet, RefusesWhatCannotBe) {
  struct Row {
    Inlet inlet;
    const char* parameter;
  };
  const Row rows[] = {
      {{"", PumpInlet{0}, {}, true}, "rate_l_s"},
      {{"", GateInlet{0, 0.4, 0, 0.61}, {}, true}, "width_m"},
      {{"", GateInlet{1, 0.4, 2001, 0.61}, {}, true}, "sill_level_cm"},
      {{"", GateInlet{1, 0.4, 0, 0}, {}, true}, "discharge_coefficient"},
      {{"", PipeInlet{0, 0, 0.61}, {}, true}, "diameter_m"},
      {{"", PipeInlet{0.3, -1001, 0.61}, {}, true}, "invert_level_cm"},
      {{"", WeirInlet{WeirKind::rectangular, 0, 1, 0, 0}, {}, true}, "crest_height_m"},
      {{"", WeirInlet{WeirKind::broad_crested, 0, 1, 0, 0}, {}, true}, "crest_coefficient"},
      {{"", WeirInlet{WeirKind::v_notch_90, 3000, 0, 0, 0}, {}, true}, "crest_level_cm"},
      {{"", PumpInlet{10}, {{kDay.plus_h(1), kDay.plus_h(1)}}, true}, "open_span"},
  };
  for (const Row& row : rows) {
    const auto problem = unfit(row.inlet);
    ASSERT_TRUE(problem) << row.parameter;
    EXPECT_EQ(problem->parameter, row.parameter);
  }
  EXPECT_FALSE(unfit(gate()));
  EXPECT_EQ(inlet_flow(gate(), 2001, 0).error().parameter, "pond_level_cm");
  EXPECT_EQ(inlet_flow(gate(), 0, -1001).error().parameter, "outside_level_cm");
}

}  // namespace
}  // namespace tawny
