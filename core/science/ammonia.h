// The part of total ammonia that is un-ionized (NH3), and so harms animals.
//
//   symbol  meaning                              unit
//   pH      as a pond meter reads it: NBS buffers                 3 .. 12
//   t       temperature                          C                0 .. 40
//   S       salinity                             (none)           0 .. 40
//   I       ionic strength                       mol/kg           I = 19.9273 S / (1000 - 1.005109 S)
//   TAN     total ammonia as nitrogen            mg/L
//
//   f = 1 / (1 + 10^(pKa - pH)),  NH3-N = TAN f
//   S < 1   pKa = 0.09018 + 2729.92 / (t + 273.2)         Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379
//   S >= 1  pKa = 9.245 + 0.116 I + 0.0324 (25 - t)       Hampson 1977, as in EPA 440/5-88-004 (from memory)
//
// The kelvin zero of 273.2 is that of Emerson's printed table. pH scale: NBS. On the total or the seawater
// scale the same water reads 0.1 to 0.15 lower, and other constants hold. For a pH that is declared to stand on
// the total scale, T = t + 273.15:
//
//   pKa = 9.244605 - 2729.33 (1/298.15 - 1/T) + (0.04203362 - 11.24742/T) S^1/4
//       + (-13.6416 + 1.176949 T^1/2 - 0.02860785 T + 545.4834/T) S^1/2
//       + (-0.1462507 + 0.0090226468 T^1/2 - 0.0001471361 T + 10.5425/T) S^3/2
//       + (0.004669309 - 0.0001691742 T^1/2 - 0.5677934/T) S^2
//       + (-2.354039e-5 + 0.009698623/T) S^5/2 - log10(1 - 0.001005 S)
//                                      Clegg & Whitfield 1995, Geochim. Cosmochim. Acta 59:2403-2421
//
// Differs from Emerson's printed table by its rounding, from Trussell 1972 by 2.0 % of the value at most, from
// Bower & Bidwell 1978 (S 34) by 5.7 %; on the total scale from values computed for it by their rounding.
//
// What does not hold: the answer to better than 20 %: pairs of TAN and NH3-N printed in toxicity papers lie
// from 7 % under this to 20 % over it at S 15 to 39. At S 1 the two formulas do not meet: 2 % apart at 20 and
// 30 C.
#pragma once

#include "base/problem.h"

namespace tawny {

// f, 0 .. 1.
Result<double> un_ionized_ammonia_fraction(double ph, double temperature_c, double salinity);

// f of a pH that stands on the total scale (spectrophotometers, electrodes in seawater buffers), as no pond
// meter in NBS buffers does: to those it would answer up to a quarter too much.
Result<double> un_ionized_ammonia_fraction_total_scale(double ph, double temperature_c, double salinity);

// NH3 as nitrogen, mg/L, of `tan_mg_l` (0 .. 500) total ammonia as nitrogen.
Result<double> un_ionized_ammonia_n_mg_l(double tan_mg_l, double ph, double temperature_c, double salinity);

}  // namespace tawny
