// Where a pond's Secchi depth will be in the next days, with no dose, with the least and with the most that the
// protocol allows; and how good such sayings were before.
//
//   forecast    each particle of the filter run on, skies drawn as this farm's skies were; what is forecast is
//               the depth that would be read, so the error of reading is in it
//   range       10 % and 90 % of it, median between
//   suggestion  of the doses whose chance of going under the floor stays below floor_risk_high, the one with
//               the best mean chance to be in the band; only where the protocol allows a dose
//   learned     1 - (sd of the log depth forecast for the second day) / (the same without any reading)
//   no advice   fewer than readings_enough usable Secchi days, or learned under least_learned_share
//   score       each earlier evening's forecast of one to five days, made from what was known then, held
//               against the depth that was read (skies unknown, doses and fills as they then came):
//               CRPS of the ensemble; coverage of the range; Brier score of "in the band". Beside it two
//               sayings without a spread: "as on the last reading", "on the line through the last three"
//
// Sources: Gneiting & Raftery 2007, J. Am. Stat. Assoc. 102:359 (CRPS, Brier, coverage).
//
// What does not hold: it is a forecast. The protocol's limits rule, never this.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "outlook/bloom_record.h"

namespace tawny {

inline constexpr int kOutlookDays = 5;

struct SecchiForecast {
  CivilDay day;
  double low_cm = 0, median_cm = 0, high_cm = 0;
  double in_band = 0, under_floor = 0;  // chances
};

struct DoseOutlook {
  double rate_kg_ha = 0;     // 0: no dose
  double nitrogen_mg_l = 0;  // what it adds
  std::vector<SecchiForecast> days;
  double mean_in_band = 0, most_under_floor = 0;
};

struct OutlookScore {
  int judged = 0;  // forecasts that a reading could be held against
  double crps_cm = 0, persistence_crps_cm = 0, trend_crps_cm = 0;  // means
  double covered = 0;                                              // share of readings in the range of 80 %
  double brier = 0, persistence_brier = 0;

  // 1 - CRPS / that of "as on the last reading"; nothing before anything was judged.
  std::optional<double> skill() const;
};

// What may be read next, by how much of the spread it is expected to take away.
enum class HelpfulReading { secchi, oxygen_pair };

struct Outlook {
  CivilDay from;  // the last day that it knows
  bool enough_readings = false;
  double learned = 0;
  std::vector<DoseOutlook> doses;        // none, least, most
  std::optional<std::size_t> suggested;  // of `doses`
  bool advice = false;
  std::optional<HelpfulReading> helps_most;
  double helps_share = 0;  // of the variance
  OutlookScore score;
};

// What the protocol has to say, handed in so that the forecast itself knows no paths.
struct OutlookRules {
  double band_low_cm = 0, band_high_cm = 0, floor_cm = 0;
  std::optional<double> least_kg_ha, most_kg_ha;  // nothing: no dose may be given
  double nitrogen_mg_l_per_kg_ha = 0;             // of the product in use, over the present volume
  bool operator==(const OutlookRules&) const = default;
};
// `area_ha`: that the rate counts on.
OutlookRules outlook_rules(const PondState& state, const Protocol& protocol, const BloomRecord& record,
                           const Product& product, double area_ha);

// The forecast, in slices: step() until it says that it is done.
class OutlookRun {
 public:
  struct Size {
    std::size_t particles = 4000;
    std::size_t scored_particles = 500;  // of each earlier forecast; 0: no score
  };
  // A record without a day is a mistake of the caller.
  OutlookRun(BloomRecord record, OutlookRules rules, const OutlookPriors& priors, const FarmPlace& place,
             Size size);

  // One day of the filter with the scoring from its evening, or a part of the forecast itself: some
  // milliseconds. True when all is done.
  bool step();
  double done_share() const;
  // Complete once step() was true.
  const Outlook& outlook() const { return outlook_; }

 private:
  struct RunOn {
    std::vector<std::vector<double>> depths_cm;  // [day ahead][particle], as they would be read
    std::vector<double> swings_mg_l;             // of the first day, alike
  };
  // Days ahead with their water, and the doses to be compared: each particle goes through the same drifts and
  // skies with every one of them.
  struct Ahead {
    std::vector<BloomWater> waters;
    std::vector<double> doses_mg_l;  // on the first morning
    std::vector<Particle> particles;
    Dice dice{0};
    std::size_t ran = 0;      // of the particles
    std::vector<RunOn> runs;  // of each dose
  };

  void run_day();
  void score_from(std::size_t day);
  void begin_forecast();
  void end_forecast();
  void fill_in(DoseOutlook& dose, RunOn& run) const;
  void conclude();
  Ahead ahead_of(const BloomFilter& filter, std::size_t count, std::size_t from, std::vector<BloomWater> waters,
                 std::vector<double> doses_mg_l) const;
  void run_on(Ahead& ahead, std::size_t until) const;
  std::vector<BloomWater> to_come(int days) const;
  double prior_spread() const;
  void find_helpful(const RunOn& run);
  Sky drawn_sky(Dice& dice) const;

  BloomRecord record_;
  OutlookRules rules_;
  OutlookPriors priors_;
  FarmPlace place_;
  Size size_;
  BloomFilter filter_;
  BloomFilter blind_;   // the same pond, had nobody read anything
  std::size_t at_ = 0;  // of record_.days
  Ahead forecast_;
  bool done_ = false;
  std::vector<std::size_t> measured_;        // days with a measured depth, so far
  std::array<double, 3> skies_ = {1, 1, 1};  // seen so far, and one of each before any
  Outlook outlook_;
};

// Continuous ranked probability score of an ensemble, in its own unit: mean |x - y| - mean |x - x'| / 2.
// Refuses an empty one.
Result<double> crps(std::vector<double> ensemble, double observed);

}  // namespace tawny
