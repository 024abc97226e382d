#include "science/metabolism.h"

#include <algorithm>
#include <cmath>

#include "science/gas_exchange.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

constexpr Range kOxygen{0, 40, "mg_l", 2};
constexpr Range kHourOfDay{0, 24, "h", 2};
constexpr Range kHourOfNextDay{24, 36, "h", 2};
constexpr Range kReadingError{0, 5, "mg_l", 2};
constexpr Range kShare{0, 1, "share", 2};

constexpr double kPi = 3.14159265358979323846;
constexpr double kEightyPercent = 1.2815515655446004;  // of a normal distribution, to either side
// Below this part of what light and respiration could move, the two equations are as good as one.
constexpr double kLeastPart = 0.01;

// (1 - exp(-K D)) / K: what a constant gain of 1 per hour has left after D hours; D itself where K is nothing.
double steady_gain_h(double exchange_per_h, double hours) {
  const double x = exchange_per_h * hours;
  return x == 0 ? hours : -std::expm1(-x) / x * hours;
}

// What one day's production of 1 mg/L, half a sine from `sunrise_h` to `sunset_h`, has left at `end_h` of what
// it made since `start_h`.
double light_gain(double sunrise_h, double sunset_h, double start_h, double end_h, double exchange_per_h) {
  const double from_h = std::max(start_h, sunrise_h);
  const double to_h = std::min(end_h, sunset_h);
  if (from_h >= to_h) return 0;
  const double w = kPi / (sunset_h - sunrise_h);
  const double k = exchange_per_h;
  const auto antiderivative = [&](double at_h) {
    const double angle = w * (at_h - sunrise_h);
    return std::exp(-k * (end_h - at_h)) * (k * std::sin(angle) - w * std::cos(angle)) / (k * k + w * w);
  };
  return w / 2 * (antiderivative(to_h) - antiderivative(from_h));
}

// One interval between two readings: change = GPP light - ER / 24 steady_h.
struct Interval {
  double kept = 0;  // share of the first reading's distance to saturation that is still there at the end
  double steady_h = 0;
  double light = 0;
};

Interval interval_between(const ThreeReadings& r, double start_h, double end_h, double exchange_per_h) {
  Interval interval;
  interval.kept = std::exp(-exchange_per_h * (end_h - start_h));
  interval.steady_h = steady_gain_h(exchange_per_h, end_h - start_h);
  for (double day_h : {0.0, 24.0}) {
    interval.light += light_gain(r.sunrise_h + day_h, r.sunset_h + day_h, start_h, end_h, exchange_per_h);
  }
  return interval;
}

struct Solution {
  double gpp = 0;
  double er = 0;
  // How they answer to each of the three readings.
  double gpp_by_reading[3] = {};
  double er_by_reading[3] = {};
  bool parted = false;  // the intervals tell light from dark
};

Solution solve(const ThreeReadings& r, double saturation_mg_l, double exchange_per_h) {
  const Interval first = interval_between(r, r.dawn_h, r.afternoon_h, exchange_per_h);
  const Interval second = interval_between(r, r.afternoon_h, r.next_dawn_h, exchange_per_h);
  const double much = first.light * second.steady_h;
  const double little = second.light * first.steady_h;
  const double determinant = much - little;
  Solution solution;
  solution.parted = std::fabs(determinant) >= kLeastPart * (much + little) && much + little > 0;
  if (!solution.parted) return solution;

  // Distances to saturation; a common shift of the readings is not one of saturation, so they enter one by one.
  const double distance[3] = {r.dawn_mg_l - saturation_mg_l, r.afternoon_mg_l - saturation_mg_l,
                              r.next_dawn_mg_l - saturation_mg_l};
  const double first_change[3] = {-first.kept, 1, 0};
  const double second_change[3] = {0, -second.kept, 1};
  for (int i = 0; i < 3; ++i) {
    solution.gpp_by_reading[i] =
        (first_change[i] * second.steady_h - second_change[i] * first.steady_h) / determinant;
    solution.er_by_reading[i] =
        24 * (first_change[i] * second.light - second_change[i] * first.light) / determinant;
    solution.gpp += solution.gpp_by_reading[i] * distance[i];
    solution.er += solution.er_by_reading[i] * distance[i];
  }
  return solution;
}

Message out_of_order(std::string_view earlier, std::string_view later) {
  return Message("problem.readings_not_in_order")
      .with("earlier", Word{"parameter." + std::string(earlier)})
      .with("later", Word{"parameter." + std::string(later)});
}

}  // namespace

