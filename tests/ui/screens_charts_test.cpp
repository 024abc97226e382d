// The charts of a pond: what fingers, buttons and readers get out of them.
#include <gtest/gtest.h>

#include <algorithm>

#include "assets.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/chart_plots.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kNoon{1795626000};           // 2026-11-25 12:00 at the demo farm
constexpr std::string_view kPond = "p5";   // three weeks of pairs, two doses
constexpr std::string_view kYoung = "p1";  // its bottom is being made ready: nothing was read yet

class Charts : public ::testing::Test {
 protected:
  Charts() : bench(kNoon), words(*Words::parse(assets::language("en"))) {
    bench.open_demo();
    words.set_clock(bench.app->farm().place.offset, kNoon);
  }

  void open(std::string_view pond = kPond) {
    bench.app->open(make_charts_screen(std::string(pond)));
    bench.frames(2);
  }

  PondSeries series(std::string_view pond = kPond) const {
    return series_of(*bench.app->farm().pond(pond), bench.app->protocol(), bench.app->farm().place, kNoon);
  }

  std::string said(std::string_view id) const {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string() : node->name;
  }
  std::string shown() const { return said("charts/shown"); }

  int rows() const {
    return static_cast<int>(
        std::count_if(bench.model().nodes().begin(), bench.model().nodes().end(), [](const Node& n) {
          return n.id.rfind("charts/row/", 0) == 0 && n.id.size() > 4 && n.id.substr(n.id.size() - 4) == "/day";
        }));
  }

  // From the middle of that chart by this much.
  void drag(std::string_view id, float dx, float dy) {
    ASSERT_TRUE(bench.drag(AppBench::Hand::finger, id, dx, dy)) << id;
    bench.up();
  }
  void tap(std::string_view id, float share) {
    const Node* node = bench.find(id);
    ASSERT_NE(node, nullptr);
    bench.point(AppBench::Hand::finger, node->rect.x + share * node->rect.w, node->rect.y + node->rect.h / 2);
    bench.down();
    bench.up();
  }

  AppBench bench;
  Words words;
};

TEST_F(Charts, AreReachedFromThePond) {
  bench.app->open(make_pond_screen(std::string(kPond)));
  bench.frames(2);
  ASSERT_TRUE(bench.press("pond/charts"));
  for (const ChartOf chart : kCharts) {
    const std::string id = "charts/" + std::string(name_of(chart));
    ASSERT_NE(bench.find(id), nullptr) << id;
    EXPECT_EQ(bench.find(id)->role, NodeRole::image);
    EXPECT_EQ(bench.find(id + "/title")->role, NodeRole::heading);
  }
}

TEST_F(Charts, APictureIsSaidInWords) {
  open();
  EXPECT_NE(said("charts/oxygen").find("Dawn oxygen: 22 readings from 4.3 mg/L to 5.1 mg/L, last "),
            std::string::npos)
      << said("charts/oxygen");
  EXPECT_NE(said("charts/secchi").find("2 doses, "), std::string::npos) << said("charts/secchi");
  EXPECT_NE(said("charts/secchi").find("The band is 45 cm to 55 cm."), std::string::npos);
  EXPECT_NE(said("charts/level").find("The plan asks for "), std::string::npos) << said("charts/level");
}

TEST_F(Charts, ASpanIsChosenForAllOfThem) {
  open();
  ASSERT_TRUE(bench.press("charts/span/week"));
  EXPECT_NE(shown().find("From 19 Nov to today"), std::string::npos) << shown();
  EXPECT_NE(said("charts/oxygen").find("Dawn oxygen: 7 readings"), std::string::npos) << said("charts/oxygen");
  ASSERT_TRUE(bench.press("charts/span/cycle"));
  EXPECT_NE(shown().find("From 30 Oct to today"), std::string::npos) << shown();
}

