// The filling plan of a pond: set up, answered, kept in the logbook.
#include <gtest/gtest.h>

#include <algorithm>

#include "assets.h"
#include "farm/pond_filling.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};          // 2026-11-25 05:40 at the demo farm, and a whole five minutes
constexpr std::string_view kPond = "p1";  // dry, its bottom being made ready

class Filling : public ::testing::Test {
 protected:
  Filling() : bench(kDawn), words(*Words::parse(assets::language("en"))) {
    bench.open_demo();
    words.set_clock(bench.app->farm().place.offset, kDawn);
    // Each test sets up its own inlets.
    take_back(kind::kInletSetup);
    take_back(kind::kTideTable);
    bench.app->open(make_filling_screen(std::string(kPond)));
    bench.frames(2);
  }

  void take_back(std::string_view kind) {
    std::vector<EntryId> ids;
    for (const Entry* entry : bench.app->logbook().effective()) {
      if (entry->kind == kind) ids.push_back(entry->id);
    }
    for (const EntryId& id : ids) {
      bench.app->put({bench.app->take_back(id, "for the test")});
      bench.answer(SaveOutcome::saved);
    }
  }

  const FarmPond& pond() const { return *bench.app->farm().pond(kPond); }

  void number(const std::string& field, const std::string& value) {
    ASSERT_TRUE(bench.press(field)) << field;
    ASSERT_TRUE(bench.type("number/keys", value)) << field;
    ASSERT_TRUE(bench.press("number/accept")) << field;
  }

  void save() {
    ASSERT_TRUE(bench.press("save"));
    bench.answer(SaveOutcome::saved);
  }

  void set_pump(const std::string& rate_l_s) {
    ASSERT_TRUE(bench.press("filling/inlet/east gate"));
    ASSERT_TRUE(bench.press("inlet/kind/pump"));
    number("inlet/rate_l_s", rate_l_s);
    save();
  }

  void set_gate() {
    ASSERT_TRUE(bench.press("filling/inlet/east gate"));
    ASSERT_TRUE(bench.press("inlet/kind/gate"));
    number("inlet/width_m", "1.2");
    number("inlet/opening_m", "0.5");
    number("inlet/sill_level_cm", "0");
    save();
  }

  void add_water(const std::string& time, const std::string& level_cm) {
    ASSERT_TRUE(bench.press("tide/add"));
    ASSERT_TRUE(bench.type("moment/keys", time));
    ASSERT_TRUE(bench.press("moment/accept"));
    ASSERT_TRUE(bench.type("number/keys", level_cm));
    ASSERT_TRUE(bench.press("number/accept"));
  }

  // High water of this morning and low water of noon; nothing is known after that.
  void set_tide(const std::string& high_cm = "140") {
    ASSERT_TRUE(bench.press("filling/tide/row"));
    add_water("0400", "20");
    add_water("0830", high_cm);
    add_water("1440", "10");
    save();
  }

  FillingPlan plan_from(double from_cm, double to_cm, Instant start) const {
    return *plan_filling(*pond().history.pond.curve, filling_setup_of(pond(), bench.app->protocol()), from_cm,
                         to_cm, start);
  }
  double aim_cm() const { return fill_target(pond(), bench.app->protocol(), Stage::first_fill)->aim_cm; }
  double lowest_cm() const { return pond().history.pond.curve->lowest_level_cm(); }

  const Entry* last_of(std::string_view kind) const {
    const Entry* found = nullptr;
    for (const Entry* entry : bench.app->logbook().effective()) {
      if (entry->kind == kind) found = entry;
    }
    return found;
  }

  AppBench bench;
  Words words;
};

TEST_F(Filling, WithoutInletsSaysWhatIsMissing) {
  EXPECT_EQ(bench.find("filling/hours"), nullptr);
  EXPECT_NE(bench.find("filling/answer"), nullptr);
  EXPECT_NE(bench.find("filling/problem/inlets"), nullptr);
  EXPECT_NE(bench.find("filling/suction"), nullptr);
}