DailyRate daily_rate(double mg_l_d, double sd_mg_l_d, double depth_m) {
  DailyRate rate;
  rate.mg_l_d = mg_l_d;
  rate.low_mg_l_d = mg_l_d - kEightyPercent * sd_mg_l_d;
  rate.high_mg_l_d = mg_l_d + kEightyPercent * sd_mg_l_d;
  rate.g_m2_d = rate.mg_l_d * depth_m;
  rate.low_g_m2_d = rate.low_mg_l_d * depth_m;
  rate.high_g_m2_d = rate.high_mg_l_d * depth_m;
  return rate;
}

Result<Metabolism> metabolism_of_three(const ThreeReadings& r) {
  TAWNY_REFUSE_OUTSIDE("dawn_mg_l", r.dawn_mg_l, kOxygen);
  TAWNY_REFUSE_OUTSIDE("dawn_h", r.dawn_h, kHourOfDay);
  TAWNY_REFUSE_OUTSIDE("afternoon_mg_l", r.afternoon_mg_l, kOxygen);
  TAWNY_REFUSE_OUTSIDE("afternoon_h", r.afternoon_h, kHourOfDay);
  TAWNY_REFUSE_OUTSIDE("next_dawn_mg_l", r.next_dawn_mg_l, kOxygen);
  TAWNY_REFUSE_OUTSIDE("next_dawn_h", r.next_dawn_h, kHourOfNextDay);
  TAWNY_REFUSE_OUTSIDE("sunrise_h", r.sunrise_h, kHourOfDay);
  TAWNY_REFUSE_OUTSIDE("sunset_h", r.sunset_h, kHourOfDay);
  TAWNY_REFUSE_OUTSIDE("reading_error_mg_l", r.reading_error_mg_l, kReadingError);
  TAWNY_REFUSE_OUTSIDE("exchange_error_share", r.exchange_error_share, kShare);
  if (r.dawn_h >= r.afternoon_h) {
    return refuse(ProblemKind::conflict, "afternoon_h", out_of_order("dawn_h", "afternoon_h"));
  }
  if (r.afternoon_h >= r.next_dawn_h) {
    return refuse(ProblemKind::conflict, "next_dawn_h", out_of_order("afternoon_h", "next_dawn_h"));
  }
  if (r.sunrise_h >= r.sunset_h) {
    return refuse(ProblemKind::conflict, "sunset_h",
                  Message("problem.sunset_before_sunrise")
                      .with("sunrise", Quantity{r.sunrise_h, 2, "h"})
                      .with("sunset", Quantity{r.sunset_h, 2, "h"}));
  }
  const Result<double> saturation_mg_l = oxygen_saturation_mg_l(r.temperature_c, r.salinity, r.pressure_atm);
  if (!saturation_mg_l) return tl::unexpected<Problem>(saturation_mg_l.error());
  const Result<double> exchange_per_h =
      oxygen_exchange_per_h(r.temperature_c, r.salinity, r.wind_10_m_s, r.depth_m);
  if (!exchange_per_h) return tl::unexpected<Problem>(exchange_per_h.error());

  const Solution best = solve(r, *saturation_mg_l, *exchange_per_h);
  const Solution slower = solve(r, *saturation_mg_l, *exchange_per_h * (1 - r.exchange_error_share));
  const Solution faster = solve(r, *saturation_mg_l, *exchange_per_h * (1 + r.exchange_error_share));
  if (!best.parted || !slower.parted || !faster.parted) {
    return refuse(ProblemKind::impossible, "afternoon_h", Message("problem.readings_do_not_part_light"));
  }

  // What one standard error of the exchange moves; then what each reading's own moves.
  double gpp_variance = std::pow((faster.gpp - slower.gpp) / 2, 2);
  double er_variance = std::pow((faster.er - slower.er) / 2, 2);
  double nep_variance = std::pow((faster.gpp - faster.er - slower.gpp + slower.er) / 2, 2);
  for (int i = 0; i < 3; ++i) {
    gpp_variance += std::pow(best.gpp_by_reading[i] * r.reading_error_mg_l, 2);
    er_variance += std::pow(best.er_by_reading[i] * r.reading_error_mg_l, 2);
    nep_variance += std::pow((best.gpp_by_reading[i] - best.er_by_reading[i]) * r.reading_error_mg_l, 2);
  }
  Metabolism metabolism;
  metabolism.gpp = daily_rate(best.gpp, std::sqrt(gpp_variance), r.depth_m);
  metabolism.er = daily_rate(best.er, std::sqrt(er_variance), r.depth_m);
  metabolism.nep = daily_rate(best.gpp - best.er, std::sqrt(nep_variance), r.depth_m);
  metabolism.gpp_resolvable = best.gpp >= 0;
  metabolism.er_resolvable = best.er >= 0;
  return metabolism;
}

}  // namespace tawny
