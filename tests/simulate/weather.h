// The weather over one farm: hour by hour, with days that take after the day before.
//
//   sky         bright, mixed, dull: a chain of days, each of which keeps the sky of the day before with the
//               farm's persistence                                                          estimate
//   short wave  clear sky 1098 s exp(-0.057 / s) W/m2, s the sine of the sun's height (Haurwitz 1945, from
//               memory), times the share that the day's clouds let through                  shares: estimate
//   PAR         0.45 of it, 4.57 umol/J (core/science/radiation.h)
//   air         the farm's mean, a slow wander of days, a diel wave with its peak at 14 h   estimate
//   wind        calm nights and a sea breeze                                                estimate
//   rain        on some mixed and dull days, a shower of a few hours                        estimate
#pragma once

#include <vector>

#include "protocol/history.h"
#include "simulate/random.h"

namespace tawny::simulate {

struct Hour {
  double short_wave_w_m2 = 0;
  double par_umol_m2_s = 0;
  double air_c = 27;
  double wind_m_s = 2;  // at 10 m
  double rain_mm = 0;   // in this hour
};

class Weather {
 public:
  // Hours from the farm's midnight of `first` on.
  Weather(const FarmPlace& place, CivilDay first, int days, Random random);

  // The hour that `at` lies in; before the first and after the last hour, these.
  const Hour& at(Instant at) const;
  Sky sky(CivilDay day) const;

 private:
  CivilDay first_;
  Instant begin_;
  std::vector<Hour> hours_;
  std::vector<Sky> skies_;
};

}  // namespace tawny::simulate
