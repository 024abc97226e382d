// A year of a salt-marsh creek (Sapelo Island 2012, open data) against the daily answers that were published
// for it. Their gas exchange is another than ours, so it is coded here and handed to our bookkeeping.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "base/time.h"
#include "core/open_data.h"
#include "science/metabolism_series.h"
#include "science/sun.h"

namespace tawny {
namespace {

constexpr double kLatitude_deg = 31.39;
constexpr double kLongitude_deg = -81.28;
constexpr double kMmolPerG = 1000.0 / 32;  // as the published answer has it

// Density of sea water at the surface, EOS-80, with temperature on the scale of 1968.
double eos80_kg_m3(double t90, double s) {
  const double t = 1.00024 * t90;
  const double water =
      999.842594 +
      t * (6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
  return water + s * (8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)))) +
         s * std::sqrt(s) * (-5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6)) + 4.8314e-4 * s * s;
}

// Thebault et al. 2008, as the published answer coded it.
double thebault_m_d(double t, double s, double air_c, double wind_m_s, double hpa) {
  const double rho_w = eos80_kg_m3(t, s);
  const double pure =
      1.002e-3 * std::pow(10, (1.1709 * (20 - t) - 1.827e-3 * (t - 20) * (t - 20)) / (t + 89.93));
  const double chlorinity = rho_w * s / 1806.55;
  const double viscosity =
      pure * (1 + (5.185e-5 * t + 1.0675e-4) * std::sqrt(chlorinity) + (3.3e-5 * t + 2.591e-3) * chlorinity);
  const double vapour_pa = 611.2 * std::exp(17.65 * air_c / (243.12 + air_c));
  const double rho_a =
      (hpa * 100 - vapour_pa) / (287.05 * (air_c + 273.15)) + vapour_pa / (461.495 * (t + 273.15));
  const double diffusivity = 1.3806503e-23 * (t + 273.15) / (4 * 3.14159265358979323846 * viscosity * 1.72e-10);
  return 0.24 * 170.6 * std::sqrt(diffusivity / (viscosity / rho_w)) * std::sqrt(rho_a / rho_w) *
         std::pow(wind_m_s, 1.81);
}

// Benson & Krause with the vapour pressure of Green & Carritt 1967.
double saturation_mg_l(double t, double s, double atm) {
  const double k = t + 273.15;
  const double sea_level =
      std::exp(-139.34411 + 1.575701e5 / k - 6.642308e7 / (k * k) + 1.2438e10 / (k * k * k) -
               8.621949e11 / (k * k * k * k) - s * (0.017674 - 10.754 / k + 2140.7 / (k * k)));
  const double vapour =
      (1 - 0.000537 * s) *
      std::exp(18.1973 * (1 - 373.16 / k) + 3.1813e-7 * (1 - std::exp(26.1205 * (1 - k / 373.16))) -
               0.018726 * (1 - std::exp(8.03945 * (1 - 373.16 / k))) + 5.02802 * std::log(373.16 / k));
  const double theta = 0.000975 - 1.426e-5 * t + 6.436e-8 * t * t;
  return sea_level * atm * (1 - vapour / atm) * (1 - theta * atm) / ((1 - vapour) * (1 - theta));
}

struct MetabolicDay {
  double day_length_h = 0;
  bool weather_missing = false;
  std::vector<OxygenInterval> intervals;
};

// Values at the middle of each interval.
std::vector<double> middles(const std::vector<double>& at) {
  std::vector<double> middle;
  for (std::size_t i = 0; i + 1 < at.size(); ++i) middle.push_back(at[i] + (at[i + 1] - at[i]) / 2);
  return middle;
}

// Missing weather is taken from the mean of its hour of the day in its month.
std::vector<double> filled(std::vector<double> weather, const std::vector<double>& time_s, UtcOffset offset) {
  std::map<int, std::pair<double, int>> sums;
  const auto hour_in_month = [&](std::size_t i) {
    const Instant at{static_cast<std::int64_t>(time_s[i])};
    return 24 * year_month_day(civil_day(at, offset)).month + second_of_day(at, offset) / 3600;
  };
  for (std::size_t i = 0; i < weather.size(); ++i) {
    if (std::isnan(weather[i])) continue;
    sums[hour_in_month(i)].first += weather[i];
    sums[hour_in_month(i)].second += 1;
  }
  for (std::size_t i = 0; i < weather.size(); ++i) {
    const auto found = sums.find(hour_in_month(i));
    if (std::isnan(weather[i]) && found != sums.end()) weather[i] = found->second.first / found->second.second;
  }
  return weather;
}

