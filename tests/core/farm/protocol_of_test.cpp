// Which protocol counts now: the farm's own changes for every pond, a pond's own for that pond alone.
#include <gtest/gtest.h>

#include "core/farm/parts.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

using farm_test::clock;

constexpr const char* kPath = "light.secchi_coefficient";

TEST(ProtocolOf, TheFarmsChangeCountsForAllAndAPondsForItself) {
  DeviceChain chain;
  chain.farm = "farm";
  chain.device = "office";
  Logbook logbook;
  const auto put = [&](std::string_view kind, std::string pond, Values values, Instant at) {
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = std::move(pond);
    draft.who = "Ama";
    draft.observed = at;
    draft.values = std::move(values);
    logbook.add(*seal(draft, at, chain));
  };
  const auto change = [&](std::string pond, double coefficient, Instant from) {
    put(kind::kProtocolChange, std::move(pond),
        {{"path", std::string(kPath)},
         {"value", coefficient},
         {"from", to_iso(from)},
         {"reason", std::string("clay")}},
        from);
  };
  put(kind::kFarmSetup, "",
      {{"name", std::string("Heron Bend")},
       {"latitude_deg", -2.4},
       {"longitude_deg", -81.6},
       {"utc_offset_min", -300.0}},
      clock("06:00"));
  for (const char* id : {"p1", "p2"}) {
    put(kind::kPondSetup, id,
        {{"name", std::string(id)},
         {"walk_order", 1.0},
         {"build", std::string("earthen")},
         {"nominal_area_ha", 1.0},
         {"inlets", std::vector<std::string>{"east"}},
         {"bottom_length_m", 100.0},
         {"bottom_width_m", 80.0},
         {"depth_m", 1.2},
         {"bank_slope", 2.0}},
        clock("06:10"));
    put(kind::kCycleStart, id, {{"cycle", std::string("one")}}, clock("06:20"));
  }
  change("", 1.7, clock("08:00"));
  change("p2", 1.2, clock("09:00"));

  const auto coefficients = [&](Instant now) {
    const Farm farm = fold_farm(logbook, farm_test::protocol(), now);
    EXPECT_EQ(farm.ponds.size(), 2U);
    return std::vector<double>{protocol_of(farm, farm_test::protocol(), now).number(kPath),
                               protocol_of(*farm.pond("p1"), farm_test::protocol(), now).number(kPath),
                               protocol_of(*farm.pond("p2"), farm_test::protocol(), now).number(kPath)};
  };
  const double standard = farm_test::protocol().number(kPath);
  EXPECT_EQ(coefficients(clock("07:00")), (std::vector<double>{standard, standard, standard}));
  EXPECT_EQ(coefficients(clock("08:30")), (std::vector<double>{1.7, 1.7, 1.7}));
  EXPECT_EQ(coefficients(clock("10:00")), (std::vector<double>{1.7, 1.7, 1.2}));
}

TEST(ProtocolOf, AFarmWithoutPondsGoesByTheStandard) {
  const Farm farm = fold_farm(Logbook(), farm_test::protocol(), clock("08:00"));
  EXPECT_EQ(protocol_of(farm, farm_test::protocol(), clock("08:00")).number(kPath),
            farm_test::protocol().number(kPath));
}

}  // namespace
}  // namespace tawny
