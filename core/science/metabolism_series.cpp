#include "science/metabolism_series.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "science/gas_exchange.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

constexpr Range kOxygen{0, 40, "mg_l", 2};
constexpr Range kSaturation{0, 40, "mg_l", 2};
constexpr Range kExchange{0, 10, "per_h", 3};
constexpr Range kDayLength{4, 20, "h", 2};
constexpr Range kDepth{0.05, 10, "m", 2};
constexpr Range kReadingError{0, 5, "mg_l", 2};
constexpr Range kShare{0, 1, "share", 2};
constexpr Range kLeastIntervals{1, 1000, "", 0};
constexpr Range kTime{0, 24 * 366, "h", 2};
constexpr Range kHourOfDay{0, 24, "h", 2};
constexpr Range kLongestInterval{0.01, 6, "h", 2};

// Mean of F over the intervals by day, or by night, and what it answers to.
struct MeanGain {
  int intervals = 0;
  double biological = 0;           // mean F, mg/L/h
  double exchange = 0;             // mean K (Cs - C), mg/L/h
  std::vector<double> by_reading;  // of the mean F, to each reading in turn
};

Message not_in_order(std::size_t number) {
  return Message("problem.series_not_in_order").with("number", bare(number));
}

// How many readings there are: neighbours share the one between them.
std::size_t readings_of(std::span<const OxygenInterval> intervals) {
  std::size_t readings = intervals.empty() ? 0 : 2;
  for (std::size_t i = 1; i < intervals.size(); ++i) {
    readings += intervals[i].start_h == intervals[i - 1].end_h ? 1 : 2;
  }
  return readings;
}

MeanGain mean_gain(std::span<const OxygenInterval> intervals, bool day, std::size_t readings) {
  MeanGain mean;
  mean.by_reading.assign(readings, 0);
  std::size_t first_reading = 0;
  for (std::size_t i = 0; i < intervals.size(); ++i) {
    const OxygenInterval& interval = intervals[i];
    if (i > 0) first_reading += interval.start_h == intervals[i - 1].end_h ? 1 : 2;
    if (interval.day != day) continue;
    const double hours = interval.end_h - interval.start_h;
    const double middle_mg_l = (interval.start_mg_l + interval.end_mg_l) / 2;
    const double exchange = interval.exchange_per_h * (interval.saturation_mg_l - middle_mg_l);
    mean.biological += (interval.end_mg_l - interval.start_mg_l) / hours - exchange;
    mean.exchange += exchange;
    mean.by_reading[first_reading] += -1 / hours + interval.exchange_per_h / 2;
    mean.by_reading[first_reading + 1] += 1 / hours + interval.exchange_per_h / 2;
    ++mean.intervals;
  }
  if (mean.intervals == 0) return mean;
  mean.biological /= mean.intervals;
  mean.exchange /= mean.intervals;
  for (double& weight : mean.by_reading) weight /= mean.intervals;
  return mean;
}

}  // namespace

