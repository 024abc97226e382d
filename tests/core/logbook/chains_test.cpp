#include <gtest/gtest.h>

#include "core/logbook/entries.h"
#include "logbook/logbook.h"

namespace tawny {
namespace {

using namespace testing_entries;

std::vector<Entry> row_of(int count, DeviceChain chain, std::int64_t step_s = 60) {
  std::vector<Entry> entries;
  for (int i = 0; i < count; ++i) {
    const Instant at = kMorning.plus_s(step_s * i);
    entries.push_back(sealed(level_draft(80 + i, at), chain, at));
  }
  return entries;
}

Logbook logbook_of(const std::vector<Entry>& entries) {
  Logbook logbook;
  for (const Entry& entry : entries) logbook.add(entry);
  return logbook;
}

std::vector<std::string> faults(const Logbook& logbook) {
  std::vector<std::string> faults;
  for (const ChainProblem& problem : logbook.check_chains()) {
    faults.push_back(problem.device + "/" + std::to_string(problem.number) + " " + problem.message.id);
  }
  return faults;
}

using Faults = std::vector<std::string>;

TEST(Chains, AWholeChainHasNoFault) {
  EXPECT_EQ(faults(logbook_of(row_of(5, chain_for("d1")))), Faults{});
  EXPECT_EQ(faults(Logbook()), Faults{});
}

TEST(Chains, AGapIsShownWithItsEnds) {
  std::vector<Entry> entries = row_of(9, chain_for("d1"));
  entries.erase(entries.begin() + 3, entries.begin() + 5);
  entries.erase(entries.begin());
  const Logbook logbook = logbook_of(entries);
  EXPECT_EQ(faults(logbook), (Faults{"d1/1 chain.gap", "d1/4 chain.gap"}));
  const Message message = logbook.check_chains()[1].message;
  EXPECT_EQ(*message.find("first"), MessageValue(Quantity{4, 0, ""}));
  EXPECT_EQ(*message.find("last"), MessageValue(Quantity{5, 0, ""}));
  EXPECT_EQ(*message.find("count"), MessageValue(Quantity{2, 0, ""}));
}

TEST(Chains, ALineThatDoesNotFollowFromTheOneBeforeIsShown) {
  std::vector<Entry> entries = row_of(3, chain_for("d1"));
  DeviceChain other = chain_for("d1");
  other.last_number = 1;
  other.last_hash = std::string(64, 'a');
  entries[1] = sealed(level_draft(99), other);
  EXPECT_EQ(faults(logbook_of(entries)), (Faults{"d1/2 chain.broken", "d1/3 chain.broken"}));
}

TEST(Chains, TheFirstEntryFollowsFromNothing) {
  DeviceChain chain = chain_for("d1");
  chain.last_hash = std::string(64, 'a');
  EXPECT_EQ(faults(logbook_of(row_of(2, chain))), (Faults{"d1/1 chain.broken"}));
}

TEST(Chains, AClonedDeviceShowsAsADoubledNumber) {
  DeviceChain chain = chain_for("d1");
  const Entry first = sealed(level_draft(80), chain);
  DeviceChain clone = chain;
  const Logbook logbook = logbook_of(
      {first, sealed(level_draft(81), chain), sealed(level_draft(82), chain), sealed(level_draft(91), clone)});
  EXPECT_EQ(faults(logbook), (Faults{"d1/2 chain.conflict"}));
}

TEST(Chains, ADoubledNumberOfANewerFormatIsShownToo) {
  Logbook logbook = logbook_of(row_of(1, chain_for("d1")));
  logbook.add_line(line_of(R"({"v":2,"farm":"north-farm","device":"d1","number":1)"));
  EXPECT_EQ(faults(logbook), (Faults{"d1/1 chain.conflict"}));
}

TEST(Chains, AClockThatWentBackIsShown) {
  EXPECT_EQ(faults(logbook_of(row_of(2, chain_for("d1"), -600))), Faults{});
  const Logbook logbook = logbook_of(row_of(2, chain_for("d1"), -601));
  EXPECT_EQ(faults(logbook), (Faults{"d1/2 chain.clock_back"}));
  const Message message = logbook.check_chains()[0].message;
  EXPECT_EQ(*message.find("before"), MessageValue(kMorning));
  EXPECT_EQ(*message.find("after"), MessageValue(kMorning.plus_s(-601)));
}

TEST(Chains, ALateEntryOfSomethingSeenEarlierIsNoClockFault) {
  DeviceChain chain = chain_for("d1");
  const Logbook logbook =
      logbook_of({sealed(level_draft(80, kMorning), chain, kMorning),
                  sealed(level_draft(81, kMorning.plus_h(-5)), chain, kMorning.plus_s(60))});
  EXPECT_EQ(faults(logbook), Faults{});
}

TEST(Chains, EachDeviceHasItsOwn) {
  std::vector<Entry> entries = row_of(2, chain_for("d1"));
  for (const Entry& entry : row_of(3, chain_for("d2"), -3600)) entries.push_back(entry);
  EXPECT_EQ(faults(logbook_of(entries)), (Faults{"d2/2 chain.clock_back", "d2/3 chain.clock_back"}));
}

Witness witness_of(const Entry& entry) { return Witness{entry.id.device, entry.id.number, entry.id.hash}; }

TEST(WitnessCheck, NothingIsSaidWhenAllThatItSawIsHere) {
  const std::vector<Entry> entries = row_of(3, chain_for("d1"));
  const Logbook logbook = logbook_of(entries);
  EXPECT_FALSE(compare_with_witness(logbook, witness_of(entries[2])));
  EXPECT_FALSE(compare_with_witness(logbook, witness_of(entries[1])));  // the logbook may have come further
  EXPECT_FALSE(compare_with_witness(logbook, Witness{"d1", 0, std::string(64, '0')}));
  EXPECT_FALSE(compare_with_witness(Logbook(), Witness{}));
}

TEST(WitnessCheck, AnEmptiedStoreIsAnAlarm) {
  const std::vector<Entry> entries = row_of(3, chain_for("d1"));
  const auto alarm = compare_with_witness(Logbook("north-farm"), witness_of(entries[2]));
  ASSERT_TRUE(alarm);
  EXPECT_EQ(alarm->kind, ProblemKind::missing);
  EXPECT_EQ(alarm->message.id, "witness.lost");
  EXPECT_EQ(*alarm->message.find("missing"), MessageValue(Quantity{3, 0, ""}));
  EXPECT_EQ(*alarm->message.find("device"), MessageValue(Text{"d1"}));
}

TEST(WitnessCheck, AShortfallIsCounted) {
  std::vector<Entry> entries = row_of(6, chain_for("d1"));
  const Witness witness = witness_of(entries[4]);
  entries.resize(4);
  entries.erase(entries.begin() + 1);
  const auto alarm = compare_with_witness(logbook_of(entries), witness);
  ASSERT_TRUE(alarm);
  EXPECT_EQ(*alarm->message.find("missing"), MessageValue(Quantity{2, 0, ""}));
}

TEST(WitnessCheck, AHoleBelowTheLastNumberIsAShortfallToo) {
  std::vector<Entry> entries = row_of(3, chain_for("d1"));
  const Witness witness = witness_of(entries[2]);
  entries.erase(entries.begin());
  const auto alarm = compare_with_witness(logbook_of(entries), witness);
  ASSERT_TRUE(alarm);
  EXPECT_EQ(alarm->message.id, "witness.lost");
}

TEST(WitnessCheck, OtherDevicesEntriesAreNoSubstitute) {
  const std::vector<Entry> entries = row_of(3, chain_for("d1"));
  const auto alarm = compare_with_witness(logbook_of(row_of(3, chain_for("d2"))), witness_of(entries[2]));
  ASSERT_TRUE(alarm);
  EXPECT_EQ(alarm->message.id, "witness.lost");
}

TEST(WitnessCheck, TheSameNumberWithAnotherHashIsAnAlarm) {
  const std::vector<Entry> entries = row_of(3, chain_for("d1"));
  DeviceChain otherwise = chain_for("d1");
  otherwise.lamport = 1000;
  const auto alarm = compare_with_witness(logbook_of(row_of(3, otherwise)), witness_of(entries[2]));
  ASSERT_TRUE(alarm);
  EXPECT_EQ(alarm->kind, ProblemKind::conflict);
  EXPECT_EQ(alarm->message.id, "witness.changed");
}

// Two lines of one number whose hashes begin alike can be made in an hour by whoever wants to. These are not: the
// digits are written in, which Logbook::add() has no reason to reckon again.
Entry with_hash(Entry entry, const std::string& hash) {
  entry.line = replaced(entry.line, entry.id.hash, hash);
  entry.id.hash = hash;
  return entry;
}

TEST(Chains, EntriesOfOneNumberThatWereMadeAlikeAreNamedAndNeverTakenForOneAnother) {
  const std::string start = "0123456789abcdef";
  DeviceChain chain = chain_for("d1");
  const Entry one = with_hash(sealed(level_draft(80), chain), start + std::string(48, '0'));
  chain = chain_for("d1");
  const Entry other = with_hash(sealed(level_draft(90), chain), start + std::string(48, '1'));
  chain = chain_for("d2");
  const Entry taken_back = sealed(void_of(one), chain);

  Logbook logbook = logbook_of({one, other, taken_back});
  EXPECT_EQ(faults(logbook), (Faults{"d1/1 chain.conflict", "d1/1 chain.alike"}));
  EXPECT_EQ(logbook.find(to_reference(one.id)), nullptr);
  // The void names both, so it takes out neither.
  EXPECT_EQ(logbook.standing(one.id), Logbook::Standing::stands);
  EXPECT_EQ(logbook.standing(other.id), Logbook::Standing::stands);
  EXPECT_EQ(logbook.size(), 3U);

  // In whatever order they come.
  EXPECT_EQ(logbook_of({taken_back, other, one}).to_lines(), logbook.to_lines());
  // Alone, each is found.
  EXPECT_EQ(logbook_of({one}).find(to_reference(one.id))->id, one.id);
  EXPECT_EQ(logbook_of({other, taken_back}).standing(other.id), Logbook::Standing::voided);
}

TEST(Chains, ACorrectionThatWasMadeAlikeAnotherStandsByItself) {
  const std::string start = "0123456789abcdef";
  DeviceChain chain = chain_for("d2");
  const Entry reading = sealed(level_draft(70), chain);
  chain = chain_for("d1");
  const Entry one = with_hash(sealed(correction_of(reading, 80), chain), start + std::string(48, '0'));
  chain = chain_for("d1");
  const Entry other = with_hash(sealed(correction_of(reading, 90), chain), start + std::string(48, '1'));
  const Logbook logbook = logbook_of({reading, one, other});
  // As any two corrections of one entry: the later of the two stands, by its hash.
  EXPECT_EQ(logbook.standing(reading.id), Logbook::Standing::corrected);
  EXPECT_EQ(logbook.standing(one.id), Logbook::Standing::corrected);
  EXPECT_EQ(logbook.standing(other.id), Logbook::Standing::stands);
}

}  // namespace
}  // namespace tawny
