// Oxygen between water and air: how fast the wind lets it through the surface.
//
//   symbol  meaning                                              unit
//   t       temperature                                          C        0 .. 40
//   S       salinity                                             (none)   0 .. 42
//   Uz, z   wind, and its height over the water                  m/s, m   0 .. 30, 0.5 .. 30
//   U10     wind at 10 m                                         m/s      0 .. 30
//   Sc      Schmidt number of oxygen                             (none)
//   k600    exchange velocity of a gas with Sc 600               m/d
//   k       exchange velocity of oxygen                          m/d
//
//   Sc   = fresh + (sea - fresh) S / 35
//          fresh = 1745.1 - 124.34 t + 4.8055 t^2 - 0.10115 t^3 + 0.00086842 t^4
//          sea   = 1920.4 - 135.6  t + 5.2122 t^2 - 0.10939 t^3 + 0.00093777 t^4
//   U10  = Uz (10 / z)^0.15
//   k600 = 0.24 (2.07 + 0.215 U10^1.7)
//   k    = k600 (Sc / 600)^-1/2
//
// Sources: Wanninkhof 2014, Limnol. Oceanogr. Methods 12:351-362 (Sc, both waters; the line between them in S
// is that of public codes); Arya 1988, Introduction to Micrometeorology (wind; in the form of LakeMetabolizer);
// Cole & Caraco 1998, Limnol. Oceanogr. 43:647-656 (k600). Differs from LakeMetabolizer 1.5.6 by its last
// printed digit (5e-6 cm/h in k600, 5e-7 m/s in U10), from the Schmidt numbers printed for 20 C by 0.25.
//
// What does not hold: the Schmidt numbers of Wanninkhof 1992 above 30 C (in fresh water they fall to 0.6 at 40
// C); the exponent -2/3 of a smooth surface, which some use under 3.7 m/s and which would put k at 30 C up
// to 10 % higher: here -1/2 at every wind, as LakeMetabolizer does. k600 was measured on small lakes in light
// wind: rain, paddle wheels, a slick and more than 10 m/s are beyond it.
#pragma once

#include "base/problem.h"

namespace tawny {

// Sc.
Result<double> schmidt_number_oxygen(double temperature_c, double salinity);

// U10 of a wind read `height_m` over the water; the answer may lie above 30 m/s.
Result<double> wind_at_10_m_m_s(double wind_m_s, double height_m);

// k600.
Result<double> gas_exchange_600_m_d(double wind_10_m_s);

// k.
Result<double> oxygen_exchange_m_d(double temperature_c, double salinity, double wind_10_m_s);

// K = k / (24 z): the share of what lacks to saturation that comes in within an hour, in water of the mean
// depth `depth_m` (0.05 .. 10), stirred through.
Result<double> oxygen_exchange_per_h(double temperature_c, double salinity, double wind_10_m_s, double depth_m);

}  // namespace tawny
