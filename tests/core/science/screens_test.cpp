#include "science/screens.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// 1.0 cfs / 0.33 ft/s = 3.0 ft2 [published: California DFG screening criteria 2000, worked line].
TEST(ScreenArea, MatchesThePublishedWorkedLine) {
  const double area_ft2 = screen_area(28.316847, 0.33 * 0.3048, 0.4, 1)->effective_m2 / (0.3048 * 0.3048);
  EXPECT_NEAR(area_ft2, 3.0, 0.05);
}

// 100 L/s: 1.00 m2 at 0.1 m/s, 1.67 m2 at 0.06 m/s [computed: an independent coding].
TEST(ScreenArea, IsFlowOverApproachVelocity) {
  EXPECT_NEAR(screen_area(100, 0.10, 0.38, 2)->effective_m2, 1.00, 1e-12);
  EXPECT_NEAR(screen_area(100, 0.06, 0.38, 2)->effective_m2, 1.67, 0.005);
}

TEST(ScreenArea, HangsMoreClothForWhatWillClog) {
  const ScreenArea area = *screen_area(100, 0.08, 0.4, 2);
  EXPECT_NEAR(area.effective_m2, 1.25, 1e-12);
  EXPECT_NEAR(area.gross_m2, 2.5, 1e-12);
  EXPECT_NEAR(area.slot_velocity_m_s, 0.2, 1e-12);
  EXPECT_NEAR(area.slot_velocity_clean_m_s, 0.1, 1e-12);
}

// (w / (w + d))^2 [computed: geometry].
TEST(OpenShare, OfASquareWeave) {
  EXPECT_NEAR(*mesh_open_share(200, 125), 0.379, 0.0005);
  EXPECT_NEAR(*mesh_open_share(500, 250), 0.444, 0.0005);
}

TEST(ScreenArea, RefusesWhatCannotBe) {
  EXPECT_EQ(screen_area(0, 0.1, 0.4, 2).error().parameter, "flow_l_s");
  EXPECT_EQ(screen_area(100, 0, 0.4, 2).error().parameter, "approach_velocity_m_s");
  EXPECT_EQ(screen_area(100, 0.1, 1, 2).error().parameter, "open_share");
  EXPECT_EQ(screen_area(100, 0.1, 0.4, 0.9).error().parameter, "clogging_factor");
  EXPECT_EQ(mesh_open_share(10, 100).error().parameter, "mesh_um");
  EXPECT_EQ(mesh_open_share(200, 5).error().parameter, "wire_um");
}

}  // namespace
}  // namespace tawny
