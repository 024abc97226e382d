#include "science/dawn_oxygen.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tawny {
namespace {

EveningPair unit_case() {
  EveningPair pair;
  pair.first_mg_l = 9.0;
  pair.second_mg_l = 7.5;
  pair.hours_between = 3;
  pair.hours_to_dawn = 11.5;
  pair.temperature_c = 29;
  pair.salinity = 20;
  pair.depth_m = 1;
  pair.wind_10_m_s = 2;
  return pair;
}

// [computed: an independent coding] No worked numbers of Boyd, Romaire & Johnston could be found.
TEST(DawnOxygen, MatchesTheUnitCase) {
  const DawnOxygen dawn = *dawn_oxygen(unit_case(), 4);
  EXPECT_NEAR(dawn.linear_mg_l, 3.25, 1e-12);
  EXPECT_NEAR(dawn.exponential_mg_l, 4.474, 0.0005);
  EXPECT_NEAR(dawn.respiration_diffusion_mg_l, 4.0375, 0.00005);
  EXPECT_NEAR(dawn.respiration_mg_l_h, 0.4511, 0.00005);
  EXPECT_NEAR(*dawn.linear_hours_to_floor, 10.0, 1e-12);
  EXPECT_NEAR(*dawn.respiration_diffusion_hours_to_floor, 11.61, 0.005);
  EXPECT_EQ(dawn.low_mg_l, dawn.linear_mg_l);
  EXPECT_EQ(dawn.high_mg_l, dawn.exponential_mg_l);
  EXPECT_FALSE(dawn.none_left);
}

// The same with the formulas of the header as they stand there, K and Cs of the unit case (0.03624, 6.8859).
TEST(DawnOxygen, ComesToRestWhereTheUnitCaseSays) {
  const double e = std::exp(-0.03624 * 3);
  const double rest = (7.5 - 9.0 * e) / (1 - e);
  EXPECT_NEAR(rest, -5.5602, 0.001);
  EveningPair pair = unit_case();
  pair.hours_to_dawn = 24;
  EXPECT_NEAR(dawn_oxygen(pair, 4)->respiration_diffusion_mg_l, rest + (9.0 - rest) * std::exp(-0.03624 * 24),
              0.0005);
}

TEST(DawnOxygen, CountsTheHoursToDawnFromTheFirstReading) {
  EveningPair pair = unit_case();
  pair.hours_to_dawn = pair.hours_between;
  const DawnOxygen dawn = *dawn_oxygen(pair, 4);
  EXPECT_NEAR(dawn.linear_mg_l, 7.5, 1e-12);
  EXPECT_NEAR(dawn.exponential_mg_l, 7.5, 1e-12);
  EXPECT_NEAR(dawn.respiration_diffusion_mg_l, 7.5, 1e-12);
}

TEST(DawnOxygen, EachWayStandsAtTheFloorAtItsOwnHour) {
  const DawnOxygen dawn = *dawn_oxygen(unit_case(), 4);
  EveningPair pair = unit_case();
  pair.hours_to_dawn = *dawn.linear_hours_to_floor;
  EXPECT_NEAR(dawn_oxygen(pair, 4)->linear_mg_l, 4, 1e-9);
  pair.hours_to_dawn = *dawn.exponential_hours_to_floor;
  EXPECT_NEAR(dawn_oxygen(pair, 4)->exponential_mg_l, 4, 1e-9);
  pair.hours_to_dawn = *dawn.respiration_diffusion_hours_to_floor;
  EXPECT_NEAR(dawn_oxygen(pair, 4)->respiration_diffusion_mg_l, 4, 1e-9);
}

TEST(DawnOxygen, SaysNothingLeftWithTheNumberAsItComesOut) {
  EveningPair pair = unit_case();
  pair.first_mg_l = 5;
  pair.second_mg_l = 3;
  const DawnOxygen dawn = *dawn_oxygen(pair, 4);
  EXPECT_NEAR(dawn.linear_mg_l, 5 - 2.0 / 3 * 11.5, 1e-12);
  EXPECT_LT(dawn.respiration_diffusion_mg_l, 0);
  EXPECT_GT(dawn.exponential_mg_l, 0);
  EXPECT_EQ(dawn.low_mg_l, dawn.linear_mg_l);
  EXPECT_TRUE(dawn.none_left);
}

TEST(DawnOxygen, SteadyWaterStaysAndNeverComesToTheFloor) {
  EveningPair pair = unit_case();
  pair.second_mg_l = 9;
  const DawnOxygen dawn = *dawn_oxygen(pair, 4);
  EXPECT_EQ(dawn.low_mg_l, 9);
  EXPECT_EQ(dawn.high_mg_l, 9);
  EXPECT_FALSE(dawn.linear_hours_to_floor);
  EXPECT_FALSE(dawn.exponential_hours_to_floor);
  EXPECT_FALSE(dawn.respiration_diffusion_hours_to_floor);
}

TEST(DawnOxygen, ComesToRestAboveTheFloorWhereTheAirFeedsIt) {
  EveningPair pair = unit_case();  // little respiration in a strong wind
  pair.depth_m = 0.4;
  pair.wind_10_m_s = 10;
  pair.second_mg_l = 7.1;
  const DawnOxygen dawn = *dawn_oxygen(pair, 4);
  EXPECT_TRUE(dawn.linear_hours_to_floor);
  EXPECT_FALSE(dawn.respiration_diffusion_hours_to_floor);
  EXPECT_GT(dawn.respiration_diffusion_mg_l, 6);
}

TEST(DawnOxygen, IsAtTheFloorAtOnceWhenTheFirstReadingIs) {
  const DawnOxygen dawn = *dawn_oxygen(unit_case(), 9.5);
  EXPECT_EQ(dawn.linear_hours_to_floor, 0.0);
  EXPECT_EQ(dawn.exponential_hours_to_floor, 0.0);
  EXPECT_EQ(dawn.respiration_diffusion_hours_to_floor, 0.0);
}

TEST(DawnOxygen, NothingAtTheSecondReadingIsNothingAtDawn) {
  EveningPair pair = unit_case();
  pair.second_mg_l = 0;
  const DawnOxygen dawn = *dawn_oxygen(pair, 0);
  EXPECT_EQ(dawn.exponential_mg_l, 0);
  EXPECT_TRUE(dawn.none_left);
  EXPECT_NEAR(*dawn.linear_hours_to_floor, 3, 1e-12);
  EXPECT_NEAR(*dawn.exponential_hours_to_floor, 3, 1e-12);
  EXPECT_NEAR(*dawn.respiration_diffusion_hours_to_floor, 3, 1e-9);
  pair.second_mg_l = 3;
  EXPECT_FALSE(dawn_oxygen(pair, 0)->exponential_hours_to_floor)
      << "a share of what is there never takes it all";
}

TEST(DawnOxygen, SlowExchangeBecomesTheStraightLine) {
  EveningPair pair = unit_case();
  pair.depth_m = 10;
  pair.wind_10_m_s = 0;
  pair.temperature_c = 0;
  pair.salinity = 40;
  const DawnOxygen dawn = *dawn_oxygen(pair, 4);
  EXPECT_NEAR(dawn.respiration_diffusion_mg_l, dawn.linear_mg_l, 0.03);
  EXPECT_GT(dawn.respiration_diffusion_mg_l, dawn.linear_mg_l);
}

// The air alone takes oxygen out of water that holds more than it can keep; what is then left for respiration
// may come out below nothing.
TEST(DawnOxygen, RespirationThatTheReadingsCannotShowIsNegative) {
  EveningPair pair = unit_case();
  pair.first_mg_l = 14;
  pair.second_mg_l = 13.9;
  EXPECT_LT(dawn_oxygen(pair, 4)->respiration_mg_l_h, 0);
}

TEST(DawnOxygen, RefusesARiseForItIsNoLossOfTheNight) {
  EveningPair pair = unit_case();
  pair.second_mg_l = 9.1;
  const Problem problem = dawn_oxygen(pair, 4).error();
  EXPECT_EQ(problem.kind, ProblemKind::impossible);
  EXPECT_EQ(problem.message.id, "problem.oxygen_rising");
}

TEST(DawnOxygen, RefusesWhatCannotBe) {
  const auto refused = [](auto change, double floor_mg_l = 4) {
    EveningPair pair = unit_case();
    change(pair);
    const Result<DawnOxygen> dawn = dawn_oxygen(pair, floor_mg_l);
    return dawn ? std::string("taken") : dawn.error().parameter;
  };
  EXPECT_EQ(refused([](EveningPair&) {}), "taken");
  EXPECT_EQ(refused([](EveningPair& p) { p.first_mg_l = 40.1; }), "first_mg_l");
  EXPECT_EQ(refused([](EveningPair& p) { p.first_mg_l = p.second_mg_l = 0; }), "first_mg_l");
  EXPECT_EQ(refused([](EveningPair& p) { p.second_mg_l = -0.1; }), "second_mg_l");
  EXPECT_EQ(refused([](EveningPair& p) { p.hours_between = 0.2; }), "hours_between");
  EXPECT_EQ(refused([](EveningPair& p) { p.hours_between = std::nan(""); }), "hours_between");
  EXPECT_EQ(refused([](EveningPair& p) { p.hours_to_dawn = 24.1; }), "hours_to_dawn");
  EXPECT_EQ(refused([](EveningPair& p) { p.hours_to_dawn = 2.9; }), "hours_to_dawn");
  EXPECT_EQ(refused([](EveningPair& p) { p.temperature_c = 40.1; }), "temperature_c");
  EXPECT_EQ(refused([](EveningPair& p) { p.salinity = 40.1; }), "salinity");
  EXPECT_EQ(refused([](EveningPair& p) { p.depth_m = 0; }), "depth_m");
  EXPECT_EQ(refused([](EveningPair& p) { p.wind_10_m_s = 31; }), "wind_10_m_s");
  EXPECT_EQ(refused([](EveningPair& p) { p.pressure_atm = 101; }), "pressure_atm");
  EXPECT_EQ(refused([](EveningPair&) {}, -1), "floor_mg_l");
}

}  // namespace
}  // namespace tawny
