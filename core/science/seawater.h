// Density of fresh, brackish and sea water at the surface: EOS-80.
//
//   symbol  meaning                    unit
//   t       temperature, ITS-90        C        -2 .. 40 (the equation's own scale is t68 = 1.00024 t)
//   S       salinity, PSS-78           (none)   0 .. 42
//   rho     density at one atmosphere  kg/m3
//
// Source: Millero & Poisson 1981; UNESCO Technical Papers in Marine Science 38 and 44, check values in 44,
// Table A3.1: every digit. Differs from TEOS-10 (gsw 3.6.16) by 0.0055 kg/m3 at most up to 37.5 C, by 0.0083
// at 40.
//
// What does not hold: water whose salts are not those of the sea (inland wells) is a little heavier or lighter
// at the same salinity; suspended clay is not counted.
#pragma once

#include "base/problem.h"

namespace tawny {

Result<double> seawater_density_kg_m3(double temperature_c, double salinity);

}  // namespace tawny