// Where no air pressure was read there is no saturation: the exchange is the mean of that day's, or night's,
// others.
void fill_exchange(std::vector<OxygenInterval>& intervals, bool day) {
  const auto middle_mg_l = [](const OxygenInterval& i) { return (i.start_mg_l + i.end_mg_l) / 2; };
  Differences exchange;
  for (const OxygenInterval& i : intervals) {
    const double mg_l_h = i.exchange_per_h * (i.saturation_mg_l - middle_mg_l(i));
    if (i.day == day && !std::isnan(mg_l_h)) exchange.add(mg_l_h);
  }
  for (OxygenInterval& i : intervals) {
    if (i.day != day || !std::isnan(i.exchange_per_h * i.saturation_mg_l)) continue;
    i.exchange_per_h = 1;
    i.saturation_mg_l = middle_mg_l(i) + exchange.mean;
  }
}

double depth_of(const OpenData::Table& sonde) {
  double sum = 0;
  int count = 0;
  for (double tide_m : middles(sonde.column("tide_m"))) {
    if (std::isnan(tide_m)) continue;
    sum += std::max(1.0, tide_m);
    ++count;
  }
  return 0.5 + sum / count;
}

// Intervals by the sunrise before their middle.
std::map<std::string, MetabolicDay> days_of(const OpenData::Table& sonde, double depth_m) {
  const UtcOffset offset{-300};
  const std::vector<double> time_s = sonde.column("time_unix_s");
  const std::vector<double> oxygen = sonde.column("oxygen_mg_l");
  const std::vector<double> middle_s = middles(time_s);
  const std::vector<double> t = middles(sonde.column("water_temperature_c"));
  const std::vector<double> s = middles(sonde.column("salinity"));
  const std::vector<double> air_read = middles(sonde.column("air_temperature_c"));
  const std::vector<double> hpa_read = middles(sonde.column("air_pressure_hpa"));
  const std::vector<double> wind_read = middles(sonde.column("wind_m_s"));
  const std::vector<double> air = filled(air_read, middle_s, offset);
  const std::vector<double> hpa = filled(hpa_read, middle_s, offset);
  const std::vector<double> wind = filled(wind_read, middle_s, offset);
  std::map<std::string, MetabolicDay> days;
  for (std::size_t i = 0; i < middle_s.size(); ++i) {
    const Instant middle{static_cast<std::int64_t>(middle_s[i])};
    CivilDay day = civil_day(middle, offset);
    SunDay sun = *sun_day(day, kLatitude_deg, kLongitude_deg, offset);
    if (middle < sun.sunrise) {
      day = day.plus(-1);
      sun = *sun_day(day, kLatitude_deg, kLongitude_deg, offset);
    }
    MetabolicDay& books = days[to_iso(day)];
    books.day_length_h = static_cast<double>(sun.sunset.unix_s - sun.sunrise.unix_s) / 3600;
    books.weather_missing = books.weather_missing || std::isnan(air_read[i] + wind_read[i] + hpa_read[i]);
    if (std::isnan(oxygen[i] + oxygen[i + 1])) continue;
    const double exchange_m_d = thebault_m_d(t[i], s[i], air[i], wind[i], hpa[i]);
    books.intervals.push_back({time_s[i] / 3600, time_s[i + 1] / 3600, oxygen[i], oxygen[i + 1],
                               saturation_mg_l(t[i], s[i], hpa_read[i] / 1013.25), exchange_m_d / 24 / depth_m,
                               middle < sun.sunset});
  }
  for (auto& [date, books] : days) {
    for (bool daylight : {true, false}) fill_exchange(books.intervals, daylight);
  }
  return days;
}

double quantile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  return values.at(static_cast<std::size_t>(share * static_cast<double>(values.size() - 1)));
}

