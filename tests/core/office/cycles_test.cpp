#include "office/cycles.h"

#include <gmock/gmock.h>

#include "core/office/book.h"
#include "farm/series.h"

namespace tawny {
namespace {

using test::at;
using test::Book;
using test::protocol;
using test::whole_cycle;
using testing::ElementsAre;
using testing::IsEmpty;

std::vector<Cycle> cycles(const Book& book, Instant now, std::string_view pond = "p1") {
  return cycles_of(book.logbook(), book.fold(now), pond, protocol(), now);
}

std::vector<std::string> labels(const std::vector<Cycle>& all) {
  std::vector<std::string> result;
  for (const Cycle& one : all) result.push_back(one.label);
  return result;
}

std::vector<double> levels(const Cycle& cycle) {
  std::vector<double> result;
  for (const LevelReading& one : cycle.pond.history.levels) result.push_back(one.level_cm);
  return result;
}

Book two_cycles() {
  Book book;
  book.pond(-1, "p1");
  book.start(0, "A").level(1, 30).level(2, 70).end(10).level(12, 5);
  book.start(20, "B").level(21, 33);
  return book;
}

TEST(Cycles, EachHoldsWhatWasSeenFromItsStartToItsEnd) {
  const auto all = cycles(two_cycles(), at(25, "12:00"));
  ASSERT_THAT(labels(all), ElementsAre("A", "B"));
  EXPECT_EQ(all[0].start, at(0, "08:00"));
  EXPECT_EQ(all[0].end, at(10, "18:00"));
  EXPECT_THAT(levels(all[0]), ElementsAre(30, 70)) << "what lies between two cycles is of neither";
  EXPECT_FALSE(all[1].end);
  EXPECT_THAT(levels(all[1]), ElementsAre(33));
  EXPECT_EQ(all[1].pond.history.entries.size(), 2U);
}

TEST(Cycles, TheRunningOneIsThePondAsTheFarmHasIt) {
  const Book book = two_cycles();
  const Instant now = at(25, "12:00");
  const Farm farm = book.fold(now);
  const FarmPond& pond = *farm.pond("p1");
  const FarmPond last = cycles_of(book.logbook(), farm, "p1", protocol(), now).back().pond;
  EXPECT_EQ(last.history.entries, pond.history.entries);
  EXPECT_EQ(last.setup, pond.setup);
  EXPECT_EQ(last.state.stage, pond.state.stage);
  EXPECT_EQ(last.state.level_cm, pond.state.level_cm);
}

TEST(Cycles, ACycleThatNobodyEndedEndsWhereTheNextOneStarts) {
  Book book;
  book.pond(-1, "p1");
  book.start(0, "A").level(1, 30).start(20, "B").level(20, 40, "p1", "08:00").level(21, 33);
  const auto all = cycles(book, at(25, "12:00"));
  ASSERT_THAT(labels(all), ElementsAre("A", "B"));
  EXPECT_EQ(all[0].end, at(20, "08:00"));
  EXPECT_THAT(levels(all[0]), ElementsAre(30));
  EXPECT_THAT(levels(all[1]), ElementsAre(40, 33))
      << "what was seen at the instant of the start is the new one's";
  EXPECT_FALSE(all[0].pond.history.cycle_ended);
}

TEST(Cycles, AStartToldTwiceStartsOneCycle) {
  Book book;
  book.pond(-1, "p1");
  book.start(0, "A").start(0, "A", "p1", "09:00").level(1, 30);
  const auto all = cycles(book, at(5, "12:00"));
  ASSERT_THAT(labels(all), ElementsAre("A"));
  EXPECT_EQ(all[0].start, at(0, "08:00"));
  EXPECT_THAT(levels(all[0]), ElementsAre(30));
}

TEST(Cycles, ALabelMayBeUsedAgainAfterAnEnd) {
  Book book;
  book.pond(-1, "p1");
  book.start(0, "A").level(1, 30).end(10).start(20, "A").level(21, 33);
  const auto all = cycles(book, at(25, "12:00"));
  ASSERT_THAT(labels(all), ElementsAre("A", "A"));
  EXPECT_THAT(levels(all[0]), ElementsAre(30));
  EXPECT_THAT(levels(all[1]), ElementsAre(33));
}

TEST(Cycles, OfTwoStartsAtOneInstantTheFirstHoldsNoTimeAndIsNone) {
  Book book;
  book.pond(-1, "p1");
  book.start(0, "A").start(0, "B").level(1, 30);
  EXPECT_THAT(labels(cycles(book, at(5, "12:00"))), ElementsAre("B"));
}

TEST(Cycles, AnEndWithoutACycleEndsNothingAndAStartWithoutALabelStartsNothing) {
  Book book;
  book.pond(-1, "p1");
  book.end(-1).start(0, "A").end(5).end(6).start(7, "");
  const auto all = cycles(book, at(9, "12:00"));
  ASSERT_THAT(labels(all), ElementsAre("A"));
  EXPECT_EQ(all[0].end, at(5, "18:00"));
}

TEST(Cycles, NothingIsKnownOfTimesToCome) {
  const Book book = two_cycles();
  const auto all = cycles(book, at(5, "12:00"));
  ASSERT_THAT(labels(all), ElementsAre("A"));
  EXPECT_FALSE(all[0].end) << "it ends on day 10";
  EXPECT_THAT(cycles(book, at(-1, "12:00")), IsEmpty());
}

TEST(Cycles, APondThatTheFarmDoesNotHaveHasNone) {
  EXPECT_THAT(cycles(two_cycles(), at(25, "12:00"), "p9"), IsEmpty());
}

// The whole cycle of story.h signs its release on day 9 and is ended on day 15.
TEST(Cycles, TheStateOfAPastOneIsAsOfItsEndHoweverLateItIsAsked) {
  Book book;
  book.pond(-1, "p1").tell(whole_cycle(), 0).end(15);
  const auto soon = cycles(book, at(15, "18:00"));
  const auto late = cycles(book, at(15 + 3 * 365, "12:00"));
  ASSERT_EQ(soon.size(), 1U);
  ASSERT_EQ(late.size(), 1U);
  for (const Cycle& one : {soon[0], late[0]}) {
    EXPECT_TRUE(one.pond.state.in_cycle);
    EXPECT_FALSE(one.pond.state.finished) << "four weeks after the release were not over on day 15";
    EXPECT_EQ(one.pond.state.stage, Stage::early_cycle);
    EXPECT_EQ(one.pond.state.gates.size(), 9U);
    EXPECT_EQ(one.pond.state.gates.back().at, at(9, "10:00"));
    EXPECT_TRUE(one.pond.history.cycle_ended);
  }
}

// By the default the rest of the whole cycle ends at 16:00 of day 2 (kOpenings in story.h); 55 h after the
// level of 15:00 of day 0 are over at 22:00 of day 2.
TEST(Cycles, ProtocolChangesCountAsTheyDidThen) {
  const auto with_change = [](int day, double rest_h) {
    Book book;
    book.pond(-1, "p1").tell(-20, "08:00", kind::kNote, {{"text", std::string("x")}}, "");
    book.tell(
        day, "07:00", kind::kProtocolChange,
        {{"path", std::string("stage.rest.rest_h")}, {"value", rest_h}, {"from", to_iso(at(-10, "00:00"))}},
        "");
    book.tell(whole_cycle(), 0).end(15).start(20, "B");
    return cycles(book, at(40, "12:00"))[0];
  };
  const auto rest_opened = [](const Cycle& cycle) { return cycle.pond.state.gates.at(2).at; };
  EXPECT_EQ(rest_opened(with_change(30, 55)), at(2, "16:00")) << "put on record after the end";
  EXPECT_EQ(rest_opened(with_change(-5, 55)), at(2, "22:00"));
}

TEST(Cycles, ThePondIsAsItWasSetUpThen) {
  Book book = two_cycles();
  book.pond(15, "p1", 1.5);
  const auto all = cycles(book, at(25, "12:00"));
  EXPECT_DOUBLE_EQ(all[0].pond.history.pond.curve->full_level_cm(), 120);
  EXPECT_DOUBLE_EQ(all[1].pond.history.pond.curve->full_level_cm(), 150);
  EXPECT_NE(all[0].pond.setup, all[1].pond.setup);
}

TEST(Cycles, APondThatWasSetUpAfterItsCycleIsTakenAsFirstToldThen) {
  Book book;
  book.start(0, "A").level(1, 30).end(10).pond(12, "p1", 1.2).pond(14, "p1", 1.5);
  EXPECT_DOUBLE_EQ(cycles(book, at(25, "12:00"))[0].pond.history.pond.curve->full_level_cm(), 120);
}

TEST(Cycles, WhatIsCorrectedAfterwardsCountsCorrected) {
  Book book;
  book.pond(-1, "p1").start(0, "A").level(1, 30);
  const std::string wrong = book.last();
  book.end(10).start(20, "B");
  book.tell(1, "15:00", kind::kLevelReading, {{"level_cm", 36.0}}, "p1", wrong);
  EXPECT_THAT(levels(cycles(book, at(25, "12:00"))[0]), ElementsAre(36));
}

TEST(Cycles, SeriesOfAPastOneEndWithIt) {
  const Book book = two_cycles();
  const Instant now = at(25, "12:00");
  const Farm farm = book.fold(now);
  const Cycle first = cycles_of(book.logbook(), farm, "p1", protocol(), now)[0];
  const PondSeries series = series_of(first.pond, protocol(), farm.place, first.until(now));
  EXPECT_EQ(series.from, at(0, "08:00"));
  EXPECT_EQ(series.until, at(10, "18:00"));
  EXPECT_EQ(series.level.readings.size(), 2U);
}

TEST(Cycles, AllPondsAtOnceAreTheSameAsOneByOne) {
  Book book = two_cycles();
  book.pond(-1, "p2")
      .start(3, "A", "p2")
      .level(4, 20, "p2")
      .tell(4, "06:00", kind::kSky, {{"sky", std::string("dull")}}, "");
  const Instant now = at(25, "12:00");
  const Farm farm = book.fold(now);
  const auto all = all_cycles(book.logbook(), farm, protocol(), now);
  ASSERT_EQ(all.size(), 2U);
  for (const auto& [id, of_pond] : all) {
    const auto alone = cycles_of(book.logbook(), farm, id, protocol(), now);
    ASSERT_EQ(of_pond.size(), alone.size());
    for (std::size_t i = 0; i < alone.size(); ++i) {
      EXPECT_EQ(of_pond[i].pond.history.entries, alone[i].pond.history.entries);
      EXPECT_EQ(of_pond[i].end, alone[i].end);
    }
  }
  EXPECT_EQ(all.at("p2")[0].pond.history.skies.size(), 1U) << "the farm's sky is every pond's";
}

}  // namespace
}  // namespace tawny
