// One sync, step by step.
#include "logbook/depot_run.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/logbook/entries.h"
#include "core/logbook/fake_depot.h"

namespace tawny {
namespace {

using namespace testing_entries;
using namespace testing_depot;
using Act = DepotStep::Act;

void write_levels(FakeDevice& device, int count) {
  DeviceChain chain = device.logbook.chain_of(device.name);
  for (int i = 0; i < count; ++i) device.keep(sealed(level_draft(i), chain));
}

std::string name_in(const FakeDepot& depot, const std::string& start) {
  const auto file = depot.files.lower_bound(start);
  return file != depot.files.end() && file->first.rfind(start, 0) == 0 ? file->first : "";
}

TEST(DepotRun, ASecondDeviceGetsWhatTheFirstPut) {
  for (const bool flat : {false, true}) {
    FakeDepot depot;
    depot.flat = flat;
    FakeDevice a("a", "north"), b("b", "south");
    write_levels(a, 5);
    write_levels(b, 3);
    EXPECT_EQ(sync(a, depot).puts.size(), 1U);
    const Steps steps = sync(b, depot);
    EXPECT_EQ(steps.gets.size(), 2U) << "one of a, and its own read back";
    EXPECT_EQ(steps.puts.size(), 1U);
    sync(a, depot);
    EXPECT_EQ(a.logbook.size(), 8U);
    EXPECT_EQ(a.logbook.to_lines(), b.logbook.to_lines());
    EXPECT_TRUE(sync(a, depot).only_lists());
    EXPECT_TRUE(sync(b, depot).only_lists());
  }
}

TEST(DepotRun, GivesTheSameStepUntilItIsAnswered) {
  FakeDevice a("a", "w");
  write_levels(a, 1);
  DepotRun run({"w", "a", {}});
  EXPECT_EQ(run.next(a.logbook)->act, Act::list);
  EXPECT_EQ(run.next(a.logbook)->act, Act::list);
  run.put_done();
  run.got("", a.logbook);
  EXPECT_EQ(run.next(a.logbook)->act, Act::list) << "an answer to another step is none";
  run.listed({});
  EXPECT_FALSE(run.next(a.logbook));
  EXPECT_TRUE(run.ready_to_put());
  EXPECT_FALSE(run.next(a.logbook)) << "nothing is put before go_on()";
  run.go_on();
  const std::optional<DepotStep> put = run.next(a.logbook);
  ASSERT_TRUE(put);
  EXPECT_EQ(put->act, Act::put);
  EXPECT_EQ(put->bytes, a.logbook.to_lines());
  run.put_done();
  const std::optional<DepotStep> back = run.next(a.logbook);
  ASSERT_TRUE(back);
  EXPECT_EQ(back->act, Act::get);
  EXPECT_EQ(back->name, put->name);
  run.got(put->bytes, a.logbook);
  EXPECT_FALSE(run.next(a.logbook));
  EXPECT_TRUE(run.over());
  EXPECT_FALSE(run.ended_by());
  EXPECT_EQ(run.tally().put, 1U);
  EXPECT_EQ(run.tally().entries_up, 1U);
}

TEST(DepotRun, TheLongestSegmentIsFetchedFirstAndSparesThoseItCovers) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  for (int part = 0; part < 4; ++part) {
    write_levels(a, part == 3 ? 400 : 200);
    sync(a, depot);
  }
  EXPECT_EQ(depot.files.size(), 6U);
  FakeDevice b("b", "w2");
  const Steps steps = sync(b, depot);
  ASSERT_EQ(steps.gets.size(), 1U);
  EXPECT_EQ(steps.gets[0].rfind("w/a/0/1-1000-", 0), 0U) << steps.gets[0];
  EXPECT_EQ(b.logbook.to_lines(), a.logbook.to_lines());
  EXPECT_TRUE(steps.puts.empty());
}

TEST(DepotRun, PutsAreOfTwoHundredLinesAtMostAndCrossNoThousand) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  write_levels(a, 2150);
  DepotRun run({"w", "a", {}});
  sync(a, depot, run);
  EXPECT_EQ(run.tally().entries_up, 2150U);
  EXPECT_EQ(run.tally().to_put, 13U);
  EXPECT_EQ(run.tally().put, 13U);
  std::vector<std::pair<std::uint32_t, std::uint32_t>> spans;
  for (const auto& [text, bytes] : depot.files) {
    const auto name = parse_segment_name(text);
    ASSERT_TRUE(name) << text;
    EXPECT_EQ(segment_hash(bytes), name->hash);
    spans.emplace_back(name->first, name->last);
  }
  std::sort(spans.begin(), spans.end());
  const std::vector<std::pair<std::uint32_t, std::uint32_t>> expected = {
      {1, 200},     {1, 1000},    {201, 400},   {401, 600},   {601, 800},   {801, 1000}, {1001, 1200},
      {1001, 2000}, {1201, 1400}, {1401, 1600}, {1601, 1800}, {1801, 2000}, {2001, 2150}};
  EXPECT_EQ(spans, expected);
  EXPECT_TRUE(sync(a, depot).only_lists());
}

