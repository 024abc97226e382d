// Simulation-based calibration (Talts et al. 2018, arXiv:1804.06788; Cook, Gelman & Rubin 2006): ponds drawn
// from the priors, read as people read, then inferred. The truth's rank among what is believed must be uniform.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

#ifdef __EMSCRIPTEN__
constexpr int kPonds = 100;  // every look at memory is checked there, which takes its time
#else
constexpr int kPonds = 300;
#endif
constexpr int kDays = 20, kDaysAfter = 5;
constexpr std::size_t kParticles = 1000, kRanked = 99;
constexpr std::size_t kBins = 10;

// Upper tail of chi-squared with an odd number of degrees of freedom, here 9, by its closed form (Abramowitz &
// Stegun 26.4.4).
double chi_squared_9_tail(double x) {
  const double chi = std::sqrt(x);
  double term = chi, sum = chi;
  for (const int odd : {3, 5, 7}) sum += term *= x / odd;
  const double density = std::exp(-x / 2) / std::sqrt(2 * std::acos(-1.0));
  return std::erfc(chi / std::sqrt(2.0)) + 2 * density * sum;
}

// From Abramowitz & Stegun, table 26.8: 9 degrees of freedom, 5 % at 16.919, 1 % at 21.666 (from memory).
TEST(Calibration, TheTailOfChiSquaredIsThatOfTheTables) {
  EXPECT_NEAR(chi_squared_9_tail(16.919), 0.05, 1e-4);
  EXPECT_NEAR(chi_squared_9_tail(21.666), 0.01, 1e-4);
}

BloomFilter inferred(const MadePond& made, std::uint64_t seed) {
  BloomFilter filter(priors(), kParticles, seed);
  for (std::size_t i = 0; i < made.record.days.size(); ++i) {
    const BloomDay& day = made.record.days[i];
    if (i == 0) {
      filter.begin(day.water);
    } else {
      filter.to_noon(day.water, day.sky);
    }
    if (day.secchi) filter.see(*day.secchi);
    filter.to_evening(day.water, day.sky);
    if (day.do_swing_mg_l) filter.see_swing(*day.do_swing_mg_l);
  }
  return filter;
}

double rank_p_value(const std::array<int, kBins>& counts, const char* of) {
  double chi_squared = 0;
  std::printf("ranks of %s:", of);
  for (const int count : counts) {
    const double expected = static_cast<double>(kPonds) / kBins;
    chi_squared += (count - expected) * (count - expected) / expected;
    std::printf(" %d", count);
  }
  const double p = chi_squared_9_tail(chi_squared);
  std::printf("; chi-squared %.2f, p %.3f\n", chi_squared, p);
  return p;
}

TEST(Calibration, TheTruthsRankIsUniformTodayTomorrowAndInFiveDays) {
  std::array<std::array<int, kBins>, kDaysAfter + 1> counts = {};
  for (int pond = 0; pond < kPonds; ++pond) {
    const MadePond made = made_pond(static_cast<std::uint64_t>(5000 + pond), kDays, kDaysAfter);
    const BloomFilter filter = inferred(made, seed_of("filter", pond));
    Dice dice(seed_of("ranks", pond));
    std::vector<Particle> believed = filter.drawn(kRanked, dice.uniform());
    const BloomWater water =
        water_of_day_to_come(made.record.days.back(), CivilDay{20000 + kDays}, tropical_place());
    for (std::size_t ahead = 0; ahead < counts.size(); ++ahead) {
      const double truth = secchi_cm(made.evenings[kDays - 1 + ahead], priors());
      const auto below = std::count_if(believed.begin(), believed.end(), [&](const Particle& particle) {
        return secchi_cm(particle, priors()) < truth;
      });
      ++counts[ahead][static_cast<std::size_t>(below) * kBins / (kRanked + 1)];
      for (Particle& particle : believed) {
        drift(particle.traits, priors(), dice);
        to_noon(particle, water, drawn_sky_share(priors(), std::nullopt, dice));
        to_evening(particle, water, drawn_sky_share(priors(), std::nullopt, dice));
      }
    }
  }
  EXPECT_GT(rank_p_value(counts[0], "today's depth"), 0.001);
  EXPECT_GT(rank_p_value(counts[1], "tomorrow's depth"), 0.001);
  EXPECT_GT(rank_p_value(counts[kDaysAfter], "the depth in five days"), 0.001);
}

TEST(Calibration, EightOfTenReadingsLieInTheRangeAndTheForecastBeatsTheLastReading) {
  double covered = 0, crps_sum = 0, persistence = 0;
  int judged = 0;
  for (int pond = 0; pond < kPonds / 5; ++pond) {
    OutlookRun run(made_pond(static_cast<std::uint64_t>(100 + pond), 30, 0).record, band_rules(), priors(),
                   tropical_place(), {1000, 300});
    while (!run.step()) continue;
    const OutlookScore& score = run.outlook().score;
    judged += score.judged;
    covered += score.covered * score.judged;
    crps_sum += score.crps_cm * score.judged;
    persistence += score.persistence_crps_cm * score.judged;
  }
  std::printf("%d forecasts judged: covered %.3f, skill %.3f\n", judged, covered / judged,
              1 - crps_sum / persistence);
  EXPECT_GT(judged, 10 * kPonds);
  EXPECT_NEAR(covered / judged, 0.8, 0.05);
  EXPECT_GT(1 - crps_sum / persistence, 0.2);
}

}  // namespace
}  // namespace tawny
