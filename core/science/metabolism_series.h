// What lives in the pond, as oxygen, from a meter that reads all day and night: bookkeeping.
//
//   symbol  meaning                                                        unit
//   F       what the living water adds in an interval                      mg/L/h
//   K, Cs   exchange and saturation at the middle of the interval          1/h, mg/L
//   C       oxygen at the middle: mean of the two readings                 mg/L
//   L       length of the day                                              h        4 .. 20
//
//   F = dC/dt - K (Cs - C),  K = k / (24 z)                     exchange as in gas_exchange.h
//   ER = -24 mean(F by night),  GPP = (mean(F by day) + ER / 24) L,  NEP = GPP - ER      mg/L/d
//
// Range of 80 %: as in metabolism.h, each reading with its own error, the exchange with one share for all.
//
// Sources: Odum 1956, Limnol. Oceanogr. 1:102-117; Cole et al. 2000, Limnol. Oceanogr. 45:1718-1730; Staehr et
// al. 2010, Limnol. Oceanogr. Methods 8:628-644. Differs by 6e-6 mg/L/d from the closed case computed for it.
// With the exchange of the published answer for a year of a creek (Sapelo Island 2012, open data): ER by 1e-5
// mmol/m2/d in the median of 228 days, GPP by 0.064, which is the length of the day from another sun.
//
// What does not hold: as in metabolism.h, but for the shape of the light, which is not asked for. In tidal
// water the range tells nothing: the water that passes the meter is not the same.
#pragma once

#include <span>

#include "science/metabolism.h"

namespace tawny {

// One interval between two readings, with the exchange ready made.
struct OxygenInterval {
  double start_h = 0;  // on any clock that runs on, start before end
  double end_h = 0;
  double start_mg_l = 0;
  double end_mg_l = 0;
  double saturation_mg_l = 0;  // Cs
  double exchange_per_h = 0;   // K
  bool day = false;
};

struct Bookkeeping {
  double day_length_h = 0;
  double depth_m = 0;               // 0.05 .. 10
  double reading_error_mg_l = 0;    // 0 .. 5
  double exchange_error_share = 0;  // 0 .. 1
  int least_intervals = 0;          // needed by day, and as many by night; 1 at least
};

struct SeriesMetabolism : Metabolism {
  int day_intervals = 0;
  int night_intervals = 0;
  int gaps = 0;  // places where an interval does not start at the end of the one before
  double longest_gap_h = 0;
};

// Intervals in order of time; where one does not start at the end of the one before, there is a gap. Refuses
// intervals out of order or without length (kind conflict), too few by day or by night (kind missing).
Result<SeriesMetabolism> metabolism_of_intervals(std::span<const OxygenInterval> intervals,
                                                 const Bookkeeping& bookkeeping);

struct OxygenReading {
  double time_h = 0;  // hours since midnight of the first day, rising; may run over several days
  double oxygen_mg_l = 0;
  double temperature_c = 0;
  double salinity = 0;
  double wind_10_m_s = 0;
};

struct SeriesPlace {
  double sunrise_h = 0;  // of every day of the series, 0 .. 24; day is what has its middle between the two
  double sunset_h = 0;
  double depth_m = 0;
  double pressure_atm = 1;
  double longest_interval_h = 0;  // readings further apart leave a gap, 0.01 .. 6
  double reading_error_mg_l = 0;
  double exchange_error_share = 0;
  int least_intervals = 0;
};

// Exchange and saturation from temperature, salinity and wind at the middle of each interval.
Result<SeriesMetabolism> metabolism_of_series(std::span<const OxygenReading> readings,
                                              const SeriesPlace& place);

}  // namespace tawny
