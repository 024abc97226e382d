#include "outlook/bloom_model.h"

#include <cmath>

#include "outlook/quick_math.h"

namespace tawny {
namespace {

constexpr int kLightSteps = 3;  // in half a day of light

// Share of the day's light in each third of the way from noon to sunset (backwards: from sunrise): half of sin
// 30, sin 60 - sin 30, 1 - sin 60.
constexpr std::array<double, kLightSteps> kLightShares = {0.25, 0.18301270189221933, 0.06698729810778067};

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

BloomDayRates::BloomDayRates(const BloomTraits& traits, const BloomWater& water, const OutlookPriors& priors)
    : half_light_(trait_of(traits, Trait::half_light_umol_m2_s)),
      half_nitrogen_(trait_of(traits, Trait::half_nitrogen_mg_l)),
      chlorophyll_attenuation_(attenuation_by_algae(traits)),
      other_attenuation_(attenuation_otherwise(traits, priors)),
      nitrogen_per_chlorophyll_(nitrogen_per_chlorophyll(traits)),
      oxygen_per_chlorophyll_(trait_of(traits, Trait::carbon_per_chlorophyll) / 1000 * kOxygenPerCarbon),
      losses_per_d_(trait_of(traits, Trait::loss_per_d) + trait_of(traits, Trait::grazing_per_d)),
      recycled_(trait_of(traits, Trait::recycled_share)),
      nitrogen_loss_per_d_(trait_of(traits, Trait::nitrogen_loss_per_d)),
      soil_per_d_(trait_of(traits, Trait::soil_release_per_d)),
      bottom_mg_l_d_(trait_of(traits, Trait::bottom_nitrogen_mg_m2_d) / (1000 * water.depth_m)),
      depth_m_(water.depth_m),
      inflow_share_(water.inflow_share),
      source_chlorophyll_(trait_of(traits, Trait::source_chlorophyll_mg_m3)),
      source_nitrogen_(trait_of(traits, Trait::source_nitrogen_mg_l)),
      dose_mg_l_(water.dose_nitrogen_mg_l),
      soil_mg_m2_(water.soil_nitrogen_mg_m2 * trait_of(traits, Trait::soil_kept_share)) {
  const double step_d = water.daylight_h / 24 / 2 / kLightSteps;
  const double most_growth_per_d =
      trait_of(traits, Trait::growth_share) * 0.59 * quick_exp(0.0633 * water.temperature_c);
  chlorophyll_per_nitrogen_ = 1 / nitrogen_per_chlorophyll_;
  most_growth_ = most_growth_per_d * step_d;
  noon_light_ = water.clear_light_mol_m2_d * priors.surface_share * 1e6 / (step_d * 86400);
  night_ = decay_of((24 - water.daylight_h) / 24);
  light_step_ = decay_of(step_d);
}

BloomDayRates::Decay BloomDayRates::decay_of(double days) const {
  return {days, quick_exp(-losses_per_d_ * days), quick_exp(-nitrogen_loss_per_d_ * days),
          quick_exp(-soil_per_d_ * days)};
}

void BloomDayRates::lose(BloomState& state, const Decay& decay) const {
  const double lost = state.chlorophyll_mg_m3 * (1 - decay.kept_algae);
  state.chlorophyll_mg_m3 -= lost;
  const double released = state.soil_nitrogen_mg_m2 * (1 - decay.kept_soil);
  state.soil_nitrogen_mg_m2 -= released;
  state.nitrogen_mg_l =
      (state.nitrogen_mg_l + recycled_ * nitrogen_per_chlorophyll_ * lost) * decay.kept_nitrogen +
      bottom_mg_l_d_ * decay.days + released / (1000 * depth_m_);
}

void BloomDayRates::grow(BloomState& state, double light) const {
  const double kz = (chlorophyll_attenuation_ * state.chlorophyll_mg_m3 + other_attenuation_) * depth_m_;
  const double limitation = quick_log((light + half_light_) / (light * quick_exp(-kz) + half_light_)) / kz;
  const double n = state.nitrogen_mg_l;
  // exp(x) - 1 to its third term: a step of growth is short.
  const double x = most_growth_ * limitation;
  const double grows_by = x * (1 + x * (0.5 + x / 6));
  const double b = half_nitrogen_ + nitrogen_per_chlorophyll_ * state.chlorophyll_mg_m3 * grows_by - n;
  // The root that does not take the difference of two near numbers.
  const double root = std::sqrt(b * b + 4 * half_nitrogen_ * n);
  const double left = b > 0 ? 2 * half_nitrogen_ * n / (b + root) : (root - b) / 2;
  const double grown = (n - left) * chlorophyll_per_nitrogen_;
  state.nitrogen_mg_l = left;
  state.chlorophyll_mg_m3 += grown;
  state.oxygen_made_mg_l += grown * oxygen_per_chlorophyll_;
}

double BloomDayRates::light_umol_m2_s(double sky_share, int step_from_noon) const {
  return noon_light_ * sky_share * kLightShares[static_cast<std::size_t>(step_from_noon)];
}

void BloomDayRates::run_night_and_morning(BloomState& state, double sky_share) const {
  lose(state, night_);
  state.chlorophyll_mg_m3 += inflow_share_ * (source_chlorophyll_ - state.chlorophyll_mg_m3);
  state.nitrogen_mg_l += inflow_share_ * (source_nitrogen_ - state.nitrogen_mg_l) + dose_mg_l_;
  state.soil_nitrogen_mg_m2 += soil_mg_m2_;
  state.oxygen_made_mg_l = 0;
  for (int step = kLightSteps - 1; step >= 0; --step) {
    grow(state, light_umol_m2_s(sky_share, step));
    lose(state, light_step_);
  }
}

void BloomDayRates::run_afternoon(BloomState& state, double sky_share) const {
  for (int step = 0; step < kLightSteps; ++step) {
    grow(state, light_umol_m2_s(sky_share, step));
    lose(state, light_step_);
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
