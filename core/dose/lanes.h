// Where the boat goes: parallel lanes along a pond's length, shared out evenly among the bins.
//
// The outline is a rectangle, x along its length 0 .. length_m, y along its width 0 .. width_m. There are as
// many lanes as keep neighbours no farther apart than the spacing asked for, evenly spread, the outer ones half
// a spacing from the banks: so every point lies within half a spacing of a lane. The boat goes there and back
// (serpentine): odd lanes run the other way. Every bin covers the same length of lane; a lane on which a bin
// runs empty is cut there.
//
// What does not hold: ponds that are not near a rectangle; the short legs from lane to lane are not counted.
#pragma once

#include <vector>

#include "base/problem.h"

namespace tawny {

// A straight piece, from (x0, y0) to (x1, y1) in m, spread from one bin (numbered from 1).
struct Lane {
  double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  int bin = 0;
};

// In the order of travel. Length and width 1 .. 5000 m, spacing 1 .. 200 m, bins 1 .. 500, at most 2000 lanes.
Result<std::vector<Lane>> plan_lanes(double length_m, double width_m, double spacing_m, int bins);

}  // namespace tawny
