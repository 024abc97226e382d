// A plot over time: bands, lines, bars, marks and upright lines inside two axes.
//
// Nothing in it knows what it shows: it draws what it is given, leaves out a label for which there is no room
// rather than write over another, and draws what falls into one column of pixels once. Marks differ by shape,
// not by colour alone.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ui/drawings/plot_axis.h"
#include "ui/drawings/plot_thin.h"
#include "ui/widgets.h"

namespace tawny::ui {

// In which a plot can be read at the present text size.
float plot_height(const Ui& ui);

enum class PlotStroke { strong, thin, dashed, dotted, long_dashed };
struct PlotLine {
  PlotPoints points;
  Colour colour = 0;
  PlotStroke stroke = PlotStroke::strong;
  std::string label;  // beside it, where there is room
};
// Between two heights, from side to side or between two places across.
struct PlotBand {
  double low = 0, high = 0;
  Colour colour = 0;
  std::string label;
  std::optional<double> from, until;
};
// deeper: a bar with an arrow down from it
enum class PlotShape { dot, ring, diamond, cross, deeper, drop, square, triangle };
struct PlotMark {
  double across = 0, up = 0;
  Colour colour = 0;
  PlotShape shape = PlotShape::dot;
  std::string label;
};
// Many marks alike, in order across, without labels.
struct PlotMarks {
  PlotPoints points;
  Colour colour = 0;
  PlotShape shape = PlotShape::dot;
};
// Upright, from one height to the other.
struct PlotBar {
  double across = 0, low = 0, high = 0;
};
// What lies between two lines, as the range of a forecast does: shaded, with a thin edge.
struct PlotFan {
  std::vector<PlotBar> slices;  // in order across
  Colour colour = 0;
};
// From foot to top with its label over it; where that does not fit, the short one.
struct PlotUpright {
  double across = 0;
  std::string label, short_label;
};
// A short stroke up from the foot, in one of some lanes that lie over each other there.
struct PlotNotch {
  double across = 0;
  int lane = 0;  // 0 is the lowest
  Colour colour = 0;
  std::string label;  // beside it, where there is room
};

struct Plot {
  PlotAxis across, up;
  std::vector<PlotBand> bands;
  std::vector<PlotFan> fans;
  std::vector<PlotUpright> uprights;
  std::vector<PlotLine> lines;
  std::vector<PlotBar> bars;
  Colour bar_colour = 0;
  std::vector<PlotMarks> many;
  std::vector<PlotMark> marks;
  std::vector<PlotNotch> notches;
  std::optional<double> picked;  // a place across that the person looks at
  std::string nothing;           // said in the middle where there is nothing to draw
  // Where several plots stand over each other on one axis across: the rectangle between the axes, given by the
  // stack, which paints the ground and the uprights.
  struct Place {
    Rect area;
    bool names_across = true;  // what stands at the ticks across is written under this plot
    float mark_radius = 6;     // at most
  };
  std::optional<Place> place;
};
// Gives the rectangle between the axes: what lies there is across.low .. across.high.
Rect draw_plot(Ui& ui, Rect where, const Plot& plot);

// What the marks and lines of a plot mean, in as many rows as it takes.
struct PlotKey {
  std::string word;
  Colour colour = 0;
  std::optional<PlotShape> shape;    // with a stroke: marks on a line
  std::optional<PlotStroke> stroke;  // without a shape and a stroke: a band
  bool fan = false;                  // or a fan
};
void draw_plot_keys(Ui& ui, std::string_view id, const std::vector<PlotKey>& keys);

}  // namespace tawny::ui
