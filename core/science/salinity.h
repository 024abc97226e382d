// Salinity from what a conductivity meter shows: the practical salinity scale of 1978, at the surface.
//
//   symbol  meaning                                        unit
//   C       conductivity at the water's own temperature    mS/cm     0 .. 100
//   t       temperature, ITS-90 (t68 = 1.00024 t)          C         0 .. 40
//   SpC     conductivity as a meter shows it "at 25 C"     mS/cm     0 .. 100
//   S       salinity                                       (none)    0 .. 42
//
//   R = C / 42.914,  rt = 0.6766097 + 2.00564e-2 t + 1.104259e-4 t^2 - 6.9698e-7 t^3 + 1.0031e-9 t^4
//   Rt = R / rt,  x = Rt^(1/2),  f = (t - 15) / (1 + 0.0162 (t - 15))
//   S = 0.0080 - 0.1692 x + 25.3851 x^2 + 14.0941 x^3 - 7.0261 x^4 + 2.7081 x^5
//       + f (0.0005 - 0.0056 x - 0.0066 x^2 - 0.0375 x^3 + 0.0636 x^4 - 0.0144 x^5)
//   where that is below 2:  S - 0.0080 / (1 + 1.5 X + X^2) - 0.0005 f / (1 + Y^(1/2) + Y + Y^(3/2)),
//       X = 400 Rt, Y = 100 Rt
//   C = SpC (1 + 0.0191 (t - 25)): meters compensate along a straight line, which is undone before all else.
//
// Source: Lewis 1980, IEEE J. Oceanic Eng. 5:3; UNESCO Technical Papers in Marine Science 44; below 2: Hill,
// Dauphinee & Woods 1986, IEEE J. Oceanic Eng. 11:109. The slope 0.0191: Standard Methods 2510.
//
// Largest differences: from UNESCO's check values 0.000004; from gsw 3.6.16 nothing above 2, and 0.0003 below,
// since gsw stretches the correction of Hill et al. until both meet at 2, where ours steps by 0.0003 at most.
// On 5333 readings of a field sonde: mean difference -0.006, standard deviation 0.029, which is the sonde's own
// rounding. Between 0 and 0.003 mS/cm, purer than rain, the formula falls below nothing by up to 0.0003: that
// counts as 0.
//
// What does not hold: the scale was measured from -2 to 35 C; above that the same polynomial is carried on, as
// UNESCO's own check value at 40 C does. Water whose salts are not those of the sea (inland wells, a pond long
// evaporated or limed) conducts otherwise at the same salt content. A meter set to another slope (some to
// 0.0200) is off by about 0.06 at 30 C and salinity 10.
#pragma once

#include "base/problem.h"

namespace tawny {

// Both refuse, naming the conductivity, what would come out above 42.
Result<double> salinity_from_conductivity(double conductivity_ms_cm, double temperature_c);
Result<double> salinity_from_specific_conductance(double specific_conductance_ms_cm, double temperature_c);

}  // namespace tawny
