// Simulated farms: the same from the same seed, whole as logbooks, plausible as ponds.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "assets.h"
#include "farm/farm.h"
#include "logbook/kinds.h"
#include "logbook/segment.h"
#include "simulate/depot.h"

namespace tawny::simulate {
namespace {

const Protocol& protocol() {
  static const Protocol parsed = *Protocol::parse(assets::find("protocol.json"));
  return parsed;
}

// Eight farms of four ponds and sixty days, with what is hidden; made once for all tests.
const std::vector<SimulatedFarm>& farms() {
  static const std::vector<SimulatedFarm> made = [] {
    std::vector<SimulatedFarm> all;
    for (int number = 1; number <= 8; ++number) {
      Options options;
      options.seed = 11;
      options.number = number;
      options.ponds = 4;
      options.keep_truth = true;
      all.push_back(simulate_farm(options, protocol()));
    }
    return all;
  }();
  return made;
}

std::size_t count_of(const SimulatedFarm& farm, std::string_view kind) {
  const std::vector<const Entry*> all = farm.logbook.all();
  return static_cast<std::size_t>(
      std::count_if(all.begin(), all.end(), [&](const Entry* entry) { return entry->kind == kind; }));
}

// Water that people could have read: wet for two days, and not just being drained.
std::vector<const Water*> settled_water(const PondTruth& pond) {
  std::vector<const Water*> settled;
  int wet_h = 0;
  for (const Water& water : pond.hours) {
    const bool wet = water.area_m2 > 0 && water.volume_m3 / water.area_m2 > 0.1;
    wet_h = wet ? wet_h + 1 : 0;
    if (wet_h > 48) settled.push_back(&water);
  }
  return settled;
}

// The first draws of the seed 1, reckoned from the generators' definitions in another language, whose
// splitmix64 gives the published first values of the seed 1234567 (6457827717110365317, 3203168211198807973).
TEST(Random, DrawsWhatItsDefinitionGives) {
  Random random(1);
  for (const std::uint64_t draw : {12966619160104079557U, 9600361134598540522U, 10590380919521690900U})
    EXPECT_EQ(random.next(), draw);
}

TEST(Random, DrawsTheSameFromTheSameSeed) {
  Random first(1);
  Random second(1);
  double sum = 0;
  double squares = 0;
  constexpr int kDraws = 20000;
  for (int i = 0; i < kDraws; ++i) {
    EXPECT_EQ(first.next(), second.next());
    const double normal = first.normal();
    EXPECT_EQ(normal, second.normal());
    sum += normal;
    squares += normal * normal;
  }
  // Mean 0 and deviation 1, within four standard errors.
  EXPECT_NEAR(sum / kDraws, 0, 0.03);
  EXPECT_NEAR(squares / kDraws, 1, 0.04);
  EXPECT_NE(Random(1).next(), Random(2).next());
  EXPECT_NE(Random(1).part("weather").next(), Random(1).part("crew").next());
}

TEST(SimulatedFarm, IsTheSameToTheByteFromTheSameSeed) {
  Options options;
  options.ponds = 2;
  options.days = 25;
  const std::string lines = simulate_farm(options, protocol()).logbook.to_lines();
  EXPECT_GT(lines.size(), 50000U);
  EXPECT_EQ(simulate_farm(options, protocol()).logbook.to_lines(), lines);
  // Looking at the truth changes nothing.
  options.keep_truth = true;
  EXPECT_EQ(simulate_farm(options, protocol()).logbook.to_lines(), lines);
  options.seed = 2;
  EXPECT_NE(simulate_farm(options, protocol()).logbook.to_lines(), lines);
}

TEST(SimulatedFarm, HasWholeChainsBesideAPhoneWhoseClockWasSetRight) {
  int clocks_wrong = 0;
  for (const SimulatedFarm& farm : farms()) {
    std::set<std::string> wrong;
    for (const Phone& phone : farm.phones) {
      if (phone.clock_off_s != 0) wrong.insert(phone.chain.device);
    }
    clocks_wrong += static_cast<int>(wrong.size());
    for (const ChainProblem& problem : farm.logbook.check_chains()) {
      EXPECT_EQ(problem.message.id, "chain.clock_back") << farm.id;
      EXPECT_TRUE(wrong.count(problem.device)) << farm.id;
    }
    EXPECT_TRUE(fold_farm(farm.logbook, protocol(), farm.end).problems.empty()) << farm.id;
    EXPECT_GE(farm.logbook.devices().size(), 3U);
  }
  EXPECT_LT(clocks_wrong, 5);
}

// A correction or a void comes from somebody who had seen what it points at, so its counter is higher.
TEST(SimulatedFarm, PointsOnlyAtEntriesThatWereSeen) {
  int pointing = 0;
  for (const SimulatedFarm& farm : farms()) {
    for (const Entry* entry : farm.logbook.all()) {
      for (const std::string& reference : {entry->corrects, entry->voids}) {
        if (reference.empty()) continue;
        ++pointing;
        const Entry* target = farm.logbook.find(reference);
        ASSERT_NE(target, nullptr) << reference;
        EXPECT_GT(entry->lamport, target->lamport) << reference;
      }
    }
  }
  EXPECT_GT(pointing, 20);
}

TEST(SimulatedFarm, LiesInItsDepotWholeAndUnderItsNames) {
  int with_thousand = 0;
  for (const SimulatedFarm& farm : farms()) {
    Logbook united(farm.id);
    bool thousand = false;
    std::size_t lines = 0;
    for (const DepotFile& file : depot_files(farm)) {
      const auto name = parse_segment_name(file.name);
      ASSERT_TRUE(name) << file.name;
      EXPECT_EQ(segment_hash(file.bytes), name->hash);
      thousand = thousand || name->whole_thousand();
      EXPECT_TRUE(name->whole_thousand() || name->numbers() <= 200) << file.name;
      lines += united.load(file.bytes).lines;
    }
    EXPECT_EQ(united.to_lines(), farm.logbook.to_lines());
    EXPECT_GT(lines, farm.logbook.size()) << "some lines lie there twice";
    bool complete = false;
    for (const Phone& phone : farm.phones)
      complete = complete || (phone.networked && phone.chain.last_number >= 1000);
    EXPECT_EQ(thousand, complete);
    with_thousand += thousand ? 1 : 0;
  }
  EXPECT_GT(with_thousand, 0);
}

TEST(SimulatedPond, NeitherMakesNorLosesNitrogen) {
  for (const SimulatedFarm& farm : farms()) {
    for (const PondTruth& pond : farm.ponds) {
      EXPECT_LT(pond.largest_nitrogen_error, 1e-9) << farm.id << " " << pond.pond;
      EXPECT_GT(pond.nitrogen.total(), 1000) << "grams, in the mud alone";
    }
  }
}

// Ponds of shrimp and fish: oxygen from 1 or 2 mg/L at dawn to twice saturation, pH 7 to 10 over the day (Boyd
// & Tucker 1998, Pond Aquaculture Water Quality Management, from memory); Secchi depths of 20 cm in dense
// blooms to 150 cm in clear ones (Boyd 1990, Water Quality in Ponds for Aquaculture, from memory).
TEST(SimulatedPond, StaysWithinWhatPondsAreKnownToDo) {
  std::size_t readings = 0;
  std::size_t between_1_and_20_mg_l = 0;
  std::size_t between_20_and_150_cm = 0;
  for (const SimulatedFarm& farm : farms()) {
    for (const PondTruth& pond : farm.ponds) {
      if (pond.torn) continue;
      for (const Water* water : settled_water(pond)) {
        EXPECT_GT(water->do_mg_l, 0) << farm.id << " " << pond.pond << " " << to_iso(water->at);
        EXPECT_LT(water->do_mg_l, 21) << farm.id << " " << pond.pond << " " << to_iso(water->at);
        between_1_and_20_mg_l += water->do_mg_l >= 1 && water->do_mg_l <= 20 ? 1 : 0;
        EXPECT_GT(water->ph, 7) << farm.id << " " << pond.pond << " " << to_iso(water->at);
        EXPECT_LT(water->ph, 10) << farm.id << " " << pond.pond << " " << to_iso(water->at);
        EXPECT_GT(water->temperature_c, 18);
        EXPECT_LT(water->temperature_c, 38);
        EXPECT_GT(water->salinity, 1);
        EXPECT_LT(water->salinity, 45);
        ++readings;
        between_20_and_150_cm += water->secchi_cm >= 20 && water->secchi_cm <= 150 ? 1 : 0;
      }
    }
  }
  ASSERT_GT(readings, 20000U);
  // A pond may crash.
  EXPECT_GT(static_cast<double>(between_1_and_20_mg_l), 0.995 * static_cast<double>(readings));
  EXPECT_GT(static_cast<double>(between_20_and_150_cm), 0.9 * static_cast<double>(readings));
}

// From dawn to the afternoon a bloom in the band moves oxygen by 3 to 8 mg/L and pH by 0.2 to 0.8 (common
// practice, no source).
TEST(SimulatedPond, BreathesByDayAndNight) {
  std::vector<double> oxygen;
  std::vector<double> ph;
  for (const SimulatedFarm& farm : farms()) {
    for (const PondTruth& pond : farm.ponds) {
      std::map<CivilDay, std::vector<const Water*>> days;
      for (const Water* water : settled_water(pond)) {
        days[civil_day(water->at.plus_s(-1), farm.place.offset)].push_back(water);
      }
      for (const auto& [day, hours] : days) {
        if (hours.size() < 24 || hours[12]->secchi_cm < 40 || hours[12]->secchi_cm > 60) continue;
        const auto by_oxygen = [](const Water* a, const Water* b) { return a->do_mg_l < b->do_mg_l; };
        const auto by_ph = [](const Water* a, const Water* b) { return a->ph < b->ph; };
        const auto [low, high] = std::minmax_element(hours.begin(), hours.end(), by_oxygen);
        const auto [acid, alkaline] = std::minmax_element(hours.begin(), hours.end(), by_ph);
        oxygen.push_back((*high)->do_mg_l - (*low)->do_mg_l);
        ph.push_back((*alkaline)->ph - (*acid)->ph);
      }
    }
  }
  ASSERT_GT(oxygen.size(), 150U);
  std::sort(oxygen.begin(), oxygen.end());
  std::sort(ph.begin(), ph.end());
  EXPECT_GT(oxygen[oxygen.size() / 2], 3);
  EXPECT_LT(oxygen[oxygen.size() / 2], 8);
  EXPECT_GT(ph[ph.size() / 2], 0.2);
  EXPECT_LT(ph[ph.size() / 2], 0.8);
}

TEST(SimulatedFarm, BringsMostPondsPastTheBloomAndSomeToTheRelease) {
  int ponds = 0;
  int past_bloom = 0;
  int released = 0;
  for (const SimulatedFarm& farm : farms()) {
    const Farm folded = fold_farm(farm.logbook, protocol(), farm.end);
    for (const FarmPond& pond : folded.ponds) {
      if (farm.ponds[static_cast<std::size_t>(pond.history.pond.walk_order - 1)].torn) continue;
      ++ponds;
      past_bloom += pond.state.in_cycle && pond.state.stage > Stage::bloom ? 1 : 0;
      released += pond.state.in_cycle && pond.state.stage == Stage::early_cycle ? 1 : 0;
    }
  }
  EXPECT_GT(past_bloom, ponds * 6 / 10) << ponds;
  EXPECT_GT(released, ponds / 5) << ponds;
  EXPECT_LT(released, ponds);
}

// Nobody slips, nobody passes a gate by hand: what filters the water holds the pond at its first bloom.
TEST(SimulatedFarm, DoesNotBringAnUnscreenedPondPastItsBloom) {
  for (int number = 1; number <= 3; ++number) {
    Options options;
    options.seed = 5;
    options.number = number;
    options.ponds = 3;
    options.carelessness = 0;
    options.torn = true;
    options.keep_truth = true;
    const SimulatedFarm farm = simulate_farm(options, protocol());
    const Farm folded = fold_farm(farm.logbook, protocol(), farm.end);
    for (const FarmPond& pond : folded.ponds) {
      EXPECT_LE(pond.state.stage, Stage::bloom) << number << " " << pond.history.pond.id;
    }
  }
}

TEST(SimulatedFarm, IsKeptByCarelessPeople) {
  std::size_t corrections = 0;
  std::size_t voids = 0;
  std::size_t passed = 0;
  std::size_t settled = 0;
  std::size_t typed_late = 0;
  for (const SimulatedFarm& farm : farms()) {
    voids += count_of(farm, kind::kVoid);
    passed += count_of(farm, kind::kGatePassed);
    settled += count_of(farm, kind::kQuestionSettled);
    for (const Entry* entry : farm.logbook.all()) {
      corrections += entry->corrects.empty() ? 0 : 1;
      typed_late += hours_between(entry->observed, entry->recorded) > 0.9 ? 1 : 0;
    }
  }
  EXPECT_GT(corrections, 5U);
  EXPECT_GT(voids, 10U);
  EXPECT_GT(passed, 10U);
  EXPECT_GT(settled, 0U);
  EXPECT_GT(typed_late, 100U);
}

// Where nobody slips, what is written is what was there, to the error of the meter.
TEST(SimulatedFarm, WithCareWritesDownWhatIsThere) {
  Options options;
  options.seed = 3;
  options.ponds = 2;
  options.days = 40;
  options.carelessness = 0;
  options.keep_truth = true;
  const SimulatedFarm farm = simulate_farm(options, protocol());
  std::size_t looked_at = 0;
  for (const Entry* entry : farm.logbook.all()) {
    EXPECT_TRUE(entry->corrects.empty());
    if (entry->kind != kind::kWaterReading) continue;
    const PondTruth& pond = farm.ponds[entry->pond == "p1" ? 0 : 1];
    const auto after = std::lower_bound(pond.hours.begin(), pond.hours.end(), entry->observed,
                                        [](const Water& water, Instant at) { return water.at < at; });
    if (after == pond.hours.begin() || after == pond.hours.end()) continue;
    const auto [low, high] = std::minmax((after - 1)->do_mg_l, after->do_mg_l);
    ASSERT_NE(entry->number("do_mg_l"), nullptr);
    EXPECT_GT(*entry->number("do_mg_l"), low - 1.2);
    EXPECT_LT(*entry->number("do_mg_l"), high + 1.2);
    ++looked_at;
  }
  EXPECT_GT(looked_at, 60U);
}

}  // namespace
}  // namespace tawny::simulate
