#include <gtest/gtest.h>

#include "ui/bench.h"
#include "ui/touch_scroll.h"

namespace tawny::ui {
namespace {

// A page longer than the screen, with a plot in its middle; gathers what the plot was told.
struct Page {
  Rect plot;
  float panned = 0, zoomed = 1;
  std::optional<float> tapped;
  void operator()(Ui& ui) {
    ui.begin_content("page");
    ui.gap(80);
    plot = ui.picture("plot", "Oxygen over ten days", 300);
    const PlotTouch told = ui.plot_touch("plot", plot);
    panned = (panned + told.pan_px - told.centre_px) * told.zoom + told.centre_px;
    zoomed *= told.zoom;
    if (told.tapped_px) tapped = told.tapped_px;
    for (int i = 0; i < 30; ++i) ui.button("b" + std::to_string(i), "Button");
    ui.end_content();
  }
};

// A finger that comes down in the plot's middle, moves in ten steps and lifts.
void drag(Bench& bench, Page& page, float x_px, float y_px) {
  bench.frame(page);
  const float x = page.plot.x + page.plot.w / 2;
  const float y = page.plot.y + page.plot.h / 2;
  bench.finger_at(x, y);
  bench.finger_down();
  for (int i = 0; i < 3; ++i) bench.frame(page);
  for (int i = 1; i <= 10; ++i) {
    bench.finger_at(x + x_px * static_cast<float>(i) / 10, y + y_px * static_cast<float>(i) / 10);
    bench.frame(page);
  }
  for (int i = 0; i < 10; ++i) bench.frame(page);
  bench.finger_up();
  bench.finger_gone();
  for (int i = 0; i < 3; ++i) bench.frame(page);
}

TEST(PlotTouch, ADragAcrossPansThePlotByWhatTheThresholdLeaves) {
  Bench bench;
  Page page;
  bench.frame(page);
  const float before = page.plot.y;
  drag(bench, page, -120, 40);
  EXPECT_NEAR(page.panned, -120 + TouchScroll::threshold_px(true), 1e-3);
  EXPECT_EQ(page.plot.y, before) << "the page stands still";
  EXPECT_FALSE(page.tapped);
}

TEST(PlotTouch, ADragAlongScrollsThePageAndLeavesThePlotAlone) {
  Bench bench;
  Page page;
  bench.frame(page);
  const float before = page.plot.y;
  drag(bench, page, 40, -120);
  EXPECT_EQ(page.panned, 0);
  EXPECT_LT(page.plot.y, before - 80);
  EXPECT_FALSE(page.tapped);
}

TEST(PlotTouch, ADragAcrossStaysAPanWhenItTurns) {
  Bench bench;
  Page page;
  bench.frame(page);
  const float before = page.plot.y;
  bench.finger_at(200, page.plot.y + 100);
  bench.finger_down();
  for (int i = 0; i < 3; ++i) bench.frame(page);
  bench.finger_at(240, page.plot.y + 100);
  bench.frame(page);
  bench.finger_at(240, page.plot.y - 50);
  bench.frame(page);
  bench.finger_up();
  for (int i = 0; i < 30; ++i) bench.frame(page);
  EXPECT_EQ(page.plot.y, before);
}

TEST(PlotTouch, ATapPicksAPlace) {
  Bench bench;
  Page page;
  bench.frame(page);
  bench.tap_at(page.plot.x + 75, page.plot.y + 50, page);
  ASSERT_TRUE(page.tapped);
  EXPECT_NEAR(*page.tapped, 75, 1e-3);
  EXPECT_EQ(page.panned, 0);
}

TEST(PlotTouch, APinchZoomsAboutTheMiddleOfTheFingers) {
  Bench bench;
  Page page;
  bench.frame(page);
  const float x = page.plot.x + 100;
  bench.ui().pinch({x, page.plot.y + 50, x, 0, 1.5f});
  bench.ui().pinch({x, page.plot.y + 50, x, 0, 2.0f});
  bench.frame(page);
  EXPECT_NEAR(page.zoomed, 3, 1e-5);
  EXPECT_NEAR(page.panned, 100 - 300, 1e-3) << "what was under the fingers is still there";
  bench.frame(page);
  EXPECT_NEAR(page.zoomed, 3, 1e-5) << "told once";
}

TEST(PlotTouch, APinchPansWithTheMiddle) {
  Bench bench;
  Page page;
  bench.frame(page);
  const float x = page.plot.x + 100;
  bench.ui().pinch({x, page.plot.y + 50, x + 30, 30, 1});
  bench.frame(page);
  EXPECT_NEAR(page.panned, 30, 1e-3);
}

TEST(PlotTouch, APinchElsewhereIsNotThePlots) {
  Bench bench;
  Page page;
  bench.frame(page);
  bench.ui().pinch({page.plot.x + 100, page.plot.y + page.plot.h + 40, page.plot.x + 100, 30, 2});
  bench.frame(page);
  EXPECT_EQ(page.zoomed, 1);
  EXPECT_EQ(page.panned, 0);
}

}  // namespace
}  // namespace tawny::ui
