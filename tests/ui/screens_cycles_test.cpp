// The cycle on a laptop's pond page, and cycles side by side: what mouse, keyboard and readers get out of them.
#include <gtest/gtest.h>

#include <algorithm>

#include "assets.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/chart_plots.h"
#include "ui/screens/compare_plots.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kNoon{1795626000};           // 2026-11-25 12:00 at the demo farm
constexpr std::string_view kTwice = "p6";  // its earlier cycle crashed, the present one stands before release
constexpr std::string_view kOnce = "p5";
constexpr std::string_view kYoung = "p1";  // nothing was read yet

class Cycles : public ::testing::Test {
 protected:
  explicit Cycles(float width = 1366, float height = 768) : bench(kNoon, width, height) { bench.open_demo(); }

  void open_pond(std::string_view pond) {
    bench.app->open(make_pond_screen(std::string(pond)));
    bench.frames(2);
  }
  void open_compare(std::string_view pond) {
    bench.app->open(make_compare_screen(std::string(pond)));
    bench.frames(2);
  }
  std::string said(std::string_view id) const {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string() : node->name;
  }
  bool pick_first() {
    for (const Node& node : bench.model().nodes()) {
      if (node.id.rfind("compare/pick/", 0) == 0) return bench.press(std::string(node.id));
    }
    return false;
  }
  void mouse_over(std::string_view id, float share) {
    const Node* node = bench.find(id);
    ASSERT_NE(node, nullptr);
    bench.point(AppBench::Hand::mouse, node->rect.x + share * node->rect.w, node->rect.y + node->rect.h / 2);
    bench.frames(2);
  }

  AppBench bench;
};

class CyclesOnAPhone : public Cycles {
 protected:
  CyclesOnAPhone() : Cycles(390, 844) {}
};

TEST_F(Cycles, AllChartsOfTheCycleStandOnOneAxis) {
  open_pond(kTwice);
  const Node* first = nullptr;
  for (const ChartOf chart : kCharts) {
    const Node* node = bench.find("pond/stack/" + std::string(name_of(chart)));
    ASSERT_NE(node, nullptr) << name_of(chart);
    EXPECT_EQ(node->role, NodeRole::image);
    if (first == nullptr) first = node;
    EXPECT_FLOAT_EQ(node->rect.x, first->rect.x);
    EXPECT_FLOAT_EQ(node->rect.w, first->rect.w);
  }
  EXPECT_NE(said("pond/stack/temperature").find("Dawn temperature: 30 readings"), std::string::npos);
  EXPECT_NE(said("pond/stack/sky").find("Sky of 15 days"), std::string::npos) << said("pond/stack/sky");
}

TEST_F(Cycles, AnEarlierCycleIsShownAsItStoodAtItsEnd) {
  open_pond(kTwice);
  EXPECT_EQ(said("pond/cycle/0"), "rainy season, 5 Aug to 2 Sep");
  EXPECT_EQ(said("pond/cycle/1"), "dry season, since 22 Oct");
  EXPECT_NE(bench.find("pond/gates/hold_band"), nullptr);
  EXPECT_EQ(bench.find("pond/cycle_over"), nullptr);
  ASSERT_TRUE(bench.press("pond/cycle/0"));
  EXPECT_NE(bench.find("pond/cycle_over"), nullptr);
  EXPECT_EQ(bench.find("pond/gates/hold_band"), nullptr) << "the poor cycle never came so far";
  EXPECT_NE(bench.find("pond/gates/bloom"), nullptr);
  EXPECT_EQ(said("pond/stack/picked"), "31 Aug") << "the last day with a reading";
  EXPECT_NE(said("pond/stack/secchi").find("last 84 cm on 31 Aug"), std::string::npos)
      << said("pond/stack/secchi");
  EXPECT_EQ(said("pond/stage"), "9 \u00b7 Release") << "the pond itself stands where it stood";
}

TEST_F(Cycles, APondWithOneCycleAsksForNoChoice) {
  open_pond(kOnce);
  EXPECT_EQ(bench.find("pond/cycle")->role, NodeRole::heading);
}

