// Ponds given to persons: how the manager does it, and what the person's phone then shows.
#include <gtest/gtest.h>

#include "farm/own_ponds.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr Instant kMorning{1795707600};  // 26 November 2026, 10:40 at the farm

class Persons : public testing::Test {
 protected:
  Persons() : bench(kMorning) {
    bench.open_demo();
    app().open(make_persons_screen());
    bench.frames(2);
  }

  App& app() { return *bench.app; }
  const FarmPond& pond(std::string_view id) { return *app().farm().pond(id); }
  std::string holder(std::string_view id, Role role = Role::manager) {
    const std::string* person = person_of(pond(id), role);
    return person == nullptr ? "nobody" : *person;
  }
  void give(std::string_view id, Role role, std::string person) {
    Draft draft;
    draft.kind = std::string(kind::kPondPerson);
    draft.pond = id;
    draft.values = pond_person_values({role, std::move(person)});
    app().put({std::move(draft)});
    bench.answer(SaveOutcome::saved);
  }
  void open_rounds() {
    app().open_tab(Tab::rounds);
    bench.frames(2);
  }
  bool asks_for(std::string_view id) const {
    const std::string prefix = "due/" + std::string(id) + "/";
    for (const Node& node : bench.model().nodes()) {
      if (node.id.rfind(prefix, 0) == 0) return true;
    }
    return false;
  }

  AppBench bench;
};

TEST_F(Persons, SeveralPondsAreGivenAtOnceAndTakenBackOneByOne) {
  ASSERT_TRUE(bench.press("persons/who/0"));
  EXPECT_EQ(bench.find("save"), nullptr) << "nothing is changed yet";
  ASSERT_TRUE(bench.press("persons/tick/p1"));
  ASSERT_TRUE(bench.press("persons/tick/p3"));
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.waiting.size(), 2U) << "one entry a pond";
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(holder("p1"), "Maren");
  EXPECT_EQ(holder("p3"), "Maren");
  EXPECT_EQ(holder("p2"), "nobody");
  EXPECT_EQ(bench.find("save"), nullptr);
  ASSERT_TRUE(bench.press("persons/tick/p1"));
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.waiting.size(), 1U) << "only what changes hands";
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(holder("p1"), "nobody");
  EXPECT_EQ(holder("p3"), "Maren");
}

TEST_F(Persons, OneBoxTicksAllPondsAndNone) {
  ASSERT_TRUE(bench.press("persons/who/0"));
  ASSERT_TRUE(bench.press("persons/all"));
  ASSERT_TRUE(bench.press("save"));
  EXPECT_EQ(bench.platform.waiting.size(), app().farm().ponds.size());
  bench.answer(SaveOutcome::saved);
  ASSERT_TRUE(bench.press("persons/all"));
  ASSERT_TRUE(bench.press("save"));
  bench.answer(SaveOutcome::saved);
  EXPECT_FALSE(has_ponds(app().farm(), "Maren"));
}

TEST_F(Persons, TheRoundsStayAsTheyWereWhereNobodyHasPonds) {
  open_rounds();
  EXPECT_EQ(bench.find("rounds/ponds/mine"), nullptr);
}

TEST_F(Persons, OnesOwnPondsAreShownAndThoseOfOthersOnAsking) {
  std::string mine, others;
  for (const FarmPond& one : app().farm().ponds) {
    if (in_danger(one) || !one.state.in_cycle || one.state.unsupported || one.state.finished) continue;
    (mine.empty() ? mine : others) = one.history.pond.id;
  }
  ASSERT_FALSE(others.empty());
  for (const Role role : {Role::worker, Role::technician, Role::manager}) {
    give(mine, role, "Maren");
    give(others, role, "Ines");
  }
  open_rounds();
  EXPECT_TRUE(asks_for(mine));
  EXPECT_FALSE(asks_for(others));
  EXPECT_NE(bench.find("rounds/others"), nullptr) << "it says how much it does not show";
  ASSERT_TRUE(bench.press("rounds/ponds/all"));
  EXPECT_TRUE(asks_for(mine));
  EXPECT_TRUE(asks_for(others));
  EXPECT_EQ(bench.find("rounds/others"), nullptr);
}

TEST_F(Persons, DangerAtThePondOfAnotherStaysInSight) {
  const std::string danger = "p5", mine = "p4";
  Draft red;
  red.kind = std::string(kind::kWaterColour);
  red.pond = danger;
  red.values = {{"colour", std::string("red_brown")}};
  app().put({std::move(red)});
  bench.answer(SaveOutcome::saved);
  ASSERT_TRUE(in_danger(pond(danger)));
  give(mine, Role::technician, "Maren");
  for (const Role role : {Role::worker, Role::technician, Role::manager}) give(danger, role, "Ines");
  open_rounds();
  EXPECT_TRUE(asks_for(danger));
  EXPECT_TRUE(bench.press("rounds/danger/" + danger));
}

}  // namespace
}  // namespace tawny::ui
