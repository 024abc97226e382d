#include "dose/lanes.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace tawny {
namespace {

TEST(Lanes, RunParallelThereAndBack) {
  const Result<std::vector<Lane>> lanes = plan_lanes(100, 40, 10, 1);
  ASSERT_TRUE(lanes);
  ASSERT_EQ(lanes->size(), 4u);
  const double ys[] = {5, 15, 25, 35};
  for (std::size_t i = 0; i < 4; ++i) {
    const Lane& lane = (*lanes)[i];
    EXPECT_DOUBLE_EQ(lane.y0, ys[i]);
    EXPECT_DOUBLE_EQ(lane.y1, ys[i]);
    EXPECT_DOUBLE_EQ(lane.x0, i % 2 == 0 ? 0 : 100);
    EXPECT_DOUBLE_EQ(lane.x1, i % 2 == 0 ? 100 : 0);
    EXPECT_EQ(lane.bin, 1);
  }
}

TEST(Lanes, AreCutWhereABinRunsEmpty) {
  // Four lanes for three bins: a lane and a third each.
  const std::vector<Lane> lanes = *plan_lanes(90, 40, 10, 3);
  ASSERT_EQ(lanes.size(), 6u);
  EXPECT_EQ(lanes[0].bin, 1);
  EXPECT_EQ(lanes[1].bin, 1);
  EXPECT_DOUBLE_EQ(lanes[1].x0, 90);
  EXPECT_DOUBLE_EQ(lanes[1].x1, 60);
  EXPECT_EQ(lanes[2].bin, 2);
  EXPECT_DOUBLE_EQ(lanes[2].x0, 60);
  EXPECT_DOUBLE_EQ(lanes[2].x1, 0);
  EXPECT_EQ(lanes[3].bin, 2);
  EXPECT_DOUBLE_EQ(lanes[3].x1, 60);
  EXPECT_EQ(lanes[5].bin, 3);
}

TEST(Lanes, OneLaneServesManyBins) {
  const std::vector<Lane> lanes = *plan_lanes(100, 8, 10, 5);
  ASSERT_EQ(lanes.size(), 5u);
  for (int i = 0; i < 5; ++i) {
    EXPECT_EQ(lanes[static_cast<std::size_t>(i)].bin, i + 1);
    EXPECT_DOUBLE_EQ(lanes[static_cast<std::size_t>(i)].x1, 20.0 * (i + 1));
    EXPECT_DOUBLE_EQ(lanes[static_cast<std::size_t>(i)].y0, 4);
  }
}

TEST(Lanes, NarrowTheSpacingRatherThanLeaveAStrip) {
  const std::vector<Lane> lanes = *plan_lanes(100, 41, 10, 1);
  ASSERT_EQ(lanes.size(), 5u);
  EXPECT_NEAR(lanes[1].y0 - lanes[0].y0, 8.2, 1e-12);
}

TEST(Lanes, RoundingAddsNoLane) {
  EXPECT_EQ(plan_lanes(100, 0.1 * 3 * 100, 10, 1)->size(), 3u);  // 30.000000000000004 m
}

TEST(Lanes, RefusesWhatCannotBe) {
  EXPECT_EQ(plan_lanes(0, 40, 10, 1).error().parameter, "length_m");
  EXPECT_EQ(plan_lanes(100, std::numeric_limits<double>::quiet_NaN(), 10, 1).error().parameter, "width_m");
  EXPECT_EQ(plan_lanes(100, 40, 0, 1).error().parameter, "lane_spacing_m");
  EXPECT_EQ(plan_lanes(100, 40, 10, 0).error().parameter, "bins");
  EXPECT_EQ(plan_lanes(100, 40, 10, 501).error().parameter, "bins");
  EXPECT_EQ(plan_lanes(100, 5000, 1, 1).error().parameter, "lanes");
}

}  // namespace
}  // namespace tawny
