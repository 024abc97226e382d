// Questions: an odd reading kept or left out, a clock let stand or its entries taken back, and all of it
// undone.
#include <gtest/gtest.h>

#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795605000};  // 2026-11-25 06:10 at the demo farm

class Questions : public ::testing::Test {
 protected:
  Questions() : bench_(kMorning, 1366, 2400) { bench_.open_demo(); }

  EntryId read(Values values, std::int64_t observed_min = -1) {
    Draft draft;
    draft.kind = kind::kWaterReading;
    draft.pond = "p3";
    draft.observed = kMorning.plus_min(observed_min);
    draft.values = std::move(values);
    bench_.app->put({draft});
    bench_.answer(SaveOutcome::saved);
    return bench_.app->news().ids.at(0);
  }
  void open() {
    bench_.app->open_tab(Tab::office);
    bench_.frames(2);
    ASSERT_TRUE(bench_.press("office/questions"));
  }
  void answer(std::string_view button, std::string_view reason) {
    ASSERT_TRUE(bench_.press(button));
    EXPECT_FALSE(bench_.press("save"));  // not without a reason
    bench_.app->on_text("questions/reason", reason);
    bench_.frames(2);
    ASSERT_TRUE(bench_.press("save"));
    bench_.answer(SaveOutcome::saved);
  }
  const PondHistory& history() const { return bench_.app->farm().pond("p3")->history; }

  AppBench bench_;
};

TEST_F(Questions, AnOddReadingIsLeftOutOnRecordAndBroughtBack) {
  const EntryId odd = read({{"ph", 10.6}});
  ASSERT_EQ(bench_.app->farm().pond("p3")->state.questions.size(), 1U);
  open();
  EXPECT_TRUE(bench_.shows("10.6"));
  answer("question/p3/0/none", "Electrode was dry");
  ASSERT_EQ(history().left_out.size(), 1U);
  EXPECT_EQ(history().left_out[0].entry->id, odd);
  EXPECT_TRUE(bench_.app->farm().pond("p3")->state.questions.empty());
  EXPECT_EQ(bench_.find("question/p3/0/what"), nullptr);
  EXPECT_TRUE(bench_.shows("Electrode was dry"));
  // In the logbook it is shown as left out.
  bench_.app->open(make_logbook_entry_screen(to_reference(odd)));
  bench_.frames(2);
  EXPECT_NE(bench_.find("entry/left_out"), nullptr);
  bench_.app->back();
  bench_.frames(2);
  answer("decided/0/take_back", "It was right after all");
  EXPECT_TRUE(history().left_out.empty());
  EXPECT_EQ(bench_.app->farm().pond("p3")->state.questions.size(), 1U);
  EXPECT_NE(bench_.find("question/p3/0/what"), nullptr);
}

TEST_F(Questions, AKeptReadingCountsAndIsNotAskedAboutAgain) {
  read({{"ph", 10.6}});
  open();
  answer("question/p3/0/reading", "Bloom is strong");
  EXPECT_TRUE(history().left_out.empty());
  EXPECT_TRUE(bench_.app->farm().pond("p3")->state.questions.empty());
}

TEST_F(Questions, AStuckMeterIsAnsweredForAllItsReadingsInOneSave) {
  for (const int min : {-30, -20, -10}) read({{"do_mg_l", 3.33}}, min);
  open();
  ASSERT_TRUE(bench_.press("question/p3/0/none"));
  bench_.app->on_text("questions/reason", "Meter stuck");
  bench_.frames(2);
  ASSERT_TRUE(bench_.press("save"));
  EXPECT_EQ(bench_.platform.waiting.size(), 3U);
  bench_.answer(SaveOutcome::saved);
  EXPECT_EQ(history().left_out.size(), 3U);
}

TEST_F(Questions, OfAClockThatWentBackEitherSideCanBeTakenBack) {
  bench_.platform.clock = kMorning.plus_h(5);
  bench_.frames(2);
  const EntryId ahead = read({{"ph", 8.0}}, 300);
  bench_.platform.clock = kMorning.plus_min(5);
  bench_.frames(2);
  read({{"ph", 8.1}}, 5);
  open();
  ASSERT_NE(bench_.find("question/clock/0/what"), nullptr);
  ASSERT_NE(bench_.find("question/clock/0/later"), nullptr);
  answer("question/clock/0/earlier", "Clock was five hours ahead");
  EXPECT_EQ(bench_.app->logbook().standing(ahead), Logbook::Standing::voided);
  EXPECT_EQ(bench_.find("question/clock/0/what"), nullptr);
}

TEST_F(Questions, AClockIsLetStandAndAskedAboutAgain) {
  bench_.platform.clock = kMorning.plus_h(5);
  bench_.frames(2);
  read({{"ph", 8.0}}, 300);
  bench_.platform.clock = kMorning.plus_min(5);
  bench_.frames(2);
  read({{"ph", 8.1}}, 5);
  open();
  answer("question/clock/0/clock", "Crossed a time zone");
  EXPECT_EQ(bench_.find("question/clock/0/what"), nullptr);
  answer("decided/0/take_back", "No");
  EXPECT_NE(bench_.find("question/clock/0/what"), nullptr);
}

TEST_F(Questions, WhatCouldNotBeSavedStaysOpen) {
  read({{"ph", 10.6}});
  open();
  ASSERT_TRUE(bench_.press("question/p3/0/none"));
  bench_.app->on_text("questions/reason", "Electrode was dry");
  bench_.frames(2);
  ASSERT_TRUE(bench_.press("save"));
  bench_.answer(SaveOutcome::failed);
  EXPECT_NE(bench_.find("save/failed"), nullptr);
  EXPECT_TRUE(history().left_out.empty());
}

}  // namespace
}  // namespace tawny::ui