TEST_F(Charts, AFingerPansAndCannotLeaveTheData) {
  open();
  bench.press("charts/span/week");
  drag("charts/oxygen", 150, 0);
  const std::string earlier = shown();
  EXPECT_NE(earlier, "From 19 Nov to today");
  EXPECT_EQ(earlier.find("today"), std::string::npos) << "a finger to the right shows what was before";
  EXPECT_EQ(bench.find("charts/span/week")->state, "") << "moved by hand";
  for (int i = 0; i < 12; ++i) drag("charts/oxygen", 180, 0);
  EXPECT_NE(shown().find("From 30 Oct"), std::string::npos) << "no further than the cycle's start: " << shown();
  for (int i = 0; i < 20; ++i) drag("charts/oxygen", -180, 0);
  EXPECT_EQ(shown(), "From 19 Nov to today");
}

TEST_F(Charts, AFingerUpwardsScrollsAndPansNothing) {
  open();
  bench.press("charts/span/week");
  const float before = bench.find("charts/oxygen")->rect.y;
  drag("charts/oxygen", 0, -200);
  EXPECT_LT(bench.find("charts/oxygen")->rect.y, before - 100);
  EXPECT_EQ(shown(), "From 19 Nov to today");
}

TEST_F(Charts, AFingerSidewaysDoesNotScroll) {
  open();
  bench.press("charts/span/week");
  const float before = bench.find("charts/oxygen")->rect.y;
  const Node* node = bench.find("charts/oxygen");
  const float x = node->rect.x + node->rect.w / 2, y = node->rect.y + node->rect.h / 2;
  bench.point(AppBench::Hand::finger, x, y);
  bench.down();
  for (int i = 1; i <= 5; ++i) bench.point(AppBench::Hand::finger, x + 10 * static_cast<float>(i), y);
  for (int i = 1; i <= 10; ++i) bench.point(AppBench::Hand::finger, x + 50, y + 10 * static_cast<float>(i));
  bench.up();
  EXPECT_FLOAT_EQ(bench.find("charts/oxygen")->rect.y, before);
}

TEST_F(Charts, TwoFingersWidenAndNarrowTheTime) {
  open();
  bench.press("charts/span/cycle");
  const std::string whole = shown();
  const Rect where = bench.find("charts/oxygen")->rect;
  const auto pinch = [&](float zoom) {
    Pinch fingers;
    fingers.began_x = fingers.x = where.x + where.w * 0.6f;
    fingers.began_y = where.y + where.h / 2;
    fingers.zoom = zoom;
    bench.app->ui().pinch(fingers);
    bench.frames(2);
  };
  pinch(2);
  EXPECT_NE(shown(), whole);
  pinch(0.25f);
  EXPECT_EQ(shown(), whole) << "never wider than all there is";
  for (int i = 0; i < 10; ++i) pinch(2);
  const auto oxygen = said("charts/oxygen");
  EXPECT_NE(oxygen.find("Dawn oxygen: 2 readings"), std::string::npos)
      << "never narrower than two days: " << oxygen;
}

TEST_F(Charts, ButtonsDoWhatFingersDo) {
  open();
  bench.press("charts/span/week");
  const std::string week = shown();
  ASSERT_TRUE(bench.press("charts/earlier"));
  EXPECT_NE(shown(), week);
  ASSERT_TRUE(bench.press("charts/later"));
  EXPECT_EQ(shown(), week);
  ASSERT_TRUE(bench.press("charts/later"));
  EXPECT_EQ(shown(), week) << "not into the future";
  ASSERT_TRUE(bench.press("charts/closer"));
  EXPECT_NE(shown(), week);
  ASSERT_TRUE(bench.press("charts/wider"));
  EXPECT_EQ(shown(), week);
}

