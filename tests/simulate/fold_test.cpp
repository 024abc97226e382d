// A farm that is folded again and again as entries come in stands as one that is folded once.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "assets.h"
#include "farm/farm.h"
#include "farm/rounds.h"
#include "simulate/farm.h"

namespace tawny {
namespace {

const Protocol& protocol() {
  static const Protocol standard = *Protocol::parse(assets::find("protocol.json"));
  return standard;
}

// The lines of a simulated farm in the order in which its phones wrote them.
std::vector<std::string> written_lines(int ponds, int days) {
  simulate::Options options;
  options.ponds = ponds;
  options.days = days;
  options.seed = 11;
  const simulate::SimulatedFarm farm = simulate::simulate_farm(options, protocol());
  std::vector<const Entry*> entries = farm.logbook.all();
  std::stable_sort(entries.begin(), entries.end(),
                   [](const Entry* a, const Entry* b) { return a->lamport < b->lamport; });
  std::vector<std::string> lines;
  for (const Entry* entry : entries) lines.push_back(entry->line);
  return lines;
}

// What a person would see of it, in words that differ wherever the ponds do.
std::string told(const FarmPond& pond) {
  const PondState& state = pond.state;
  std::string all = pond.history.pond.id + " " + pond.history.pond.name + " " + to_reference(pond.setup->id) +
                    " stage " + std::to_string(static_cast<int>(state.stage)) + " since " +
                    to_iso(state.stage_since) + " holds " + state.holds.value_or("-") + " gates " +
                    std::to_string(state.gates.size());
  for (const Criterion& criterion : state.criteria) {
    all += " " + criterion.id + "=" + std::string(name_of(criterion.verdict));
    for (const EntryId& id : criterion.evidence) all += "," + to_reference(id);
  }
  for (const SecchiDay& day : state.secchi_days)
    all += " " + to_iso(day.day) + ":" + std::to_string(day.secchi_cm);
  for (const DayPair& day : state.day_pairs) all += " " + to_iso(day.day);
  for (const Trouble& trouble : state.troubles) all += " " + trouble.id;
  all += " told " + std::to_string(pond.told.size()) + " water " + std::to_string(pond.history.water.size());
  for (const WaterReading& reading : pond.history.water) all += " " + to_reference(reading.entry->id);
  return all + "\n";
}

std::string told(const Farm& farm) {
  std::string all = farm.name + " " + std::to_string(farm.problems.size()) + "\n";
  for (const FarmPond& pond : farm.ponds) all += told(pond);
  return all;
}

TEST(Fold, AgainAndAgainIsTheSameAsOnce) {
  const std::vector<std::string> lines = written_lines(5, 30);
  ASSERT_GT(lines.size(), 500u);
  Logbook logbook;
  Farm farm;
  std::size_t kept = 0, step = 1;
  for (std::size_t at = 0; at < lines.size(); at += step, step = step % 97 + 13) {
    for (std::size_t i = at; i < std::min(at + step, lines.size()); ++i) logbook.add_line(lines[i]);
    const Instant now = logbook.all().back()->recorded.plus_min(1);
    const std::uint64_t moves = farm.moves;
    farm = fold_farm(logbook, protocol(), now, std::move(farm));
    ASSERT_EQ(told(farm), told(fold_farm(logbook, protocol(), now))) << "after " << at + step << " lines";
    kept += farm.moves == moves ? 1 : 0;
  }
  EXPECT_GT(kept, 10u);  // else nothing was ever taken from the fold before
}

TEST(Fold, OfWhatWasToldLeavesTheOtherPondsAsTheyWere) {
  const std::vector<std::string> lines = written_lines(5, 30);
  Logbook logbook;
  Farm farm;
  std::size_t kept = 0, kept_older = 0, anew = 0;
  for (std::size_t at = 0; at < lines.size(); at += 3) {
    for (std::size_t i = at; i < std::min(at + 3, lines.size()); ++i) logbook.add_line(lines[i]);
    const Instant now = logbook.all().back()->recorded.plus_min(1);
    std::map<std::string, std::pair<std::vector<const Entry*>, std::string>> before;
    for (const FarmPond& pond : farm.ponds) before[pond.history.pond.id] = {pond.told, told(pond)};
    farm = fold_farm(logbook, protocol(), now, std::move(farm), Assessing::told);
    const Farm whole = fold_farm(logbook, protocol(), now);
    ASSERT_EQ(farm.ponds.size(), whole.ponds.size());
    for (std::size_t i = 0; i < farm.ponds.size(); ++i) {
      const FarmPond& pond = farm.ponds[i];
      const auto was = before.find(pond.history.pond.id);
      if (was != before.end() && was->second.first == pond.told) {
        ASSERT_EQ(told(pond), was->second.second) << "after " << at + 3 << " lines";
        ++kept;
        kept_older += told(pond) != told(whole.ponds[i]) ? 1 : 0;
      } else {
        ASSERT_EQ(told(pond), told(whole.ponds[i])) << "after " << at + 3 << " lines";
        ++anew;
      }
    }
  }
  EXPECT_GT(kept, 100u);
  EXPECT_GT(kept_older, 0u);  // else it would not show
  EXPECT_GT(anew, 100u);
}

TEST(Fold, AfterTwoEntriesOfOneNumberReadsAllAnew) {
  const std::vector<std::string> lines = written_lines(3, 20);
  // A clone of the phone that wrote last writes on from the middle.
  Logbook logbook;
  for (std::size_t i = 0; i < lines.size() / 2; ++i) logbook.add_line(lines[i]);
  const std::string device = parse_entry(lines.back())->id.device;
  DeviceChain chain = logbook.chain_of(device);
  for (std::size_t i = lines.size() / 2; i < lines.size(); ++i) logbook.add_line(lines[i]);
  const Instant now = logbook.all().back()->recorded.plus_min(5);
  Farm farm = fold_farm(logbook, protocol(), now);
  const std::uint64_t moves = farm.moves;

  Draft draft;
  draft.kind = "water_reading";
  draft.pond = farm.ponds.front().history.pond.id;
  draft.who = "Ines";
  draft.observed = now;
  draft.values["do_mg_l"] = 6.5;
  const auto entry = seal(draft, now, chain);
  ASSERT_TRUE(entry);
  ASSERT_EQ(logbook.add(*entry), AddOutcome::conflict);
  farm = fold_farm(logbook, protocol(), now, std::move(farm));
  EXPECT_GT(farm.moves, moves);
  EXPECT_EQ(told(farm), told(fold_farm(logbook, protocol(), now)));
}

TEST(Fold, ACopyOfALogbookIsInItsOwnOrder) {
  const std::vector<std::string> lines = written_lines(2, 10);
  std::vector<const Entry*> copied;
  Logbook copy;
  {
    Logbook logbook;
    for (const std::string& line : lines) logbook.add_line(line);
    ASSERT_EQ(logbook.all().size(), lines.size());
    copy = logbook;
  }
  copied = copy.all();
  ASSERT_EQ(copied.size(), lines.size());
  std::vector<std::string> left, right = lines;
  for (const Entry* entry : copied) left.push_back(entry->line);
  std::sort(left.begin(), left.end());
  std::sort(right.begin(), right.end());
  EXPECT_EQ(left, right);
}

}  // namespace
}  // namespace tawny
