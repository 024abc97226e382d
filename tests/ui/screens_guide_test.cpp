#include <gtest/gtest.h>

#include <set>

#include "assets.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kPeak{1795620000};  // 2026-11-25 10:20 at the demo farm

class GuideScreens : public ::testing::Test {
 protected:
  GuideScreens() : bench(kPeak), words(*Words::parse(assets::language("en"))) { bench.open_demo(); }
  void open(const std::string& pond) {
    bench.app->open(make_guide_screen(pond));
    bench.frames(2);
  }
  AppBench bench;
  Words words;
};

TEST_F(GuideScreens, EveryStageHasStepsAReasonMistakesAndAPicture) {
  for (int number = 1; number <= static_cast<int>(Stage::early_cycle); ++number) {
    const std::string stage = "guide." + std::string(name_of(static_cast<Stage>(number))) + ".";
    for (const char* part : {"art", "do.1", "do.2", "do.3", "why", "mistake.1", "mistake.2"}) {
      EXPECT_TRUE(words.has(stage + part)) << stage << part;
    }
  }
}

TEST_F(GuideScreens, APageNamesEachCriterionOfItsGate) {
  std::set<Stage> seen;
  for (const FarmPond& pond : bench.app->farm().ponds) {
    if (!pond.state.in_cycle || pond.state.finished) continue;
    seen.insert(pond.state.stage);
    open(pond.history.pond.id);
    for (const Criterion& criterion : pond.state.criteria) {
      EXPECT_NE(bench.find("guide/criterion/" + criterion.id), nullptr) << criterion.id;
    }
    // A value that nobody filled in would show as its name in braces.
    for (const Node& node : bench.model().nodes()) {
      EXPECT_EQ(node.name.find('{'), std::string::npos) << node.id << ": " << node.name;
    }
    bench.app->back();
  }
  EXPECT_GE(seen.size(), 5U);
}

TEST_F(GuideScreens, WhatIsDueHereIsOneTouchAway) {
  const Rounds& rounds = *bench.app->rounds();
  const DueItem* due = nullptr;
  for (const DueItem& item : rounds.items) {
    if (item.act == Act::secchi_reading && item.state == DueState::now) due = &item;
  }
  ASSERT_NE(due, nullptr);
  open(due->pond);
  ASSERT_TRUE(bench.press("guide/due/secchi_reading"));
  EXPECT_NE(bench.find("keys/5"), nullptr);
}

// The numbers are those of the pond's protocol, not of the text.
TEST_F(GuideScreens, NumbersFollowTheProtocol) {
  std::string at_bloom;
  for (const FarmPond& pond : bench.app->farm().ponds) {
    if (pond.state.in_cycle && pond.state.stage == Stage::bloom) at_bloom = pond.history.pond.id;
  }
  ASSERT_FALSE(at_bloom.empty());
  open(at_bloom);
  EXPECT_NE(bench.find("guide/mistake.1")->name.find("3 days"), std::string::npos);
  bench.app->back();
  Draft change;
  change.kind = kind::kProtocolChange;
  change.values = {{"path", std::string("stage.bloom.days_normal")},
                   {"value", 6.0},
                   {"from", to_iso(kPeak)},
                   {"reason", std::string("cool water")}};
  bench.app->put({change});
  bench.answer(SaveOutcome::saved);
  open(at_bloom);
  EXPECT_NE(bench.find("guide/mistake.1")->name.find("6 days"), std::string::npos)
      << bench.find("guide/mistake.1")->name;
}

TEST_F(GuideScreens, APondWithoutACycleHasNoGuide) {
  open("no such pond");
  EXPECT_NE(bench.find("guide/none"), nullptr);
  EXPECT_EQ(bench.find("guide/art"), nullptr);
}

}  // namespace
}  // namespace tawny::ui
