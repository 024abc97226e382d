// Several plots over each other on one axis across: what happened on one day stands on one upright line.
//
// Each plot has its title and, beside it, what is read off at the place that is looked at; the names across
// stand once, under the last plot. The stack fills the height it is given, so that a whole cycle is seen at
// once where the screen is high enough.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ui/drawings/plot.h"

namespace tawny::ui {

struct StackRow {
  std::string id, title;
  std::string name;   // of the picture, for who cannot see it
  std::string value;  // read off at the place that is looked at
  Plot plot;
  float share = 1;  // of the height
};

struct PlotStack {
  std::vector<StackRow> rows;         // the axes across of all are the first one's
  std::vector<PlotUpright> uprights;  // through all rows, named over the first
  std::optional<double> picked;
  std::string picked_word;  // over the line through the place that is looked at
  float least_area = 38;    // px of height of the lowest plot, between its axes
  float mark_radius = 5;    // at most
};

// What fingers and a mouse did to it.
struct StackTouch {
  double pan_share = 0;  // of the width, to the right
  double zoom = 1, centre_share = 0;
  std::optional<double> picked_share;  // tapped, or a mouse stands there
};

// The least height in which the rows can still be read at the present text size.
float least_stack_height(const Ui& ui, const PlotStack& stack);
StackTouch draw_plot_stack(Ui& ui, std::string_view id, const PlotStack& stack, float height);

}  // namespace tawny::ui
