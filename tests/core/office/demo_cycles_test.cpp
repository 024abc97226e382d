// The demo farm's earlier cycles: one that went well and one that did not, as the same protocol judges them.
#include <gmock/gmock.h>

#include "assets.h"
#include "farm/demo.h"
#include "farm/series.h"
#include "office/side_by_side.h"

namespace tawny {
namespace {

const Protocol& protocol() {
  static const Result<Protocol> kParsed = Protocol::parse(assets::find("protocol.json"));
  return *kParsed;
}

struct Season {
  explicit Season(const char* when) : now(*parse_instant(when)) {
    DeviceChain chain;
    chain.farm = "demo";
    chain.device = "demo";
    const auto drafts = demo_drafts(assets::find("demo-farm.json"), protocol(), now);
    for (const Draft& draft : *drafts) logbook.add(*seal(draft, draft.observed, chain));
    farm = fold_farm(logbook, protocol(), now);
  }
  std::vector<Cycle> cycles(std::string_view pond) const {
    return cycles_of(logbook, farm, pond, protocol(), now);
  }
  Instant now;
  Logbook logbook;
  Farm farm;
};

const Season& season() {
  static const Season kSeason("2026-11-25T17:00:00Z");
  return kSeason;
}

TEST(DemoCycles, TwoPondsHaveAnEarlierOne) {
  for (const FarmPond& pond : season().farm.ponds) {
    const std::string& id = pond.history.pond.id;
    const auto all = season().cycles(id);
    ASSERT_EQ(all.size(), id == "p6" || id == "p7" ? 2U : 1U) << id;
    EXPECT_FALSE(all.back().end) << id;
    EXPECT_EQ(all.back().label, "dry season") << id;
    for (const Cycle& cycle : all) EXPECT_TRUE(cycle.pond.history.unreadable.empty()) << id;
  }
}

TEST(DemoCycles, TheGoodOneWasReleasedAndSeenThroughItsEarlyWeeks) {
  const Cycle good = season().cycles("p7").front();
  ASSERT_TRUE(good.end);
  EXPECT_TRUE(good.pond.history.cycle_ended);
  EXPECT_EQ(good.pond.state.gates.size(), 10U);
  EXPECT_TRUE(good.pond.state.finished);
  EXPECT_TRUE(good.pond.state.troubles.empty());
  for (const GateOpened& gate : good.pond.state.gates) EXPECT_FALSE(gate.by_hand);
}

TEST(DemoCycles, ThePoorOneGrewTooDenseAndCrashed) {
  const Season& now = season();
  const Cycle poor = now.cycles("p6").front();
  ASSERT_TRUE(poor.end);
  EXPECT_EQ(poor.pond.state.stage, Stage::third_fill) << "the bloom came, and was never topped up";
  const auto troubles_on = [&](int day) {
    std::vector<std::string> ids;
    const Instant at = poor.start.plus_h(24.0 * day + 8);
    PondHistory history = poor.pond.history;
    for (const Trouble& one : assess(history, protocol(), now.farm.place, at).troubles) ids.push_back(one.id);
    return ids;
  };
  EXPECT_THAT(troubles_on(15), testing::Contains("too_dense"));
  EXPECT_THAT(troubles_on(17), testing::Contains("crash"));
}

// The protocol's band is 45 to 55 cm; release asks for 4 mg/L at dawn.
TEST(DemoCycles, GoodAndPoorAreToldApartByTheirSeries) {
  const Season& now = season();
  const auto charts = [&](std::string_view pond) {
    const Cycle cycle = now.cycles(pond).front();
    return series_of(cycle.pond, protocol(), now.farm.place, cycle.until(now.now));
  };
  const auto worst_dawn = [](const PondSeries& series) {
    double worst = 99;
    for (const PairedDay& day : series.oxygen.days) worst = std::min(worst, day.dawn ? day.dawn->value : 99);
    return worst;
  };
  EXPECT_GE(worst_dawn(charts("p7")), 4);
  EXPECT_LT(worst_dawn(charts("p6")), 3);
  EXPECT_NEAR(charts("p7").secchi.days.back().secchi_cm, 50, 5);
  EXPECT_GT(charts("p6").secchi.days.back().secchi_cm, 75);
}

}  // namespace
}  // namespace tawny
