#include "protocol/windows.h"

#include <gtest/gtest.h>

#include <memory>

#include "core/protocol/story.h"

namespace tawny {
namespace {

struct Edge {
  WindowName window;
  std::int64_t from_min, until_min;  // after sunrise, solar noon or sunset as below
  int from_event, until_event;       // 0 sunrise, 1 noon, 2 sunset
};

TEST(Windows, StandBySunriseNoonAndSunset) {
  // protocol: windows by the sun
  const Edge edges[] = {{WindowName::dawn, -60, 60, 0, 0},
                        {WindowName::dose, -45, 150, 0, 0},
                        {WindowName::peak, -120, 120, 1, 1},
                        {WindowName::afternoon, 150, -30, 1, 2}};
  for (const int day : {0, 100, 200, 300}) {
    const auto windows = windows_of(test::day_zero().plus(day), test::place(), test::protocol());
    ASSERT_TRUE(windows);
    const Instant events[] = {windows->sun.sunrise, windows->sun.solar_noon, windows->sun.sunset};
    for (const Edge& edge : edges) {
      EXPECT_EQ(windows->of(edge.window).from, events[edge.from_event].plus_min(edge.from_min));
      EXPECT_EQ(windows->of(edge.window).until, events[edge.until_event].plus_min(edge.until_min));
    }
  }
}

TEST(Windows, HoldBothTheirEdges) {
  const Window window{Instant{100}, Instant{200}};
  EXPECT_FALSE(window.contains(Instant{99}));
  EXPECT_TRUE(window.contains(Instant{100}));
  EXPECT_TRUE(window.contains(Instant{200}));
  EXPECT_FALSE(window.contains(Instant{201}));
}

TEST(Windows, ByTheClockThePeakIsTenToTwo) {
  FarmPlace place = test::place();
  place.windows_by_clock = true;
  const auto windows = windows_of(test::day_zero(), place, test::protocol());
  EXPECT_EQ(to_hh_mm(windows->peak.from, place.offset), "10:00");
  EXPECT_EQ(to_hh_mm(windows->peak.until, place.offset), "14:00");
}

TEST(Windows, WithDaysThatWereReckonedBeforeAreThoseWithout) {
  FarmPlace kept = test::place();
  kept.sun_days = std::make_shared<SunDays>(kept);
  // Another place that took the same days along is not given the first one's sun.
  FarmPlace elsewhere = kept;
  elsewhere.latitude_deg = -30;
  for (const FarmPlace& place : {kept, elsewhere, kept}) {
    FarmPlace plain = place;
    plain.sun_days = nullptr;
    for (int day = 0; day < 400; day += 37) {
      const CivilDay on = test::day_zero().plus(day);
      EXPECT_EQ(windows_of(on, place, test::protocol())->sun, windows_of(on, plain, test::protocol())->sun)
          << day;
    }
  }
}

TEST(Windows, RefuseAPolarNight) {
  FarmPlace place = test::place();
  place.latitude_deg = 71;
  EXPECT_FALSE(windows_of(*parse_civil_day("2026-12-21"), place, test::protocol()));
}

}  // namespace
}  // namespace tawny
