// The two axes of a plot: where they begin and end, and their ticks with a label each.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/time.h"
#include "words/words.h"

namespace tawny::ui {

struct PlotTick {
  double at = 0;
  std::string label;
};
struct PlotAxis {
  double low = 0, high = 1;
  std::vector<PlotTick> ticks;
  std::string unit;        // over the upright axis
  bool downwards = false;  // of the upright axis: what is higher stands lower, as a depth does
};
// Its ends are round numbers around both; at most `most` ticks. `unit` is a unit key.
PlotAxis round_axis(double low, double high, int most, const Words& words, std::string_view unit);
// Seconds of Unix time between both, ticks at full hours or days of the farm's clock; midnight shows the date.
PlotAxis clock_axis(Instant from, Instant until, int most, const Words& words, UtcOffset offset);
// The same with a tick at the noon of each day: what belongs to a day as a whole stands there.
PlotAxis day_axis(Instant from, Instant until, const Words& words, UtcOffset offset);
// Named at its ends only. Where both labels are the same, one tick stands in the middle.
PlotAxis ends_axis(double low, double high, std::string low_label, std::string high_label);

}  // namespace tawny::ui
