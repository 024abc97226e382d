// What the tests of the plan share: a farm of ponds and a protocol whose stages take their medians for certain.
#pragma once

#include <string>
#include <vector>

#include "core/farm/parts.h"
#include "office/plan.h"

namespace tawny::plan_test {

using farm_test::clock;

inline CivilDay day(int month, int of_month) { return *civil_day_of({2026, month, of_month}); }

inline Protocol with(Protocol protocol, std::string_view path, double value) {
  return *protocol.with(path, value);
}

// Every stage takes its median, without spread: 10 2 3 2 1 2 2 8 2 days, 32 in all.
inline const Protocol& certain() {
  static const Protocol kCertain = [] {
    Protocol protocol = farm_test::protocol();
    for (const char* stage : {"bottom", "first_fill", "rest", "second_fill", "first_dose", "bloom",
                              "third_fill", "hold_band", "release"}) {
      const std::string path = "plan." + std::string(stage);
      protocol = with(protocol, path + ".late_d", protocol.number(path + ".median_d"));
    }
    return protocol;
  }();
  return kCertain;
}

inline Booking booking(std::string name, std::string pond, CivilDay on) {
  Booking one;
  one.booking = std::move(name);
  one.pond = std::move(pond);
  one.deliver_on = on;
  one.pl_count = 200000;
  return one;
}

// Before its first cycle.
inline FarmPond idle(std::string id, int walk_order = 1) {
  FarmPond one = farm_test::pond_in(Stage::bottom, std::move(id), walk_order);
  one.state = PondState();
  return one;
}

inline FarmPond in_stage(Stage stage, std::string id, Instant since, int walk_order = 1) {
  FarmPond one = farm_test::pond_in(stage, std::move(id), walk_order);
  one.state.stage_since = since;
  return one;
}

// All of it on 10 March 2026, 08:00.
inline Farm farm_of(std::vector<FarmPond> ponds) {
  return farm_test::farm_of(std::move(ponds), clock("08:00"));
}

inline Plan plan_of(const Farm& farm, const Protocol& protocol, const std::vector<Booking>& bookings,
                    const OwnDays& own = OwnDays()) {
  return make_plan(farm, protocol, plan_basis(farm, protocol, {}, own, bookings), bookings);
}

}  // namespace tawny::plan_test