TEST(DepotRun, AClosedThousandIsNotListedAgain) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2");
  write_levels(a, 8500);
  sync(a, depot);
  sync(b, depot);
  for (FakeDevice* device : {&a, &b}) {
    const Steps steps = sync(*device, depot);
    EXPECT_TRUE(steps.only_lists());
    // Root, writer, device, the open thousand, and three of the closed ones in turn.
    EXPECT_EQ(steps.lists.size(), 7U);
  }
  EXPECT_LT(b.known.size(), 13U) << "a closed thousand is remembered by one name";
}

TEST(DepotRun, LinesThatACloneAddsToAClosedThousandAreFoundAfterAWhile) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2");
  write_levels(a, 999);
  FakeDevice clone = a;
  write_levels(a, 8000);
  sync(a, depot);
  sync(b, depot);
  clone.write(level_draft(77));
  sync(clone, depot);
  for (int round = 0; round < 3; ++round) sync(b, depot);
  EXPECT_EQ(b.logbook.size(), 9000U);
  EXPECT_EQ(b.logbook.to_lines(), clone.logbook.to_lines());
}

TEST(DepotRun, WhatCameByHandIsPutToo) {
  FakeDepot depot;
  FakeDevice a("a", "wa"), b("b", "wb");
  write_levels(a, 3);
  write_levels(b, 2);
  b.logbook.merge(a.logbook);
  b.logbook.add_line(line_of(R"({"v":2,"farm":"north-farm","device":"c","number":1)"));
  sync(b, depot);
  EXPECT_EQ(depot.files.size(), 3U);
  for (const auto& [name, bytes] : depot.files) EXPECT_EQ(name.rfind("wb/", 0), 0U) << name;
  FakeDevice office("o", "wo");
  sync(office, depot);
  EXPECT_EQ(office.logbook.to_lines(), b.logbook.to_lines());
  EXPECT_EQ(office.logbook.unread_count(), 1U);
}

TEST(DepotRun, WhatCameByHandIsNotFetchedWhenAnOfficeHasAcknowledgedIt) {
  FakeDepot depot;
  FakeDevice a("a", "wa"), office("o", "wo"), c("c", "wc");
  office.office = true;
  write_levels(a, 300);
  sync(a, depot);
  sync(office, depot);
  c.logbook.merge(office.logbook);
  const Steps steps = sync(c, depot);
  EXPECT_TRUE(std::none_of(steps.gets.begin(), steps.gets.end(),
                           [](const std::string& name) { return name.rfind("wa/", 0) == 0; }));
  EXPECT_TRUE(steps.puts.empty());
}

TEST(DepotRun, ATornUploadIsPutAgainByItsWriterEvenAfterItForgot) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2");
  write_levels(a, 4);
  sync(a, depot, [](const DepotStep& step, std::string& bytes) {
    if (step.act != Act::put) return Mishap{};
    bytes.resize(bytes.size() / 2);
    return Mishap{CarryFault::offline, true, true};
  });
  const std::string name = depot.files.begin()->first;
  EXPECT_NE(segment_hash(depot.files[name]), parse_segment_name(name)->hash);
  EXPECT_TRUE(a.known.empty());
  DepotRun run({"w2", "b", {}});
  sync(b, depot, run);
  EXPECT_EQ(b.logbook.size(), 2U) << "the lines that are whole in it";
  ASSERT_EQ(run.tally().faults.size(), 1U);
  EXPECT_EQ(run.tally().faults[0].fault, CarryFault::malformed);
  EXPECT_EQ(run.tally().faults[0].name, name);
  sync(a, depot);
  sync(b, depot);
  EXPECT_EQ(b.logbook.to_lines(), a.logbook.to_lines());
  EXPECT_TRUE(sync(a, depot).only_lists());
  EXPECT_TRUE(sync(b, depot).only_lists());
  // With nobody in between it is the same file that is made whole.
  depot.files = {{name, "torn"}};
  a.known.clear();
  sync(a, depot);
  EXPECT_EQ(depot.files.size(), 1U);
  EXPECT_EQ(segment_hash(depot.files[name]), parse_segment_name(name)->hash);
}

