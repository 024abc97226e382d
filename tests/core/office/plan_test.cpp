#include "office/plan.h"

#include <gmock/gmock.h>

#include "core/office/plan_parts.h"

namespace tawny {
namespace {

using namespace plan_test;
using testing::IsEmpty;
using testing::SizeIs;

// Worked by hand for a delivery on Monday 20 April 2026, of a pond whose bottom is not begun, each stage with
// the protocol's median (common practice and our own estimate; no source):
//   release      2 days: 18 and 19 April; the delivery's day finds it signed      start by 18 April
//   hold band    8 days: 10 .. 17 April                                           start by 10 April
//   third fill   2 days: 8, 9 April                                               start by  8 April
//   bloom        2 days: 6, 7 April                                               start by  6 April
//   first dose   1 day:  5 April                                                  start by  5 April
//   second fill  2 days: 3, 4 April                                               start by  3 April
//   rest         3 days: 31 March, 1, 2 April                                     start by 31 March
//   first fill   2 days: 29, 30 March                                             start by 29 March
//   bottom      10 days: 19 .. 28 March                                           start by 19 March
// From 10 March, the day of asking, to 19 March there are 9 days to spare.
TEST(Plan, EachStageStartsByTheDayThatHandReckoningGives) {
  const Farm farm = farm_of({idle("p1")});
  const Plan plan = plan_of(farm, certain(), {booking("b1", "p1", day(4, 20))});
  ASSERT_THAT(plan.bookings, SizeIs(1));
  const BookingPlan& one = plan.bookings[0];
  ASSERT_EQ(one.state, BookingState::planned);
  ASSERT_THAT(one.stages, SizeIs(9));
  const CivilDay starts[] = {day(3, 19), day(3, 29), day(3, 31), day(4, 3), day(4, 5),
                             day(4, 6),  day(4, 8),  day(4, 10), day(4, 18)};
  for (std::size_t i = 0; i < 9; ++i) {
    EXPECT_EQ(one.stages[i].start_by, starts[i]) << "stage " << i + 1;
    EXPECT_EQ(one.stages[i].until, i < 8 ? starts[i + 1] : day(4, 20)) << "stage " << i + 1;
    EXPECT_EQ(one.stages[i].early, starts[i]);
    EXPECT_EQ(one.stages[i].late, starts[i]);
    EXPECT_FALSE(one.stages[i].running);
  }
  EXPECT_EQ(one.slack_days, 9);
  EXPECT_TRUE(one.certain);
  EXPECT_EQ(one.chance, 1);
  EXPECT_EQ(one.ready, day(4, 11)) << "32 days from 10 March";
  EXPECT_EQ(slack_message(one), Message("plan.slack").with("count", bare(9)));
}

// 32 days before 5 April is 4 March, six days before the day of asking.
TEST(Plan, ADeliveryTooSoonIsTooLateBySoManyDays) {
  const Farm farm = farm_of({idle("p1")});
  const Plan plan = plan_of(farm, certain(), {booking("b1", "p1", day(4, 5))});
  const BookingPlan& one = plan.bookings[0];
  EXPECT_EQ(one.slack_days, -6);
  EXPECT_TRUE(one.too_late());
  EXPECT_EQ(one.chance, 0);
  EXPECT_EQ(slack_message(one), Message("plan.too_late").with("count", bare(6)));
  EXPECT_EQ(chance_message(one), Message("plan.chance.none"));
  EXPECT_EQ(slack_message(plan_of(farm, certain(), {booking("b1", "p1", day(4, 11))}).bookings[0]),
            Message("plan.no_slack"));
}

// In the band since 7 March 00:00, three of its eight days are over on 10 March: 5 and the release's 2 are
// left. For 20 March it would have to go on by 13 March: 3 days to spare.
TEST(Plan, APondInItsCycleHasOnlyItsRemainingStagesAhead) {
  const Farm farm = farm_of({in_stage(Stage::hold_band, "p1", clock("00:00", -3))});
  const Plan plan = plan_of(farm, certain(), {booking("b1", "p1", day(3, 20))});
  const BookingPlan& one = plan.bookings[0];
  ASSERT_THAT(one.stages, SizeIs(2));
  EXPECT_TRUE(one.stages[0].running);
  EXPECT_EQ(one.stages[0].median_d, 5);
  EXPECT_EQ(one.stages[0].start_by, day(3, 13));
  EXPECT_EQ(one.stages[1].start_by, day(3, 18));
  EXPECT_EQ(one.slack_days, 3);
  EXPECT_EQ(one.ready, day(3, 17));
}

// The same day says the same all day long.
TEST(Plan, PhonesThatAskAtOtherHoursSayTheSame) {
  Farm farm = farm_of({in_stage(Stage::hold_band, "p1", clock("15:40", -4))});
  const std::vector<Booking> bookings = {booking("b1", "p1", day(3, 20))};
  const Plan morning = plan_of(farm, farm_test::protocol(), bookings);
  farm.at = clock("23:10");
  const Plan night = plan_of(farm, farm_test::protocol(), bookings);
  EXPECT_EQ(morning.bookings[0].chance, night.bookings[0].chance);
  EXPECT_EQ(morning.bookings[0].stages[0].start_by, night.bookings[0].stages[0].start_by);
}

TEST(Plan, EndsOfAStartLieAroundIt) {
  const Farm farm = farm_of({idle("p1")});
  const Plan plan = plan_of(farm, farm_test::protocol(), {booking("b1", "p1", day(5, 20))});
  for (const PlannedStage& stage : plan.bookings[0].stages) {
    EXPECT_LE(stage.early, stage.start_by);
    EXPECT_GE(stage.late, stage.start_by);
  }
  EXPECT_LT(plan.bookings[0].stages[0].early, plan.bookings[0].stages[0].start_by);
}

TEST(Plan, NoUncertainChanceIsSaidToBeNoneOrWhole) {
  const Farm farm = farm_of({idle("p1")});
  for (int days = 0; days < 250; ++days) {
    const Plan plan = plan_of(farm, farm_test::protocol(), {booking("b1", "p1", day(3, 10).plus(days))});
    const BookingPlan& one = plan.bookings[0];
    const Message said = chance_message(one);
    EXPECT_NE(said.id, "plan.chance.sure");
    if (said.id == "plan.chance.none") {
      EXPECT_EQ(one.chance, 0);
    }
    if (said.id != "plan.chance.share") continue;
    const auto* share = std::get_if<Quantity>(said.find("chance"));
    ASSERT_NE(share, nullptr);
    EXPECT_GE(share->value, 1);
    EXPECT_LE(share->value, 99);
  }
}

TEST(Plan, SaysWhatABookingLacks) {
  FarmPond lined = idle("p2", 2);
  lined.state.unsupported = true;
  const Farm farm = farm_of({idle("p1"), lined});
  const Plan plan =
      plan_of(farm, certain(),
              {booking("a", "", day(4, 20)), booking("b", "p9", day(4, 20)), booking("c", "p2", day(4, 20)),
               booking("d", "p1", day(3, 9)), booking("e", "p1", day(3, 10))});
  EXPECT_EQ(plan.find("a")->state, BookingState::no_pond);
  EXPECT_EQ(plan.find("b")->state, BookingState::unknown);
  EXPECT_EQ(plan.find("c")->state, BookingState::unsupported);
  EXPECT_EQ(plan.find("d")->state, BookingState::past);
  EXPECT_EQ(plan.find("e")->state, BookingState::planned) << "today is not over";
  EXPECT_EQ(plan.find("f"), nullptr);
}

TEST(Plan, CancelledBookingsAreNotPlanned) {
  Booking cancelled = booking("b1", "p1", day(4, 20));
  cancelled.cancelled = true;
  EXPECT_THAT(plan_of(farm_of({idle("p1")}), certain(), {cancelled}).bookings, IsEmpty());
}

FarmPond released(std::string id, Instant when) {
  FarmPond pond = in_stage(Stage::early_cycle, std::move(id), when);
  GateOpened gate;
  gate.stage = Stage::release;
  gate.at = when;
  pond.state.gates.push_back(gate);
  return pond;
}

TEST(Plan, APondSignedOffForADeliveryIsReady) {
  const Farm farm = farm_of({released("p1", clock("17:00", -1))});
  const Plan plan = plan_of(farm, certain(), {booking("b1", "p1", day(3, 11))});
  EXPECT_EQ(plan.bookings[0].state, BookingState::ready);
  EXPECT_EQ(chance_message(plan.bookings[0]), Message("plan.chance.ready"));
}

// Released on 9 March, 100 days in culture ("plan.culture_days"): the pond is free on 17 June, and 32 days make
// 19 July the first day.
TEST(Plan, AStockedPondStartsAnewAfterItsCycle) {
  const Farm farm = farm_of({released("p1", clock("17:00", -1))});
  const Plan plan = plan_of(farm, certain(), {booking("b1", "p1", day(7, 20))});
  const BookingPlan& one = plan.bookings[0];
  EXPECT_TRUE(one.new_cycle);
  ASSERT_THAT(one.stages, SizeIs(9));
  EXPECT_EQ(one.not_before, day(6, 17));
  EXPECT_EQ(one.slack_days, 1);
  EXPECT_EQ(one.ready, day(7, 19));
}

TEST(Plan, TheNextDeliveryOfAPondNeedsANewCycle) {
  const Farm farm = farm_of({in_stage(Stage::hold_band, "p1", clock("00:00", -3))});
  const Plan plan =
      plan_of(farm, certain(), {booking("b1", "p1", day(3, 20)), booking("b2", "p1", day(8, 10))});
  EXPECT_FALSE(plan.find("b1")->new_cycle);
  EXPECT_TRUE(plan.find("b2")->new_cycle);
  EXPECT_EQ(plan.find("b2")->not_before, day(6, 28)) << "20 March and 100 days";
}

}  // namespace
}  // namespace tawny
