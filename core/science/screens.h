// How much screen or sock a flow asks for.
//
//   symbol  meaning                                                  unit    range
//   Q       flow                                                     L/s     0.1 .. 20000
//   v       approach velocity: flow over the cloth that still works  m/s     0.01 .. 1
//   p       open share: holes over the whole of the cloth            (none)  0.05 .. 0.95
//   F       clogging factor: cloth hung over cloth needed            (none)  1 .. 10; 2: half of it may clog
//   w, d    mesh opening and wire of a square weave                  um      20 .. 10000, 10 .. 5000
//
//   A_effective = Q / v,  A_gross = F A_effective                    m2
//   slot velocity, in the holes: v / p when clogged down to A_effective, v / (p F) when clean
//   p = (w / (w + d))^2
//
// Source: A = Q/v and its worked line 1.0 cfs / 0.33 ft/s = 3.0 ft2: California DFG screening criteria 2000;
// p: geometry. Largest difference from them 1 % (their rounding).
//
// What does not hold: published approach velocities protect fish at river intakes (0.06 to 0.12 m/s); for pond
// inlet socks none is published, so v and F are the farm's own. Frames, seams and the part above the water do
// not count as cloth. A sock in a jet is pressed at its end and works on less than its area.
#pragma once

#include "base/problem.h"

namespace tawny {

struct ScreenArea {
  double effective_m2 = 0;
  double gross_m2 = 0;
  double slot_velocity_m_s = 0;        // clogged down to the effective area
  double slot_velocity_clean_m_s = 0;  // over the gross area
};

Result<ScreenArea> screen_area(double flow_l_s, double approach_velocity_m_s, double open_share,
                               double clogging_factor);

// Open share of a square weave.
Result<double> mesh_open_share(double mesh_um, double wire_um);

}  // namespace tawny
