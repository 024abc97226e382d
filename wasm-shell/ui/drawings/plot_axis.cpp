#include "ui/drawings/plot_axis.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tawny::ui {
namespace {

// 1, 2 or 5 times a power of ten.
double round_step(double span, int most) {
  const double least = span / std::max(1, most - 1);
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double times : {1.0, 2.0, 5.0}) {
    if (times * power >= least * (1 - 1e-9)) return times * power;
  }
  return 10 * power;
}

}  // namespace

PlotAxis round_axis(double low, double high, int most, const Words& words, std::string_view unit) {
  PlotAxis axis;
  axis.unit = unit.empty() ? std::string() : words.unit(unit);
  const double step = round_step(std::max(high - low, 1e-6), most);
  const int decimals = step >= 1 ? 0 : static_cast<int>(std::ceil(-std::log10(step)));
  axis.low = step * std::floor(low / step + 1e-9);
  axis.high = std::max(step * std::ceil(high / step - 1e-9), axis.low + step);
  for (double at = axis.low; at <= axis.high + step / 2; at += step) {
    axis.ticks.push_back({at, words.number(at, decimals)});
  }
  return axis;
}

PlotAxis clock_axis(Instant from, Instant until, int most, const Words& words, UtcOffset offset) {
  constexpr std::int64_t kHour = 3600;
  PlotAxis axis;
  axis.low = static_cast<double>(from.unix_s);
  axis.high = static_cast<double>(std::max(until.unix_s, from.unix_s + 60));
  const std::int64_t span_s = std::max<std::int64_t>(until.unix_s - from.unix_s, 60);
  std::int64_t step_s = 24 * kHour;
  bool found = false;
  for (const std::int64_t step :
       {kHour / 4, kHour / 2, kHour, 2 * kHour, 3 * kHour, 6 * kHour, 12 * kHour, 24 * kHour}) {
    if (found || span_s / step + 1 > most) continue;
    step_s = step;
    found = true;
  }
  while (span_s / step_s + 1 > most) step_s += 24 * kHour;
  const std::int64_t midnight = instant_at(civil_day(from, offset), 0, offset).unix_s;
  std::int64_t at = midnight + (from.unix_s - midnight + step_s - 1) / step_s * step_s;
  for (; at <= until.unix_s; at += step_s) {
    const Instant instant{at};
    const bool is_midnight = second_of_day(instant, offset) == 0;
    axis.ticks.push_back(
        {static_cast<double>(at), is_midnight ? words.day(civil_day(instant, offset)) : words.clock(instant)});
  }
  return axis;
}

PlotAxis day_axis(Instant from, Instant until, const Words& words, UtcOffset offset) {
  constexpr int kNoon = 12 * 3600;
  PlotAxis axis;
  axis.low = static_cast<double>(from.unix_s);
  axis.high = static_cast<double>(std::max(until.unix_s, from.unix_s + 60));
  for (CivilDay day = civil_day(from, offset); instant_at(day, 0, offset) < until; day = day.plus(1)) {
    const Instant noon = instant_at(day, kNoon, offset);
    if (noon >= from && noon <= until) axis.ticks.push_back({static_cast<double>(noon.unix_s), words.day(day)});
  }
  return axis;
}

PlotAxis ends_axis(double low, double high, std::string low_label, std::string high_label) {
  PlotAxis axis;
  if (low_label == high_label) {
    const double middle = (low + high) / 2;
    const double half = std::max(high - low, 1e-9);
    axis.low = middle - half;
    axis.high = middle + half;
    axis.ticks = {{middle, std::move(low_label)}};
    return axis;
  }
  axis.low = low;
  axis.high = std::max(high, low + 1e-9);
  axis.ticks = {{low, std::move(low_label)}, {high, std::move(high_label)}};
  return axis;
}

}  // namespace tawny::ui
