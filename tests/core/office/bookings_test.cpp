#include "office/bookings.h"

#include <gmock/gmock.h>

#include "core/farm/parts.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

using farm_test::clock;
using testing::IsEmpty;
using testing::SizeIs;

// Entries one after the other, a minute apart.
class Notes {
 public:
  Notes() {
    chain_.farm = "farm";
    chain_.device = "phone";
  }
  Notes& note(std::string_view kind, Values values, std::string pond = {}) {
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = std::move(pond);
    draft.who = "Maren";
    draft.observed = clock("08:00").plus_min(static_cast<std::int64_t>(logbook_.size()));
    draft.values = std::move(values);
    auto entry = seal(draft, draft.observed, chain_);
    EXPECT_TRUE(entry);
    if (entry) logbook_.add(*std::move(entry));
    return *this;
  }
  Bookings read() const { return bookings_of(logbook_, farm_test::protocol()); }

 private:
  DeviceChain chain_;
  Logbook logbook_;
};

Values booking(std::string_view name, std::string_view day, double count = 200000) {
  return {{"booking", std::string(name)}, {"deliver_on", std::string(day)}, {"pl_count", count}};
}

TEST(Bookings, TheLatestEntryOfABookingCounts) {
  Notes notes;
  notes.note(kind::kPlBooking, booking("b1", "2026-04-20"), "p1");
  notes.note(kind::kPlBooking, booking("b1", "2026-04-22", 210000), "p2");
  const Bookings all = notes.read();
  ASSERT_THAT(all.all, SizeIs(1));
  EXPECT_EQ(all.all[0].pond, "p2");
  EXPECT_EQ(all.all[0].deliver_on, *civil_day_of({2026, 4, 22}));
  EXPECT_EQ(all.all[0].pl_count, 210000);
}

TEST(Bookings, ACancelledOneIsKeptAsCancelled) {
  Notes notes;
  notes.note(kind::kPlBooking, booking("b1", "2026-04-20"), "p1");
  Values cancelled = booking("b1", "2026-04-20");
  cancelled.emplace("cancelled", true);
  notes.note(kind::kPlBooking, cancelled, "p1");
  const Bookings all = notes.read();
  ASSERT_THAT(all.all, SizeIs(1));
  EXPECT_TRUE(all.all[0].cancelled);
}

TEST(Bookings, StandInOrderOfTheirDays) {
  Notes notes;
  notes.note(kind::kPlBooking, booking("z", "2026-04-20"), "p2");
  notes.note(kind::kPlBooking, booking("a", "2026-05-01"), "p1");
  notes.note(kind::kPlBooking, booking("m", "2026-04-20"), "p1");
  const Bookings all = notes.read();
  ASSERT_THAT(all.all, SizeIs(3));
  EXPECT_EQ(all.all[0].booking + all.all[1].booking + all.all[2].booking, "mza");
}

TEST(Bookings, OneThatCannotBeReadIsSaidAndTheOneBeforeStands) {
  const auto without = [](std::string_view key) {
    Values values = booking("b1", "2026-04-25");
    values.erase(std::string(key));
    return values;
  };
  const auto with = [](std::string key, Value value) {
    Values values = booking("b1", "2026-04-25");
    values.insert_or_assign(std::move(key), std::move(value));
    return values;
  };
  const Values faulty[] = {without("booking"),
                           without("deliver_on"),
                           without("pl_count"),
                           with("booking", std::string()),
                           with("deliver_on", std::string("25 April")),
                           with("deliver_on", std::string("2026-04-31")),
                           with("deliver_on", 20260425.0),
                           with("pl_count", 0.0),
                           with("pl_count", -5.0),
                           with("pl_count", 2e9),
                           with("pl_count", std::string("many")),
                           with("cancelled", std::string("yes"))};
  for (const Values& values : faulty) {
    Notes notes;
    notes.note(kind::kPlBooking, booking("b1", "2026-04-20"), "p1").note(kind::kPlBooking, values, "p1");
    const Bookings all = notes.read();
    ASSERT_THAT(all.all, SizeIs(1));
    EXPECT_EQ(all.all[0].deliver_on, *civil_day_of({2026, 4, 20}));
    ASSERT_THAT(all.problems, SizeIs(1));
    ASSERT_NE(all.problems[0].find("entry"), nullptr);
  }
}

TEST(Bookings, TheCrewIsTheProtocolsUntilTheFarmTellsItsOwn) {
  Notes notes;
  const PlanSetUp standard = notes.read().set_up;
  EXPECT_EQ(standard.boats, farm_test::protocol().number("plan.boats"));
  EXPECT_FALSE(standard.told);
  notes.note(kind::kPlanSetup, {{"boats", 3.0}});
  const PlanSetUp told = notes.read().set_up;
  EXPECT_EQ(told.boats, 3);
  EXPECT_EQ(told.people, standard.people);
  EXPECT_TRUE(told.told);
}

TEST(Bookings, ACrewThatCannotBeIsSaid) {
  for (const Value& value : {Value{0.0}, Value{-1.0}, Value{5000.0}, Value{std::string("two")}, Value{true}}) {
    Notes notes;
    notes.note(kind::kPlanSetup, {{"boats", 2.0}}).note(kind::kPlanSetup, {{"boats", value}});
    const Bookings all = notes.read();
    EXPECT_EQ(all.set_up.boats, 2);
    EXPECT_THAT(all.problems, SizeIs(1));
  }
}

TEST(Bookings, WhatAFormWritesIsReadAsItWas) {
  Booking one;
  one.booking = "b1";
  one.pond = "p1";
  one.deliver_on = *civil_day_of({2026, 4, 20});
  one.pl_count = 180000;
  one.note = "Truck at first light";
  one.cancelled = true;
  Entry entry;
  entry.pond = one.pond;
  entry.values = booking_values(one);
  const auto read = read_pl_booking(entry);
  ASSERT_TRUE(read);
  EXPECT_EQ(*read, one);
  Notes notes;
  EXPECT_THAT(notes.read().all, IsEmpty());
}

}  // namespace
}  // namespace tawny