TEST_F(Cycles, TheDayIsSteppedWithinTheCycleAndSaid) {
  open_pond(kTwice);
  EXPECT_EQ(said("pond/stack/picked"), "Today");
  ASSERT_TRUE(bench.press("pond/day_after"));
  EXPECT_EQ(said("pond/stack/picked"), "Today") << "tomorrow was not read yet";
  ASSERT_TRUE(bench.press("pond/day_before"));
  EXPECT_EQ(said("pond/stack/picked"), "Yesterday");
}

TEST_F(Cycles, AMouseOverTheChartsReadsOffThatDay) {
  open_pond(kTwice);
  mouse_over("pond/stack/secchi", 0.5f);
  const std::string middle = said("pond/stack/picked");
  EXPECT_NE(middle, "Today");
  mouse_over("pond/stack/secchi", 0.6f);
  EXPECT_NE(said("pond/stack/picked"), middle);
}

TEST_F(Cycles, CloserAndWiderGoAroundTheDay) {
  open_pond(kTwice);
  EXPECT_EQ(bench.find("pond/span/cycle")->state, "checked");
  ASSERT_TRUE(bench.press("pond/closer"));
  EXPECT_EQ(bench.find("pond/span/cycle")->state, "");
  EXPECT_NE(said("pond/stack/oxygen").find("last 4.7 mg/L today"), std::string::npos) << "today is still shown";
  EXPECT_EQ(said("pond/stack/oxygen").find("30 readings"), std::string::npos);
  ASSERT_TRUE(bench.press("pond/wider"));
  EXPECT_NE(said("pond/stack/oxygen").find("30 readings"), std::string::npos);
}

TEST_F(Cycles, APondWithoutReadingsSaysSo) {
  open_pond(kYoung);
  EXPECT_NE(bench.find("pond/cycles/empty"), nullptr);
  EXPECT_EQ(bench.find("pond/stack/secchi"), nullptr);
}

TEST_F(CyclesOnAPhone, ThePondsPageHasNoStackAndLeadsToSideBySide) {
  open_pond(kTwice);
  EXPECT_EQ(bench.find("pond/stack/secchi"), nullptr);
  ASSERT_TRUE(bench.press("pond/compare"));
  EXPECT_NE(bench.find("compare/charts/secchi"), nullptr);
}

TEST_F(Cycles, SideBySideBeginsWithThePondsOwnLastTwo) {
  open_compare(kTwice);
  EXPECT_NE(said("compare/side/A").find("A  Saltbush, dry season"), std::string::npos)
      << said("compare/side/A");
  EXPECT_NE(said("compare/side/B").find("B  Saltbush, rainy season"), std::string::npos);
  EXPECT_EQ(bench.find("compare/side/C"), nullptr);
  EXPECT_NE(said("compare/charts/dawn_oxygen").find("B, Saltbush, rainy season"), std::string::npos);
}

TEST_F(Cycles, TheGatesThatOpenedAreToldOnceAndExplained) {
  open_compare(kTwice);
  const std::string charts = said("compare/charts/secchi");
  EXPECT_NE(charts.find("B, Saltbush, rainy season"), std::string::npos) << charts;
  EXPECT_NE(charts.find("gates opened: 1 "), std::string::npos) << charts;
  EXPECT_NE(charts.find(" on day "), std::string::npos) << charts;
  EXPECT_EQ(said("compare/charts/dawn_oxygen").find("gates opened"), std::string::npos);
  EXPECT_NE(bench.find("compare/gates"), nullptr);
}

