#include "office/stage_days.h"

#include <gmock/gmock.h>

#include <cmath>

#include "core/office/plan_parts.h"

namespace tawny {
namespace {

using namespace plan_test;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

const StageDays& of(const std::vector<StageDays>& all, Stage stage) {
  for (const StageDays& one : all) {
    if (one.stage == stage) return one;
  }
  static const StageDays kNone;
  return kNone;
}

TEST(StageDays, WithoutCyclesTheProtocolTells) {
  const auto all = stage_days(idle("p1"), farm_test::protocol(), {}, clock("00:00"));
  ASSERT_THAT(all, SizeIs(9));
  EXPECT_EQ(of(all, Stage::bottom).least_d, 7) << "seven days of drying";
  EXPECT_EQ(of(all, Stage::bottom).median_d, 10);
  EXPECT_EQ(of(all, Stage::bottom).late_d, 16);
  EXPECT_EQ(of(all, Stage::rest).least_d, 2) << "48 hours and two paired days";
  EXPECT_EQ(of(all, Stage::bloom).least_d, 1);
  EXPECT_EQ(of(all, Stage::hold_band).least_d, 3);
  EXPECT_EQ(of(all, Stage::first_fill).own, 0);
  EXPECT_FALSE(of(all, Stage::first_fill).by_inlets);
}

// The basin of parts.h holds 12 828 m3 (prismoid); a quarter is 3207 m3, at 100 L/s 8.91 h or 0.371 days.
// Losses of 10 mm a day over less than a hectare take 1 % more, the aim's whole centimetre less than 2 % more
// or less.
TEST(StageDays, AFillTakesWhatItsInletsGive) {
  FarmPond pond = idle("p1");
  Inlet pump;
  pump.name = "east";
  pump.kind = PumpInlet{100};
  pond.inlets.push_back(pump);
  const auto all = stage_days(pond, farm_test::protocol(), {}, clock("00:00"));
  const StageDays& first = of(all, Stage::first_fill);
  EXPECT_TRUE(first.by_inlets);
  EXPECT_NEAR(first.least_d, 0.371, 0.011);
  EXPECT_EQ(first.median_d, 0.75) << "and half a day beside, to a quarter day";
  EXPECT_TRUE(of(all, Stage::third_fill).by_inlets);
  EXPECT_FALSE(of(all, Stage::rest).by_inlets);
}

TEST(StageDays, AGateWithoutATideTellsNothing) {
  FarmPond pond = idle("p1");
  Inlet gate;
  gate.name = "east";
  gate.kind = GateInlet{1, 0.3, 10, 0.61};
  pond.inlets.push_back(gate);
  EXPECT_FALSE(of(stage_days(pond, farm_test::protocol(), {}, clock("00:00")), Stage::first_fill).by_inlets);
}

GateOpened gate(Stage stage, Instant at) {
  GateOpened one;
  one.stage = stage;
  one.at = at;
  return one;
}

std::vector<GateOpened> gates(std::initializer_list<int> days) {
  std::vector<GateOpened> all;
  int stage = 1;
  int day = 0;
  for (const int length : days) {
    day += length;
    all.push_back(gate(static_cast<Stage>(stage++), clock("08:00", day)));
  }
  return all;
}

TEST(StageDays, OnlyCyclesThatCameToTheirReleaseCount) {
  OwnDays own;
  add_cycle(own, clock("08:00"), gates({9, 1, 3, 2, 1, 2, 1, 6}));
  for (const auto& days : own.days) EXPECT_THAT(days, IsEmpty());
  add_cycle(own, clock("08:00"), gates({9, 1, 3, 2, 1, 2, 1, 6, 2}));
  EXPECT_THAT(own.of(Stage::bottom), ElementsAre(9));
  EXPECT_THAT(own.of(Stage::hold_band), ElementsAre(6));
  EXPECT_THAT(own.of(Stage::release), ElementsAre(2));
}

TEST(StageDays, AGateThatOpenedAtOnceCountsAsAQuarterDay) {
  OwnDays own;
  add_cycle(own, clock("08:00"), gates({9, 1, 3, 2, 0, 2, 1, 6, 2}));
  EXPECT_THAT(own.of(Stage::first_dose), ElementsAre(0.25));
}

// Hold the band: prior median 8, late 14 (sigma 0.43665), weight k = 4. Four cycles of 6 days each:
//   m = exp((4 ln 8 + 4 ln 6) / 8) = sqrt(48) = 6.928, on the grid 7
//   s^2 = (4 x 0.19066 + 0 + 4 x 4 / 8 x (ln 0.75)^2) / 8 x (1 + 1/8)
//       = (0.76265 + 0.16552) / 8 x 1.125 = 0.13052; s = 0.36128
//   late = 6.928 x exp(1.28155 x 0.36128) = 11.007, on the grid 11
TEST(StageDays, FewCyclesShrinkTowardTheProtocol) {
  OwnDays own;
  own.days[8] = {6, 6, 6, 6};
  const StageDays hold =
      of(stage_days(idle("p1"), farm_test::protocol(), own, clock("00:00")), Stage::hold_band);
  EXPECT_EQ(hold.own, 4);
  EXPECT_EQ(hold.median_d, 7);
  EXPECT_EQ(hold.late_d, 11);
}

TEST(StageDays, ManyCyclesSpeakForThemselves) {
  OwnDays own;
  for (int i = 0; i < 400; ++i) own.days[8].push_back(i % 2 == 0 ? 5 : 20);
  const StageDays hold =
      of(stage_days(idle("p1"), farm_test::protocol(), own, clock("00:00")), Stage::hold_band);
  EXPECT_NEAR(hold.median_d, 10, 0.25) << "sqrt(5 x 20)";
  EXPECT_NEAR(hold.late_d, 10 * std::exp(1.28155 * std::log(2.0)), 0.3);
}

TEST(StageDays, NothingIsAheadOfAPondThatIsReleasedOrIdle) {
  EXPECT_THAT(stage_days_left(idle("p1"), farm_test::protocol(), {}, clock("00:00")), IsEmpty());
  EXPECT_THAT(stage_days_left(in_stage(Stage::early_cycle, "p1", clock("08:00", -3)), farm_test::protocol(), {},
                              clock("00:00")),
              IsEmpty());
}

// Full to the aim of the first fill (a quarter of the volume): no water is left to come.
TEST(StageDays, OfAFillUnderWayTheWaterTellsWhatIsLeft) {
  FarmPond pond = in_stage(Stage::first_fill, "p1", clock("00:00"));
  Inlet pump;
  pump.name = "east";
  pump.kind = PumpInlet{5};
  pond.inlets.push_back(pump);
  const auto fresh = stage_days_left(pond, farm_test::protocol(), {}, clock("00:00"));
  pond.state.level_cm = 34;
  const auto half = stage_days_left(pond, farm_test::protocol(), {}, clock("00:00"));
  EXPECT_LT(half[0].least_d, fresh[0].least_d);
  EXPECT_GT(fresh[0].least_d, 6) << "3207 m3 at 5 L/s take 7.4 days without losses";
}

}  // namespace
}  // namespace tawny
