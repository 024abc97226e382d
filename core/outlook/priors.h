// What is believed of a pond's bloom before anything was read there: assets/outlook.json.
//
// A quantity of nature is log-normal about its median, cut at its bounds: {"median", "log_sd", "low", "high"}.
// A drift is the sd of the walk of its logarithm over one day. A sky is the share of a clear day's light with
// its spread. Each row names its mark (P practice, H handbook, E our own estimate) and source.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "base/problem.h"
#include "outlook/dice.h"
#include "protocol/protocol.h"

namespace tawny {

// The unknown constants of one pond, by their place in a particle.
enum class Trait : std::size_t {
  growth_share,            // of the envelope of Eppley
  half_light_umol_m2_s,    // light at which growth is half
  half_nitrogen_mg_l,      // nitrogen at which growth is half
  carbon_per_chlorophyll,  // g/g
  loss_per_d,              // respiration and death
  grazing_per_d,           // drifts
  background_per_m,        // attenuation by all that is not algae; drifts
  chlorophyll_attenuation_m2_mg,
  secchi_coefficient,
  bottom_nitrogen_mg_m2_d,  // drifts
  nitrogen_loss_per_d,
  recycled_share,  // of the nitrogen in lost algae, what comes back at once
  soil_release_per_d,
  soil_kept_share,  // of the nitrate broadcast on the soil, what the water ever gets
  source_chlorophyll_mg_m3,
  source_nitrogen_mg_l,
  oxygen_share,        // of the oxygen made by day, what the afternoon's reading shows
  secchi_error_share,  // sd of the log of one day's depth
  unrest,              // how much more than the drifts of the priors it drifts
  count
};
inline constexpr std::size_t kTraits = static_cast<std::size_t>(Trait::count);
std::string_view name_of(Trait trait);

// A trait that is forgotten moves on one day of so many.
inline constexpr std::size_t kForgetTurns = 6;

struct TraitPrior {
  double log_median = 0, log_sd = 0, log_low = 0, log_high = 0;
  double low = 0, high = 0;
};

struct SkyPrior {
  double mean = 0, sd = 0;  // share of a clear day's light
};

// For the oxygen at dawn (dawn_outlook.h).
struct DawnPriors {
  double reading_error_mg_l = 0;
  double two_dusk_error_mg_l = 0;    // mean error
  double own_nights_error_mg_l = 0;  // sd, beside the spread of the losses
  double one_night_share = 0;        // sd of the loss, as a share of it, where few nights are known
  double dusk_hours_apart = 0;       // of two readings after sunset, at least
  std::size_t nights_enough = 0, nights_most = 0;
  double q10 = 0;
  double risk_high = 0;                                               // above it a dawn is told of in advance
  double wind_m_s = 0, temperature_c = 0, salinity = 0, depth_m = 0;  // where nobody read them
};

// Where one word for a chance ends and the next begins (outlook_says.h).
struct ChanceWords {
  double very_unlikely = 0, unlikely = 0, likely = 0, very_likely = 0;
};

struct OutlookPriors {
  std::array<TraitPrior, kTraits> traits;
  double grazing_drift = 0, background_drift = 0,
         bottom_nitrogen_drift = 0;          // sd of the log, per root of a day
  double trait_kept = 1, trait_renewed = 0;  // of kForgetTurns days: exp(-t / memory), sqrt(1 - its square)
  std::array<SkyPrior, 3> skies;             // in the order of Sky
  double swing_error_share = 0;              // the same of a day's swing of oxygen
  double swing_least_mg_l = 0;               // a swing under it is "less than it"
  double wild_chance = 0;                    // that a reading is a slip and says nothing
  double wild_error_share = 0;               // its spread then
  double water_attenuation_per_m = 0;
  double surface_share = 0;  // of the light, what enters the water
  double temperature_c = 0;  // until one was read
  int days_most = 0;         // of a record: a clock that stood wrong must not make it years long
  std::size_t readings_enough = 0;
  double least_learned_share = 0;    // of the prior's spread, what the readings must have taken away
  double farm_share = 0;             // of a trait's variance, what lies between farms (farm_priors.h)
  std::size_t farm_cycles_most = 0;  // that a farm's priors are learned from
  double floor_risk_high = 0;        // above it a dose is not suggested
  DawnPriors dawn;
  ChanceWords words;

  const TraitPrior& of(Trait trait) const { return traits[static_cast<std::size_t>(trait)]; }
};

// Refuses what is not JSON, a missing row, a bound on the wrong side of the median, a spread that is not above
// 0.
Result<OutlookPriors> parse_outlook_priors(std::string_view json);

}  // namespace tawny
