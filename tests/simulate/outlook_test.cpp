// Forecasts of ponds that the forecast's own model did not make: the simulated ponds have grazers that breed
// and starve, weather that comes in spells, careless readings, people who follow the protocol. Past evenings
// are forecast with what was known then, and held against what was read on the five days after (outlook.h,
// score).
#include <gtest/gtest.h>

#include <cstdio>

#include "assets.h"
#include "farm/farm.h"
#include "outlook/outlook.h"
#include "simulate/farm.h"

namespace tawny {
namespace {

constexpr int kFarms = 25, kPondsOfFarm = 20, kDays = 40;
constexpr std::uint64_t kSeed = 700;

struct Tally {
  int ponds = 0, advised = 0, judged = 0;
  double crps = 0, persistence = 0, trend = 0, covered = 0, brier = 0, persistence_brier = 0;

  void add(const Outlook& outlook) {
    const OutlookScore& score = outlook.score;
    ++ponds;
    advised += outlook.advice ? 1 : 0;
    judged += score.judged;
    crps += score.crps_cm * score.judged;
    persistence += score.persistence_crps_cm * score.judged;
    trend += score.trend_crps_cm * score.judged;
    covered += score.covered * score.judged;
    brier += score.brier * score.judged;
    persistence_brier += score.persistence_brier * score.judged;
  }
};

Tally forecast_farms() {
  const Protocol protocol = *Protocol::parse(assets::find("protocol.json"));
  const std::vector<Product> products = *parse_products(assets::find("products.json"));
  const OutlookPriors priors = *parse_outlook_priors(assets::find("outlook.json"));
  const Product& product = *find_product(products, "sodium_nitrate");
  Tally tally;
  for (int i = 0; i < kFarms; ++i) {
    simulate::Options options;
    options.seed = kSeed + static_cast<std::uint64_t>(i);
    options.ponds = kPondsOfFarm;
    options.days = kDays;
    const simulate::SimulatedFarm made = simulate::simulate_farm(options, protocol);
    const Farm farm = fold_farm(made.logbook, protocol, made.end);
    for (const FarmPond& pond : farm.ponds) {
      auto record = bloom_record(pond.history, pond.state, farm.place, products, priors,
                                 civil_day(made.end, farm.place.offset), made.end);
      if (!record) continue;
      const OutlookRules rules =
          outlook_rules(pond.state, protocol, *record, product, pond.history.pond.nominal_area_ha);
      OutlookRun run(*std::move(record), rules, priors, farm.place, {500, 200});
      while (!run.step()) continue;
      tally.add(run.outlook());
    }
  }
  return tally;
}

TEST(OutlookOfSimulatedPonds, HasEightOfTenReadingsInItsRangeAndBeatsTheLastReading) {
  const Tally tally = forecast_farms();
  const double n = tally.judged;
  std::printf("%d ponds, %d with advice at the end, %d forecasts judged\n", tally.ponds, tally.advised,
              tally.judged);
  std::printf("covered %.3f; CRPS %.2f cm, as on the last reading %.2f cm, on the trend %.2f cm: skill %.3f\n",
              tally.covered / n, tally.crps / n, tally.persistence / n, tally.trend / n,
              1 - tally.crps / tally.persistence);
  std::printf("Brier score of \"in the band\" %.3f, as on the last reading %.3f\n", tally.brier / n,
              tally.persistence_brier / n);
  EXPECT_GT(tally.ponds, 450);
  EXPECT_GT(tally.judged, 5000);
  EXPECT_GT(tally.covered / n, 0.75);
  EXPECT_LT(tally.covered / n, 0.85);
  EXPECT_GT(1 - tally.crps / tally.persistence, 0.2);
  EXPECT_LT(tally.crps, tally.trend);
  EXPECT_LT(tally.brier, tally.persistence_brier);
}

}  // namespace
}  // namespace tawny
