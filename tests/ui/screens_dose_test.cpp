// The dose bin, walked through with synthetic presses: what the manager's word carries, and what a look at the
// drafts says before they are saved.
#include <gtest/gtest.h>

#include "dose/cautions.h"
#include "farm/walk.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795605000};  // 2026-11-25 06:10 at the demo farm

class DoseScreens : public ::testing::Test {
 protected:
  DoseScreens() : bench(kMorning) { bench.open_demo(); }

  void be(Role role) {
    Draft draft;
    draft.kind = kind::kDeviceSetup;
    draft.values = {{"person", std::string("Ines")}, {"role", std::string(name_of(role))}};
    bench.app->put({std::move(draft)});
    bench.answer(SaveOutcome::saved);
    ASSERT_EQ(bench.app->role(), role);
  }

  // The plan of a pond, everything said but what stops it.
  void plan_for(const std::string& pond) {
    bench.app->open(make_dose_walk_screen(pond));
    bench.frames(2);
    ASSERT_TRUE(bench.press("plan/sky/bright"));
    ASSERT_TRUE(bench.press("plan/confirm"));
  }

  // A pond on which a check says stop: the bloom is in the band, or the stage takes no dose.
  std::string stopped_pond() const {
    for (const FarmPond& pond : bench.app->farm().ponds) {
      if (pond.state.in_cycle && !pond.state.dose.allowed && pond.state.dose.least_kg_ha)
        return pond.history.pond.id;
    }
    return {};
  }
  std::string ready_pond() const {
    for (const FarmPond& pond : bench.app->farm().ponds) {
      if (pond.state.dose.advised) return pond.history.pond.id;
    }
    return {};
  }

  const Entry* last(std::string_view kind_name) const {
    const Entry* found = nullptr;
    for (const Entry* entry : bench.app->logbook().effective()) {
      if (entry->kind == kind_name) found = entry;
    }
    return found;
  }

  // From the started walk to the last bin spread.
  void walk_bins(const std::string& pond) {
    for (int guard = 0; guard < 200; ++guard) {
      const std::optional<DoseWalk>& walk = bench.app->farm().pond(pond)->state.open_walk;
      ASSERT_TRUE(walk);
      if (next_step(*walk).what == WalkStep::What::record) return;
      bench.platform.clock = bench.platform.clock.plus_min(2);
      bench.frames(2);
      ASSERT_TRUE(bench.press("save"));
      bench.answer(SaveOutcome::saved);
    }
    FAIL() << "the walk does not end";
  }

  AppBench bench;
};

TEST_F(DoseScreens, AWorkerCannotGoOnWhereACheckSaysStop) {
  be(Role::worker);
  const std::string pond = stopped_pond();
  ASSERT_FALSE(pond.empty());
  plan_for(pond);
  EXPECT_NE(bench.find("plan/stop"), nullptr);
  EXPECT_EQ(bench.find("plan/reason"), nullptr);
  EXPECT_FALSE(bench.press("save"));
}

TEST_F(DoseScreens, TheManagersWordStandsInTheStartAndInTheDose) {
  be(Role::manager);
  const std::string pond = stopped_pond();
  ASSERT_FALSE(pond.empty());
  plan_for(pond);
  EXPECT_FALSE(bench.press("save"));
  bench.app->on_text("plan/reason", "  ");
  bench.frames(2);
  EXPECT_FALSE(bench.press("save"));
  bench.app->on_text("plan/reason", "Grab samples speak for it");
  bench.frames(2);
  ASSERT_TRUE(bench.press("save"));
  if (bench.find("findings/go_on") != nullptr) {
    ASSERT_TRUE(bench.press("findings/go_on"));
  }
  bench.answer(SaveOutcome::saved);
  const Entry* start = last(kind::kDoseWalkStart);
  ASSERT_NE(start, nullptr);
  ASSERT_NE(start->flag("manager_override"), nullptr);
  EXPECT_TRUE(*start->flag("manager_override"));
  EXPECT_EQ(*start->text("reason"), "Grab samples speak for it");
  walk_bins(pond);
  ASSERT_TRUE(bench.press("save"));
  if (bench.find("findings/go_on") != nullptr) {
    ASSERT_TRUE(bench.press("findings/go_on"));
  }
  bench.answer(SaveOutcome::saved);
  const Entry* dose = last(kind::kDose);
  ASSERT_NE(dose, nullptr);
  EXPECT_EQ(*dose->text("walk"), *start->text("walk"));
  ASSERT_NE(dose->flag("manager_override"), nullptr);
  EXPECT_TRUE(*dose->flag("manager_override"));
  EXPECT_EQ(*dose->text("reason"), "Grab samples speak for it");
}

TEST_F(DoseScreens, AnAdvisedDoseCarriesNoOverride) {
  be(Role::manager);
  const std::string pond = ready_pond();
  ASSERT_FALSE(pond.empty());
  plan_for(pond);
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.find("findings/go_on"), nullptr);
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(last(kind::kDoseWalkStart)->flag("manager_override"), nullptr);
  EXPECT_EQ(last(kind::kDoseWalkStart)->text("reason"), nullptr);
}