TEST(ComparePlots, EachCyclesGatesStandInALaneOfTheirOwnOnTheirDay) {
  Side side;
  side.day_zero = CivilDay{20000};
  side.figures.gates = {{Stage::bottom, 2, false}, {Stage::first_fill, 2, false}, {Stage::rest, 5, true}};
  Side unread = side;
  unread.day_zero.reset();
  Side other = side;
  other.figures.gates = {{Stage::bottom, 7, false}};
  const Words words = *Words::parse(assets::language("en"));
  const Theme theme = day_theme();
  const auto notches = [&](Compared what) {
    return plot_of_sides(what, {side, unread, other}, days_axis(0, 10, words), UtcOffset{0}, theme, words)
        .notches;
  };
  const std::vector<PlotNotch> all = notches(Compared::secchi);
  ASSERT_EQ(all.size(), 3U) << "two gates of one day share a stroke; what is not drawn has none";
  EXPECT_EQ(all[0].across, 2);
  EXPECT_EQ(all[0].label, "1, 2");
  EXPECT_EQ(all[0].lane, 0);
  EXPECT_EQ(all[1].across, 5);
  EXPECT_EQ(all[2].across, 7);
  EXPECT_EQ(all[2].lane, 2);
  ASSERT_EQ(notches(Compared::salinity).size(), 3U) << "in every chart";
  EXPECT_EQ(notches(Compared::salinity)[0].label, "") << "named in the first one";
}

TEST_F(Cycles, TwoCyclesOfOneLabelStandSideBySideToldApart) {
  Draft end, start;
  end.kind = std::string(kind::kCycleEnd);
  start.kind = std::string(kind::kCycleStart);
  start.values = {{"cycle", std::string("dry season")}};
  end.pond = start.pond = std::string(kOnce);
  end.observed = kNoon.plus_min(-30);
  start.observed = kNoon.plus_min(-20);
  bench.app->put({end, start});
  bench.answer(SaveOutcome::saved);
  open_compare(kOnce);
  const std::string running = said("compare/side/A").substr(1), over = said("compare/side/B").substr(1);
  EXPECT_NE(running.find("dry season"), std::string::npos) << running;
  EXPECT_NE(over.find("dry season"), std::string::npos) << over;
  EXPECT_NE(running, over);
  const std::string charts = said("compare/charts/secchi");
  EXPECT_NE(charts.find("B, Long Pond, dry season"), std::string::npos) << charts;
  EXPECT_EQ(charts.find("A, Long Pond, dry season"), std::string::npos) << "nothing was read in it yet";
}

TEST_F(Cycles, UpToFourAreChosenAndTakenOutAgain) {
  open_compare(kOnce);
  for (int i = 0; i < 3; ++i) {
    ASSERT_TRUE(bench.press("compare/add")) << i;
    ASSERT_TRUE(pick_first()) << i;
  }
  EXPECT_NE(bench.find("compare/side/D"), nullptr);
  EXPECT_EQ(bench.find("compare/add"), nullptr);
  EXPECT_NE(bench.find("compare/full"), nullptr);
  const std::string third = said("compare/side/C").substr(3);
  ASSERT_TRUE(bench.press("compare/side/B/take_out"));
  EXPECT_EQ(bench.find("compare/side/D"), nullptr);
  EXPECT_EQ(said("compare/side/B").substr(3), third) << "the ones behind it move up";
  for (int i = 0; i < 3; ++i) ASSERT_TRUE(bench.press("compare/side/A/take_out"));
  EXPECT_NE(bench.find("compare/none"), nullptr);
}

TEST_F(Cycles, OtherPondsAreFoundByAPartOfTheirName) {
  open_compare(kOnce);
  ASSERT_TRUE(bench.press("compare/add"));
  bench.app->on_text("compare/find", "gate");
  bench.frames(2);
  int found = 0;
  for (const Node& node : bench.model().nodes()) found += node.id.rfind("compare/pick/", 0) == 0 ? 1 : 0;
  EXPECT_EQ(found, 2) << "Old Gate has two cycles";
  bench.app->on_text("compare/find", "nowhere");
  bench.frames(2);
  EXPECT_NE(bench.find("compare/none_found"), nullptr);
}

TEST_F(Cycles, DaysAreCountedFromAnotherEvent) {
  open_compare(kTwice);
  EXPECT_EQ(bench.find("compare/figures/first_fill")->value, "A\u00a0day 4 \u00b7 B\u00a0day 4");
  ASSERT_TRUE(bench.press("compare/from/first_dose"));
  EXPECT_EQ(bench.find("compare/figures/first_fill")->value, "A\u00a0day -5 \u00b7 B\u00a0day -5");
  EXPECT_EQ(said("compare/axis"), "Days from the first dose");
  bench.app->open_tab(Tab::ponds);
  open_compare(kYoung);
  ASSERT_TRUE(bench.press("compare/from/first_dose"));
  EXPECT_EQ(said("compare/not_drawn/A"), "A: no first dose yet, so not drawn.");
}