TEST_F(Charts, ATapTellsTheNearestDayWithTimeAndWho) {
  open();
  bench.press("charts/span/week");
  tap("charts/oxygen", 0.97f);
  EXPECT_EQ(said("charts/oxygen/picked"), "Today");
  EXPECT_NE(said("charts/oxygen/picked/1").find("Dawn 4.3 mg/L, 0"), std::string::npos)
      << said("charts/oxygen/picked/1");
  EXPECT_NE(said("charts/oxygen/picked/1").find("Ines"), std::string::npos);
  tap("charts/oxygen", 0.97f);
  EXPECT_EQ(bench.find("charts/oxygen/picked"), nullptr) << "once more lets it go";
}

TEST_F(Charts, NothingJumpsUnderAFingerThatPans) {
  open();
  bench.press("charts/span/week");
  tap("charts/oxygen", 0.97f);
  const float secchi = bench.find("charts/secchi")->rect.y;
  const std::string before = shown();
  drag("charts/oxygen", 170, 0);
  drag("charts/oxygen", 170, 0);
  ASSERT_NE(shown(), before);
  EXPECT_FLOAT_EQ(bench.find("charts/secchi")->rect.y, secchi);
}

TEST_F(Charts, TheTableTellsWhatThePlotsShow) {
  open();
  bench.press("charts/span/cycle");
  ASSERT_TRUE(bench.press("charts/table"));
  EXPECT_EQ(bench.find("charts/oxygen"), nullptr);
  while (bench.press("charts/rows/more")) {
  }
  const PondSeries all = series();
  const UtcOffset offset = bench.app->farm().place.offset;
  const ChartTime time{all.from, kNoon.plus_h(12), offset};
  for (const ChartOf chart : {ChartOf::oxygen, ChartOf::ph}) {
    const Plot plot = plot_of(chart, all, time, day_theme(), words);
    ASSERT_FALSE(plot.bars.empty());
    for (const PlotBar& bar : plot.bars) {
      const CivilDay day = civil_day(Instant{static_cast<std::int64_t>(bar.across)}, offset);
      const std::string line = said("charts/row/" + to_iso(day) + "/" + std::string(name_of(chart)) + "/1");
      for (const double value : {bar.low, bar.high, bar.high - bar.low}) {
        EXPECT_NE(line.find(words.number(value, 1)), std::string::npos) << value << " in " << line;
      }
    }
  }
  const Plot secchi = plot_of(ChartOf::secchi, all, time, day_theme(), words);
  for (const PlotMarks& marks : secchi.many) {
    for (const auto& [across, up] : marks.points) {
      const CivilDay day = civil_day(Instant{static_cast<std::int64_t>(across)}, offset);
      const std::string line = said("charts/row/" + to_iso(day) + "/secchi/1");
      EXPECT_NE(line.find(words.number(up, 0)), std::string::npos) << up << " in " << line;
    }
  }
  std::size_t points = 0;
  for (const PlotMarks& marks : secchi.many) points += marks.points.size();
  EXPECT_EQ(points, 17u);
}

TEST_F(Charts, TheTableIsReadFromTheNewestDayOnAndUnfoldsInSteps) {
  open();
  bench.press("charts/span/cycle");
  bench.press("charts/table");
  const int first = rows();
  EXPECT_GT(first, 7);
  ASSERT_TRUE(bench.press("charts/rows/more"));
  EXPECT_GT(rows(), first);
  const auto& nodes = bench.model().nodes();
  const auto place = [&](std::string_view id) {
    return std::find_if(nodes.begin(), nodes.end(), [&](const Node& node) { return node.id == id; }) -
           nodes.begin();
  };
  EXPECT_LT(place("charts/row/2026-11-25/day"), place("charts/row/2026-11-24/day"));
  EXPECT_LT(place("charts/row/2026-11-24/day"), place("charts/row/2026-11-24/oxygen/1"));
  EXPECT_LT(place("charts/row/2026-11-24/oxygen/1"), place("charts/row/2026-11-24/ph/1"));
  EXPECT_EQ(bench.find("charts/row/2026-11-24/day")->role, NodeRole::heading);
}

