#include <gtest/gtest.h>

#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the demo farm

class Entering : public ::testing::Test {
 protected:
  Entering() : bench(kDawn) { bench.open_demo(); }
  void open(Act act, const std::string& pond) {
    bench.app->open(make_entry_screen(act, pond));
    bench.frames(2);
  }
  void save() {
    bench.press("save");
    if (bench.find("entry/sure") != nullptr) bench.press("save");
    bench.answer(SaveOutcome::saved);
  }
  std::string value() const { return bench.find("entry/value")->value; }
  AppBench bench;
};

TEST_F(Entering, AStepBeginsAtTheLastValueThenMovesByItsLastDecimal) {
  open(Act::level_reading, "p5");
  ASSERT_EQ(value(), "– cm");
  ASSERT_TRUE(bench.press("entry/value/less"));
  const std::string first = value();
  const int level = std::stoi(first);
  EXPECT_GT(level, 0);
  ASSERT_TRUE(bench.press("entry/value/less"));
  EXPECT_EQ(value(), std::to_string(level - 1) + " cm");
  ASSERT_TRUE(bench.press("entry/value/more"));
  EXPECT_EQ(value(), first);
  ASSERT_TRUE(bench.type("keys", "7")) << "what the steps filled in is replaced by the first key";
  EXPECT_EQ(value(), "7 cm");
}

TEST_F(Entering, AStepWithoutAnythingToBeginAtDoesNothing) {
  open(Act::water_test, "p1");
  const std::string before = value();
  ASSERT_TRUE(bench.press("entry/value/more"));
  EXPECT_EQ(value(), before);
}

TEST_F(Entering, TheWindowsOfTheDayAreShownWithTheTime) {
  open(Act::water_reading, "p5");
  ASSERT_TRUE(bench.press("when"));
  const Node* dawn = bench.find("when/window/dawn");
  ASSERT_NE(dawn, nullptr);
  const DayWindows& today = bench.app->rounds()->today;
  const Words& words = bench.app->ui().words();
  EXPECT_EQ(dawn->value, words.clock(today.dawn.from) + " to " + words.clock(today.dawn.until));
  ASSERT_TRUE(bench.press("when/choice/other"));
  ASSERT_TRUE(bench.press("moment/before")) << "another day can be chosen";
  ASSERT_TRUE(bench.press("moment/accept"));
  EXPECT_NE(bench.find("when")->value.find("yesterday"), std::string::npos) << bench.find("when")->value;
}

TEST_F(Entering, ASavedEntryIsTakenBackFromTheNextScreenForAShortWhile) {
  open(Act::level_reading, "p5");
  ASSERT_TRUE(bench.type("keys", "124"));
  save();
  const std::size_t entries = bench.app->logbook().size();
  bench.app->open_tab(Tab::rounds);
  bench.frames(2);
  ASSERT_NE(bench.find("undo"), nullptr);
  const std::optional<Instant> wake = bench.app->wake_at();
  ASSERT_TRUE(wake);
  EXPECT_LE(wake->unix_s - bench.platform.clock.unix_s, 31) << "the bar goes without a touch";
  ASSERT_TRUE(bench.press("undo"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bench.app->logbook().size(), entries + 1);
  EXPECT_EQ(bench.app->logbook().all().back()->kind, "void");
  EXPECT_EQ(bench.find("undo"), nullptr);
}

TEST_F(Entering, TheWhileEnds) {
  open(Act::level_reading, "p5");
  ASSERT_TRUE(bench.type("keys", "124"));
  save();
  bench.app->open_tab(Tab::ponds);
  bench.frames(1);
  ASSERT_NE(bench.find("undo"), nullptr);
  bench.platform.clock = bench.platform.clock.plus_s(31);
  bench.frames(1);
  EXPECT_EQ(bench.find("undo"), nullptr);
}

TEST_F(Entering, TheRoundTellsHowManyAreLeft) {
  const auto due = [&] {
    int count = 0;
    for (const DueItem& item : bench.app->rounds()->items) {
      if (item.act == Act::water_reading && item.state == DueState::now) ++count;
    }
    return count;
  };
  const int before = due();
  ASSERT_GE(before, 2);
  std::string pond;
  for (const DueItem& item : bench.app->rounds()->items) {
    if (item.act == Act::water_reading && item.state == DueState::now) pond = item.pond;
  }
  open(Act::water_reading, pond);
  ASSERT_TRUE(bench.type("keys", "4.2"));
  ASSERT_TRUE(bench.press("entry/next_value"));
  ASSERT_TRUE(bench.type("keys", "8.0"));
  save();
  const Node* round = bench.find("entry/round");
  ASSERT_NE(round, nullptr);
  EXPECT_EQ(due(), before - 1);
  EXPECT_EQ(round->name.find("0 of"), std::string::npos) << round->name;
}

}  // namespace
}  // namespace tawny::ui
