// When the page's real elements follow the picture.
#include <gtest/gtest.h>

#include <string>

#include "ui/app_bench.h"

namespace tawny::ui {
namespace {

constexpr Instant kMorning{1795707600};  // 26 November 2026, 10:40 at the demo farm

std::string mirror_now(const AppBench& bench) {
  return bench.app->ui().model().to_json(bench.app->farm().name);
}

TEST(Mirror, WaitsWhileAFingerDragsThePageOrItGlidesAndFollowsAsSoonAsItStands) {
  AppBench bench(kMorning);
  bench.open_demo();
  bench.app->open_tab(Tab::logbook);
  bench.frames(3);
  const std::string at_first = bench.platform.mirrored;
  EXPECT_EQ(at_first, mirror_now(bench));

  const auto move = [&bench](float y) { bench.point(AppBench::Hand::finger, 200, y); };
  move(700);
  bench.down();
  for (float y = 690; y > 640; y -= 10) move(y);
  ASSERT_NE(mirror_now(bench), at_first) << "the page did not move";
  EXPECT_EQ(bench.platform.mirrored, at_first);

  bench.frames(15);  // a slow finger rests on its way, and is still on it
  EXPECT_EQ(bench.platform.mirrored, at_first);
  EXPECT_EQ(bench.app->frames_wanted(), 0) << "frames that show nothing new";
  bench.up();
  ASSERT_FALSE(bench.app->ui().gliding());
  EXPECT_EQ(bench.platform.mirrored, mirror_now(bench));
  EXPECT_NE(bench.platform.mirrored, at_first);

  // Thrown, it glides on, and is told where it comes to rest.
  move(700);
  bench.down();
  for (float y = 690; y > 500; y -= 10) move(y);
  bench.up();
  ASSERT_TRUE(bench.app->ui().gliding());
  const std::string thrown = bench.platform.mirrored;
  bench.frames(5);
  ASSERT_TRUE(bench.app->ui().gliding());
  EXPECT_EQ(bench.platform.mirrored, thrown);
  for (int i = 0; i < 600 && bench.app->ui().gliding(); ++i) bench.frames(1);
  bench.frames(1);
  EXPECT_EQ(bench.platform.mirrored, mirror_now(bench));
  EXPECT_NE(bench.platform.mirrored, thrown);
}

}  // namespace
}  // namespace tawny::ui
