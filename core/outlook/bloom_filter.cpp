#include "outlook/bloom_filter.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "outlook/quick_math.h"

namespace tawny {
namespace {

constexpr double kKernel = 0.1;                    // h
constexpr double kTriangleSd = 2.449489742783178;  // sqrt 6: u + v - 1 of two uniforms has the variance 1 / 6
constexpr double kLeastSkyShare = 0.05;
constexpr double kMostSkyShare = 1.05;
constexpr double kLeastLog = -700;        // of a likelihood: no number left to tell it from nothing
constexpr double kLeastOxygenMgL = 1e-6;  // so that a particle in the dark has a logarithm

double normal_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

// Of a distance in the logarithm: how well a particle explains a reading, or that the truth lies beyond it.
double log_likelihood(const OutlookPriors& priors, double distance, double sd, bool beyond) {
  const double wild_sd = priors.wild_error_share;
  const auto of = [&](double spread) {
    const double z = distance / spread;
    return beyond ? normal_below(z) : quick_exp(std::max(-0.5 * z * z, kLeastLog)) / spread;
  };
  return quick_log((1 - priors.wild_chance) * of(sd) + priors.wild_chance * of(std::max(sd, wild_sd)) +
                   std::numeric_limits<double>::min());
}

double walked(double value, double sd, const TraitPrior& prior, Dice& dice) {
  return std::clamp(value * quick_exp(sd * dice.bell()), prior.low, prior.high);
}

constexpr std::array<Trait, 12> kForgotten = {
    Trait::growth_share,         Trait::half_light_umol_m2_s,     Trait::half_nitrogen_mg_l,
    Trait::loss_per_d,           Trait::carbon_per_chlorophyll,   Trait::nitrogen_loss_per_d,
    Trait::recycled_share,       Trait::soil_release_per_d,       Trait::soil_kept_share,
    Trait::source_nitrogen_mg_l, Trait::source_chlorophyll_mg_m3, Trait::oxygen_share};

// A few of them each day, chosen by the dice, each by kForgetTurns days at once.
void forget(BloomTraits& traits, const OutlookPriors& priors, Dice& dice) {
  const auto turn = static_cast<std::size_t>(dice.uniform() * kForgetTurns);
  for (std::size_t i = turn; i < kForgotten.size(); i += kForgetTurns) {
    const TraitPrior& prior = priors.of(kForgotten[i]);
    double& trait = trait_of(traits, kForgotten[i]);
    const double log = prior.log_median + priors.trait_kept * (quick_log(trait) - prior.log_median) +
                       priors.trait_renewed * prior.log_sd * dice.bell();
    trait = std::clamp(quick_exp(log), prior.low, prior.high);
  }
}

}  // namespace

double drawn_sky_share(const OutlookPriors& priors, std::optional<Sky> sky, Dice& dice) {
  const double u = dice.uniform();
  const double n = dice.bell();
  const std::size_t any = std::min<std::size_t>(static_cast<std::size_t>(u * 3), 2);
  const SkyPrior& prior = priors.skies[sky ? static_cast<std::size_t>(*sky) : any];
  return std::clamp(prior.mean + prior.sd * n, kLeastSkyShare, kMostSkyShare);
}

void drift(BloomTraits& traits, const OutlookPriors& priors, Dice& dice) {
  forget(traits, priors, dice);
  const double unrest = trait_of(traits, Trait::unrest);
  const auto walk = [&](Trait which, double sd) {
    trait_of(traits, which) = walked(trait_of(traits, which), unrest * sd, priors.of(which), dice);
  };
  walk(Trait::grazing_per_d, priors.grazing_drift);
  walk(Trait::background_per_m, priors.background_drift);
  walk(Trait::bottom_nitrogen_mg_m2_d, priors.bottom_nitrogen_drift);
}

BloomFilter::BloomFilter(const OutlookPriors& priors, std::size_t particles, std::uint64_t seed)
    : priors_(priors),
      dice_(seed),
      particles_(particles),
      weights_(particles, 1.0 / static_cast<double>(particles)) {
  for (Particle& particle : particles_) {
    for (std::size_t i = 0; i < kTraits; ++i) {
      const TraitPrior& prior = priors_.traits[i];
      particle.traits[i] = quick_exp(
          std::clamp(prior.log_median + prior.log_sd * dice_.normal(), prior.log_low, prior.log_high));
    }
    particle.state.chlorophyll_mg_m3 = trait_of(particle.traits, Trait::source_chlorophyll_mg_m3);
    particle.state.nitrogen_mg_l = trait_of(particle.traits, Trait::source_nitrogen_mg_l);
  }
}

void BloomFilter::begin(const BloomWater& water) {
  for (Particle& particle : particles_) {
    particle.state.soil_nitrogen_mg_m2 =
        water.soil_nitrogen_mg_m2 * trait_of(particle.traits, Trait::soil_kept_share);
    particle.state.nitrogen_mg_l += water.dose_nitrogen_mg_l;
  }
}

void BloomFilter::to_noon(const BloomWater& water, std::optional<Sky> sky) {
  for (Particle& particle : particles_) drift(particle.traits, priors_, dice_);
  run(water, sky, &BloomDayRates::run_night_and_morning);
}

void BloomFilter::to_evening(const BloomWater& water, std::optional<Sky> sky) {
  run(water, sky, &BloomDayRates::run_afternoon);
}

void BloomFilter::run(const BloomWater& water, std::optional<Sky> sky,
                      void (BloomDayRates::*part)(BloomStates&, const Lanes&) const) {
  for (std::size_t first = 0; first < particles_.size(); first += kLanes) {
    const std::size_t count = std::min(kLanes, particles_.size() - first);
    BloomStates states;
    Lanes sky_share = {};
    for (std::size_t lane = 0; lane < count; ++lane) {
      states.put(lane, particles_[first + lane].state);
      sky_share[lane] = drawn_sky_share(priors_, sky, dice_);
    }
    (BloomDayRates(&particles_[first], count, water, priors_).*part)(states, sky_share);
    for (std::size_t lane = 0; lane < count; ++lane) particles_[first + lane].state = states.at(lane);
  }
}

void BloomFilter::see(const SecchiSeen& secchi) {
  const double seen = std::log(secchi.secchi_cm);
  std::vector<double> logs;
  logs.reserve(particles_.size());
  for (const Particle& particle : particles_) {
    const double above = quick_log(secchi_cm(particle, priors_)) - seen;
    logs.push_back(
        log_likelihood(priors_, above, trait_of(particle.traits, Trait::secchi_error_share), secchi.more_than));
  }
  ++readings_;
  weigh(logs);
}

void BloomFilter::see_swing(double do_swing_mg_l) {
  const bool less = do_swing_mg_l < priors_.swing_least_mg_l;
  const double seen = std::log(std::max(do_swing_mg_l, priors_.swing_least_mg_l));
  std::vector<double> logs;
  logs.reserve(particles_.size());
  for (const Particle& particle : particles_) {
    const double made = trait_of(particle.traits, Trait::oxygen_share) * particle.state.oxygen_made_mg_l;
    const double below = seen - quick_log(std::max(made, kLeastOxygenMgL));
    logs.push_back(log_likelihood(priors_, below, priors_.swing_error_share, less));
  }
  weigh(logs);
}

void BloomFilter::weigh(const std::vector<double>& log_likelihoods) {
  const double best = *std::max_element(log_likelihoods.begin(), log_likelihoods.end());
  double sum = 0;
  for (std::size_t i = 0; i < weights_.size(); ++i) {
    weights_[i] *= quick_exp(std::max(log_likelihoods[i] - best, kLeastLog));
    sum += weights_[i];
  }
  double squares = 0;
  for (double& weight : weights_) {
    weight /= sum;
    squares += weight * weight;
  }
  if (1 / squares < 0.5 * static_cast<double>(weights_.size())) renew();
}

std::vector<Particle> BloomFilter::drawn(std::size_t count, double offset) const {
  std::vector<Particle> out;
  out.reserve(count);
  double reached = weights_[0];
  std::size_t at = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const double aim = (static_cast<double>(i) + offset) / static_cast<double>(count);
    while (reached < aim && at + 1 < weights_.size()) reached += weights_[++at];
    out.push_back(particles_[at]);
  }
  return out;
}

void BloomFilter::renew() {
  particles_ = drawn(particles_.size(), dice_.uniform());
  std::fill(weights_.begin(), weights_.end(), 1.0 / static_cast<double>(weights_.size()));
  jitter();
}

void BloomFilter::jitter() {
  const double count = static_cast<double>(particles_.size());
  const double kept = std::sqrt(1 - kKernel * kKernel);
  std::vector<double> logs(particles_.size());
  for (std::size_t t = 0; t < kTraits; ++t) {
    double sum = 0, squares = 0;
    for (std::size_t i = 0; i < logs.size(); ++i) {
      logs[i] = quick_log(particles_[i].traits[t]);
      sum += logs[i];
      squares += logs[i] * logs[i];
    }
    const double mean = sum / count;
    const double reach = kKernel * std::sqrt(std::max(0.0, squares / count - mean * mean)) * kTriangleSd;
    const TraitPrior& prior = priors_.traits[t];
    for (std::size_t i = 0; i < logs.size(); ++i) {
      const double log = kept * logs[i] + (1 - kept) * mean + reach * (dice_.uniform() + dice_.uniform() - 1);
      particles_[i].traits[t] = std::clamp(quick_exp(log), prior.low, prior.high);
    }
  }
}

}  // namespace tawny