TEST_F(Filling, APumpIsKeptInTheLogbookAndTheHoursAreThoseOfThePlan) {
  set_pump("60");
  const Entry* entry = last_of(kind::kInletSetup);
  ASSERT_NE(entry, nullptr);
  EXPECT_EQ(entry->pond, kPond);
  EXPECT_EQ(*entry->text("inlet"), "east gate");
  EXPECT_EQ(*entry->text("kind"), "pump");
  EXPECT_EQ(*entry->number("rate_l_s"), 60);

  const FillingPlan plan = plan_from(lowest_cm(), aim_cm(), kDawn);
  ASSERT_TRUE(plan.reached);
  const Node* hours = bench.find("filling/hours");
  ASSERT_NE(hours, nullptr);
  EXPECT_NE(hours->value.find(words.number(plan.hours, 1)), std::string::npos) << hours->value;
  ASSERT_NE(bench.find("filling/end"), nullptr);
  EXPECT_EQ(bench.find("filling/end")->value, words.time(plan.ended_at));
  EXPECT_EQ(bench.find("filling/lost")->value, words.quantity({plan.lost_m3, 0, "m3"}));
}

TEST_F(Filling, TheLevelOverTimeIsAPictureWithANameAndATable) {
  set_pump("60");
  const FillingPlan plan = plan_from(lowest_cm(), aim_cm(), kDawn);
  const Node* plot = bench.find("filling/plot");
  ASSERT_NE(plot, nullptr);
  EXPECT_EQ(plot->role, NodeRole::image);
  for (const std::string& part :
       {words.time(kDawn), words.time(plan.ended_at), words.quantity({plan.hours, 1, "h"}),
        words.quantity({plan.end_level_cm, 0, "cm"})}) {
    EXPECT_NE(plot->name.find(part), std::string::npos) << part << " in " << plot->name;
  }
  const auto rows = std::count_if(bench.model().nodes().begin(), bench.model().nodes().end(),
                                  [](const Node& node) { return node.id.rfind("filling/series/", 0) == 0; });
  EXPECT_GE(rows, 3);
  EXPECT_LE(rows, 10);
}

TEST_F(Filling, EachInletSaysTheClothOfItsScreen) {
  set_pump("60");
  const Protocol& protocol = bench.app->protocol();
  const double cloth_m2 =
      0.060 / protocol.number("screen.approach_velocity_m_s") * protocol.number("screen.clogging_factor");
  const Node* cloth = bench.find("filling/cloth/east gate");
  ASSERT_NE(cloth, nullptr);
  EXPECT_NE(cloth->value.find(words.quantity({cloth_m2, 1, "m2"})), std::string::npos) << cloth->value;
  EXPECT_NE(bench.find("filling/screen/east gate"), nullptr);
}

TEST_F(Filling, ReadyByTellsWhenToStart) {
  set_pump("60");
  ASSERT_TRUE(bench.press("filling/when/choice/ready_by"));
  ASSERT_TRUE(bench.press("moment/after"));
  ASSERT_TRUE(bench.press("moment/after"));
  ASSERT_TRUE(bench.type("moment/keys", "1800"));
  ASSERT_TRUE(bench.press("moment/accept"));
  const UtcOffset offset = bench.app->farm().place.offset;
  const Instant wanted = instant_at(civil_day(kDawn, offset).plus(2), 18 * 3600, offset);
  const auto start = start_for(*pond().history.pond.curve, filling_setup_of(pond(), bench.app->protocol()),
                               lowest_cm(), aim_cm(), wanted, kDawn);
  ASSERT_TRUE(start);
  ASSERT_NE(bench.find("filling/start"), nullptr);
  EXPECT_EQ(bench.find("filling/start")->value, words.time(start->start));
  EXPECT_GT(start->start, kDawn);
}

TEST_F(Filling, ReadyTooSoonSaysWhenItWouldBeReady) {
  set_pump("5");
  ASSERT_TRUE(bench.press("filling/when/choice/ready_by"));
  ASSERT_TRUE(bench.type("moment/keys", "0700"));
  ASSERT_TRUE(bench.press("moment/accept"));
  EXPECT_EQ(bench.find("filling/hours"), nullptr);
  const Node* why = bench.find("filling/problem/wanted_by");
  ASSERT_NE(why, nullptr);
  EXPECT_NE(why->name.find(words.time(plan_from(lowest_cm(), aim_cm(), kDawn).ended_at)), std::string::npos)
      << why->name;
}

TEST_F(Filling, AnotherLevelToReachChangesTheHours) {
  set_pump("60");
  number("filling/to_cm", "90");
  const FillingPlan plan = plan_from(lowest_cm(), 90, kDawn);
  EXPECT_NE(bench.find("filling/hours")->value.find(words.number(plan.hours, 1)), std::string::npos);
  EXPECT_NE(bench.find("filling/outside"), nullptr);
}

