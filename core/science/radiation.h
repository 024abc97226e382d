// The sun's energy in a day: at the top of the air, on the ground, and the part that algae use.
//
//   symbol  meaning                                     unit
//   lat     latitude                                    deg        -66 .. 66: the sun rises and sets every day
//   J       day of the year                             (none)     1 .. 366
//   z       altitude                                    m          -400 .. 5000
//   n, N    hours of bright sun; hours of daylight      h          n 0 .. N
//   ws      hour angle of the sunset                    rad
//   Ra      radiation at the top of the air             MJ/(m2 d)
//   Rs, Rso radiation on level ground; by a clear sky   MJ/(m2 d)
//
//   dr = 1 + 0.033 cos(2 pi J / 365),  d = 0.409 sin(2 pi J / 365 - 1.39),  ws = acos(-tan lat tan d)
//   Ra = 24 60 / pi 0.0820 dr (ws sin lat sin d + cos lat cos d sin ws),  N = 24 ws / pi
//   Rs = (0.25 + 0.50 n / N) Ra,  Rso = (0.75 + 2e-5 z) Ra
//   photosynthetic light = 0.45 Rs, 4.57 mol of photons per MJ of it
//
// Source: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, eq. 21 .. 25, 34, 35, 37; the share and the
// moles of photosynthetic light from memory. Against its examples 8, 9, 10 and 18: within 0.01 MJ/(m2 d) and
// 0.04 h; the handbook prints one decimal or two.
//
// What does not hold: the numbers 0.25 and 0.50 are FAO's for want of a local fit, and the sky of one day can
// lie 10 to 20 % away; daylight is of the sun's centre over a flat horizon without refraction, some minutes
// shorter than from sunrise to sunset; dust and smoke.
#pragma once

#include "base/problem.h"

namespace tawny {

Result<double> extraterrestrial_radiation_mj_m2_d(double latitude_deg, int day_of_year);
Result<double> daylight_h(double latitude_deg, int day_of_year);

// Refuses more hours of sunshine than the day has, to the hundredth of an hour above.
Result<double> daily_radiation_mj_m2_d(double latitude_deg, int day_of_year, double sunshine_h);

Result<double> clear_sky_radiation_mj_m2_d(double latitude_deg, int day_of_year, double altitude_m);

// Of radiation on the ground, 0 .. 60.
Result<double> photosynthetic_light_mol_m2_d(double radiation_mj_m2_d);

}  // namespace tawny
