#include "science/metabolism_series.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

namespace tawny {
namespace {

constexpr double kPi = 3.14159265358979323846;

// The closed case: P = 0.9 sin(pi (h - 6) / 12) by day, R 0.30 mg/L/h, K 0.03624 1/h, Cs 6.8859 mg/L.
double slope(double hour, double oxygen_mg_l) {
  const double h = std::fmod(hour, 24);
  const double light = h > 6 && h < 18 ? 0.9 * std::sin(kPi * (h - 6) / 12) : 0;
  return light - 0.30 + 0.03624 * (6.8859 - oxygen_mg_l);
}

// One periodic day, every half hour from midnight to midnight, by Runge-Kutta in steps of a minute.
const std::vector<double>& closed_day() {
  static const std::vector<double> day = [] {
    std::vector<double> last;
    double c = 6;
    for (int cycle = 0; cycle < 40; ++cycle) {  // until it is periodic
      last = {c};
      for (int minute = 0; minute < 24 * 60; ++minute) {
        const double at = minute / 60.0;
        const double step = 1 / 60.0;
        const double a = slope(at, c);
        const double b = slope(at + step / 2, c + step / 2 * a);
        const double d = slope(at + step / 2, c + step / 2 * b);
        const double e = slope(at + step, c + step * d);
        c += step / 6 * (a + 2 * b + 2 * d + e);
        if (minute % 30 == 29) last.push_back(c);
      }
    }
    return last;
  }();
  return day;
}

std::vector<OxygenInterval> closed_intervals() {
  std::vector<OxygenInterval> intervals;
  for (int i = 0; i < 48; ++i) {
    const double start_h = i / 2.0;
    const auto at = static_cast<std::size_t>(i);
    intervals.push_back({start_h, start_h + 0.5, closed_day()[at], closed_day()[at + 1], 6.8859, 0.03624,
                         start_h >= 6 && start_h < 18});
  }
  return intervals;
}

Bookkeeping books() {
  Bookkeeping b;
  b.day_length_h = 12;
  b.depth_m = 1;
  b.reading_error_mg_l = 0.1;
  b.exchange_error_share = 0.3;
  b.least_intervals = 3;
  return b;
}

std::vector<OxygenReading> closed_readings() {
  std::vector<OxygenReading> readings;
  for (int i = 0; i <= 48; ++i) {
    readings.push_back({i / 2.0, closed_day()[static_cast<std::size_t>(i)], 29, 20, 2});
  }
  return readings;
}

SeriesPlace place() {
  SeriesPlace p;
  p.sunrise_h = 6;
  p.sunset_h = 18;
  p.depth_m = 1;
  p.longest_interval_h = 1;
  p.reading_error_mg_l = 0.1;
  p.exchange_error_share = 0.3;
  p.least_intervals = 3;
  return p;
}

// [computed: an independent coding, Runge-Kutta, 1 minute]
TEST(SeriesMetabolism, MatchesTheClosedCase) {
  const double oxygen_mg_l[] = {6.3034, 4.7995, 6.7703, 8.2259, 8.1726, 7.1872};
  const int hours[] = {0, 6, 12, 15, 18, 21};
  for (int i = 0; i < 6; ++i) {
    EXPECT_NEAR(closed_day()[static_cast<std::size_t>(2 * hours[i])], oxygen_mg_l[i], 6e-5) << hours[i];
  }
  const SeriesMetabolism m = *metabolism_of_intervals(closed_intervals(), books());
  EXPECT_NEAR(m.gpp.mg_l_d, 6.87531, 6e-6);
  EXPECT_NEAR(m.er.mg_l_d, 7.19982, 6e-6);
  EXPECT_NEAR(m.nep.mg_l_d, -0.32451, 6e-6);
  EXPECT_EQ(m.day_intervals, 24);
  EXPECT_EQ(m.night_intervals, 24);
  EXPECT_EQ(m.gaps, 0);
}

TEST(SeriesMetabolism, MakesItsOwnExchangeFromWindAndWater) {
  const SeriesMetabolism m = *metabolism_of_series(closed_readings(), place());
  EXPECT_NEAR(m.gpp.mg_l_d, 6.87531, 5e-4);
  EXPECT_NEAR(m.er.mg_l_d, 7.19982, 5e-4);
  EXPECT_NEAR(m.nep.mg_l_d, -0.32451, 1e-4);
  // In water twice as deep the air reaches half as much of it: what was made and used comes out otherwise.
  SeriesPlace deep = place();
  deep.depth_m = 2;
  EXPECT_NE(metabolism_of_series(closed_readings(), deep)->nep.mg_l_d, m.nep.mg_l_d);
}

TEST(SeriesMetabolism, DaysThatAreAlikeGiveTheSameRates) {
  std::vector<OxygenReading> readings = closed_readings();
  for (int i = 1; i <= 96; ++i) {
    readings.push_back({24 + i / 2.0, closed_day()[static_cast<std::size_t>((i - 1) % 48 + 1)], 29, 20, 2});
  }
  const SeriesMetabolism one = *metabolism_of_series(closed_readings(), place());
  const SeriesMetabolism three = *metabolism_of_series(readings, place());
  EXPECT_NEAR(three.gpp.mg_l_d, one.gpp.mg_l_d, 1e-9);
  EXPECT_NEAR(three.er.mg_l_d, one.er.mg_l_d, 1e-9);
  EXPECT_EQ(three.day_intervals, 72);
}

TEST(SeriesMetabolism, ReportsGapsAndReckonsWithWhatIsThere) {
  std::vector<OxygenReading> readings = closed_readings();
  readings.erase(readings.begin() + 3, readings.begin() + 6);  // 1.5 to 2.5 h
  readings.erase(readings.begin() + 40,
                 readings.begin() + 41);  // 21.5 h: two intervals of half an hour become one
  const SeriesMetabolism m = *metabolism_of_series(readings, place());
  EXPECT_EQ(m.gaps, 1);
  EXPECT_NEAR(m.longest_gap_h, 2, 1e-12);
  EXPECT_EQ(m.night_intervals, 24 - 4 - 1);
  EXPECT_NEAR(m.er.mg_l_d, 7.2, 0.001) << "the closed case respires alike all night";
}

// The bookkeeping is linear in the readings: moving each in turn by its error gives the range exactly.
TEST(SeriesMetabolism, RangeIsTheSumOfWhatEachReadingMoves) {
  SeriesPlace steady = place();
  steady.exchange_error_share = 0;
  steady.depth_m = 0.2;  // so that the exchange counts
  std::vector<OxygenReading> readings = closed_readings();
  readings.erase(readings.begin() + 10, readings.begin() + 14);  // leaves a gap
  const SeriesMetabolism m = *metabolism_of_series(readings, steady);
  EXPECT_EQ(m.gaps, 1);
  double gpp = 0, er = 0, nep = 0;
  for (OxygenReading& reading : readings) {
    reading.oxygen_mg_l += steady.reading_error_mg_l;
    const SeriesMetabolism moved = *metabolism_of_series(readings, steady);
    reading.oxygen_mg_l -= steady.reading_error_mg_l;
    gpp += std::pow(moved.gpp.mg_l_d - m.gpp.mg_l_d, 2);
    er += std::pow(moved.er.mg_l_d - m.er.mg_l_d, 2);
    nep += std::pow(moved.nep.mg_l_d - m.nep.mg_l_d, 2);
  }
  EXPECT_NEAR(m.gpp.high_mg_l_d - m.gpp.mg_l_d, 1.2815515655446004 * std::sqrt(gpp), 1e-9);
  EXPECT_NEAR(m.er.high_mg_l_d - m.er.mg_l_d, 1.2815515655446004 * std::sqrt(er), 1e-9);
  EXPECT_NEAR(m.nep.high_mg_l_d - m.nep.mg_l_d, 1.2815515655446004 * std::sqrt(nep), 1e-9);
}

// The range is that of readings with the same errors drawn again and again.
TEST(SeriesMetabolism, RangeHoldsEightyOfAHundredDrawnSeries) {
  std::vector<OxygenInterval> truth = closed_intervals();
  truth.erase(truth.begin() + 30, truth.begin() + 33);
  const SeriesMetabolism m = *metabolism_of_intervals(truth, books());
  EXPECT_EQ(m.gaps, 1);
  std::mt19937 random(81);
  std::normal_distribution<double> normal;
  const int draws = 4000;
  int gpp_in = 0;
  int er_in = 0;
  int nep_in = 0;
  for (int i = 0; i < draws; ++i) {
    std::vector<OxygenInterval> drawn = truth;
    const double share = 1 + 0.3 * normal(random);
    double last_error = 0.1 * normal(random);
    for (std::size_t j = 0; j < drawn.size(); ++j) {
      const bool joined = j > 0 && truth[j].start_h == truth[j - 1].end_h;
      const double start_error = joined || j == 0 ? last_error : 0.1 * normal(random);
      last_error = 0.1 * normal(random);
      drawn[j].start_mg_l += start_error;
      drawn[j].end_mg_l += last_error;
      drawn[j].exchange_per_h *= std::max(0.0, share);
    }
    const SeriesMetabolism d = *metabolism_of_intervals(drawn, books());
    const auto within = [](double value, const DailyRate& rate) {
      return value >= rate.low_mg_l_d && value <= rate.high_mg_l_d ? 1 : 0;
    };
    gpp_in += within(d.gpp.mg_l_d, m.gpp);
    er_in += within(d.er.mg_l_d, m.er);
    nep_in += within(d.nep.mg_l_d, m.nep);
  }
  EXPECT_NEAR(gpp_in / static_cast<double>(draws), 0.8, 0.02);
  EXPECT_NEAR(er_in / static_cast<double>(draws), 0.8, 0.02);
  EXPECT_NEAR(nep_in / static_cast<double>(draws), 0.8, 0.02);
}

TEST(SeriesMetabolism, WhatTheReadingsCannotShowIsNegativeAndSaidSo) {
  std::vector<OxygenInterval> intervals = closed_intervals();
  for (OxygenInterval& interval : intervals) interval.day = !interval.day;
  const SeriesMetabolism m = *metabolism_of_intervals(intervals, books());
  EXPECT_LT(m.gpp.mg_l_d, 0);
  EXPECT_FALSE(m.gpp_resolvable);
  for (OxygenInterval& interval : intervals)
    interval.saturation_mg_l = 0;  // the air takes; so much was made by night
  const SeriesMetabolism other = *metabolism_of_intervals(intervals, books());
  EXPECT_LT(other.er.mg_l_d, 0);
  EXPECT_FALSE(other.er_resolvable);
}

TEST(SeriesMetabolism, RefusesTooFewIntervalsByDayOrByNight) {
  Bookkeeping b = books();
  b.least_intervals = 24;
  EXPECT_TRUE(metabolism_of_intervals(closed_intervals(), b));
  b.least_intervals = 25;
  const Problem problem = metabolism_of_intervals(closed_intervals(), b).error();
  EXPECT_EQ(problem.kind, ProblemKind::missing);
  EXPECT_EQ(problem.parameter, "readings");
  EXPECT_EQ(metabolism_of_intervals({}, books()).error().kind, ProblemKind::missing);
  const std::vector<OxygenReading> readings = closed_readings();
  EXPECT_EQ(metabolism_of_series(std::span(readings).first(13), place()).error().kind, ProblemKind::missing)
      << "midnight to sunrise";
  EXPECT_EQ(metabolism_of_series({}, place()).error().kind, ProblemKind::missing);
}

TEST(SeriesMetabolism, RefusesIntervalsThatCannotBe) {
  const auto refused = [](auto change) {
    std::vector<OxygenInterval> intervals = closed_intervals();
    change(intervals[7]);
    const Result<SeriesMetabolism> m = metabolism_of_intervals(intervals, books());
    return m ? std::string("taken") : m.error().parameter;
  };
  EXPECT_EQ(refused([](OxygenInterval&) {}), "taken");
  EXPECT_EQ(refused([](OxygenInterval& i) { i.start_mg_l = -1; }), "start_mg_l");
  EXPECT_EQ(refused([](OxygenInterval& i) { i.end_mg_l = 41; }), "end_mg_l");
  EXPECT_EQ(refused([](OxygenInterval& i) { i.saturation_mg_l = 41; }), "saturation_mg_l");
  EXPECT_EQ(refused([](OxygenInterval& i) { i.exchange_per_h = -0.1; }), "exchange_per_h");
  EXPECT_EQ(refused([](OxygenInterval& i) { i.end_h = i.start_h; }), "time_h");
  EXPECT_EQ(refused([](OxygenInterval& i) { i.start_h -= 0.1; }), "time_h");
  EXPECT_EQ(refused([](OxygenInterval& i) { i.end_h = std::nan(""); }), "time_h");

  const auto refused_books = [](auto change) {
    Bookkeeping b = books();
    change(b);
    const Result<SeriesMetabolism> m = metabolism_of_intervals(closed_intervals(), b);
    return m ? std::string("taken") : m.error().parameter;
  };
  EXPECT_EQ(refused_books([](Bookkeeping& b) { b.day_length_h = 3.9; }), "day_length_h");
  EXPECT_EQ(refused_books([](Bookkeeping& b) { b.depth_m = 0; }), "depth_m");
  EXPECT_EQ(refused_books([](Bookkeeping& b) { b.reading_error_mg_l = -1; }), "reading_error_mg_l");
  EXPECT_EQ(refused_books([](Bookkeeping& b) { b.exchange_error_share = 2; }), "exchange_error_share");
  EXPECT_EQ(refused_books([](Bookkeeping& b) { b.least_intervals = 0; }), "least_intervals");
}

TEST(SeriesMetabolism, RefusesReadingsThatCannotBe) {
  const auto refused = [](auto change) {
    std::vector<OxygenReading> readings = closed_readings();
    SeriesPlace p = place();
    change(readings[9], p);
    const Result<SeriesMetabolism> m = metabolism_of_series(readings, p);
    return m ? std::string("taken") : m.error().parameter;
  };
  EXPECT_EQ(refused([](OxygenReading&, SeriesPlace&) {}), "taken");
  EXPECT_EQ(refused([](OxygenReading& r, SeriesPlace&) { r.time_h = 4; }), "time_h");
  EXPECT_EQ(refused([](OxygenReading& r, SeriesPlace&) { r.time_h = std::nan(""); }), "time_h");
  EXPECT_EQ(refused([](OxygenReading& r, SeriesPlace&) { r.oxygen_mg_l = -0.1; }), "oxygen_mg_l");
  EXPECT_EQ(refused([](OxygenReading& r, SeriesPlace&) { r.temperature_c = 90; }), "temperature_c");
  EXPECT_EQ(refused([](OxygenReading& r, SeriesPlace&) { r.salinity = -45; }), "salinity");
  EXPECT_EQ(refused([](OxygenReading& r, SeriesPlace&) { r.wind_10_m_s = 70; }), "wind_10_m_s");
  EXPECT_EQ(refused([](OxygenReading&, SeriesPlace& p) { p.sunset_h = 6; }), "sunset_h");
  EXPECT_EQ(refused([](OxygenReading&, SeriesPlace& p) { p.sunrise_h = -1; }), "sunrise_h");
  EXPECT_EQ(refused([](OxygenReading&, SeriesPlace& p) { p.longest_interval_h = 0; }), "longest_interval_h");
  EXPECT_EQ(refused([](OxygenReading&, SeriesPlace& p) { p.depth_m = 11; }), "depth_m");
  EXPECT_EQ(refused([](OxygenReading&, SeriesPlace& p) { p.pressure_atm = 2; }), "pressure_atm");
}

}  // namespace
}  // namespace tawny
