#include "ui/drawings/drawings.h"

#include <gtest/gtest.h>

#include <functional>

#include "ui/bench.h"
#include "ui/icons.h"
#include "ui/raster.h"

namespace tawny::ui {
namespace {

constexpr int kSize = 200;

// The picture that `draw` makes in a square of 200 px at the top left.
Raster picture(const Theme& theme, const std::function<void(Ui&, Rect)>& draw) {
  Bench bench(kSize, kSize);
  bench.set_theme(theme);
  bench.frame([&](Ui& ui) { draw(ui, Rect{0, 0, kSize, kSize}); });
  Raster raster(kSize, kSize);
  raster.draw(*ImGui::GetDrawData(), *ImGui::GetIO().Fonts, 1);
  return raster;
}

bool differs(const Raster& a, const Raster& b, int x0, int y0, int x1, int y1) {
  for (int y = y0; y < y1; ++y) {
    for (int x = x0; x < x1; ++x) {
      if (a.at(x, y) != b.at(x, y)) return true;
    }
  }
  return false;
}

Raster column(const WaterColumn& water, bool large = false) {
  return picture(day_theme(), [&](Ui& ui, Rect where) { draw_water_column(ui, where, water, large); });
}

TEST(WaterColumn, TheWaterStandsAtItsLevel) {
  WaterColumn low, high;
  low.level_cm = 20;
  high.level_cm = 80;
  low.colour = high.colour = WaterColour::red_brown;
  // A third of the way down the middle of the picture: air over the low water, water in the high one.
  EXPECT_EQ(column(low).at(100, 70), column(WaterColumn{}).at(100, 70));
  EXPECT_NE(column(high).at(100, 70), column(low).at(100, 70));
}

TEST(WaterColumn, TheTintIsThatOfTheColourClass) {
  WaterColumn golden, green;
  golden.level_cm = green.level_cm = 90;
  golden.colour = WaterColour::golden;
  green.colour = WaterColour::dark_green;
  const std::uint32_t gold = column(golden).at(100, 120);
  const std::uint32_t leaf = column(green).at(100, 120);
  EXPECT_GT(gold >> 16, (gold >> 8) & 0xFFu) << "more red than green";
  EXPECT_LT(leaf >> 16, (leaf >> 8) & 0xFFu) << "more green than red";
}

TEST(WaterColumn, ADeeperDiscHangsLower) {
  WaterColumn shallow, deep;
  shallow.level_cm = deep.level_cm = 90;
  shallow.secchi_cm = 20;
  deep.secchi_cm = 60;
  EXPECT_TRUE(differs(column(shallow), column(deep), 90, 100, 110, 190));
}

TEST(WaterColumn, WithoutAReadingNoWaterIsDrawn) {
  WaterColumn unknown, full;
  full.level_cm = 100;
  EXPECT_TRUE(differs(column(unknown), column(full), 90, 60, 110, 180));
}

TEST(WaterColumn, AnythingMissingOrOutsideDrawsWithoutHarm) {
  for (const double level : {-50.0, 0.0, 100.0, 400.0}) {
    for (const double secchi : {0.0, 55.0, 500.0}) {
      WaterColumn water;
      water.level_cm = level;
      water.secchi_cm = secchi;
      water.secchi_on_bottom = secchi > 100;
      water.coming_high_cm = 120;
      water.band_low_cm = 45;
      water.band_high_cm = 55;
      water.full_cm = water.lowest_cm;
      column(water, true);
    }
  }
}

DayWindows a_day() {
  const Instant rise{1795645920};
  DayWindows day;
  day.sun = {rise, rise.plus_min(355), rise.plus_min(710)};
  day.dawn = {rise.plus_min(-60), rise.plus_min(60)};
  day.dose = {rise.plus_min(-45), rise.plus_min(150)};
  day.peak = {rise.plus_min(235), rise.plus_min(475)};
  day.afternoon = {rise.plus_min(505), rise.plus_min(680)};
  return day;
}

TEST(SunLine, NowMovesTheSun) {
  const DayWindows day = a_day();
  const auto at = [&](int minutes) {
    return picture(day_theme(), [&](Ui& ui, Rect where) {
      draw_sun_line(ui, where, day, day.sun.sunrise.plus_min(minutes), {});
    });
  };
  EXPECT_TRUE(differs(at(60), at(600), 20, 0, 90, 120));
  at(-3000);
  at(3000);
}

TEST(SunLine, ManyTicksStayOnTheLine) {
  const DayWindows day = a_day();
  std::vector<SunLineTick> ticks;
  for (int i = 0; i < 400; ++i)
    ticks.push_back({day.dawn.from, i % 2 == 0 ? DueState::missed : DueState::done});
  picture(night_theme(), [&](Ui& ui, Rect where) { draw_sun_line(ui, where, day, day.sun.solar_noon, ticks); });
}

TEST(Lanes, TheBinsShareIsMarked) {
  const std::vector<Lane> lanes = {{0, 10, 100, 10, 1}, {100, 30, 0, 30, 2}};
  const auto of_bin = [&](int bin) {
    return picture(day_theme(), [&](Ui& ui, Rect where) { draw_lanes(ui, where, 100, 40, lanes, bin); });
  };
  EXPECT_TRUE(differs(of_bin(1), of_bin(2), 20, 60, 180, 140));
}

TEST(BinStep, TheThreeStepsLookDifferent) {
  const auto step = [](int number) {
    return picture(day_theme(), [&](Ui& ui, Rect where) { draw_bin_step(ui, where, number, 0.8); });
  };
  EXPECT_TRUE(differs(step(1), step(2), 0, 0, kSize, kSize));
  EXPECT_TRUE(differs(step(2), step(3), 0, 0, kSize, kSize));
}

// What the widgets themselves and the screens ask for by name.
TEST(Icons, AllThatAreAskedForAreThere) {
  for (const char* name :
       {"app",   "rounds", "ponds",       "bin",        "logbook",   "office",   "back",   "next",   "oxygen",
        "disc",  "level",  "thermometer", "sky-bright", "sky-mixed", "sky-dull", "screen", "bottom", "gate",
        "scoop", "boat",   "check",       "close",      "plus",      "minus",    "delete", "edit",   "undo",
        "share", "import", "warning",     "clock",      "person",    "note",     "colour", "grazer", "worm",
        "clam",  "flask",  "settings",    "sun",        "moon"}) {
    EXPECT_NE(find_icon(name), nullptr) << name;
  }
  EXPECT_EQ(find_icon("nothing"), nullptr);
}

TEST(Icons, StayOnTheirGrid) {
  for (const Icon& icon : all_icons()) {
    for (int i = 0; i < icon.count; ++i) {
      for (int p = 0; p < 2 * icon.strokes[i].points; ++p) {
        EXPECT_GE(icon.strokes[i].xy[p], 0.5f) << icon.name;
        EXPECT_LE(icon.strokes[i].xy[p], 23.5f) << icon.name;
      }
    }
  }
}

}  // namespace
}  // namespace tawny::ui
