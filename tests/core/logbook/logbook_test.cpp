#include "logbook/logbook.h"

#include <gtest/gtest.h>

#include "core/logbook/entries.h"
#include "logbook/device_key.h"

namespace tawny {
namespace {

using namespace testing_entries;

std::string newer_line(std::string_view device, int number, int lamport = 1) {
  return line_of(R"({"v":2,"farm":"north-farm","device":")" + std::string(device) + R"(","number":)" +
                 std::to_string(number) + R"(,"lamport":)" + std::to_string(lamport) + R"(,"news":[])");
}

TEST(Logbook, AnEmptyOneTakesTheFarmOfItsFirstEntry) {
  Logbook logbook;
  DeviceChain chain = chain_for("d1");
  DeviceChain other = chain_for("d2", "south-farm");
  EXPECT_EQ(logbook.add(sealed(level_draft(80), chain)), AddOutcome::added);
  EXPECT_EQ(logbook.farm(), "north-farm");
  EXPECT_EQ(logbook.add(sealed(level_draft(80), other)), AddOutcome::other_farm);
  EXPECT_EQ(logbook.size(), 1u);
}

TEST(Logbook, RefusesAnotherFarmFromTheStart) {
  Logbook logbook("south-farm");
  DeviceChain chain = chain_for("d1");
  LineProblem problem;
  EXPECT_EQ(logbook.add_line(sealed(level_draft(80), chain).line, &problem), AddOutcome::other_farm);
  EXPECT_EQ(
      problem.message,
      Message("problem.other_farm").with("farm", Text{"north-farm"}).with("own_farm", Text{"south-farm"}));
  EXPECT_TRUE(logbook.devices().empty());
}

TEST(Logbook, TheSameEntryTwiceIsOnce) {
  Logbook logbook;
  DeviceChain chain = chain_for("d1");
  const Entry entry = sealed(level_draft(80), chain);
  EXPECT_EQ(logbook.add(entry), AddOutcome::added);
  EXPECT_EQ(logbook.add(entry), AddOutcome::already_there);
  EXPECT_EQ(logbook.add_line(entry.line), AddOutcome::already_there);
  EXPECT_EQ(logbook.merge(logbook).already_there, 1u);
  EXPECT_EQ(logbook.size(), 1u);
}

TEST(Logbook, AnEntryWithoutALineIsRefused) {
  Logbook logbook;
  Entry made_by_hand;
  made_by_hand.farm_apart = "north-farm";
  made_by_hand.id = EntryId{"d1", 1, std::string(64, 'a')};
  EXPECT_EQ(logbook.add(made_by_hand), AddOutcome::refused);
  made_by_hand.id.hash.clear();
  EXPECT_EQ(logbook.add(made_by_hand), AddOutcome::refused);
  EXPECT_EQ(logbook.size(), 0u);
}

TEST(Logbook, TwoEntriesOfOneNumberAreBothKeptAndSaidSo) {
  DeviceChain chain = chain_for("d1");
  DeviceChain clone = chain_for("d1");
  const Entry a = sealed(level_draft(80), chain);
  const Entry b = sealed(level_draft(81), clone);
  Logbook logbook;
  LineProblem problem;
  EXPECT_EQ(logbook.add(a), AddOutcome::added);
  EXPECT_EQ(logbook.add_line(b.line, &problem), AddOutcome::conflict);
  EXPECT_EQ(problem.outcome, AddOutcome::conflict);
  EXPECT_EQ(problem.message.id, "problem.number_twice");
  EXPECT_EQ(logbook.size(), 2u);
  EXPECT_EQ(logbook.effective().size(), 2u);
  ASSERT_NE(logbook.find(to_reference(a.id)), nullptr);
  EXPECT_EQ(*logbook.find(to_reference(a.id))->number("level_cm"), 80);
  ASSERT_NE(logbook.find(to_reference(b.id)), nullptr);
  EXPECT_EQ(*logbook.find(to_reference(b.id))->number("level_cm"), 81);
}

TEST(Logbook, FindsNothingForAReferenceThatPointsNowhere) {
  DeviceChain chain = chain_for("d1");
  Logbook logbook;
  const Entry entry = sealed(level_draft(80), chain);
  logbook.add(entry);
  for (const char* reference :
       {"", "d1/1", "d1/1/0000000000000000", "d1/2/0000000000000000", "d2/1/0000000000000000"}) {
    EXPECT_EQ(logbook.find(reference), nullptr) << reference;
  }
}

TEST(Logbook, ItsLinesGoByDeviceThenNumberThenHash) {
  DeviceChain a = chain_for("a");
  DeviceChain b = chain_for("b");
  DeviceChain clone = chain_for("b");
  const Entry b1 = sealed(level_draft(80), b);
  const Entry b1_too = sealed(level_draft(81), clone);
  const Entry b2 = sealed(level_draft(82), b);
  const Entry a1 = sealed(level_draft(83), a);
  Logbook logbook;
  for (const Entry* entry : {&b2, &b1, &a1, &b1_too}) logbook.add(*entry);
  const bool in_order = b1.id.hash < b1_too.id.hash;
  EXPECT_EQ(logbook.to_lines(), a1.line + "\n" + (in_order ? b1 : b1_too).line + "\n" +
                                    (in_order ? b1_too : b1).line + "\n" + b2.line + "\n");
  EXPECT_EQ(logbook.devices(), (std::vector<std::string>{"a", "b"}));
}

TEST(Logbook, EntriesGoByObservationThenCounterThenDevice) {
  DeviceChain a = chain_for("a");
  DeviceChain b = chain_for("b");
  Logbook logbook;
  b.lamport = 10;
  const Entry late_counter = sealed(level_draft(4, kMorning), b);
  const Entry early = sealed(level_draft(1, kMorning.plus_s(-1)), b);
  const Entry first_counter = sealed(level_draft(2, kMorning), a);
  a.lamport = 10;
  const Entry same_counter = sealed(level_draft(3, kMorning), a);
  for (const Entry* entry : {&late_counter, &early, &same_counter, &first_counter}) logbook.add(*entry);
  std::vector<double> order;
  for (const Entry* entry : logbook.all()) order.push_back(*entry->number("level_cm"));
  EXPECT_EQ(order, (std::vector<double>{1, 2, 3, 4}));
  EXPECT_EQ(logbook.effective(), logbook.all());
}

TEST(Logbook, WhatIsOfTheChainIsNoAct) {
  DeviceChain chain = chain_for("a");
  Draft signature = chain_signed_draft(std::string(kSignatureDigits, '7'));
  signature.observed = kMorning;
  const Entry before = sealed(level_draft(1, kMorning.plus_s(-1)), chain);
  const Entry signing = sealed(signature, chain);
  const Entry after = sealed(level_draft(2, kMorning.plus_s(1)), chain);
  Logbook logbook;
  for (const Entry* entry : {&after, &signing, &before}) logbook.add(*entry);
  const auto kinds = [](const std::vector<const Entry*>& entries) {
    std::vector<std::string> kinds;
    for (const Entry* entry : entries) kinds.push_back(entry->kind);
    return kinds;
  };
  EXPECT_EQ(kinds(logbook.acts()), (std::vector<std::string>{"level_reading", "level_reading"}));
  EXPECT_EQ(kinds(logbook.effective()), kinds(logbook.acts()));
  EXPECT_EQ(kinds(logbook.all()), (std::vector<std::string>{"level_reading", "chain_signed", "level_reading"}));
}

TEST(Logbook, ANewerFormatIsKeptAndPassedOnButCountsInNoReckoning) {
  DeviceChain chain = chain_for("d1");
  const Entry entry = sealed(level_draft(80), chain);
  const std::string newer = newer_line("d1", 2, 50);
  Logbook logbook;
  LineProblem problem;
  EXPECT_EQ(logbook.add(entry), AddOutcome::added);
  EXPECT_EQ(logbook.add_line(newer, &problem), AddOutcome::kept_unread);
  EXPECT_EQ(problem.outcome, AddOutcome::kept_unread);
  EXPECT_EQ(problem.message.id, "problem.newer_format");
  EXPECT_EQ(logbook.add_line(newer), AddOutcome::already_there);
  EXPECT_EQ(logbook.size(), 2u);
  EXPECT_EQ(logbook.unread_count(), 1u);
  EXPECT_EQ(logbook.all().size(), 1u);
  EXPECT_EQ(logbook.effective().size(), 1u);
  EXPECT_EQ(logbook.to_lines(), entry.line + "\n" + newer + "\n");
  Logbook next("north-farm");
  EXPECT_EQ(next.merge(logbook).added, 2u);
  EXPECT_EQ(next.to_lines(), logbook.to_lines());
}

TEST(Logbook, MergingSaysWhatDidNotSimplyGoIn) {
  DeviceChain chain = chain_for("d1");
  DeviceChain clone = chain_for("d1");
  Logbook mine;
  Logbook theirs;
  Logbook others;
  mine.add(sealed(level_draft(80), chain));
  theirs.add(sealed(level_draft(81), clone));
  theirs.add(sealed(level_draft(82), clone));
  theirs.add_line(newer_line("d3", 1));
  DeviceChain south = chain_for("d1", "south-farm");
  others.add(sealed(level_draft(80), south));
  const LoadReport report = mine.merge(theirs);
  EXPECT_EQ(report.lines, 3u);
  EXPECT_EQ(report.added, 3u);
  ASSERT_EQ(report.problems.size(), 2u);
  EXPECT_EQ(report.problems[0].line, 1u);
  EXPECT_EQ(report.problems[0].outcome, AddOutcome::conflict);
  EXPECT_EQ(report.problems[0].message.id, "problem.number_twice");
  EXPECT_EQ(report.problems[1].line, 3u);
  EXPECT_EQ(report.problems[1].outcome, AddOutcome::kept_unread);
  const LoadReport refused = mine.merge(others);
  EXPECT_EQ(refused.added, 0u);
  ASSERT_EQ(refused.problems.size(), 1u);
  EXPECT_EQ(refused.problems[0].message.id, "problem.other_farm");
  EXPECT_EQ(mine.size(), 4u);
}

TEST(Logbook, ADeviceGoesOnWhereItStopped) {
  DeviceChain chain = chain_for("d1");
  DeviceChain other = chain_for("d2");
  other.lamport = 99;
  Logbook logbook("north-farm");
  const Entry first = sealed(level_draft(80), chain);
  logbook.add(first);
  logbook.add(sealed(level_draft(81), other));
  const DeviceChain next = logbook.chain_of("d1");
  EXPECT_EQ(next.farm, "north-farm");
  EXPECT_EQ(next.device, "d1");
  EXPECT_EQ(next.last_number, 1u);
  EXPECT_EQ(next.last_hash, first.id.hash);
  EXPECT_EQ(next.lamport, 100u);  // cause before effect, whatever the clocks say
  const DeviceChain fresh = logbook.chain_of("d3");
  EXPECT_EQ(fresh.last_number, 0u);
  EXPECT_EQ(fresh.last_hash, std::string(64, '0'));
  EXPECT_EQ(fresh.lamport, 100u);
}

TEST(Logbook, ADeviceGoesOnAfterLinesThatItCannotRead) {
  Logbook logbook("north-farm");
  const std::string newer = newer_line("d1", 7, 50);
  logbook.add_line(newer);
  DeviceChain chain = logbook.chain_of("d1");
  EXPECT_EQ(chain.last_number, 7u);
  EXPECT_EQ(chain.lamport, 50u);
  EXPECT_EQ(logbook.add(sealed(level_draft(80), chain)), AddOutcome::added);
  EXPECT_EQ(logbook.check_chains().size(), 1u);  // numbers 1 to 6; the link to the unread line holds
}

TEST(Logbook, WhereTheLastNumberIsDoubledTheChainFollowsTheLater) {
  DeviceChain chain = chain_for("d1");
  DeviceChain clone = chain_for("d1");
  clone.lamport = 5;
  Logbook logbook;
  const Entry later = sealed(level_draft(81), clone);
  logbook.add(later);
  logbook.add(sealed(level_draft(80), chain));
  EXPECT_EQ(logbook.chain_of("d1").last_hash, later.id.hash);
}

}  // namespace
}  // namespace tawny
