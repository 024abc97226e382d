// Oxygen that water holds in balance with the air: Benson & Krause.
//
//   symbol  meaning                              unit
//   t, T    temperature                          C, K (T = t + 273.15)     t 0 .. 40
//   S       salinity                             (none)                    0 .. 40
//   P       air pressure                         atm                       0.5 .. 1.1
//   u       pressure of water vapour             atm
//   th      second pressure term                 1/atm, taken with t in C
//
//   DO0 = exp(-139.34411 + 1.575701e5/T - 6.642308e7/T^2 + 1.243800e10/T^3 - 8.621949e11/T^4)
//   Fs  = exp(-S (0.017674 - 10.754/T + 2140.7/T^2))
//   u   = exp(11.8571 - 3840.70/T - 216961/T^2),  th = 0.000975 - 1.426e-5 t + 6.436e-8 t^2
//   Fp  = (P - u)(1 - th P) / ((1 - u)(1 - th)),  DOsat = DO0 Fs Fp   mg/L, air saturated with water vapour
//
// Source: Benson & Krause 1984, Limnol. Oceanogr. 29:620-632; USGS OWQ Technical Memorandum 2011.03; APHA
// Standard Methods 4500-O. Within 0.005 mg/L of the two-decimal table of EN 25814 / ISO 5814, 16 to 30 C, and
// within 0.003 mg/L of the fit of Garcia & Gordon 1992 (gsw 3.6.16) over 0 to 40 C, S 0 to 40. On 5332 readings
// of a field sonde: mean difference -0.006 mg/L, standard deviation 0.029, which is the sonde's own rounding.
//
// What does not hold: th in kelvin, as some public codes have it; the linear salt factors of EN 25814 (they
// differ by up to 0.054 mg/L at S 10).
#pragma once

#include "base/problem.h"

namespace tawny {

Result<double> oxygen_saturation_mg_l(double temperature_c, double salinity, double pressure_atm);

// Mean air pressure at `altitude_m` (-400 .. 5000), for want of a barometer:
//   P = 101.3 ((293 - 0.0065 z) / 293)^5.26 kPa, one atmosphere = 101.325 kPa.
// Source: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, eq. 7. Weather moves it by up to 3 %.
Result<double> pressure_at_altitude_atm(double altitude_m);

}  // namespace tawny
