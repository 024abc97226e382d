// Fewer points for the same picture: what falls into one column of pixels is drawn once.
//
// Of a line, each column keeps its first, its lowest, its highest and its last point, so no extreme is lost and
// the line enters and leaves each column where it did. Points outside are left out, but for the nearest one on
// either side, to which the line goes on.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace tawny::ui {

using PlotPoints = std::vector<std::pair<double, double>>;  // across, up; in order of across

// Of what lies from `low` to `high` across, drawn `columns` px wide.
PlotPoints thin_line(const PlotPoints& points, double low, double high, int columns);

// Of points that stand alone: the places of those to be drawn, each column's lowest and highest. None outside.
std::vector<std::size_t> thin_points(const PlotPoints& points, double low, double high, int columns);

}  // namespace tawny::ui
