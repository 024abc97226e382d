// What is known of one pond's bloom: some thousands of possible ponds (particles), each day run forward, then
// weighed by what was read.
//
//   start       traits from the priors; the water's algae and nitrogen those of the source
//   drift       grazing, background and bottom nitrogen walk on their logarithms, a step a day, by the pond's
//               own unrest times the prior's
//   forgetting  the traits of the algae and of their nitrogen come back to the prior's median, as new draws
//               come in: l = m + a (l - m) + sqrt(1 - a^2) sd e with a = exp(-days / trait_memory_d), since
//               one kind of algae follows another; what a disc shows (c, kc), the pond's unrest and how well
//               people read stay
//   weighing    ln of a day's Secchi depth: normal about the particle's, sd secchi_error_share; seen on the
//               bottom: the chance that the particle's is deeper. A day's swing of oxygen: normal in the log
//               about oxygen_share times what the algae made, sd swing_error_share; under swing_least_mg_l: the
//               chance that it is less. With the chance wild_chance a reading is wild and says nothing (its
//               spread is wild_error_share): one slip of the pen must not turn a pond round
//   renewal     systematic resampling when the effective number (1 / sum of squared weights) falls under half;
//               then each log trait goes to a l + (1 - a) mean + h sd e, a = sqrt(1 - h^2), h = 0.1, e of a
//               triangle, which keeps mean and sd, and is cut at the prior's bounds (Liu & West 2001, in
//               Sequential Monte Carlo Methods in Practice)
//
// Sources: Gordon, Salmond & Smith 1993, IEE Proc. F 140:107 (the filter); Kitagawa 1996, J. Comput. Graph.
// Stat. 5:1 (systematic resampling).
//
// What does not hold: the same reading must not be given twice; days are given in order.
#pragma once

#include <optional>
#include <vector>

#include "outlook/bloom_model.h"

namespace tawny {

// Secchi of one day: the depth, or more than it where the disc was seen on the bottom.
struct SecchiSeen {
  double secchi_cm = 0;
  bool more_than = false;

  bool operator==(const SecchiSeen&) const = default;
};

class BloomFilter {
 public:
  BloomFilter(const OutlookPriors& priors, std::size_t particles, std::uint64_t seed);

  // A day in its order: to_noon() of the day (not of the first), see(), to_evening(), see_swing().
  void to_noon(const BloomWater& water, std::optional<Sky> sky);
  void see(const SecchiSeen& secchi);
  void to_evening(const BloomWater& water, std::optional<Sky> sky);
  void see_swing(double do_swing_mg_l);

  // Nitrate broadcast on the soil before the first day's water.
  void begin(const BloomWater& water);

  const OutlookPriors& priors() const { return priors_; }
  const std::vector<Particle>& particles() const { return particles_; }
  const std::vector<double>& weights() const { return weights_; }  // sum 1
  // So many particles of equal weight, drawn systematically.
  std::vector<Particle> drawn(std::size_t count, double offset) const;
  std::size_t readings() const { return readings_; }

 private:
  void run(const BloomWater& water, std::optional<Sky> sky,
           void (BloomDayRates::*part)(BloomStates&, const Lanes&) const);
  void weigh(const std::vector<double>& log_likelihoods);
  void renew();
  void jitter();

  OutlookPriors priors_;
  Dice dice_;
  std::vector<Particle> particles_;
  std::vector<double> weights_;
  std::size_t readings_ = 0;
};

// A day's share of clear light as one particle has it; a sky that nobody looked at may be any.
double drawn_sky_share(const OutlookPriors& priors, std::optional<Sky> sky, Dice& dice);
// The three traits that walk, by one day.
void drift(BloomTraits& traits, const OutlookPriors& priors, Dice& dice);

}  // namespace tawny
