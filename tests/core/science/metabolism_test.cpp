#include "science/metabolism.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <string>

#include "science/gas_exchange.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

constexpr double kPi = 3.14159265358979323846;

// Half a sine by day, the same every day.
double production(double hour, double sunrise_h, double sunset_h, double gpp) {
  const double length_h = sunset_h - sunrise_h;
  const double h = std::fmod(hour, 24);
  if (h <= sunrise_h || h >= sunset_h) return 0;
  return gpp * kPi / (2 * length_h) * std::sin(kPi * (h - sunrise_h) / length_h);
}

// The closed case: K and Cs of 29 C, S 20, 1 m, 2 m/s; P = 0.9 sin(pi (h - 6) / 12), R 0.30 mg/L/h, periodic.
ThreeReadings closed_case() {
  ThreeReadings r;
  r.dawn_mg_l = 4.7995;
  r.dawn_h = 6;
  r.afternoon_mg_l = 8.2259;
  r.afternoon_h = 15;
  r.next_dawn_mg_l = 4.7995;
  r.next_dawn_h = 30;
  r.sunrise_h = 6;
  r.sunset_h = 18;
  r.temperature_c = 29;
  r.salinity = 20;
  r.depth_m = 1;
  r.wind_10_m_s = 2;
  r.reading_error_mg_l = 0.1;
  r.exchange_error_share = 0.3;
  return r;
}

// What a pond does between two hours: Runge-Kutta in steps of about a minute.
double simulate(const ThreeReadings& r, double oxygen_mg_l, double from_h, double to_h, double gpp, double er) {
  const double saturation = *oxygen_saturation_mg_l(r.temperature_c, r.salinity, r.pressure_atm);
  const double k = *oxygen_exchange_per_h(r.temperature_c, r.salinity, r.wind_10_m_s, r.depth_m);
  const auto slope = [&](double at_h, double c) {
    return production(at_h, r.sunrise_h, r.sunset_h, gpp) - er / 24 + k * (saturation - c);
  };
  const int steps = static_cast<int>(std::ceil((to_h - from_h) * 60));
  const double h = (to_h - from_h) / steps;
  double c = oxygen_mg_l;
  for (int i = 0; i < steps; ++i) {
    const double at = from_h + i * h;
    const double a = slope(at, c);
    const double b = slope(at + h / 2, c + h / 2 * a);
    const double d = slope(at + h / 2, c + h / 2 * b);
    const double e = slope(at + h, c + h * d);
    c += h / 6 * (a + 2 * b + 2 * d + e);
  }
  return c;
}

// [computed: an independent coding, Runge-Kutta, 1 minute] GPP 6.87549, ER 7.20000, NEP -0.32451.
TEST(Metabolism, RecoversTheClosedCaseToTheRoundingOfItsReadings) {
  const Metabolism m = *metabolism_of_three(closed_case());
  EXPECT_NEAR(m.gpp.mg_l_d, 6.87549, 3e-4);
  EXPECT_NEAR(m.er.mg_l_d, 7.20000, 3e-4);
  EXPECT_NEAR(m.nep.mg_l_d, -0.32451, 1e-4);
  EXPECT_TRUE(m.gpp_resolvable);
  EXPECT_TRUE(m.er_resolvable);
}

// The other hours of the same case: 0, 6, 12, 15, 18, 21 h.
TEST(Metabolism, RecoversTheClosedCaseFromOtherHours) {
  for (const auto& [hour, oxygen_mg_l] :
       {std::pair{12.0, 6.7703}, {15.0, 8.2259}, {18.0, 8.1726}, {21.0, 7.1872}}) {
    ThreeReadings r = closed_case();
    r.afternoon_h = hour;
    r.afternoon_mg_l = oxygen_mg_l;
    const Metabolism m = *metabolism_of_three(r);
    EXPECT_NEAR(m.gpp.mg_l_d, 6.87549, 1e-3) << hour;
    EXPECT_NEAR(m.er.mg_l_d, 7.2, 1e-3) << hour;
  }
  ThreeReadings r = closed_case();
  r.dawn_h = 0;
  r.dawn_mg_l = r.next_dawn_mg_l = 6.3034;
  r.next_dawn_h = 24;
  const Metabolism m = *metabolism_of_three(r);
  EXPECT_NEAR(m.gpp.mg_l_d, 6.87549, 1e-3);
  EXPECT_NEAR(m.er.mg_l_d, 7.2, 1e-3);
}

