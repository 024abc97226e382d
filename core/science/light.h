// Light in the water, from the Secchi disc.
//
//   symbol  meaning                                           unit
//   Z       Secchi disc visibility                            cm       1 .. 5000
//   c       coefficient that ties the disc to the light       (none)   0.5 .. 4
//   k       attenuation of photosynthetic light with depth    1/m      0.01 .. 400
//   p       share of the surface's light                      (none)   0.0001 .. 1
//   H       depth of the water                                m        0 .. 100
//
//   k = c / (Z / 100),  depth at which p is left = -ln(p) / k,  mean share over H = (1 - exp(-k H)) / (k H)
//
// Sources for c: 1.44 turbid coast (Holmes 1970, Limnol. Oceanogr. 15:688, from memory); 1.7 clear coast (Poole
// & Atkins 1929, J. Mar. Biol. Assoc. UK 16:297); 2.26 turbid reservoirs (Padial & Thomaz 2008, Limnology 9).
// Against 235 pairs of disc and light profile of an estuary (Casco Bay, open data) 1.44 is off by 20 % in the
// mean, and 80 of 100 pairs lie between 1.1 and 1.9: show the answer as a range.
//
// What does not hold: one c for all waters (colour and clay raise it, and where the disc is seen less than 1 m
// deep it tends to be lower); a reading with the disc on the bottom, which is no number; light that the bottom
// throws back in a shallow pond.
#pragma once

#include "base/problem.h"

namespace tawny {

Result<double> attenuation_per_m(double secchi_cm, double coefficient);

// Depth at which `share` of the light under the surface is left; 0.01 is the usual end of the lit layer.
Result<double> lit_depth_m(double attenuation_per_m, double share);

// Mean over the depth, as a share of the light under the surface: what a cell sees that is stirred through it.
Result<double> mean_light_share(double attenuation_per_m, double depth_m);

}  // namespace tawny