TEST(DepotRun, WhoeverHoldsTheLinesOfADamagedFilePutsThemInItsStead) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2"), c("c", "w3");
  write_levels(a, 4);
  sync(a, depot);
  b.logbook.merge(a.logbook);
  std::string& bytes = depot.files.begin()->second;
  bytes[bytes.size() / 2] ^= 1;
  sync(b, depot);
  EXPECT_NE(name_in(depot, "w2/a/0/1-4-"), "");
  sync(c, depot);
  EXPECT_EQ(c.logbook.to_lines(), a.logbook.to_lines());
}

TEST(DepotRun, BytesAlteredOnTheWayAreNotTakenForGood) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2");
  write_levels(a, 4);
  sync(a, depot);
  sync(b, depot, [](const DepotStep& step, std::string& bytes) {
    if (step.act == Act::get) bytes[bytes.size() - 3] ^= 1;
    return Mishap{};
  });
  EXPECT_EQ(b.logbook.size(), 3U);
  sync(b, depot);
  EXPECT_EQ(b.logbook.to_lines(), a.logbook.to_lines());
}

TEST(DepotRun, ADepotThatWasEmptiedIsFilledAgain) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  write_levels(a, 1200);
  sync(a, depot);
  const auto before = depot.files;
  depot.files.clear();
  sync(a, depot);
  EXPECT_EQ(depot.files, before);
}

TEST(DepotRun, ADeviceThatLostEntriesGetsItsOwnBackThoughItRemembersTheirNames) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  write_levels(a, 1500);
  sync(a, depot);
  const std::string before = a.logbook.to_lines();
  a.logbook = Logbook("north-farm");
  sync(a, depot);
  EXPECT_EQ(a.logbook.to_lines(), before);
}

TEST(DepotRun, BothVariantsOfANumberThatACloneWroteAgainArriveEverywhere) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2");
  write_levels(a, 3);
  sync(a, depot);
  FakeDevice clone = a;
  a.write(level_draft(100));
  a.write(level_draft(101));
  clone.write(level_draft(200));
  sync(a, depot);
  sync(b, depot);
  sync(clone, depot);
  for (int round = 0; round < 2; ++round) {
    for (FakeDevice* device : {&a, &clone, &b}) sync(*device, depot);
  }
  EXPECT_EQ(b.logbook.size(), 6U);
  EXPECT_EQ(a.logbook.to_lines(), b.logbook.to_lines());
  EXPECT_EQ(clone.logbook.to_lines(), b.logbook.to_lines());
  for (FakeDevice* device : {&a, &clone, &b}) EXPECT_TRUE(sync(*device, depot).only_lists());
}

TEST(DepotRun, EntriesOfAnotherFarmAreReportedAndNotFetchedAgain) {
  FakeDepot depot;
  FakeDevice other("z", "wz"), a("a", "w");
  other.logbook = Logbook("south-farm");
  DeviceChain chain = chain_for("z", "south-farm");
  other.keep(sealed(level_draft(1), chain));
  sync(other, depot);
  write_levels(a, 1);
  sync(a, depot);
  EXPECT_EQ(a.logbook.size(), 1U);
  EXPECT_TRUE(sync(a, depot).only_lists());
}

TEST(DepotRun, NamesThatAreNoneOfADepotArePassedOver) {
  FakeDevice a("a", "w");
  DepotRun run({"w", "a", {}});
  run.next(a.logbook);
  run.listed(
      {"index.html", ".well-known/", "w/", "w/", "w/a/0/b/", "lost+found/", "/", "", "w/a/0/1-2-xyz.jsonl"});
  EXPECT_EQ(run.next(a.logbook)->name, "w/");
  run.listed({"w/"});
  EXPECT_FALSE(run.next(a.logbook));
}

TEST(DepotRun, AWriterThatNamesNoFolderIsRefused) {
  for (const char* writer : {"", "a b", "../x", "a/b"}) {
    DepotRun run({writer, "a", {}});
    EXPECT_FALSE(run.next(Logbook("north-farm")));
    EXPECT_TRUE(run.over());
    EXPECT_TRUE(run.ended_by());
  }
}