TEST_F(Filling, RainAndLossesAreChangedForThisPlanOnly) {
  set_pump("60");
  const int saves = bench.platform.saves;
  number("filling/rain_mm_d", "100");
  EXPECT_NE(bench.find("filling/rain"), nullptr);
  EXPECT_EQ(bench.platform.saves, saves);
}

TEST_F(Filling, AGateAsksForTheTideTable) {
  set_gate();
  EXPECT_NE(bench.find("filling/problem/tide"), nullptr);
  EXPECT_NE(bench.find("filling/tide/row"), nullptr);
}

TEST_F(Filling, ATideTableIsKeptInTheLogbookAndItsEndIsSaid) {
  set_gate();
  // Too low a tide to bring the level before the table ends.
  set_tide("25");
  const Entry* entry = last_of(kind::kTideTable);
  ASSERT_NE(entry, nullptr);
  EXPECT_EQ(entry->pond, kPond);
  EXPECT_EQ(*entry->numbers("levels_cm"), (std::vector<double>{20, 25, 10}));
  const UtcOffset offset = bench.app->farm().place.offset;
  const CivilDay today = civil_day(kDawn, offset);
  EXPECT_EQ(entry->texts("times")->at(1), to_iso(instant_at(today, 8 * 3600 + 1800, offset)));
  const FillingPlan plan = plan_from(lowest_cm(), aim_cm(), kDawn);
  ASSERT_FALSE(plan.reached);
  const Node* ends = bench.find("filling/tide/ends");
  ASSERT_NE(ends, nullptr);
  EXPECT_NE(ends->name.find(words.time(*plan.uncovered_from)), std::string::npos) << ends->name;
  const Node* why = bench.find("filling/answer/why");
  ASSERT_NE(why, nullptr);
  EXPECT_NE(why->name.find(words.quantity({plan.highest_level_cm, 0, "cm"})), std::string::npos) << why->name;
}

TEST_F(Filling, AWaterIsTakenOutOfTheTable) {
  set_gate();
  ASSERT_TRUE(bench.press("filling/tide/row"));
  add_water("0400", "20");
  EXPECT_FALSE(bench.press("save"));
  add_water("0830", "140");
  ASSERT_TRUE(bench.press("tide/point/1"));
  ASSERT_TRUE(bench.press("number/clear"));
  EXPECT_NE(bench.find("tide/point/0"), nullptr);
  EXPECT_EQ(bench.find("tide/point/1"), nullptr);
}

TEST_F(Filling, IsReachedFromThePond) {
  bench.app->open(make_pond_screen(std::string(kPond)));
  bench.frames(2);
  ASSERT_TRUE(bench.press("pond/filling"));
  EXPECT_NE(bench.find("filling/suction"), nullptr);
}

TEST_F(Filling, EveryTextIsWorded) {
  set_gate();
  set_tide();
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
  for (const FarmPond& each : bench.app->farm().ponds) {
    bench.app->open(make_filling_screen(each.history.pond.id));
    bench.frames(2);
    check("filling " + each.history.pond.id);
    for (const std::string& inlet : each.history.pond.inlets) {
      bench.app->open(make_inlet_setup_screen(each.history.pond.id, inlet));
      bench.frames(2);
      for (const char* kind : {"pump", "gate", "pipe"}) {
        bench.press("inlet/kind/" + std::string(kind));
        check("inlet " + std::string(kind));
      }
    }
  }
  bench.app->open(make_tide_screen(std::string(kPond)));
  bench.frames(2);
  check("tide");
  bench.press("tide/add");
  check("moment");
}

TEST_F(Filling, ATideTableOfManyDaysIsToldInOneLine) {
  Entry entry;
  entry.kind = kind::kTideTable;
  entry.values = {{"times", std::vector<std::string>{"2026-11-25T11:10:00Z", "2026-11-25T17:20:00Z",
                                                     "2026-11-27T23:30:00Z"}},
                  {"levels_cm", std::vector<double>{140, 20, 135}}};
  const std::string line = brief_of(words, entry);
  EXPECT_EQ(line, "3 high and low waters, 06:10 to 27 Nov 18:30");
}

}  // namespace
}  // namespace tawny::ui
