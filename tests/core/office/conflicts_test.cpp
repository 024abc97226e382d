#include "office/conflicts.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "core/office/plan_parts.h"

namespace tawny {
namespace {

using namespace plan_test;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

PlanSetUp crew(double boats = 5, double bin_crews = 5, double people = 20) {
  return {boats, bin_crews, people, true};
}

std::vector<Conflict> conflicts(const Farm& farm, const std::vector<Booking>& bookings,
                                const PlanSetUp& set_up = crew(), const Protocol& protocol = certain()) {
  return conflicts_of(farm, protocol, plan_of(farm, protocol, bookings), set_up);
}

std::vector<std::string> ids(const std::vector<Conflict>& all) {
  std::vector<std::string> result;
  for (const Conflict& one : all) result.push_back(one.id);
  return result;
}

std::string text_of(const Conflict& conflict, std::string_view name) {
  const auto* text = std::get_if<Text>(conflict.what.find(name));
  return text == nullptr ? std::string() : text->text;
}

CivilDay day_of(const Conflict& conflict, std::string_view name) {
  const auto* found = std::get_if<CivilDay>(conflict.what.find(name));
  return found == nullptr ? CivilDay{} : *found;
}

// Pumps so strong that a fill takes less than a day and its stage, with half a day beside, a day at most.
FarmPond with_pump(FarmPond pond, std::string name) {
  Inlet inlet;
  inlet.name = "east";
  inlet.kind = PumpInlet{300};
  inlet.pump = std::move(name);
  pond.inlets = {inlet};
  return pond;
}

TEST(Conflicts, APlanWithRoomHasNone) {
  EXPECT_THAT(conflicts(farm_of({idle("p1"), idle("p2", 2)}),
                        {booking("b1", "p1", day(4, 20)), booking("b2", "p2", day(5, 5))}),
              IsEmpty());
}

TEST(Conflicts, ADeliveryThatComesTooSoonIsNamedWithItsDays) {
  const auto all = conflicts(farm_of({idle("p1")}), {booking("b1", "p1", day(4, 5))});
  ASSERT_THAT(ids(all), ElementsAre("late"));
  EXPECT_EQ(text_of(all[0], "pond"), "Pond p1");
  EXPECT_EQ(day_of(all[0], "day"), day(4, 5));
  EXPECT_EQ(std::get<Quantity>(*all[0].what.find("count")).value, 6);
  EXPECT_THAT(all[0].bookings, ElementsAre("b1"));
}

// Both fill for the first time on 29 and 30 March (two days by the protocol's median).
TEST(Conflicts, TwoPondsThatNeedOnePumpOnTheSameDays) {
  const std::vector<Booking> bookings = {booking("b1", "p1", day(4, 20)), booking("b2", "p2", day(4, 20))};
  const auto shared = conflicts(
      farm_of({with_pump(idle("p1"), "canal pump"), with_pump(idle("p2", 2), "canal pump")}), bookings);
  ASSERT_FALSE(shared.empty());
  for (const Conflict& one : shared) {
    EXPECT_EQ(one.id, "pump");
    EXPECT_EQ(text_of(one, "pump"), "canal pump");
    EXPECT_EQ(text_of(one, "pond") + " " + text_of(one, "other"), "Pond p1 Pond p2");
    EXPECT_THAT(one.bookings, ElementsAre("b1", "b2"));
    EXPECT_LE(one.from, one.until);
  }
  EXPECT_THAT(shared, SizeIs(3)) << "first, second and third fill";
  EXPECT_THAT(conflicts(farm_of({with_pump(idle("p1"), "canal pump"), with_pump(idle("p2", 2), "river pump")}),
                        bookings),
              IsEmpty());
  EXPECT_THAT(conflicts(farm_of({with_pump(idle("p1"), "canal pump"), with_pump(idle("p2", 2), "canal pump")}),
                        {bookings[0], booking("b2", "p2", day(4, 26))}),
              IsEmpty())
      << "not on the same days";
}

// Under way since yesterday, whatever its delivery's day.
TEST(Conflicts, AFillUnderWayNeedsItsPumpToday) {
  const Farm farm =
      farm_of({with_pump(in_stage(Stage::third_fill, "p1", clock("08:00", -1)), "canal pump"),
               with_pump(in_stage(Stage::third_fill, "p2", clock("08:00", -1), 2), "canal pump")});
  const auto all = conflicts(farm, {booking("b1", "p1", day(4, 20)), booking("b2", "p2", day(5, 20))});
  ASSERT_THAT(ids(all), ElementsAre("pump"));
  EXPECT_EQ(all[0].from, day(3, 10));
}

// A bin for each 25 kg: two ponds of a hectare take one each. The dose window is 195 minutes long (45 before to
// 150 after sunrise); a pond takes 30 minutes and 20 a bin, so 50: three in one morning, and the fourth is too
// many for one crew. Two crews with one boat are one crew.
TEST(Conflicts, MoreFirstDosesInAMorningThanCrewsAndBoats) {
  std::vector<FarmPond> ponds;
  std::vector<Booking> bookings;
  for (int i = 1; i <= 4; ++i) {
    ponds.push_back(idle("p" + std::to_string(i), i));
    bookings.push_back(booking("b" + std::to_string(i), "p" + std::to_string(i), day(4, 20)));
  }
  const Farm farm = farm_of(ponds);
  const auto all = conflicts(farm, bookings, crew(1, 1));
  ASSERT_THAT(ids(all), ElementsAre("doses"));
  EXPECT_EQ(all[0].from, day(4, 6)) << "the morning after the day of the first dose's stage";
  EXPECT_EQ(text_of(all[0], "ponds"), "Pond p1, Pond p2, Pond p3, Pond p4");
  EXPECT_THAT(all[0].bookings, SizeIs(4));
  EXPECT_THAT(ids(conflicts(farm, bookings, crew(1, 2))), ElementsAre("doses"));
  EXPECT_THAT(ids(conflicts(farm, bookings, crew(2, 1))), ElementsAre("doses"));
  EXPECT_THAT(conflicts(farm, bookings, crew(2, 2)), IsEmpty());
  bookings.pop_back();
  EXPECT_THAT(conflicts(farm, bookings, crew(1, 1)), IsEmpty());
}

// Three people for a delivery ("plan.people_per_delivery").
TEST(Conflicts, MoreDeliveriesOnADayThanPeople) {
  const Farm farm = farm_of({idle("p1"), idle("p2", 2)});
  const std::vector<Booking> bookings = {booking("b1", "p1", day(4, 20)), booking("b2", "p2", day(4, 20))};
  const auto all = conflicts(farm, bookings, crew(5, 5, 5));
  ASSERT_THAT(ids(all), ElementsAre("deliveries"));
  EXPECT_EQ(day_of(all[0], "day"), day(4, 20));
  EXPECT_EQ(text_of(all[0], "ponds"), "Pond p1, Pond p2");
  EXPECT_EQ(std::get<Quantity>(*all[0].what.find("needed")).value, 6);
  EXPECT_THAT(conflicts(farm, bookings, crew(5, 5, 6)), IsEmpty());
}

// As above: fifty minutes a pond, four are more than the 195 minutes of one worker, whatever boats there are.
TEST(Conflicts, MoreFirstDosesInAMorningThanTheirWorkerHasHours) {
  std::vector<FarmPond> ponds;
  std::vector<Booking> bookings;
  for (int i = 1; i <= 4; ++i) {
    ponds.push_back(idle("p" + std::to_string(i), i));
    ponds.back().persons[Role::worker] = "Tomas";
    bookings.push_back(booking("b" + std::to_string(i), "p" + std::to_string(i), day(4, 20)));
  }
  const auto about = [&](std::string_view id) {
    std::vector<Conflict> found;
    for (Conflict& one : conflicts(farm_of(ponds), bookings)) {
      if (one.id == id) found.push_back(std::move(one));
    }
    return found;
  };
  const auto doses = about("doses_person");
  ASSERT_THAT(doses, SizeIs(1));
  EXPECT_EQ(text_of(doses[0], "person"), "Tomas");
  EXPECT_THAT(doses[0].bookings, SizeIs(4));
  ponds.back().persons[Role::worker] = "Bea";
  EXPECT_THAT(about("doses_person"), IsEmpty()) << "three are few enough";
}

TEST(Conflicts, TwoDeliveriesOnADayAtPondsOfOnePerson) {
  std::vector<FarmPond> ponds = {idle("p1"), idle("p2", 2)};
  const std::vector<Booking> bookings = {booking("b1", "p1", day(4, 20)), booking("b2", "p2", day(4, 20))};
  ponds[0].persons[Role::technician] = ponds[1].persons[Role::technician] = "Ines";
  const auto all = conflicts(farm_of(ponds), bookings);
  ASSERT_THAT(ids(all), ElementsAre("deliveries_person"));
  EXPECT_EQ(text_of(all[0], "person"), "Ines");
  EXPECT_EQ(text_of(all[0], "ponds"), "Pond p1, Pond p2");
  EXPECT_EQ(day_of(all[0], "day"), day(4, 20));
  EXPECT_THAT(conflicts(farm_of(ponds), {bookings[0], booking("b2", "p2", day(4, 22))}), IsEmpty());
  ponds[1].persons = {{Role::manager, "Ines"}};
  EXPECT_THAT(conflicts(farm_of(ponds), bookings), IsEmpty()) << "the manager need not stand at every bank";
}

FarmPond with_gate(FarmPond pond, double highest_cm) {
  Inlet gate;
  gate.name = "east";
  gate.kind = GateInlet{1, 0.3, 10, 0.61};
  pond.inlets = {gate};
  std::vector<TidePoint> points;
  for (int day = -1; day < 60; ++day) {
    points.push_back({clock("00:00", day), 0});
    points.push_back({clock("12:00", day), highest_cm});
  }
  pond.tide = *TideTable::from_points(points);
  return pond;
}

// A third fill to 75 % of the volume asks for about 117 cm of 150.
TEST(Conflicts, TidesThatDoNotReachTheLevel) {
  const std::vector<Booking> bookings = {booking("b1", "p1", day(4, 20))};
  const auto all = conflicts(farm_of({with_gate(idle("p1"), 90)}), bookings);
  ASSERT_THAT(ids(all), ElementsAre("tide"));
  EXPECT_EQ(text_of(all[0], "pond"), "Pond p1");
  EXPECT_EQ(std::get<Quantity>(*all[0].what.find("tide")).value, 90);
  EXPECT_THAT(conflicts(farm_of({with_gate(idle("p1"), 140)}), bookings), IsEmpty());
  FarmPond pumped = with_gate(idle("p1"), 90);
  pumped.inlets.push_back(with_pump(idle("p1"), "").inlets.front());
  EXPECT_THAT(conflicts(farm_of({pumped}), bookings), IsEmpty()) << "a pump does without the tide";
  FarmPond short_table = with_gate(idle("p1"), 90);
  short_table.tide = *TideTable::from_points({{clock("00:00"), 0}, {clock("12:00", 2), 90}});
  EXPECT_THAT(conflicts(farm_of({short_table}), bookings), IsEmpty()) << "nothing is known of those days";
}

TEST(Conflicts, APondBookedTwiceWithinACycle) {
  const auto all =
      conflicts(farm_of({idle("p1")}), {booking("b1", "p1", day(4, 20)), booking("b2", "p1", day(6, 1))});
  ASSERT_THAT(ids(all), ElementsAre("twice"));
  EXPECT_EQ(text_of(all[0], "pond"), "Pond p1");
  EXPECT_EQ(day_of(all[0], "day"), day(4, 20));
  EXPECT_EQ(day_of(all[0], "other"), day(6, 1));
  EXPECT_THAT(all[0].bookings, ElementsAre("b1", "b2"));
  // 20 April, 100 days of culture and 32 of preparing: 30 August.
  EXPECT_THAT(
      conflicts(farm_of({idle("p1")}), {booking("b1", "p1", day(4, 20)), booking("b2", "p1", day(8, 30))}),
      IsEmpty());
}

TEST(Conflicts, ADeliveryBeforeTheCycleBeforeEnds) {
  FarmPond stocked = in_stage(Stage::early_cycle, "p1", clock("08:00", -20));
  GateOpened gate;
  gate.stage = Stage::release;
  gate.at = clock("08:00", -20);
  stocked.state.gates.push_back(gate);
  const auto all = conflicts(farm_of({stocked}), {booking("b1", "p1", day(4, 20))});
  ASSERT_THAT(ids(all), ElementsAre("too_early"));
  EXPECT_EQ(day_of(all[0], "start"), day(3, 19));
  EXPECT_EQ(day_of(all[0], "end"), day(5, 29)) << "18 February and 100 days";
}

TEST(Conflicts, ADeliveryWithoutAPondThatCanTakeIt) {
  FarmPond lined = idle("p2", 2);
  lined.state.unsupported = true;
  const auto all =
      conflicts(farm_of({idle("p1"), lined}),
                {booking("a", "", day(4, 20)), booking("b", "p9", day(4, 21)), booking("c", "p2", day(4, 22))});
  EXPECT_THAT(ids(all), ElementsAre("no_pond", "unknown", "unsupported"));
  EXPECT_EQ(text_of(all[1], "pond"), "p9");
}

TEST(Conflicts, WhatIsPastIsInNobodysWay) {
  EXPECT_THAT(conflicts(farm_of({idle("p1")}),
                        {booking("b1", "p1", day(3, 9)), booking("b2", "p1", day(4, 20))}, crew(1, 1, 1)),
              ElementsAre(testing::Field(&Conflict::id, "deliveries")))
      << "only of the delivery to come";
}

}  // namespace
}  // namespace tawny