TEST(DepotRun, RememberedTextsThatAreNoneArePassedOver) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  write_levels(a, 2);
  sync(a, depot);
  a.known = {"",
             " ",
             "@",
             "x",
             "w/a/0/1-2-0123456789abcdef.jsonl",
             *a.known.begin() + "0",
             a.known.begin()->substr(0, a.known.begin()->size() - 1) + "G"};
  EXPECT_EQ(sync(a, depot).gets.size(), 1U);
  EXPECT_TRUE(sync(a, depot).only_lists());
}

struct FaultCase {
  CarryFault fault;
  Act act;
  bool root;
  bool ends;
};

class DepotFault : public testing::TestWithParam<FaultCase> {};

TEST_P(DepotFault, EndsTheRunOnlyWhereGoingOnMakesNoSense) {
  const FaultCase& one = GetParam();
  FakeDepot depot;
  FakeDevice a("a", "wa"), b("b", "wb"), c("c", "wc");
  write_levels(a, 1);
  write_levels(b, 1);
  write_levels(c, 201);
  sync(a, depot);
  sync(b, depot);
  bool done = false;
  DepotRun run({"wc", "c", {}});
  sync(c, depot, run, [&](const DepotStep& step, std::string&) {
    if (done || step.act != one.act || (one.root != step.name.empty() && one.act == Act::list)) return Mishap{};
    done = true;
    return Mishap{one.fault, false, false};
  });
  ASSERT_TRUE(done);
  EXPECT_EQ(run.ended_by().has_value(), one.ends);
  ASSERT_EQ(run.tally().faults.size(), 1U);
  EXPECT_EQ(run.tally().faults[0].fault, one.fault);
  EXPECT_EQ(run.tally().faults[0].act, one.act);
  sync(c, depot);
  EXPECT_EQ(c.logbook.size(), 203U);
  EXPECT_TRUE(sync(c, depot).only_lists());
}

INSTANTIATE_TEST_SUITE_P(Each, DepotFault,
                         testing::Values(FaultCase{CarryFault::offline, Act::list, false, true},
                                         FaultCase{CarryFault::offline, Act::get, false, true},
                                         FaultCase{CarryFault::offline, Act::put, false, true},
                                         FaultCase{CarryFault::wrong_password, Act::list, true, true},
                                         FaultCase{CarryFault::wrong_password, Act::get, false, true},
                                         FaultCase{CarryFault::full, Act::put, false, true},
                                         FaultCase{CarryFault::certificate, Act::list, true, true},
                                         FaultCase{CarryFault::clock, Act::get, false, true},
                                         FaultCase{CarryFault::barred, Act::list, true, true},
                                         FaultCase{CarryFault::barred, Act::get, false, true},
                                         FaultCase{CarryFault::cancelled, Act::get, false, true},
                                         FaultCase{CarryFault::no_right, Act::list, true, true},
                                         FaultCase{CarryFault::no_right, Act::list, false, false},
                                         FaultCase{CarryFault::no_right, Act::get, false, false},
                                         FaultCase{CarryFault::no_right, Act::put, false, true},
                                         FaultCase{CarryFault::not_there, Act::list, true, true},
                                         FaultCase{CarryFault::not_there, Act::list, false, false},
                                         FaultCase{CarryFault::not_there, Act::get, false, false},
                                         FaultCase{CarryFault::not_there, Act::put, false, false},
                                         FaultCase{CarryFault::malformed, Act::list, true, true},
                                         FaultCase{CarryFault::malformed, Act::get, false, false},
                                         FaultCase{CarryFault::malformed, Act::put, false, false},
                                         FaultCase{CarryFault::server, Act::list, true, true},
                                         FaultCase{CarryFault::server, Act::list, false, false},
                                         FaultCase{CarryFault::server, Act::get, false, false},
                                         FaultCase{CarryFault::server, Act::put, false, false}));

TEST(DepotRun, AServerThatFailsThreeTimesInARowIsLeftAlone) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  write_levels(a, 1001);
  DepotRun run({"w", "a", {}});
  int puts = 0;
  sync(a, depot, run, [&](const DepotStep& step, std::string&) {
    if (step.act != Act::put) return Mishap{};
    ++puts;
    return Mishap{CarryFault::server, false, false};
  });
  EXPECT_EQ(puts, 3);
  ASSERT_TRUE(run.ended_by());
  EXPECT_EQ(run.ended_by()->fault, CarryFault::server);
}

