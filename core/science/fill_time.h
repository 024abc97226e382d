// Hours to fill a volume from a steady inflow, with losses over a water surface taken as steady.
//
//   symbol  meaning                             unit   range
//   V       volume to fill                      m3     0 .. 1e7
//   Q       inflow                              L/s    0.01 .. 100000
//   A       water surface that loses            m2     0 .. 1e7
//   e       evaporation and seepage less rain   mm/d   -500 .. 500; less than 0: rain brings more than is lost
//
//   t = V / (3.6 Q - A e / 24000)   h
//
// Source: balance of water; 5000 m3 at 100 L/s in 13.889 h, with 10 mm/d over 5000 m2 in 13.970 h.
//
// What does not hold: the surface grows as the pond fills: pond/filling.h follows it over the pond's own curve.
// Taking the surface at the end makes the answer late, never early.
#pragma once

#include "base/problem.h"

namespace tawny {

// Refused as impossible where the losses take all of the inflow.
Result<double> fill_time_h(double volume_m3, double inflow_l_s, double area_m2, double loss_mm_d);

}  // namespace tawny
