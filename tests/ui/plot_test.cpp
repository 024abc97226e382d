#include "ui/drawings/plot.h"

#include <gtest/gtest.h>

#include <cmath>

#include "assets.h"
#include "ui/bench.h"
#include "ui/raster.h"

namespace tawny::ui {
namespace {

PlotPoints noise(int count) {
  PlotPoints points;
  std::uint32_t seed = 7;
  for (int i = 0; i < count; ++i) {
    seed = seed * 1664525u + 1013904223u;
    points.emplace_back(i, static_cast<double>(seed >> 16) / 65536.0);
  }
  return points;
}

TEST(PlotThin, NoExtremeIsLost) {
  PlotPoints points = noise(20000);
  points[12345].second = 9;
  points[777].second = -9;
  const int columns = 300;
  const PlotPoints thin = thin_line(points, 0, 19999, columns);
  EXPECT_LE(thin.size(), 4u * columns);
  std::vector<double> low(columns, 1e9), high(columns, -1e9), thin_low = low, thin_high = high;
  const auto column = [&](double across) {
    return std::min(columns - 1, static_cast<int>(across / 19999 * columns));
  };
  for (const auto& [across, up] : points) {
    auto& lowest = low[static_cast<std::size_t>(column(across))];
    auto& highest = high[static_cast<std::size_t>(column(across))];
    lowest = std::min(lowest, up);
    highest = std::max(highest, up);
  }
  for (const auto& [across, up] : thin) {
    auto& lowest = thin_low[static_cast<std::size_t>(column(across))];
    auto& highest = thin_high[static_cast<std::size_t>(column(across))];
    lowest = std::min(lowest, up);
    highest = std::max(highest, up);
  }
  EXPECT_EQ(low, thin_low);
  EXPECT_EQ(high, thin_high);
  EXPECT_TRUE(std::is_sorted(thin.begin(), thin.end()));
}

TEST(PlotThin, FewPointsStayAsTheyAre) {
  const PlotPoints points = noise(20);
  EXPECT_EQ(thin_line(points, 0, 19, 300), points);
  EXPECT_EQ(thin_points(points, 0, 19, 300).size(), points.size());
}

TEST(PlotThin, ALineGoesOnToItsNeighboursOutside) {
  const PlotPoints points = noise(100);
  const PlotPoints seen = thin_line(points, 40.5, 50.5, 300);
  EXPECT_EQ(seen.front().first, 40);
  EXPECT_EQ(seen.back().first, 51);
  EXPECT_EQ(thin_points(points, 40.5, 50.5, 300).size(), 10u) << "marks outside are not drawn";
  EXPECT_TRUE(thin_line({}, 0, 1, 300).empty());
}

TEST(PlotThin, MarksOfAColumnKeepItsLowestAndItsHighest) {
  const PlotPoints points = {{0.1, 5}, {0.2, 1}, {0.3, 9}, {0.4, 3}, {5, 2}};
  const std::vector<std::size_t> kept = thin_points(points, 0, 10, 10);
  EXPECT_EQ(kept, (std::vector<std::size_t>{1, 2, 4}));
}

TEST(PlotAxis, DaysAreNamedAtTheirNoon) {
  Words words = *Words::parse(assets::language("en"));
  const UtcOffset offset{-300};
  const CivilDay day = *civil_day_of({2026, 11, 20});
  words.set_clock(offset, instant_at(day.plus(2), 3600, offset));
  const PlotAxis axis = day_axis(instant_at(day, 0, offset), instant_at(day.plus(3), 0, offset), words, offset);
  ASSERT_EQ(axis.ticks.size(), 3u);
  EXPECT_EQ(axis.ticks[0].at, static_cast<double>(instant_at(day, 12 * 3600, offset).unix_s));
  EXPECT_EQ(axis.ticks[0].label, "20 Nov");
  EXPECT_EQ(axis.ticks[2].label, "today");
}

TEST(PlotAxis, WhatStaysTheSameIsNamedOnceInTheMiddle) {
  const PlotAxis axis = ends_axis(4, 4, "4 cm", "4 cm");
  ASSERT_EQ(axis.ticks.size(), 1u);
  EXPECT_LT(axis.low, 4);
  EXPECT_GT(axis.high, 4);
}

class PlotPicture : public ::testing::Test {
 protected:
  static constexpr int kWidth = 288, kHeight = 256;
  Raster picture(const Plot& plot, const Theme& theme = day_theme()) {
    Bench bench(kWidth, kHeight);
    bench.set_theme(theme);
    bench.frame([&](Ui& ui) { area_ = draw_plot(ui, Rect{0, 0, kWidth, kHeight}, plot); });
    Raster raster(kWidth, kHeight);
    raster.draw(*ImGui::GetDrawData(), *ImGui::GetIO().Fonts, 1);
    return raster;
  }
  static Plot empty() {
    Plot plot;
    plot.across.high = 10;
    plot.up.high = 10;
    return plot;
  }
  int x(double across) const { return static_cast<int>(area_.x + static_cast<float>(across) / 10 * area_.w); }
  int y(double up) const { return static_cast<int>(area_.y + (1 - static_cast<float>(up) / 10) * area_.h); }
  // Pixels around a place that are of that colour.
  static int count(const Raster& raster, int x, int y, int reach, std::uint32_t colour) {
    int found = 0;
    for (int row = y - reach; row <= y + reach; ++row) {
      for (int column = x - reach; column <= x + reach; ++column) {
        if (column < 0 || row < 0 || column >= kWidth || row >= kHeight) continue;
        if (raster.at(column, row) == colour) ++found;
      }
    }
    return found;
  }
  static std::uint32_t rgb(Colour colour) {
    return (colour & 0xFFu) << 16 | (colour & 0xFF00u) | ((colour >> 16) & 0xFFu);
  }
  Rect area_;
};

TEST_F(PlotPicture, DawnAndAfternoonDifferByShapeNotByColourAlone) {
  const Theme theme = day_theme();
  Plot plot = empty();
  plot.many = {{{{3, 5}}, theme.ink, PlotShape::dot}, {{{7, 5}}, theme.ink, PlotShape::diamond}};
  const Raster raster = picture(plot);
  EXPECT_EQ(raster.at(x(3), y(5)), rgb(theme.ink)) << "filled";
  EXPECT_EQ(raster.at(x(7), y(5)), rgb(theme.raised)) << "hollow";
  EXPECT_GT(count(raster, x(7), y(5), 8, rgb(theme.ink)), 0);
}

TEST_F(PlotPicture, ABarStandsBetweenAPair) {
  const Theme theme = day_theme();
  Plot plot = empty();
  plot.bars = {{5, 2, 8}};
  plot.bar_colour = theme.ink;
  const Raster raster = picture(plot);
  EXPECT_GT(count(raster, x(5), y(5), 2, rgb(theme.ink)), 0);
  EXPECT_EQ(count(raster, x(5), y(9), 2, rgb(theme.ink)), 0);
}

TEST_F(PlotPicture, ADepthGrowsDownwards) {
  const Theme theme = day_theme();
  Plot plot = empty();
  plot.up.downwards = true;
  plot.many = {{{{5, 2}}, theme.ink, PlotShape::dot}};
  const Raster raster = picture(plot);
  EXPECT_EQ(raster.at(x(5), y(8)), rgb(theme.ink));
}

TEST_F(PlotPicture, WhatLiesOutsideTheTimeIsNotDrawn) {
  const Theme theme = day_theme();
  Plot plot = empty();
  const Raster bare = picture(plot);
  plot.many = {{{{-1, 5}, {11, 5}}, theme.ink, PlotShape::dot}};
  plot.marks = {{12, 5, theme.ink, PlotShape::drop, "25 kg"}};
  plot.uprights = {{-3, "1 Bottom", "1"}};
  plot.bars = {{14, 2, 8}};
  plot.bands = {{2, 4, theme.band, "band", 11, 12}};
  const Raster raster = picture(plot);
  for (int row = 0; row < kHeight; ++row) {
    for (int column = 0; column < kWidth; ++column) ASSERT_EQ(raster.at(column, row), bare.at(column, row));
  }
}

TEST_F(PlotPicture, ABandEndsWhereItsStageEnds) {
  const Theme theme = day_theme();
  Plot plot = empty();
  plot.bands = {{4, 6, theme.band, {}, 0, 5}};
  const Raster raster = picture(plot);
  EXPECT_NE(raster.at(x(2.5), y(5)), rgb(theme.raised));
  EXPECT_EQ(raster.at(x(7.5), y(5)), rgb(theme.raised));
}

TEST_F(PlotPicture, AnythingDrawsWithoutHarmInAnySize) {
  const Theme theme = day_theme();
  Plot plot = empty();
  plot.lines = {
      {noise(5000), theme.ink, PlotStroke::dashed, "a label that is wider than the whole plot can be"}};
  plot.many = {{noise(5000), theme.ink, PlotShape::deeper}};
  plot.picked = 5;
  plot.nothing = "Nothing was read in these days.";
  for (const float size : {0.0f, 20.0f, 90.0f, 320.0f}) {
    Bench bench(kWidth, kHeight);
    bench.frame([&](Ui& ui) {
      draw_plot(ui, Rect{0, 0, size, size}, plot);
      draw_plot(ui, Rect{0, 0, size, size}, Plot{});
    });
  }
}

}  // namespace
}  // namespace tawny::ui
