// Water that a pond loses through its bottom and banks.
//
//   symbol  meaning                                               unit
//   K       saturated hydraulic conductivity of the bottom        mm/h    0 .. 500
//   A       area that seeps                                       ha      0.001 .. 1000
//   V       volume lost                                           m3/d
//   f       fall of the level of a still pond                     mm/d    -500 .. 500, negative: it rises
//   e, r    evaporation and rain over the same time               mm/d    0 .. 40, 0 .. 1000
//   s       seepage                                               mm/d
//
//   V = 240 K A,  s = f + r - e
//
// Source: V as in the documentation of SWAT+ (ponds and wetlands); s is the pond's water balance. Measured:
// ponds on clay at Auburn lost 2.7 to 12.2 mm/d beside 3.6 mm/d of evaporation (Boyd 1982, Trans. Am. Fish.
// Soc. 111:638).
//
// What does not hold: V takes one unit of slope for the pull of the water, which a sealed or silted bottom over
// wet ground never has: it is an upper bound. s counts as seepage whatever else leaves: leaking gates, a pump,
// a misread gauge; take it over several days with gates shut and no wind.
#pragma once

#include "base/problem.h"

namespace tawny {

Result<double> seepage_m3_d(double conductivity_mm_h, double area_ha);

// Refuses (kind impossible) a level that falls less than evaporation and rain explain: water comes in.
Result<double> seepage_mm_d(double level_fall_mm_d, double evaporation_mm_d, double rain_mm_d);

}  // namespace tawny