// By kOpenings-like counting of the demo's script: both cycles of p6 start with the bottom, fill on day 3 and
// are dosed on day 9; the poor one spread one dose of 32.5 kg on 1.3 ha.
TEST_F(Cycles, GatesAndDosesStandInFigures) {
  open_compare(kTwice);
  const auto value = [&](std::string_view id) {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string() : node->name + node->value;
  };
  EXPECT_NE(value("compare/figures/first_dose").find("A\u00a0day 9 \u00b7 B\u00a0day 9"), std::string::npos)
      << value("compare/figures/first_dose");
  EXPECT_NE(value("compare/figures/hold_band").find("B\u00a0not opened"), std::string::npos);
  EXPECT_NE(value("compare/figures/doses").find("B\u00a01 dose, 32.5 kg, 25 kg/ha"), std::string::npos)
      << value("compare/figures/doses");
}

TEST(ComparePlots, ADayStandsAtTheSamePlaceInEveryCycle) {
  const auto words = Words::parse(assets::language("en"));
  std::vector<Side> sides(2);
  for (std::size_t i = 0; i < 2; ++i) {
    const CivilDay start = *civil_day_of({2026, i == 0 ? 3 : 8, 1});
    sides[i].day_zero = start;
    sides[i].series.from = instant_at(start, 6 * 3600, UtcOffset{0});
    sides[i].series.until = instant_at(start.plus(20), 0, UtcOffset{0});
    SecchiDepth depth;
    depth.day = start.plus(12);
    depth.secchi_cm = i == 0 ? 50 : 80;
    sides[i].series.secchi.days.push_back(depth);
  }
  const auto [first, last] = days_of_sides(sides, UtcOffset{0});
  EXPECT_DOUBLE_EQ(first, -0.5);
  EXPECT_DOUBLE_EQ(last, 20.5);
  const Plot plot =
      plot_of_sides(Compared::secchi, sides, days_axis(first, last, *words), UtcOffset{0}, day_theme(), *words);
  ASSERT_EQ(plot.many.size(), 2u);
  EXPECT_EQ(plot.many[0].points.front(), (std::pair<double, double>(12, 50)));
  EXPECT_EQ(plot.many[1].points.front(), (std::pair<double, double>(12, 80)));
  EXPECT_NE(plot.many[0].shape, plot.many[1].shape) << "not by colour alone";
  EXPECT_EQ(values_on(Compared::secchi, sides, 12, UtcOffset{0}, *words), "A\u00a050 \u00b7 B\u00a080");
  EXPECT_EQ(values_on(Compared::secchi, sides, 11, UtcOffset{0}, *words), "");
}

TEST(ComparePlots, DosesAddUpAndEndWithTheCycle) {
  const auto words = Words::parse(assets::language("en"));
  const CivilDay start = *civil_day_of({2026, 3, 1});
  std::vector<Side> sides(1);
  sides[0].day_zero = start;
  sides[0].series.from = instant_at(start, 0, UtcOffset{0});
  sides[0].series.until = instant_at(start.plus(20), 0, UtcOffset{0});
  for (const int day : {5, 9}) {
    sides[0].series.secchi.doses.push_back(
        {instant_at(start.plus(day), 6 * 3600, UtcOffset{0}), "x", 25, 25, ""});
  }
  const auto on = [&](int day) { return values_on(Compared::doses, sides, day, UtcOffset{0}, *words); };
  EXPECT_EQ(on(4), "A\u00a00");
  EXPECT_EQ(on(5), "A\u00a025");
  EXPECT_EQ(on(15), "A\u00a050");
  EXPECT_EQ(on(21), "");
}

}  // namespace
}  // namespace tawny::ui
