#include "office/side_by_side.h"

#include <gmock/gmock.h>

#include "core/office/book.h"

namespace tawny {
namespace {

using test::at;
using test::Book;
using test::place;
using test::protocol;
using test::whole_cycle;

constexpr UtcOffset kOffset{-300};

// The whole cycle of story.h: started on day 0, inlets shut at 14:50 and first level at 15:00 of day 0, first
// dose on day 4, gates as in kOpenings there.
Cycle whole(int later = 0, int end = 15) {
  Book book;
  book.pond(-1, "p1").tell(whole_cycle(), later).end(end + later);
  const Instant now = at(end + later + 20, "12:00");
  return cycles_of(book.logbook(), book.fold(now), "p1", protocol(), now).front();
}

std::optional<CivilDay> zero(const Cycle& cycle, CountFrom from) {
  return day_zero_of(cycle, from, kOffset, at(400, "12:00"));
}

TEST(SideBySide, DaysAreCountedFromTheStartTheFirstFillOrTheFirstDose) {
  const Cycle cycle = whole(100);
  EXPECT_EQ(zero(cycle, CountFrom::start), test::day_zero().plus(100));
  EXPECT_EQ(zero(cycle, CountFrom::first_fill), test::day_zero().plus(100));
  EXPECT_EQ(zero(cycle, CountFrom::first_dose), test::day_zero().plus(104));
}

TEST(SideBySide, TheFirstFillIsTheFirstOpenInletOrTheFirstLevelWhicheverIsEarlier) {
  Book book;
  book.pond(-1, "p1").start(0, "A");
  book.tell(1, "06:00", kind::kInletMoved, {{"position", std::string("shut")}});
  book.tell(3, "06:00", kind::kInletMoved, {{"position", std::string("open")}});
  book.level(4, 10);
  const Instant now = at(9, "12:00");
  const Cycle cycle = cycles_of(book.logbook(), book.fold(now), "p1", protocol(), now).front();
  EXPECT_EQ(zero(cycle, CountFrom::first_fill), test::day_zero().plus(3)) << "a shut inlet fills nothing";
  EXPECT_FALSE(day_zero_of(cycle, CountFrom::first_fill, kOffset, at(2, "12:00"))) << "not yet";
  EXPECT_FALSE(zero(cycle, CountFrom::first_dose));
}

TEST(SideBySide, GatesStandOnTheirDayOfTheCycle) {
  const Cycle cycle = whole();
  const auto days = [&](CountFrom from) {
    std::vector<int> result;
    for (const GateDay& gate : figures_of(cycle, *zero(cycle, from), kOffset, at(40, "12:00")).gates)
      result.push_back(gate.day);
    return result;
  };
  EXPECT_THAT(days(CountFrom::start), testing::ElementsAre(0, 0, 2, 3, 4, 5, 6, 8, 9));
  EXPECT_THAT(days(CountFrom::first_dose), testing::ElementsAre(-4, -4, -2, -1, 0, 1, 2, 4, 5));
}

// 25 kg on one hectare, 100 kg on the soil before; from day 0 to day 15 are 16 days.
TEST(SideBySide, DosesAndTheBroadcastAreCountedApart) {
  const Cycle cycle = whole();
  const CycleFigures figures = figures_of(cycle, *zero(cycle, CountFrom::start), kOffset, at(40, "12:00"));
  EXPECT_EQ(figures.doses, 1);
  EXPECT_DOUBLE_EQ(figures.dose_kg, 25);
  EXPECT_DOUBLE_EQ(*figures.dose_kg_ha, 25);
  EXPECT_DOUBLE_EQ(figures.broadcast_kg, 100);
  EXPECT_EQ(figures.days, 16);
}

TEST(SideBySide, AGatePassedByHandIsSaid) {
  Book book;
  book.pond(-1, "p1").start(0, "A");
  book.tell(1, "09:00", kind::kGatePassed, {{"stage", 1.0}, {"reason", std::string("seen")}});
  const Instant now = at(9, "12:00");
  const Cycle cycle = cycles_of(book.logbook(), book.fold(now), "p1", protocol(), now).front();
  const CycleFigures figures = figures_of(cycle, *zero(cycle, CountFrom::start), kOffset, now);
  ASSERT_EQ(figures.gates.size(), 1U);
  EXPECT_TRUE(figures.gates[0].by_hand);
  EXPECT_EQ(figures.gates[0].day, 1);
  EXPECT_EQ(figures.days, 10) << "running: up to now";
}

TEST(SideBySide, NamesAreOfEveryPondTheNewestFirst) {
  Book book;
  book.pond(-1, "p1").pond(-1, "p2");
  book.start(0, "A").end(10).start(20, "B").start(3, "A", "p2");
  const Instant now = at(25, "12:00");
  const auto names = cycle_names(book.logbook(), book.fold(now), now);
  ASSERT_EQ(names.size(), 3U);
  EXPECT_EQ(names[0].pond, "p1");
  EXPECT_EQ(names[0].label, "B");
  EXPECT_FALSE(names[0].end);
  EXPECT_EQ(names[1].label, "A");
  EXPECT_EQ(names[1].end, at(10, "18:00"));
  EXPECT_EQ(names[2].pond, "p2");
}

}  // namespace
}  // namespace tawny
