#include "outlook/bloom_model.h"

#include <algorithm>
#include <cmath>

#include "outlook/quick_math.h"

namespace tawny {
namespace {

constexpr int kLightSteps = 2;  // in half a day of light

// Share of the day's light in each half of the way from noon to sunset (backwards: from sunrise): half of sin
// 45, and what is left of a half.
constexpr std::array<double, kLightSteps> kLightShares = {0.35355339059327379, 0.14644660940672621};

double attenuation_by_algae(const BloomTraits& traits) {
  return trait_of(traits, Trait::chlorophyll_attenuation_m2_mg);
}

double attenuation_otherwise(const BloomTraits& traits, const OutlookPriors& priors) {
  return trait_of(traits, Trait::background_per_m) + priors.water_attenuation_per_m;
}

double nitrogen_per_chlorophyll(const BloomTraits& traits) {
  return trait_of(traits, Trait::carbon_per_chlorophyll) / kCarbonPerNitrogen / 1000;
}

}  // namespace

void BloomStates::put(std::size_t lane, const BloomState& state) {
  chlorophyll_mg_m3[lane] = state.chlorophyll_mg_m3;
  nitrogen_mg_l[lane] = state.nitrogen_mg_l;
  soil_nitrogen_mg_m2[lane] = state.soil_nitrogen_mg_m2;
  oxygen_made_mg_l[lane] = state.oxygen_made_mg_l;
}

BloomState BloomStates::at(std::size_t lane) const {
  return {chlorophyll_mg_m3[lane], nitrogen_mg_l[lane], soil_nitrogen_mg_m2[lane], oxygen_made_mg_l[lane]};
}

BloomDayRates::BloomDayRates(const Particle* first, std::size_t count, const BloomWater& water,
                             const OutlookPriors& priors)
    : depth_m_(water.depth_m), inflow_share_(water.inflow_share), dose_mg_l_(water.dose_nitrogen_mg_l) {
  const double step_d = water.daylight_h / 24 / 2 / kLightSteps;
  const double envelope = 0.59 * quick_exp(0.0633 * water.temperature_c) * step_d;
  for (std::size_t i = 0; i < kLanes; ++i) {
    const BloomTraits& traits = first[std::min(i, count - 1)].traits;
    most_growth_[i] = trait_of(traits, Trait::growth_share) * envelope;
    half_light_[i] = trait_of(traits, Trait::half_light_umol_m2_s);
    half_nitrogen_[i] = trait_of(traits, Trait::half_nitrogen_mg_l);
    chlorophyll_attenuation_[i] = attenuation_by_algae(traits) * water.depth_m;
    other_attenuation_[i] = attenuation_otherwise(traits, priors) * water.depth_m;
    nitrogen_per_chlorophyll_[i] = nitrogen_per_chlorophyll(traits);
    chlorophyll_per_nitrogen_[i] = 1 / nitrogen_per_chlorophyll_[i];
    oxygen_per_chlorophyll_[i] = trait_of(traits, Trait::carbon_per_chlorophyll) / 1000 * kOxygenPerCarbon;
    losses_per_d_[i] = trait_of(traits, Trait::loss_per_d) + trait_of(traits, Trait::grazing_per_d);
    recycled_[i] = trait_of(traits, Trait::recycled_share);
    nitrogen_loss_per_d_[i] = trait_of(traits, Trait::nitrogen_loss_per_d);
    soil_per_d_[i] = trait_of(traits, Trait::soil_release_per_d);
    bottom_mg_l_d_[i] = trait_of(traits, Trait::bottom_nitrogen_mg_m2_d) / (1000 * water.depth_m);
    source_chlorophyll_[i] = trait_of(traits, Trait::source_chlorophyll_mg_m3);
    source_nitrogen_[i] = trait_of(traits, Trait::source_nitrogen_mg_l);
    soil_mg_m2_[i] = water.soil_nitrogen_mg_m2 * trait_of(traits, Trait::soil_kept_share);
  }
  noon_light_ = water.clear_light_mol_m2_d * priors.surface_share * 1e6 / (step_d * 86400);
  set_decay(night_, (24 - water.daylight_h) / 24);
  set_decay(light_step_, step_d);
}

void BloomDayRates::set_decay(Decay& decay, double days) const {
  decay.days = days;
  for (std::size_t i = 0; i < kLanes; ++i) {
    decay.kept_algae[i] = quick_exp(-losses_per_d_[i] * days);
    decay.kept_nitrogen[i] = quick_exp(-nitrogen_loss_per_d_[i] * days);
    decay.kept_soil[i] = quick_exp(-soil_per_d_[i] * days);
  }
}

void BloomDayRates::lose(BloomStates& states, const Decay& decay) const {
  const double per_litre = 1 / (1000 * depth_m_);
  for (std::size_t i = 0; i < kLanes; ++i) {
    const double lost = states.chlorophyll_mg_m3[i] * (1 - decay.kept_algae[i]);
    states.chlorophyll_mg_m3[i] -= lost;
    const double released = states.soil_nitrogen_mg_m2[i] * (1 - decay.kept_soil[i]);
    states.soil_nitrogen_mg_m2[i] -= released;
    states.nitrogen_mg_l[i] = (states.nitrogen_mg_l[i] + recycled_[i] * nitrogen_per_chlorophyll_[i] * lost) *
                                  decay.kept_nitrogen[i] +
                              bottom_mg_l_d_[i] * decay.days + released * per_litre;
  }
}

void BloomDayRates::grow(BloomStates& states, const Lanes& sky_share, int step_from_noon) const {
  const double clear_light = noon_light_ * kLightShares[static_cast<std::size_t>(step_from_noon)];
  for (std::size_t i = 0; i < kLanes; ++i) {
    const double light = clear_light * sky_share[i];
    const double kz = chlorophyll_attenuation_[i] * states.chlorophyll_mg_m3[i] + other_attenuation_[i];
    // Both quotients by one division.
    const double below = light * quick_exp(-kz) + half_light_[i];
    const double per_both = 1 / (kz * below);
    const double limitation = quick_log((light + half_light_[i]) * (kz * per_both)) * (below * per_both);
    const double n = states.nitrogen_mg_l[i];
    // exp(x) - 1 to its fourth term: a step of growth is short.
    const double x = most_growth_[i] * limitation;
    const double grows_by = x * (1 + x * (0.5 + x * (1.0 / 6 + x * (1.0 / 24))));
    const double b =
        half_nitrogen_[i] + nitrogen_per_chlorophyll_[i] * states.chlorophyll_mg_m3[i] * grows_by - n;
    // The root that does not take the difference of two near numbers.
    const double root = std::sqrt(b * b + 4 * half_nitrogen_[i] * n);
    const double sum = root + std::fabs(b);
    const double root_left = b > 0 ? 2 * half_nitrogen_[i] * n / sum : sum / 2;
    const double left = root_left < n ? root_left : n;  // rounding must not take algae that are not there
    const double grown = (n - left) * chlorophyll_per_nitrogen_[i];
    states.nitrogen_mg_l[i] = left;
    states.chlorophyll_mg_m3[i] += grown;
    states.oxygen_made_mg_l[i] += grown * oxygen_per_chlorophyll_[i];
  }
}

void BloomDayRates::run_night_and_morning(BloomStates& states, const Lanes& sky_share) const {
  lose(states, night_);
  for (std::size_t i = 0; i < kLanes; ++i) {
    states.chlorophyll_mg_m3[i] += inflow_share_ * (source_chlorophyll_[i] - states.chlorophyll_mg_m3[i]);
    states.nitrogen_mg_l[i] += inflow_share_ * (source_nitrogen_[i] - states.nitrogen_mg_l[i]) + dose_mg_l_;
    states.soil_nitrogen_mg_m2[i] += soil_mg_m2_[i];
    states.oxygen_made_mg_l[i] = 0;
  }
  for (int step = kLightSteps - 1; step >= 0; --step) {
    grow(states, sky_share, step);
    lose(states, light_step_);
  }
}

void BloomDayRates::run_afternoon(BloomStates& states, const Lanes& sky_share) const {
  for (int step = 0; step < kLightSteps; ++step) {
    grow(states, sky_share, step);
    lose(states, light_step_);
  }
}

double secchi_cm(const Particle& particle, const OutlookPriors& priors) {
  const double attenuation = attenuation_by_algae(particle.traits) * particle.state.chlorophyll_mg_m3 +
                             attenuation_otherwise(particle.traits, priors);
  return 100 * trait_of(particle.traits, Trait::secchi_coefficient) / attenuation;
}

double nitrogen_in_water_mg_l(const Particle& particle) {
  return particle.state.nitrogen_mg_l +
         nitrogen_per_chlorophyll(particle.traits) * particle.state.chlorophyll_mg_m3;
}

}  // namespace tawny