TEST(Metabolism, RecoversWhatAnyPondWasMadeToDo) {
  std::mt19937 random(3);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
  };
  for (int i = 0; i < 200; ++i) {
    ThreeReadings r = closed_case();
    r.sunrise_h = between(4.5, 7.5);
    r.sunset_h = between(16.5, 19.5);
    r.dawn_h = r.sunrise_h + between(-1, 1);
    r.afternoon_h = between(14, 18);
    r.next_dawn_h = 24 + r.sunrise_h + between(-1, 1.5);  // some after the second sunrise
    r.temperature_c = between(18, 36);
    r.salinity = between(0, 40);
    r.depth_m = between(0.3, 3);
    r.wind_10_m_s = between(0, 9);
    const double gpp = between(3, 14);
    const double er = between(2, 10);
    r.dawn_mg_l = between(5, 9);
    r.afternoon_mg_l = simulate(r, r.dawn_mg_l, r.dawn_h, r.afternoon_h, gpp, er);
    r.next_dawn_mg_l = simulate(r, r.afternoon_mg_l, r.afternoon_h, r.next_dawn_h, gpp, er);
    if (r.next_dawn_mg_l < 0) continue;
    const Result<Metabolism> m = metabolism_of_three(r);
    ASSERT_TRUE(m) << i;
    EXPECT_NEAR(m->gpp.mg_l_d, gpp, 2e-3) << i;  // the steps of a minute straddle sunrise and sunset
    EXPECT_NEAR(m->er.mg_l_d, er, 2e-3) << i;
  }
}

// dC/dt = P - R where the air has no part: the least exchange that the ranges allow is nearly that.
TEST(Metabolism, SlowExchangeLeavesPlainSums) {
  ThreeReadings r = closed_case();
  r.temperature_c = 0;
  r.salinity = 40;
  r.wind_10_m_s = 0;
  r.depth_m = 10;
  r.exchange_error_share = 1;  // down to no exchange at all
  r.reading_error_mg_l = 0;
  const Metabolism m = *metabolism_of_three(r);
  // With no exchange at all: light up to 15 h is (1 - cos(3/4 pi)) / 2 of the day's.
  const double light = (1 - std::cos(0.75 * kPi)) / 2;
  const double change = 8.2259 - 4.7995;
  const double er = change / (light - 9.0 / 24);  // GPP = ER when the dawns are alike
  EXPECT_LT(m.er.low_mg_l_d, er);
  EXPECT_GT(m.er.high_mg_l_d, er);
  EXPECT_NEAR(m.er.mg_l_d, er, 0.5);
  EXPECT_TRUE(std::isfinite(m.gpp.low_mg_l_d));
  const double sd = (m.nep.high_mg_l_d - m.nep.mg_l_d) / 1.2815515655446004;
  EXPECT_NEAR(std::fabs(m.nep.mg_l_d), sd, 0.02 * sd) << "without exchange like dawns have a net of nothing";
}

TEST(Metabolism, UnderASquareMetreItIsTimesTheDepth) {
  ThreeReadings r = closed_case();
  r.depth_m = 0.8;
  const Metabolism m = *metabolism_of_three(r);
  for (const DailyRate& rate : {m.gpp, m.er, m.nep}) {
    EXPECT_NEAR(rate.g_m2_d, 0.8 * rate.mg_l_d, 1e-12);
    EXPECT_NEAR(rate.low_g_m2_d, 0.8 * rate.low_mg_l_d, 1e-12);
    EXPECT_NEAR(rate.high_g_m2_d, 0.8 * rate.high_mg_l_d, 1e-12);
    EXPECT_NEAR(rate.high_mg_l_d - rate.mg_l_d, rate.mg_l_d - rate.low_mg_l_d, 1e-12);
  }
  EXPECT_NEAR(m.nep.mg_l_d, m.gpp.mg_l_d - m.er.mg_l_d, 1e-12);
}

// The range is that of readings with the same errors drawn again and again.
TEST(Metabolism, RangeHoldsEightyOfAHundredDrawnReadings) {
  const ThreeReadings truth = closed_case();
  const Metabolism m = *metabolism_of_three(truth);
  std::mt19937 random(80);
  std::normal_distribution<double> normal;
  const int draws = 20000;
  int gpp_in = 0;
  int er_in = 0;
  int nep_in = 0;
  for (int i = 0; i < draws; ++i) {
    ThreeReadings r = truth;
    r.dawn_mg_l += r.reading_error_mg_l * normal(random);
    r.afternoon_mg_l += r.reading_error_mg_l * normal(random);
    r.next_dawn_mg_l += r.reading_error_mg_l * normal(random);
    // K goes as 1 / depth: a pond that much shallower has an exchange that much faster, per litre.
    r.depth_m = 1 / std::max(0.1, 1 + r.exchange_error_share * normal(random));
    const Metabolism drawn = *metabolism_of_three(r);
    const auto within = [](double value, const DailyRate& rate) {
      return value >= rate.low_mg_l_d && value <= rate.high_mg_l_d ? 1 : 0;
    };
    gpp_in += within(drawn.gpp.mg_l_d, m.gpp);
    er_in += within(drawn.er.mg_l_d, m.er);
    nep_in += within(drawn.nep.mg_l_d, m.nep);
  }
  EXPECT_NEAR(gpp_in / static_cast<double>(draws), 0.8, 0.012);
  EXPECT_NEAR(er_in / static_cast<double>(draws), 0.8, 0.012);
  EXPECT_NEAR(nep_in / static_cast<double>(draws), 0.8, 0.012);
}