Result<SeriesMetabolism> metabolism_of_intervals(std::span<const OxygenInterval> intervals,
                                                 const Bookkeeping& bookkeeping) {
  TAWNY_REFUSE_OUTSIDE("day_length_h", bookkeeping.day_length_h, kDayLength);
  TAWNY_REFUSE_OUTSIDE("depth_m", bookkeeping.depth_m, kDepth);
  TAWNY_REFUSE_OUTSIDE("reading_error_mg_l", bookkeeping.reading_error_mg_l, kReadingError);
  TAWNY_REFUSE_OUTSIDE("exchange_error_share", bookkeeping.exchange_error_share, kShare);
  TAWNY_REFUSE_OUTSIDE("least_intervals", bookkeeping.least_intervals, kLeastIntervals);

  SeriesMetabolism metabolism;
  for (std::size_t i = 0; i < intervals.size(); ++i) {
    const OxygenInterval& interval = intervals[i];
    TAWNY_REFUSE_OUTSIDE("start_mg_l", interval.start_mg_l, kOxygen);
    TAWNY_REFUSE_OUTSIDE("end_mg_l", interval.end_mg_l, kOxygen);
    TAWNY_REFUSE_OUTSIDE("saturation_mg_l", interval.saturation_mg_l, kSaturation);
    TAWNY_REFUSE_OUTSIDE("exchange_per_h", interval.exchange_per_h, kExchange);
    const double gap_h = i == 0 ? 0 : interval.start_h - intervals[i - 1].end_h;
    // Written so that a time that is no number is refused too.
    if (!(interval.end_h > interval.start_h) || !(gap_h >= 0) || !std::isfinite(interval.end_h)) {
      return refuse(ProblemKind::conflict, "time_h", not_in_order(i + 2));
    }
    if (gap_h > 0) ++metabolism.gaps;
    metabolism.longest_gap_h = std::max(metabolism.longest_gap_h, gap_h);
  }
  const std::size_t readings = readings_of(intervals);
  const MeanGain day = mean_gain(intervals, true, readings);
  const MeanGain night = mean_gain(intervals, false, readings);
  metabolism.day_intervals = day.intervals;
  metabolism.night_intervals = night.intervals;
  if (std::min(day.intervals, night.intervals) < bookkeeping.least_intervals) {
    return refuse(ProblemKind::missing, "readings",
                  Message("problem.series_too_short")
                      .with("day", bare(day.intervals))
                      .with("night", bare(night.intervals))
                      .with("least", bare(bookkeeping.least_intervals)));
  }

  const double length_h = bookkeeping.day_length_h;
  const double er = -24 * night.biological;
  const double gpp = (day.biological - night.biological) * length_h;
  // One standard error of the exchange moves each mean by its own exchange; then each reading moves by its own.
  const double share = bookkeeping.exchange_error_share;
  double er_variance = std::pow(24 * night.exchange * share, 2);
  double gpp_variance = std::pow((day.exchange - night.exchange) * length_h * share, 2);
  double nep_variance = std::pow(((day.exchange - night.exchange) * length_h + 24 * night.exchange) * share, 2);
  for (std::size_t i = 0; i < readings; ++i) {
    const double er_move = -24 * night.by_reading[i] * bookkeeping.reading_error_mg_l;
    const double gpp_move =
        (day.by_reading[i] - night.by_reading[i]) * length_h * bookkeeping.reading_error_mg_l;
    er_variance += er_move * er_move;
    gpp_variance += gpp_move * gpp_move;
    nep_variance += (gpp_move - er_move) * (gpp_move - er_move);
  }
  metabolism.gpp = daily_rate(gpp, std::sqrt(gpp_variance), bookkeeping.depth_m);
  metabolism.er = daily_rate(er, std::sqrt(er_variance), bookkeeping.depth_m);
  metabolism.nep = daily_rate(gpp - er, std::sqrt(nep_variance), bookkeeping.depth_m);
  metabolism.gpp_resolvable = gpp >= 0;
  metabolism.er_resolvable = er >= 0;
  return metabolism;
}

Result<SeriesMetabolism> metabolism_of_series(std::span<const OxygenReading> readings,
                                              const SeriesPlace& place) {
  TAWNY_REFUSE_OUTSIDE("sunrise_h", place.sunrise_h, kHourOfDay);
  TAWNY_REFUSE_OUTSIDE("sunset_h", place.sunset_h, kHourOfDay);
  TAWNY_REFUSE_OUTSIDE("longest_interval_h", place.longest_interval_h, kLongestInterval);
  if (place.sunrise_h >= place.sunset_h) {
    return refuse(ProblemKind::conflict, "sunset_h",
                  Message("problem.sunset_before_sunrise")
                      .with("sunrise", Quantity{place.sunrise_h, 2, "h"})
                      .with("sunset", Quantity{place.sunset_h, 2, "h"}));
  }
  std::vector<OxygenInterval> intervals;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const OxygenReading& b = readings[i];
    TAWNY_REFUSE_OUTSIDE("time_h", b.time_h, kTime);
    TAWNY_REFUSE_OUTSIDE("oxygen_mg_l", b.oxygen_mg_l, kOxygen);
    if (i == 0) continue;
    const OxygenReading& a = readings[i - 1];
    if (b.time_h <= a.time_h) return refuse(ProblemKind::conflict, "time_h", not_in_order(i + 1));
    if (b.time_h - a.time_h > place.longest_interval_h) continue;
    const double temperature_c = (a.temperature_c + b.temperature_c) / 2;
    const double salinity = (a.salinity + b.salinity) / 2;
    const Result<double> saturation_mg_l = oxygen_saturation_mg_l(temperature_c, salinity, place.pressure_atm);
    if (!saturation_mg_l) return tl::unexpected<Problem>(saturation_mg_l.error());
    const Result<double> exchange_per_h =
        oxygen_exchange_per_h(temperature_c, salinity, (a.wind_10_m_s + b.wind_10_m_s) / 2, place.depth_m);
    if (!exchange_per_h) return tl::unexpected<Problem>(exchange_per_h.error());
    const double hour = std::fmod((a.time_h + b.time_h) / 2, 24);
    intervals.push_back({a.time_h, b.time_h, a.oxygen_mg_l, b.oxygen_mg_l, *saturation_mg_l, *exchange_per_h,
                         hour >= place.sunrise_h && hour < place.sunset_h});
  }
  return metabolism_of_intervals(intervals,
                                 {place.sunset_h - place.sunrise_h, place.depth_m, place.reading_error_mg_l,
                                  place.exchange_error_share, place.least_intervals});
}

}  // namespace tawny