double correlation(const std::vector<double>& x, const std::vector<double>& y) {
  double mx = 0, my = 0, xx = 0, yy = 0, xy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) mx += x[i], my += y[i];
  mx /= static_cast<double>(x.size());
  my /= static_cast<double>(y.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mx) * (x[i] - mx);
    yy += (y[i] - my) * (y[i] - my);
    xy += (x[i] - mx) * (y[i] - my);
  }
  return xy / std::sqrt(xx * yy);
}

struct Compared {
  std::vector<double> ours, published;
  std::vector<double> off;  // of days on which all weather was read

  void add(double our, double their, bool weather_missing) {
    ours.push_back(our);
    published.push_back(their);
    if (!weather_missing) off.push_back(std::fabs(our - their));
  }
};

// The days' means are those of the published answer to the rounding of the tides in the open file, which moves
// the depth by 1e-7. GPP differs by the length of the day, which comes from another reckoning of the sun; and
// on the few days where that puts a half hour on the other side of sunrise or sunset, both differ.
TEST(SapeloYear, BookkeepingGivesThePublishedDays) {
  const std::optional<OpenData::Table> sonde = open_data("sapelo-2012-sonde.csv");
  const std::optional<OpenData::Table> answers = open_data("sapelo-2012-metabolism.csv");
  if (!sonde || !answers) GTEST_SKIP() << kNoOpenData;
  const double depth_m = depth_of(*sonde);
  EXPECT_NEAR(depth_m, 1.59345, 5e-6);
  const std::map<std::string, MetabolicDay> days = days_of(*sonde, depth_m);
  const std::vector<std::string> dates = answers->text("metabolic_date");
  const std::vector<double> published_gpp = answers->column("gpp_mmol_m2_d");
  const std::vector<double> published_er = answers->column("er_mmol_m2_d");

  Compared gpp, er;
  std::vector<double> ratios;
  std::map<std::string, std::pair<double, double>> ours;
  for (std::size_t i = 0; i < dates.size(); ++i) {
    const auto found = days.find(dates[i]);
    if (found == days.end() || std::isnan(published_gpp[i])) continue;
    const MetabolicDay& day = found->second;
    const Result<SeriesMetabolism> m =
        metabolism_of_intervals(day.intervals, {day.day_length_h, depth_m, 0, 0, 3});
    if (!m) continue;
    // The published respiration is negative: oxygen that is lost.
    ours[dates[i]] = {m->gpp.g_m2_d * kMmolPerG, -m->er.g_m2_d * kMmolPerG};
    gpp.add(ours[dates[i]].first, published_gpp[i], day.weather_missing);
    er.add(ours[dates[i]].second, published_er[i], day.weather_missing);
    if (!day.weather_missing) ratios.push_back(ours[dates[i]].first / published_gpp[i]);
  }
  EXPECT_GE(gpp.ours.size(), 358u);
  EXPECT_GE(gpp.off.size(), 227u);
  EXPECT_LT(quantile(er.off, 0.5), 2e-5);
  EXPECT_LT(quantile(er.off, 0.95), 5e-5);
  EXPECT_NEAR(quantile(gpp.off, 0.5), 0.064, 0.002);
  EXPECT_LT(quantile(gpp.off, 0.95), 0.25);
  EXPECT_NEAR(quantile(ratios, 0.5), 1.00012, 2e-5);
  EXPECT_GT(correlation(gpp.ours, gpp.published), 0.997);
  EXPECT_NEAR(correlation(er.ours, er.published), 0.998, 0.0005);

  struct Anchor {
    const char* date;
    double gpp_mmol_m2_d, er_mmol_m2_d;
  };
  const Anchor anchors[] = {{"2012-01-01", 118.248, -248.599},
                            {"2012-04-10", 79.523, -119.140},
                            {"2012-07-15", 350.431, -417.381},
                            {"2012-07-16", 470.733, -521.383}};
  for (const Anchor& anchor : anchors) {
    ASSERT_EQ(ours.count(anchor.date), 1u) << anchor.date;
    EXPECT_NEAR(ours[anchor.date].first, anchor.gpp_mmol_m2_d, 0.11) << anchor.date;
    EXPECT_NEAR(ours[anchor.date].second, anchor.er_mmol_m2_d, 0.00055) << anchor.date;
  }
}

}  // namespace
}  // namespace tawny