TEST(Metabolism, WithoutErrorsTheRangeIsThePoint) {
  ThreeReadings r = closed_case();
  r.reading_error_mg_l = r.exchange_error_share = 0;
  const Metabolism m = *metabolism_of_three(r);
  EXPECT_EQ(m.gpp.low_mg_l_d, m.gpp.mg_l_d);
  EXPECT_EQ(m.er.high_mg_l_d, m.er.mg_l_d);
}

TEST(Metabolism, WhatTheReadingsCannotShowIsNegativeAndSaidSo) {
  ThreeReadings r = closed_case();  // oxygen falls by day
  r.dawn_mg_l = 7;
  r.afternoon_mg_l = 5;
  r.next_dawn_mg_l = 6;
  const Metabolism m = *metabolism_of_three(r);
  EXPECT_LT(m.gpp.mg_l_d, 0);
  EXPECT_FALSE(m.gpp_resolvable);
  r.afternoon_mg_l = 7.2;  // and here it rises by night
  r.next_dawn_mg_l = 9.5;
  const Metabolism other = *metabolism_of_three(r);
  EXPECT_LT(other.er.mg_l_d, 0);
  EXPECT_FALSE(other.er_resolvable);
}

TEST(Metabolism, RefusesReadingsThatCannotTellLightFromDark) {
  ThreeReadings r = closed_case();
  // With little exchange, light per hour up to about 8.4 h is that of the whole day.
  r.depth_m = 10;
  r.wind_10_m_s = 0;
  r.afternoon_h = 8.43;
  const Result<Metabolism> m = metabolism_of_three(r);
  ASSERT_FALSE(m);
  EXPECT_EQ(m.error().kind, ProblemKind::impossible);
  EXPECT_EQ(m.error().message.id, "problem.readings_do_not_part_light");
  r.afternoon_h = 11;
  EXPECT_TRUE(metabolism_of_three(r));
}

TEST(Metabolism, RefusesWhatCannotBe) {
  const auto refused = [](auto change) {
    ThreeReadings r = closed_case();
    change(r);
    const Result<Metabolism> m = metabolism_of_three(r);
    return m ? std::string("taken") : m.error().parameter + " " + m.error().message.id;
  };
  const std::string out = " problem.out_of_range";
  const std::string order = " problem.readings_not_in_order";
  EXPECT_EQ(refused([](ThreeReadings&) {}), "taken");
  EXPECT_EQ(refused([](ThreeReadings& r) { r.dawn_mg_l = -0.1; }), "dawn_mg_l" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.afternoon_mg_l = 40.1; }), "afternoon_mg_l" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.next_dawn_mg_l = std::nan(""); }), "next_dawn_mg_l" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.dawn_h = -1; }), "dawn_h" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.afternoon_h = 24.5; }), "afternoon_h" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.next_dawn_h = 6; }), "next_dawn_h" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.dawn_h = 15; }), "afternoon_h" + order);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.afternoon_h = r.next_dawn_h = 24; }), "next_dawn_h" + order);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.sunset_h = 6; }), "sunset_h problem.sunset_before_sunrise");
  EXPECT_EQ(refused([](ThreeReadings& r) { r.sunrise_h = -1; }), "sunrise_h" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.sunset_h = 25; }), "sunset_h" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.temperature_c = 41; }), "temperature_c" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.salinity = 41; }), "salinity" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.depth_m = 0; }), "depth_m" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.wind_10_m_s = -1; }), "wind_10_m_s" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.pressure_atm = 101.3; }), "pressure_atm" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.reading_error_mg_l = -0.1; }), "reading_error_mg_l" + out);
  EXPECT_EQ(refused([](ThreeReadings& r) { r.exchange_error_share = 1.1; }), "exchange_error_share" + out);
}

}  // namespace
}  // namespace tawny