// A second dose inside the protocol's days: a technician cannot begin it, the manager with a reason can.
TEST_F(DoseScreens, ASecondDoseTooSoonIsStartedByTheManagerOnly) {
  const std::string pond = ready_pond();
  ASSERT_FALSE(pond.empty());
  Draft first;
  first.kind = kind::kDose;
  first.pond = pond;
  first.observed = kMorning;
  first.values = {{"product", std::string("sodium_nitrate")},
                  {"product_kg", 10.0},
                  {"bins", 1.0},
                  {"started", to_iso(kMorning.plus_min(-20))},
                  {"ended", to_iso(kMorning)},
                  {"coverage", std::string("whole")},
                  {"dissolved", true},
                  {"area_ha", 1.0}};
  bench.app->put({std::move(first)});
  bench.answer(SaveOutcome::saved);
  for (const Role role : {Role::worker, Role::technician}) {
    be(role);
    plan_for(pond);
    ASSERT_NE(bench.find("plan/check/last_dose"), nullptr);
    EXPECT_NE(bench.find("plan/check/last_dose")->value, "done");
    EXPECT_EQ(bench.find("plan/reason"), nullptr);
    EXPECT_FALSE(bench.press("save"));
    bench.app->back();
  }
  be(Role::manager);
  plan_for(pond);
  EXPECT_FALSE(bench.press("save"));
  bench.app->on_text("plan/reason", "Half of the first was lost at the gate");
  bench.frames(2);
  ASSERT_TRUE(bench.press("save"));
  ASSERT_TRUE(bench.press("findings/go_on"));
  bench.answer(SaveOutcome::saved);
  ASSERT_NE(last(kind::kDoseWalkStart), nullptr);
  EXPECT_EQ(*last(kind::kDoseWalkStart)->text("reason"), "Half of the first was lost at the gate");
}

TEST_F(DoseScreens, CautionsAreConfirmedOnceForEachWalkAndGoOnRecord) {
  be(Role::worker);
  const std::string pond = ready_pond();
  ASSERT_FALSE(pond.empty());
  bench.app->open(make_dose_walk_screen(pond));
  bench.frames(2);
  ASSERT_TRUE(bench.press("plan/sky/bright"));
  EXPECT_FALSE(bench.press("save"));
  for (const char* id : {"plan/caution.salt_to_water", "plan/caution.lift_and_boat", "plan/caution.boat",
                         "plan/caution.dark", "plan/caution.law"}) {
    EXPECT_NE(bench.find(id), nullptr) << id;
  }
  ASSERT_TRUE(bench.press("plan/confirm"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  const Product& product = *bench.app->product(*last(kind::kDoseWalkStart)->text("product"));
  ASSERT_NE(last(kind::kDoseWalkStart)->texts("cautions"), nullptr);
  EXPECT_EQ(*last(kind::kDoseWalkStart)->texts("cautions"), dose_cautions(product));
  // Left and taken up again: at the same bin, without a word about cautions that were read.
  bench.app->open_tab(Tab::rounds);
  bench.app->open(make_dose_walk_screen(pond));
  bench.frames(2);
  EXPECT_EQ(bench.find("plan/confirm"), nullptr);
  EXPECT_NE(bench.find("walk/lift"), nullptr);
  EXPECT_TRUE(bench.press("save"));
}

// Another product has other cautions: they are to be read too.
TEST_F(DoseScreens, AnotherProductAsksAnew) {
  be(Role::manager);
  const std::string pond = ready_pond();
  ASSERT_FALSE(pond.empty());
  Draft other;
  other.kind = kind::kProductSetup;
  other.values = {{"product", std::string("potassium_nitrate")}, {"bag_kg", 25.0}, {"in_use", true}};
  bench.app->put({std::move(other)});
  bench.answer(SaveOutcome::saved);
  plan_for(pond);
  EXPECT_NE(bench.find("plan/confirm")->state.find("checked"), std::string::npos);
  ASSERT_TRUE(bench.press("plan/product/potassium_nitrate"));
  EXPECT_EQ(bench.find("plan/confirm")->state.find("checked"), std::string::npos);
}

// While the boat is out, another phone's dose of this pond comes in: that is asked about, and what was spread
// can go on record.
TEST_F(DoseScreens, ADoseThatBecameTooEarlyIsAskedAboutAtTheEnd) {
  be(Role::worker);
  const std::string pond = ready_pond();
  ASSERT_FALSE(pond.empty());
  plan_for(pond);
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  walk_bins(pond);
  Draft other;
  other.kind = kind::kDose;
  other.pond = pond;
  other.observed = kMorning;
  other.values = {{"product", std::string("sodium_nitrate")},
                  {"product_kg", 10.0},
                  {"bins", 1.0},
                  {"started", to_iso(kMorning.plus_min(-20))},
                  {"ended", to_iso(kMorning)},
                  {"coverage", std::string("whole")},
                  {"dissolved", true},
                  {"area_ha", 1.0}};
  bench.app->put({std::move(other)});
  bench.answer(SaveOutcome::saved);
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.saves, saves);
  EXPECT_NE(bench.find("findings/questioned/1"), nullptr);
  ASSERT_TRUE(bench.press("findings/change"));
  EXPECT_EQ(bench.find("findings/questioned/1"), nullptr);
  ASSERT_TRUE(bench.press("save"));
  ASSERT_TRUE(bench.press("findings/go_on"));
  EXPECT_EQ(bench.platform.saves, saves + 1);
  bench.answer(SaveOutcome::saved);
  EXPECT_FALSE(bench.app->farm().pond(pond)->state.open_walk);
}

// A clock that was set back makes the walk end in the future: said, and nothing is saved.
TEST_F(DoseScreens, ADoseThatCannotBeIsRefusedWithTheSentence) {
  be(Role::worker);
  const std::string pond = ready_pond();
  ASSERT_FALSE(pond.empty());
  plan_for(pond);
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  walk_bins(pond);
  bench.platform.clock = kMorning;
  bench.frames(2);
  const int saves = bench.platform.saves;
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.saves, saves);
  EXPECT_NE(bench.find("findings/refused/1"), nullptr);
  EXPECT_TRUE(bench.shows("is still to come"));
}

}  // namespace
}  // namespace tawny::ui
