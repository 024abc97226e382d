// What the air takes from a pond in a day: the reference evaporation of FAO-56, or a pan.
//
//   symbol  meaning                                       unit
//   Tn, Tx  lowest and highest air temperature            C          -10 .. 50
//   ea      vapour pressure of the air                    kPa        0 .. es
//   es      mean of saturation at Tn and Tx               kPa
//   uz, z   wind, and the height it is measured at        m/s, m     0 .. 40, 0.5 .. 100
//   u2      wind at 2 m                                   m/s
//   P       air pressure, from the altitude               kPa
//   Rs, Rso radiation on the ground; by a clear sky       MJ/(m2 d)  (radiation.h)
//   G       heat that goes into the ground                MJ/(m2 d)  -5 .. 5; 0 for a day
//
//   e(T) = 0.6108 exp(17.27 T / (T + 237.3)),  D = 4098 e(Tm) / (Tm + 237.3)^2 with Tm = (Tn + Tx) / 2
//   g = 0.665e-3 P,  u2 = uz 4.87 / ln(67.8 z - 5.42),  ea = humidity / 100 es where humidity is what is known
//   Rn = 0.77 Rs - 4.903e-9 (Kx^4 + Kn^4) / 2 (0.34 - 0.14 ea^(1/2)) (1.35 Rs / Rso - 0.35),  K = T + 273.16
//   ET0 = (0.408 D (Rn - G) + g 900 / (Tm + 273) u2 (es - ea)) / (D + g (1 + 0.34 u2))   mm/d
//   shallow open water = factor ET0;  from a pan = coefficient pan
//
// Source: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, eq. 6, 8, 11 .. 13, 19, 35, 37 .. 40, 47; Rs
// / Rso is held between 0.3 and 1 there, as ASCE-EWRI 2005 has it (from memory). Against examples 17 and 18:
// within 0.02 mm/d; both print one decimal or two.
//
// What does not hold: deep or very clear water stores heat for weeks, which ET0 leaves out; sea salt lowers
// evaporation by 1 to 3 %; a narrow pond among dry fields loses more. Take it as plus or minus 15 %. Below 0 is
// dew.
#pragma once

#include <optional>

#include "base/problem.h"

namespace tawny {

struct DayWeather {
  double temperature_low_c = 0;
  double temperature_high_c = 0;
  // One of the two.
  std::optional<double> humidity_percent;  // mean of the day
  std::optional<double> vapour_pressure_kpa;
  double wind_m_s = 0;
  double wind_height_m = 2;
  // One of the two.
  std::optional<double> radiation_mj_m2_d;
  std::optional<double> sunshine_h;
  double latitude_deg = 0;
  int day_of_year = 1;
  double altitude_m = 0;
  double ground_heat_mj_m2_d = 0;
};

struct Evaporation {
  double reference_mm_d = 0;
  double open_water_mm_d = 0;
  double net_radiation_mj_m2_d = 0;
  double net_long_wave_mj_m2_d = 0;
  double radiation_mj_m2_d = 0;
  double clear_sky_radiation_mj_m2_d = 0;
  double wind_at_2_m_s = 0;
  double vapour_pressure_kpa = 0;
  double saturation_pressure_kpa = 0;
};

// `open_water_factor` 0.5 .. 2; 1.05 by FAO-56, table 12 (from memory). Refuses numbers out of range, radiation
// above that at the top of the air, and (kind missing or conflict) none or both where one of two is asked for.
Result<Evaporation> evaporation(const DayWeather& weather, double open_water_factor);

// Range: pan 0 .. 40 mm/d, coefficient 0.3 .. 1.2; 0.81 for ponds by a class A pan (Boyd 1985, from memory).
Result<double> pond_evaporation_from_pan_mm_d(double pan_mm_d, double pan_coefficient);

}  // namespace tawny
