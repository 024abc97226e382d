// What time alone changes at the ponds is seen a minute later at the most, however often something is saved meanwhile;
// what is saved, at once.
#include <gtest/gtest.h>

#include <map>
#include <string>

#include "ui/app_bench.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the demo farm

std::map<std::string, std::string> states_of(const Farm& farm) {
  std::map<std::string, std::string> states;
  for (const FarmPond& pond : farm.ponds) {
    const PondState& state = pond.state;
    std::string& told = states[pond.history.pond.id];
    told = std::to_string(static_cast<int>(state.stage)) + state.holds.value_or("-");
    for (const Criterion& criterion : state.criteria)
      told += " " + criterion.id + std::string(name_of(criterion.verdict));
    for (const Trouble& trouble : state.troubles) told += " " + trouble.id;
    told += state.dose.allowed ? " allowed" : " not allowed";
    if (state.dose.window_from) told += to_iso(*state.dose.window_from);
    if (state.level_cm) told += " " + std::to_string(*state.level_cm);
  }
  return states;
}

class Assessed : public ::testing::Test {
 protected:
  Assessed() : bench(kDawn) { bench.open_demo(); }

  std::map<std::string, std::string> states_at(Instant now) const {
    return states_of(fold_farm(bench.app->logbook(), bench.app->protocol(), now));
  }
  // An instant T for which states at T + 30 s and at T + 60 s differ, at an edge of a window.
  std::optional<Instant> before_a_change() const {
    const FarmPlace& place = bench.app->farm().place;
    const auto day = windows_of(civil_day(kDawn, place.offset), place, bench.app->protocol());
    for (const Window& window : {day->dawn, day->dose, day->peak, day->afternoon}) {
      for (const Instant edge : {window.from, window.until}) {
        const Instant from = edge.plus_s(-45);
        if (from > kDawn && states_at(from.plus_s(30)) != states_at(from.plus_s(60))) return from;
      }
    }
    return std::nullopt;
  }
  void save_level(const std::string& pond, double level_cm) {
    Draft draft;
    draft.kind = "level_reading";
    draft.pond = pond;
    draft.observed = bench.platform.clock;
    draft.values["level_cm"] = level_cm;
    bench.app->put({draft});
    bench.answer(SaveOutcome::saved);
  }

  AppBench bench;
};

TEST_F(Assessed, EachMinuteThoughSomethingIsSavedInBetween) {
  const std::optional<Instant> from = before_a_change();
  ASSERT_TRUE(from);
  bench.platform.clock = *from;
  bench.frames(1);
  ASSERT_EQ(states_of(bench.app->farm()), states_at(*from));

  const std::string pond = bench.app->farm().ponds.front().history.pond.id;
  bench.platform.clock = from->plus_s(30);
  save_level(pond, 41);
  EXPECT_EQ(states_of(bench.app->farm()).at(pond), states_at(from->plus_s(30)).at(pond)) << "what was saved";

  bench.platform.clock = from->plus_s(60);
  bench.frames(1);
  EXPECT_EQ(states_of(bench.app->farm()), states_at(from->plus_s(60)));
}

TEST_F(Assessed, AnewWhenTheClockIsSetBack) {
  const std::optional<Instant> from = before_a_change();
  ASSERT_TRUE(from);
  bench.platform.clock = from->plus_s(60);
  bench.frames(1);
  ASSERT_EQ(states_of(bench.app->farm()), states_at(from->plus_s(60)));
  bench.platform.clock = from->plus_s(30);
  bench.frames(1);
  EXPECT_EQ(states_of(bench.app->farm()), states_at(from->plus_s(30)));
}

}  // namespace
}  // namespace tawny::ui