TEST_F(Charts, AnEmptyPondSaysWhatToEnterFirst) {
  open(kYoung);
  ASSERT_NE(bench.find("charts/empty"), nullptr);
  EXPECT_EQ(bench.find("charts/oxygen"), nullptr);
  EXPECT_TRUE(bench.press("charts/enter"));
}

TEST_F(Charts, ANewReadingIsThereAtOnce) {
  open();
  Draft draft;
  draft.kind = std::string(kind::kLevelReading);
  draft.pond = std::string(kPond);
  draft.observed = kNoon.plus_min(-5);
  draft.values["level_cm"] = 111.0;
  bench.app->put({draft});
  bench.answer(SaveOutcome::saved);
  EXPECT_NE(said("charts/level").find("last 111 cm today"), std::string::npos) << said("charts/level");
}

TEST(ChartPlots, AMissingDayIsAGap) {
  PondSeries series;
  const Words words = *Words::parse(assets::language("en"));
  const CivilDay first = *civil_day_of({2026, 11, 1});
  for (const int day : {0, 1, 3, 4, 5}) {
    PairedDay one;
    one.day = first.plus(day);
    one.dawn = SeriesReading{instant_at(one.day, 6 * 3600, UtcOffset{}), 4.0 + day, "Ines"};
    series.oxygen.days.push_back(one);
  }
  const ChartTime time{instant_at(first, 0, UtcOffset{}), instant_at(first.plus(7), 0, UtcOffset{}),
                       UtcOffset{}};
  const Plot plot = plot_of(ChartOf::oxygen, series, time, day_theme(), words);
  ASSERT_EQ(plot.lines.size(), 2u);
  EXPECT_EQ(plot.lines[0].points.size(), 2u);
  EXPECT_EQ(plot.lines[1].points.size(), 3u);
  EXPECT_TRUE(plot.bars.empty()) << "no swing without an afternoon";
}

TEST(ChartPlots, LinesAndMarksStandOutFromTheirGround) {
  const Words words = *Words::parse(assets::language("en"));
  for (const Theme& theme : {day_theme(), night_theme()}) {
    PondSeries series;
    series.secchi.bands.push_back({});
    series.secchi.doses.push_back({});
    series.level.planned.push_back({});
    for (const ChartOf chart : kCharts) {
      for (const PlotKey& key : keys_of(chart, series, theme, words)) {
        if (!key.shape && !key.stroke) continue;
        EXPECT_GE(contrast_ratio(key.colour, theme.raised), 4.5) << key.word;
      }
    }
  }
}

TEST(ChartView, StaysInsideAndHoldsThePlaceItWidensAround) {
  constexpr std::int64_t kDay = 86400;
  ChartView view;
  view.set_limits(Instant{0}, Instant{100 * kDay});
  view.show_last(10);
  EXPECT_EQ(view.from().unix_s, 90 * kDay);
  EXPECT_TRUE(view.at_last());
  view.move(5);
  EXPECT_EQ(view.until().unix_s, 100 * kDay);
  view.move(-2);
  EXPECT_EQ(view.from().unix_s, 70 * kDay);
  view.widen(2, 0.25);
  EXPECT_EQ(view.at(0.25).unix_s, static_cast<std::int64_t>(72.5 * kDay));
  view.widen(1e9);
  EXPECT_TRUE(view.at_first());
  EXPECT_TRUE(view.at_last());
  view.widen(1e-9);
  EXPECT_TRUE(view.narrowest());
  EXPECT_EQ(view.until().unix_s - view.from().unix_s, 2 * kDay);
  view.set_limits(Instant{0}, Instant{kDay});
  EXPECT_EQ(view.until().unix_s - view.from().unix_s, 2 * kDay)
      << "a cycle of one day is shown with room before it";
}

}  // namespace
}  // namespace tawny::ui
