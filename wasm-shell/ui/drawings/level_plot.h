// A plot over time: lines, bands and marks inside two axes with ticks at round numbers.
//
// Made for levels, but nothing in it knows what it shows: it draws what it is given, and leaves out a label for
// which there is no room rather than write over another.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/time.h"
#include "ui/widgets.h"

namespace tawny::ui {

inline constexpr float kLevelPlotHeight = 256;

struct PlotTick {
  double at = 0;
  std::string label;
};
struct PlotAxis {
  double low = 0, high = 1;
  std::vector<PlotTick> ticks;
  std::string unit;  // over the upright axis
};
// Its ends are round numbers around both; at most `most` ticks. `unit` is a unit key.
PlotAxis round_axis(double low, double high, int most, const Words& words, std::string_view unit);
// Seconds of Unix time between both, ticks at full hours or days of the farm's clock; midnight shows the date.
PlotAxis clock_axis(Instant from, Instant until, int most, const Words& words, UtcOffset offset);

enum class PlotStroke { strong, thin, dashed };
struct PlotLine {
  std::vector<std::pair<double, double>> points;
  Colour colour = 0;
  PlotStroke stroke = PlotStroke::strong;
  std::string label;  // beside it, where there is room
};
// From side to side between two heights.
struct PlotBand {
  double low = 0, high = 0;
  Colour colour = 0;
  std::string label;
};
struct PlotMark {
  double across = 0, up = 0;
  Colour colour = 0;
  bool hollow = false;
  std::string label;
};

struct LevelPlot {
  PlotAxis across, up;
  std::vector<PlotBand> bands;
  std::vector<PlotLine> lines;
  std::vector<PlotMark> marks;
};
void draw_level_plot(Ui& ui, Rect where, const LevelPlot& plot);

}  // namespace tawny::ui
