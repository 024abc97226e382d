#include "ui/incoming.h"

#include <gtest/gtest.h>

#include "ui/app_bench.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the demo farm

// The lines of the demo farm, as another phone would hand them over.
std::string demo_lines() {
  AppBench bench(kDawn);
  bench.open_demo();
  return bench.app->logbook().to_lines();
}

// Every size of portion comes to what reading at once comes to, line numbers of faults among it.
TEST(Incoming, PortionsMakeNoDifference) {
  const std::string lines = demo_lines() + "{\"torn\": \n" + demo_lines().substr(0, 5000);
  Logbook at_once;
  const LoadReport whole = at_once.load(lines);
  ASSERT_GT(whole.added, 50U);
  ASSERT_GE(whole.problems.size(), 2U);
  for (const std::size_t bytes : {std::size_t{1}, std::size_t{777}, std::size_t{100000}, lines.size()}) {
    Incoming incoming("a file", lines, Logbook());
    double before = 0;
    while (!incoming.is_read()) {
      incoming.step(bytes);
      ASSERT_GT(incoming.share(), before);
      before = incoming.share();
    }
    EXPECT_EQ(before, 1);
    EXPECT_EQ(incoming.report().lines, whole.lines);
    EXPECT_EQ(incoming.report().added, whole.added);
    EXPECT_EQ(incoming.report().already_there, whole.already_there);
    ASSERT_EQ(incoming.report().problems.size(), whole.problems.size());
    for (std::size_t i = 0; i < whole.problems.size(); ++i) {
      EXPECT_EQ(incoming.report().problems[i].line, whole.problems[i].line);
    }
    EXPECT_EQ(incoming.added_to(Logbook()).size(), at_once.size());
    EXPECT_TRUE(incoming.added_to(at_once).empty());
  }
}

TEST(Incoming, AnEmptyFileIsReadAndAddsNothing) {
  const Incoming incoming("a file", "", Logbook());
  EXPECT_TRUE(incoming.is_read());
  EXPECT_EQ(incoming.report().lines, 0U);
}

class LongFile : public ::testing::Test {
 protected:
  LongFile() : lines(demo_lines()), bench(kDawn) {
    bench.open_new(-300);
    // The same lines again and again: many to read, few to add.
    std::string text;
    while (text.size() < 3'000'000) text += lines;
    bench.app->on_file("season.txt", text);
  }
  const std::string lines;  // one bench at a time, so before the other
  AppBench bench;
};

TEST_F(LongFile, ShowsHowFarItIsAndEnds) {
  bench.frames(1);
  const Node* bar = bench.find("incoming/read");
  ASSERT_NE(bar, nullptr);
  EXPECT_EQ(bar->role, NodeRole::progress);
  const std::string first = bar->value;
  EXPECT_GE(bench.app->frames_wanted(), 1) << "it goes on without a touch";
  EXPECT_EQ(bench.find("incoming/accept")->state, "disabled");
  bench.frames(2);
  EXPECT_NE(bench.find("incoming/read")->value, first);
  bench.frames(40);
  EXPECT_EQ(bench.find("incoming/read"), nullptr);
  ASSERT_TRUE(bench.press("incoming/accept"));
  EXPECT_TRUE(bench.platform.stored.empty());
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bench.platform.stored.size(), bench.app->logbook().size());
  EXPECT_GT(bench.app->farm().ponds.size(), 0U);
}

TEST_F(LongFile, CanBeStopped) {
  bench.frames(2);
  ASSERT_TRUE(bench.press("incoming/drop"));
  EXPECT_EQ(bench.app->incoming(), nullptr);
  EXPECT_EQ(bench.find("incoming/file"), nullptr);
  EXPECT_EQ(bench.app->logbook().size(), 0U);
  EXPECT_EQ(bench.platform.saves, 0);
}

}  // namespace
}  // namespace tawny::ui
