// One possible pond of the forecast: algae, dissolved nitrogen and what eats the algae, from day to day.
//
//   symbol  meaning                                                unit
//   P       chlorophyll                                            mg/m3
//   N       dissolved inorganic nitrogen                           mg/L
//   B       nitrate still in the soil                              mg/m2
//   z       mean depth                                             m
//   T       temperature                                            C
//   I       light under the surface, mean of a step                umol/(m2 s)
//   k       attenuation                                            1/m
//   L       light limitation, mean over the depth                  (none)
//   q       nitrogen in the algae                                  mg/L for a mg/m3 of chlorophyll
//   f, Ih, Nh, kb, kc, kw, c, m, g, r, s, d   the traits (priors.h)
//
//   mu_max = f 0.59 exp(0.0633 T)  1/d                      Eppley 1972, Fish. Bull. 70:1063, where it is
//                                                           0.851 1.066^T doublings a day
//   k      = kb + kc P + kw
//   L      = ln((I + Ih) / (I exp(-k z) + Ih)) / (k z)      I / (I + Ih) averaged over the depth, exactly
//   mu     = mu_max L N / (N + Nh)                          Monod 1949
//   q      = (carbon per chlorophyll) / 5.681 / 1000        Redfield 106 : 16 mol, as mass
//   dP/dt  = (mu - m - g) P
//   dN/dt  = -q mu P + r q (m + g) P + s / (1000 z) - d N + release of B
//   Secchi = 100 c / k                                         cm
//
// A day is five steps: two from noon to sunset, the night, two from sunrise to noon; light is half a sine.
// In a step N is taken implicitly, N' = N - q P (exp(mu_max L dt) - 1) N' / (N' + Nh), so that it never falls
// under 0 and what leaves N is in P, to rounding. The share (1 - r) of the lost algae's nitrogen, which does
// not come back at once, is taken to lie on the bottom; `s` is what the bottom gives.
//
// A fill mixes: P = P (1 - x) + (source's) x with x = inflow / (water after it), N alike.
//
// What does not hold: one kind of algae; layered water; nitrogen fixed from the air; a limit by phosphorus or
// silicate; algae that change their chlorophyll with the light.
#pragma once

#include <array>
#include <optional>

#include "base/time.h"
#include "outlook/priors.h"

namespace tawny {

inline constexpr double kCarbonPerNitrogen = 106 * 12.011 / (16 * 14.007);  // Redfield, g/g
inline constexpr double kOxygenPerCarbon = 1.2 * 32.0 / 12.011;  // g/g, 1.2 mol of oxygen to one of carbon

using BloomTraits = std::array<double, kTraits>;
inline double trait_of(const BloomTraits& traits, Trait which) {
  return traits[static_cast<std::size_t>(which)];
}
inline double& trait_of(BloomTraits& traits, Trait which) { return traits[static_cast<std::size_t>(which)]; }

struct BloomState {
  double chlorophyll_mg_m3 = 0;
  double nitrogen_mg_l = 0;
  double soil_nitrogen_mg_m2 = 0;
  double oxygen_made_mg_l = 0;  // since sunrise, by the algae
};

struct Particle {
  BloomTraits traits = {};
  BloomState state;
};

// What is the same for all particles of a pond on one day.
struct BloomWater {
  double temperature_c = 0;
  double depth_m = 0;
  double inflow_share = 0;         // x, before noon
  double dose_nitrogen_mg_l = 0;   // nitrate-N of the doses of this morning
  double soil_nitrogen_mg_m2 = 0;  // nitrate-N broadcast on the soil and just flooded
  double daylight_h = 12;
  double clear_light_mol_m2_d = 0;  // photosynthetic, on the surface, by a clear sky

  bool operator==(const BloomWater&) const = default;
};

// So many ponds are reckoned side by side: each step is a loop over them that a processor takes several at a
// time, where one pond alone would wait for each of its divisions.
inline constexpr std::size_t kLanes = 8;
using Lanes = std::array<double, kLanes>;

struct BloomStates {
  Lanes chlorophyll_mg_m3 = {}, nitrogen_mg_l = {}, soil_nitrogen_mg_m2 = {}, oxygen_made_mg_l = {};

  void put(std::size_t lane, const BloomState& state);
  BloomState at(std::size_t lane) const;
};

// What the traits and the day's water make the same for every step of the day.
class BloomDayRates {
 public:
  // Of the particles from `first` on, 1 .. kLanes of them; the lanes behind them are as the last one.
  BloomDayRates(const Particle* first, std::size_t count, const BloomWater& water, const OutlookPriors& priors);

  // The night before and the morning, up to noon; `sky_share` of the clear light.
  void run_night_and_morning(BloomStates& states, const Lanes& sky_share) const;
  // From noon to sunset.
  void run_afternoon(BloomStates& states, const Lanes& sky_share) const;

 private:
  // What falls with time by a constant share, over one step.
  struct Decay {
    double days = 0;
    Lanes kept_algae, kept_nitrogen, kept_soil;
  };
  void set_decay(Decay& decay, double days) const;
  void lose(BloomStates& states, const Decay& decay) const;
  void grow(BloomStates& states, const Lanes& sky_share, int step_from_noon) const;

  Lanes most_growth_;  // mu_max of a step
  Lanes half_light_, half_nitrogen_;
  Lanes chlorophyll_attenuation_, other_attenuation_;  // over the depth
  Lanes nitrogen_per_chlorophyll_, chlorophyll_per_nitrogen_, oxygen_per_chlorophyll_;
  Lanes losses_per_d_, recycled_, nitrogen_loss_per_d_, soil_per_d_, bottom_mg_l_d_;
  Lanes source_chlorophyll_, source_nitrogen_, soil_mg_m2_;
  double depth_m_ = 0, inflow_share_ = 0, dose_mg_l_ = 0, noon_light_ = 0;
  Decay night_, light_step_;
};

double secchi_cm(const Particle& particle, const OutlookPriors& priors);

// Nitrogen in the water and in the algae, mg/L.
double nitrogen_in_water_mg_l(const Particle& particle);

}  // namespace tawny
