#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "core/office/plan_parts.h"
#include "office/conflicts.h"

namespace tawny {
namespace {

using namespace plan_test;

Stage any_stage() { return static_cast<Stage>(*rc::gen::inRange(1, 10)); }

std::vector<FarmPond> any_ponds(int count, bool shared) {
  std::vector<FarmPond> ponds;
  for (int i = 1; i <= count; ++i) {
    const std::string id = "p" + std::to_string(i);
    FarmPond pond = *rc::gen::arbitrary<bool>()
                        ? idle(id, i)
                        : in_stage(any_stage(), id, clock("06:00", -*rc::gen::inRange(0, 12)), i);
    Inlet pump;
    pump.name = "east";
    pump.kind = PumpInlet{static_cast<double>(*rc::gen::inRange(20, 200))};
    pump.pump = shared ? "pump " + std::to_string(*rc::gen::inRange(0, 2)) : "";
    pond.inlets.push_back(pump);
    ponds.push_back(std::move(pond));
  }
  return ponds;
}

std::vector<Booking> any_bookings(int ponds) {
  std::vector<Booking> all;
  for (int i = 1; i <= ponds; ++i) {
    const std::string name = std::to_string(i);
    all.push_back(booking("b" + name, "p" + name, day(3, 10).plus(*rc::gen::inRange(0, 60))));
  }
  return all;
}

RC_GTEST_PROP(PlanProperty, MovingADeliveryMovesEveryLatestStartAsFar, ()) {
  const int days = *rc::gen::inRange(-30, 60);
  const Farm farm = farm_of({idle("p1")});
  const CivilDay on = day(5, 20);
  const Plan before = plan_of(farm, farm_test::protocol(), {booking("b1", "p1", on)});
  const Plan after = plan_of(farm, farm_test::protocol(), {booking("b1", "p1", on.plus(days))});
  const BookingPlan& a = before.bookings[0];
  const BookingPlan& b = after.bookings[0];
  RC_ASSERT(b.slack_days - a.slack_days == days);
  for (std::size_t i = 0; i < a.stages.size(); ++i) {
    RC_ASSERT(b.stages[i].start_by == a.stages[i].start_by.plus(days));
    RC_ASSERT(b.stages[i].early == a.stages[i].early.plus(days));
    RC_ASSERT(b.stages[i].late == a.stages[i].late.plus(days));
  }
}

RC_GTEST_PROP(PlanProperty, ALaterDeliveryIsNeverLessLikely, ()) {
  const Farm farm = farm_of(any_ponds(1, false));
  const CivilDay on = day(3, 10).plus(*rc::gen::inRange(0, 120));
  const Plan before = plan_of(farm, farm_test::protocol(), {booking("b1", "p1", on)});
  const Plan after =
      plan_of(farm, farm_test::protocol(), {booking("b1", "p1", on.plus(*rc::gen::inRange(0, 60)))});
  RC_ASSERT(after.bookings[0].chance >= before.bookings[0].chance);
  RC_ASSERT(before.bookings[0].chance >= 0 && after.bookings[0].chance <= 1);
}

RC_GTEST_PROP(PlanProperty, MorePumpsNeverMakeMoreConflicts, ()) {
  const int count = *rc::gen::inRange(2, 6);
  const Farm farm = farm_of(any_ponds(count, true));
  const std::vector<Booking> bookings = any_bookings(count);
  const PlanSetUp set_up = standard_set_up(farm_test::protocol());
  const auto count_of = [&](const Farm& one) {
    return conflicts_of(one, farm_test::protocol(), plan_of(one, farm_test::protocol(), bookings), set_up)
        .size();
  };
  Farm more = farm;
  const auto which = static_cast<std::size_t>(*rc::gen::inRange(0, count));
  more.ponds[which].inlets[0].pump = "a pump of its own";
  RC_ASSERT(count_of(more) <= count_of(farm));
}

RC_GTEST_PROP(PlanProperty, MoreCrewsBoatsAndPeopleNeverMakeMoreConflicts, ()) {
  const int count = *rc::gen::inRange(2, 6);
  const Farm farm = farm_of(any_ponds(count, false));
  const Plan plan = plan_of(farm, farm_test::protocol(), any_bookings(count));
  const PlanSetUp few{static_cast<double>(*rc::gen::inRange(1, 4)),
                      static_cast<double>(*rc::gen::inRange(1, 4)),
                      static_cast<double>(*rc::gen::inRange(1, 12)), true};
  PlanSetUp many = few;
  many.boats += *rc::gen::inRange(0, 3);
  many.bin_crews += *rc::gen::inRange(0, 3);
  many.people += *rc::gen::inRange(0, 9);
  RC_ASSERT(conflicts_of(farm, farm_test::protocol(), plan, many).size() <=
            conflicts_of(farm, farm_test::protocol(), plan, few).size());
}

RC_GTEST_PROP(PlanProperty, EveryPlanHoldsTogether, ()) {
  const int count = *rc::gen::inRange(1, 5);
  const Farm farm = farm_of(any_ponds(count, true));
  const Plan plan = plan_of(farm, farm_test::protocol(), any_bookings(count));
  for (const BookingPlan& one : plan.bookings) {
    for (std::size_t i = 0; i < one.stages.size(); ++i) {
      const PlannedStage& stage = one.stages[i];
      RC_ASSERT(stage.start_by <= stage.until);
      RC_ASSERT(stage.early <= stage.start_by && stage.start_by <= stage.late);
      RC_ASSERT(stage.early_d <= stage.median_d && stage.median_d <= stage.late_d);
      if (i + 1 < one.stages.size()) RC_ASSERT(stage.until == one.stages[i + 1].start_by);
    }
    if (!one.stages.empty()) RC_ASSERT(one.stages.back().until == one.booking.deliver_on);
    RC_ASSERT(one.ready_early <= one.ready_late);
  }
}

}  // namespace
}  // namespace tawny
