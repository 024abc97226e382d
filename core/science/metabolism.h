// What lives in the pond, as oxygen: what it makes by day and uses day and night, from the readings at dawn, in
// the afternoon and at the next dawn.
//
//   symbol  meaning                                                  unit
//   C       oxygen in the water                                      mg/L     0 .. 40
//   Cs      oxygen at saturation (Benson & Krause)                   mg/L
//   K       exchange with the air: k / (24 z), k as in gas_exchange.h  1/h
//   z       mean depth of the water                                  m        0.05 .. 10
//   GPP     gross production of one day                              mg/L/d
//   ER      respiration of one day                                   mg/L/d
//   NEP     net production, GPP - ER                                 mg/L/d
//   P(t)    production, half a sine from sunrise to sunset           mg/L/h
//
//   dC/dt = P(t) - ER / 24 + K (Cs - C)
//   P(t)  = GPP (pi / 2 L) sin(pi (t - sunrise) / L),  L = sunset - sunrise
//
// Solved exactly over each of the two intervals, which gives two linear equations in GPP and ER:
//
//   C2 - Cs - (C1 - Cs) exp(-K D) = GPP (integral of P / GPP exp(-K (t2 - t)) dt) - ER / 24 (1 - exp(-K D)) / K
//
// Range of 80 %: +-1.2816 sd, sd from the error of each reading (independent, the same for all three) and from
// the error of the exchange (one share for the whole day), carried linearly.
//
// Sources: Odum 1956, Limnol. Oceanogr. 1:102-117 (the balance); half a sine: common practice. In the closed
// case computed for it (GPP 6.87549, ER 7.20000, NEP -0.32451) it differs by 8e-5, from readings of
// four decimals.
//
// What does not hold: one temperature, salinity and wind for the whole day; respiration as strong by day as by
// night (by day it is stronger, so both GPP and ER come out low); a sky that changes through the day; water let
// in or out, or a pond that is layered where the meter hangs: none of these is in the range of 80 %. Where
// nothing was made that the readings can show, GPP or ER comes out negative: that number is real and means "not
// resolvable".
#pragma once

#include "base/problem.h"

namespace tawny {

// GPP, ER or NEP of one day with its range of 80 %.
struct DailyRate {
  double mg_l_d = 0;
  double low_mg_l_d = 0;
  double high_mg_l_d = 0;
  double g_m2_d = 0;  // the same under a square metre of water surface: mg/L times the depth
  double low_g_m2_d = 0;
  double high_g_m2_d = 0;
};

// With +-1.2816 of its standard error.
DailyRate daily_rate(double mg_l_d, double sd_mg_l_d, double depth_m);

struct Metabolism {
  DailyRate gpp;
  DailyRate er;
  DailyRate nep;
  bool gpp_resolvable = false;  // not negative; a number below nothing says that the readings cannot show it
  bool er_resolvable = false;
};

struct ThreeReadings {
  double dawn_mg_l = 0;
  double dawn_h = 0;  // hours since midnight of the first day, 0 .. 24; so are all times here
  double afternoon_mg_l = 0;
  double afternoon_h = 0;  // 0 .. 24
  double next_dawn_mg_l = 0;
  double next_dawn_h = 0;    // 24 .. 36
  double sunrise_h = 0;      // 0 .. 24, of both days
  double sunset_h = 0;       // 0 .. 24
  double temperature_c = 0;  // mean of the day, 0 .. 40
  double salinity = 0;       // 0 .. 40
  double depth_m = 0;
  double wind_10_m_s = 0;           // mean of the day, 0 .. 30
  double pressure_atm = 1;          // 0.5 .. 1.1
  double reading_error_mg_l = 0;    // standard error of one meter reading, 0 .. 5
  double exchange_error_share = 0;  // standard error of K as a share of K, 0 .. 1
};

// Refuses what is out of range; times out of order and a sunrise not before sunset (kind conflict); readings
// whose two intervals had nearly the same light per hour, as they cannot tell light from dark (kind
// impossible).
Result<Metabolism> metabolism_of_three(const ThreeReadings& readings);

}  // namespace tawny
