#include "office/tomorrow.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "core/office/book.h"

namespace tawny {
namespace {

using test::at;
using test::Book;
using test::protocol;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

constexpr UtcOffset kOffset{-300};

Tomorrow tomorrow(const Book& book, Instant now, const Plan& plan = {}) {
  auto told = tomorrow_of(book.logbook(), protocol(), {}, plan, kOffset, now);
  EXPECT_TRUE(told);
  return told ? *std::move(told) : Tomorrow();
}

const TomorrowList& of(const Tomorrow& all, Role role) { return all.lists[static_cast<std::size_t>(role)]; }

bool asks_for(const TomorrowList& list, Act act) {
  return std::any_of(list.items.begin(), list.items.end(), [act](const TomorrowItem& item) {
    return item.what == TomorrowItem::What::due && item.act == act;
  });
}

int count_of(const TomorrowList& list, TomorrowItem::What what) {
  return static_cast<int>(std::count_if(list.items.begin(), list.items.end(),
                                        [what](const TomorrowItem& item) { return item.what == what; }));
}

// The bottom of p1 is being made ready; Ines walks the round.
Book begun() {
  Book book;
  book.pond(-1, "p1");
  book.tell(-1, "09:00", kind::kDeviceSetup,
            {{"person", std::string("Ines")}, {"role", std::string("technician")}}, "");
  book.start(0, "A");
  return book;
}

TEST(Tomorrow, EachPartOfTheCrewHasItsOwnList) {
  const Tomorrow all = tomorrow(begun(), at(1, "19:00"));
  EXPECT_EQ(all.day, civil_day(at(2, "12:00"), kOffset));
  ASSERT_THAT(all.lists, SizeIs(3));
  EXPECT_THAT(of(all, Role::technician).people, ElementsAre("Ines"));
  EXPECT_THAT(of(all, Role::worker).people, IsEmpty());
  EXPECT_TRUE(asks_for(of(all, Role::technician), Act::bottom_look));
  EXPECT_TRUE(asks_for(of(all, Role::worker), Act::soil_broadcast));
  EXPECT_FALSE(asks_for(of(all, Role::worker), Act::bottom_look));
}

TEST(Tomorrow, ALineNamesPondAndAct) {
  const Tomorrow all = tomorrow(begun(), at(1, "19:00"));
  for (const TomorrowItem& item : of(all, Role::technician).items) {
    if (item.act != Act::bottom_look) continue;
    EXPECT_EQ(item.line,
              Message("tomorrow.day").with("pond", Text{"Pond p1"}).with("act", Word{"act.bottom_look"}));
  }
}

// 48 hours of rest end in the night: tomorrow's rounds are those of the day after.
TEST(Tomorrow, ReadingsHaveTheirHoursAndStandInOrder) {
  Book book = begun();
  book.tell(2, "09:00", kind::kGatePassed, {{"stage", 1.0}, {"reason", std::string("seen")}});
  book.level(2, 36);
  const Tomorrow all = tomorrow(book, at(3, "19:00"));
  const auto& items = of(all, Role::technician).items;
  ASSERT_TRUE(asks_for(of(all, Role::technician), Act::water_reading));
  for (std::size_t i = 1; i < items.size(); ++i) {
    const auto hour = [](const TomorrowItem& item) { return item.from.value_or(at(400, "00:00")); };
    EXPECT_LE(hour(items[i - 1]), hour(items[i]));
  }
  for (const TomorrowItem& item : items) {
    if (!item.window) continue;
    EXPECT_EQ(civil_day(*item.from, kOffset), all.day);
    EXPECT_NE(item.line.find("until"), nullptr);
  }
}

Plan plan_with(CivilDay deliver_on, CivilDay start_by) {
  Plan plan;
  BookingPlan one;
  one.booking.booking = "b1";
  one.booking.pond = "p1";
  one.booking.pl_count = 200000;
  one.booking.deliver_on = deliver_on;
  PlannedStage stage;
  stage.stage = Stage::first_fill;
  stage.start_by = start_by;
  one.stages.push_back(stage);
  plan.bookings.push_back(one);
  return plan;
}

TEST(Tomorrow, ADeliveryIsEverybodys) {
  const CivilDay day = civil_day(at(2, "12:00"), kOffset);
  const Tomorrow all = tomorrow(begun(), at(1, "19:00"), plan_with(day, day.plus(-9)));
  for (const TomorrowList& list : all.lists) {
    EXPECT_EQ(count_of(list, TomorrowItem::What::delivery), 1);
  }
  EXPECT_EQ(count_of(of(tomorrow(begun(), at(1, "19:00"), plan_with(day.plus(1), day.plus(-9))), Role::worker),
                     TomorrowItem::What::delivery),
            0);
}

TEST(Tomorrow, TheLastDayToStartAStageIsTheManagers) {
  const CivilDay day = civil_day(at(2, "12:00"), kOffset);
  const auto last_days = [&](CivilDay start_by) {
    const Tomorrow all = tomorrow(begun(), at(1, "19:00"), plan_with(day.plus(30), start_by));
    const auto& items = of(all, Role::manager).items;
    return std::count_if(items.begin(), items.end(),
                         [](const TomorrowItem& item) { return item.line.id == "tomorrow.last_day"; });
  };
  EXPECT_EQ(last_days(day), 1);
  EXPECT_EQ(last_days(day.plus(1)), 0);
}

TEST(Tomorrow, AGateThatWaitsForOneThingIsTheManagers) {
  Book book = begun();
  book.tell(2, "09:00", kind::kGatePassed, {{"stage", 1.0}, {"reason", std::string("seen")}});
  const Tomorrow all = tomorrow(book, at(2, "19:00"));
  EXPECT_EQ(count_of(of(all, Role::manager), TomorrowItem::What::gate), 1);
  EXPECT_EQ(count_of(of(all, Role::worker), TomorrowItem::What::fill), 1);
}

Book given_out() {
  Book book = begun();
  book.pond(-1, "p2").start(0, "A", "p2");
  book.tell(0, "10:00", kind::kPondPerson,
            {{"role", std::string("technician")}, {"person", std::string("Ines")}});
  return book;
}

TEST(Tomorrow, WhoHasAPondHasAListAndThePartWhatNobodyHas) {
  const Tomorrow all = tomorrow(given_out(), at(1, "19:00"));
  ASSERT_THAT(all.persons, SizeIs(1));
  EXPECT_EQ(all.persons[0].person, "Ines");
  EXPECT_THAT(all.persons[0].ponds, ElementsAre("p1"));
  const auto at_pond = [](const std::vector<TomorrowItem>& items, std::string_view pond, Act act) {
    return std::count_if(items.begin(), items.end(),
                         [&](const TomorrowItem& item) { return item.pond == pond && item.act == act; });
  };
  EXPECT_EQ(at_pond(all.persons[0].items, "p1", Act::bottom_look), 1);
  EXPECT_EQ(at_pond(of(all, Role::technician).items, "p1", Act::bottom_look), 0);
  EXPECT_EQ(at_pond(of(all, Role::technician).items, "p2", Act::bottom_look), 1) << "nobody has p2";
  EXPECT_EQ(at_pond(all.persons[0].items, "p2", Act::bottom_look), 0);
  EXPECT_EQ(at_pond(of(all, Role::worker).items, "p1", Act::soil_broadcast), 1) << "given for another part";
}

TEST(Tomorrow, ADeliveryStandsOnceOnAPersonsList) {
  Book book = given_out();
  book.tell(0, "10:10", kind::kPondPerson, {{"role", std::string("worker")}, {"person", std::string("Ines")}});
  const CivilDay day = civil_day(at(2, "12:00"), kOffset);
  const Tomorrow all = tomorrow(book, at(1, "19:00"), plan_with(day, day.plus(-9)));
  ASSERT_THAT(all.persons, SizeIs(1));
  const auto& items = all.persons[0].items;
  EXPECT_EQ(std::count_if(items.begin(), items.end(),
                          [](const TomorrowItem& item) { return item.what == TomorrowItem::What::delivery; }),
            1);
  EXPECT_EQ(count_of(of(all, Role::manager), TomorrowItem::What::delivery), 1);
  EXPECT_EQ(count_of(of(all, Role::worker), TomorrowItem::What::delivery), 0);
}

}  // namespace
}  // namespace tawny