TEST(DepotRun, NothingIsPutTwiceWhenTheOwnFolderCouldNotBeListed) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  write_levels(a, 5);
  sync(a, depot);
  write_levels(a, 1);
  const Steps steps = sync(a, depot, [](const DepotStep& step, std::string&) {
    return step.act == Act::list && step.name == "w/" ? Mishap{CarryFault::server, false, false} : Mishap{};
  });
  EXPECT_TRUE(steps.puts.empty());
  EXPECT_EQ(sync(a, depot).puts.size(), 1U);
}

TEST(DepotRun, WhatTheDriverCouldNotKeepIsFetchedAgain) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2");
  write_levels(a, 2);
  sync(a, depot);
  DepotRun run({"w2", "b", {}});
  std::optional<DepotStep> step;
  while ((step = run.next(b.logbook))) {
    if (step->act == Act::list) run.listed(depot.list(step->name));
    if (step->act != Act::get) continue;
    EXPECT_EQ(run.got(depot.files[step->name], b.logbook).entries.size(), 2U);
  }
  EXPECT_TRUE(run.known().empty());
  sync(b, depot);
  EXPECT_EQ(b.logbook.size(), 2U);
}

TEST(DepotRun, WhatIsWrittenWhileARunGoesOnIsSafeInIt) {
  FakeDepot depot;
  FakeDevice a("a", "w");
  write_levels(a, 250);
  sync(a, depot, [&](const DepotStep&, std::string&) {
    a.write(level_draft(1));
    return Mishap{};
  });
  for (const auto& [name, bytes] : depot.files) EXPECT_EQ(segment_hash(bytes), parse_segment_name(name)->hash);
  sync(a, depot);
  FakeDevice b("b", "w2");
  sync(b, depot);
  EXPECT_EQ(a.logbook.to_lines(), b.logbook.to_lines());
}

TEST(DepotRun, ALineIsNotTakenForAnotherWhoseHashBeginsAlike) {
  FakeDepot depot;
  FakeDevice a("a", "w"), b("b", "w2");
  write_levels(a, 2);
  b.keep(*a.logbook.find(to_reference(a.logbook.all().front()->id)));
  sync(b, depot);
  ASSERT_EQ(depot.files.size(), 1U);
  // Number 2 with the first 16 digits of number 1, which the depot holds.
  const std::vector<const Entry*> written = a.logbook.all();
  const Entry first = written[0]->id.number == 1 ? *written[0] : *written[1];
  Entry second = written[0]->id.number == 1 ? *written[1] : *written[0];
  const std::string alike = first.id.hash.substr(0, 16) + std::string(48, '0');
  second.line = replaced(second.line, second.id.hash, alike);
  second.id.hash = alike;
  FakeDevice c("a", "w");
  c.logbook.add(first);
  c.logbook.add(second);
  const Steps steps = sync(c, depot);
  ASSERT_EQ(steps.puts.size(), 1U);
  EXPECT_EQ(parse_segment_name(steps.puts.front())->last, 2U);
}

TEST(DepotRun, ADepotWithoutEndEndsTheRun) {
  const auto end_of = [](const std::function<std::string(std::size_t)>& name) {
    FakeDevice a("a", "w");
    DepotRun run({"w", "a", {}});
    std::size_t at = 0;
    for (int lists = 0; lists < 1000 && run.next(a.logbook) && !run.over(); ++lists) {
      std::vector<std::string> names;
      for (int i = 0; i < 1000; ++i) names.push_back(name(at++));
      run.listed(names);
    }
    return run.ended_by();
  };
  const auto folders = end_of([](std::size_t at) { return "writer-" + std::to_string(at) + "/"; });
  ASSERT_TRUE(folders);
  EXPECT_EQ(folders->fault, CarryFault::malformed);
  const auto files = end_of([](std::size_t at) {
    return at % 1000 == 0 ? "writer-" + std::to_string(at) + "/"
                          : to_string(SegmentName{"w", "d" + std::to_string(at), 1, 1, "b446d466d97e860d"});
  });
  ASSERT_TRUE(files);
  EXPECT_EQ(files->fault, CarryFault::malformed);
}

}  // namespace
}  // namespace tawny
