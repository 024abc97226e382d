#include <gtest/gtest.h>

#include <algorithm>

#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};      // 2026-11-25 05:40 at the demo farm
const Instant kMidnight{1795582800};  // 2026-11-25 00:00

class PondScreens : public ::testing::Test {
 protected:
  PondScreens() : bench(kDawn) { bench.open_demo(); }
  AppBench bench;
};

TEST_F(PondScreens, RoundsTellsTheSunAndTheWork) {
  EXPECT_NE(bench.find("rounds/sun_line"), nullptr);
  EXPECT_TRUE(bench.shows("Sunrise 06:"));
  EXPECT_NE(bench.find("rounds/now"), nullptr);
}

TEST_F(PondScreens, RoundsShowsOnePersonsWorkOrAll) {
  ASSERT_TRUE(bench.press("rounds/whose/mine"));
  for (const DueItem& item : bench.app->rounds()->items) {
    const std::string id = "due/" + item.pond + "/" + std::string(name_of(item.act));
    const bool shown = std::any_of(bench.model().nodes().begin(), bench.model().nodes().end(),
                                   [&](const Node& node) { return node.id.rfind(id, 0) == 0; });
    EXPECT_EQ(shown, item.role == bench.app->role()) << id;
  }
  EXPECT_EQ(bench.platform.settings["rounds.whose"], "mine");
}

TEST_F(PondScreens, EveryPondIsARowWithItsStage) {
  bench.app->open_tab(Tab::ponds);
  bench.frames(2);
  for (const FarmPond& pond : bench.app->farm().ponds) {
    const Node* row = bench.find("pond/" + pond.history.pond.id);
    ASSERT_NE(row, nullptr) << pond.history.pond.id;
    EXPECT_NE(row->name.find(pond.history.pond.name), std::string::npos);
  }
}

TEST_F(PondScreens, APondSaysWhatItsGateWaitsForAndOnWhatThatRests) {
  const FarmPond* pond = bench.app->farm().pond("p3");
  ASSERT_NE(pond, nullptr);
  bench.app->open(make_pond_screen("p3"));
  bench.frames(2);
  ASSERT_FALSE(pond->state.criteria.empty());
  for (const Criterion& criterion : pond->state.criteria) {
    EXPECT_NE(bench.find("criterion/" + criterion.id), nullptr) << criterion.id;
    ASSERT_TRUE(bench.press("criterion/" + criterion.id));
    if (!criterion.paths.empty()) {
      EXPECT_NE(bench.find("criterion/" + criterion.id + "/" + criterion.paths.front() + "/source"), nullptr)
          << criterion.id;
    }
    for (const EntryId& evidence : criterion.evidence) {
      EXPECT_NE(bench.find("criterion/" + criterion.id + "/" + to_reference(evidence)), nullptr)
          << criterion.id;
    }
  }
}

TEST_F(PondScreens, AGateIsPassedByHandOnlyWithAReason) {
  bench.app->open(make_gate_screen("p2"));
  bench.frames(2);
  const Stage stage = bench.app->farm().pond("p2")->state.stage;
  ASSERT_NE(bench.find("gate/pass"), nullptr);
  EXPECT_FALSE(bench.press("gate/pass"));
  bench.app->on_text("gate/reason", "Looked at it myself");
  bench.frames(2);
  ASSERT_TRUE(bench.press("gate/pass"));
  const int saves = bench.platform.saves;
  EXPECT_NE(bench.find("gate/sure"), nullptr);
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.saves, saves + 1);
  bench.answer(SaveOutcome::saved);
  const PondState& state = bench.app->farm().pond("p2")->state;
  EXPECT_EQ(static_cast<int>(state.stage), static_cast<int>(stage) + 1);
  ASSERT_FALSE(state.gates.empty());
  EXPECT_TRUE(state.gates.back().by_hand);
  EXPECT_EQ(state.gates.back().reason, "Looked at it myself");
  EXPECT_NE(bench.platform.announced.find("By the manager's decision: Lower Reed"), std::string::npos)
      << bench.platform.announced;
}

TEST_F(PondScreens, AGateThatIsTakenBackIsSaid) {
  Draft pass;
  pass.kind = kind::kGatePassed;
  pass.pond = "p2";
  pass.values = {{"stage", static_cast<double>(bench.app->farm().pond("p2")->state.stage)},
                 {"reason", std::string("Looked at it myself")}};
  bench.app->put({pass});
  bench.answer(SaveOutcome::saved);
  ASSERT_EQ(bench.app->news().gates.size(), 1U);
  EXPECT_EQ(bench.app->news().gates[0].id, "gate.passed");
  const EntryId passed = bench.app->news().ids.front();
  bench.app->put({bench.app->take_back(passed, "")});
  bench.answer(SaveOutcome::saved);
  ASSERT_EQ(bench.app->news().gates.size(), 1U);
  EXPECT_EQ(bench.app->news().gates[0].id, "gate.went_back");
}

TEST_F(PondScreens, EveryTextOfTheseScreensIsWorded) {
  const auto check = [&](const std::string& screen) {
    for (const Node& node : bench.model().nodes()) {
      for (const std::string& text : {node.name, node.value}) {
        const bool bare_id = text.find(' ') == std::string::npos && text.find('.') != std::string::npos &&
                             text.find_first_of("0123456789") == std::string::npos && text.back() != '.';
        EXPECT_FALSE(bare_id) << screen << ": " << text;
        EXPECT_EQ(text.find('{'), std::string::npos) << screen << ": " << text;
      }
    }
  };
  check("rounds");
  bench.app->open_tab(Tab::ponds);
  bench.frames(2);
  check("ponds");
  for (const FarmPond& pond : bench.app->farm().ponds) {
    const std::string id = pond.history.pond.id;
    bench.app->open(make_pond_screen(id));
    bench.frames(2);
    check("pond " + id);
    bench.press("pond/enter");
    check("acts " + id);
    bench.app->back();
    bench.app->open(make_gate_screen(id));
    bench.frames(2);
    check("gate " + id);
    bench.app->back();
  }
  for (int act = 0; act <= static_cast<int>(Act::start_cycle); ++act) {
    bench.app->open(make_entry_screen(static_cast<Act>(act), "p5"));
    bench.frames(2);
    check("entry " + std::string(name_of(static_cast<Act>(act))));
    bench.press("save");
    check("entry refused " + std::string(name_of(static_cast<Act>(act))));
    bench.app->back();
  }
}

TEST(RoundsAtNight, NothingDueSaysWhatComesNext) {
  AppBench bench(kMidnight);
  bench.open_demo();
  bench.app->set_setting("rounds.whose", "mine");
  bench.frames(2);
  EXPECT_TRUE(bench.find("rounds/next") != nullptr || bench.find("rounds/now") != nullptr);
}

}  // namespace
}  // namespace tawny::ui
