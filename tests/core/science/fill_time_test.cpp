#include "science/fill_time.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// [computed: an independent coding]
TEST(FillTime, MatchesTheIndependentValues) {
  EXPECT_NEAR(*fill_time_h(5000, 100, 5000, 0), 13.889, 0.0005);
  EXPECT_NEAR(*fill_time_h(5000, 100, 5000, 10), 13.970, 0.0005);
}

TEST(FillTime, RainShortensIt) {
  EXPECT_LT(*fill_time_h(5000, 100, 5000, -10), *fill_time_h(5000, 100, 5000, 0));
}

TEST(FillTime, IsImpossibleWhenTheLossesTakeAll) {
  // 24 mm/d over 361 m2 is a little more than 0.1 L/s.
  const Result<double> hours = fill_time_h(5000, 0.1, 361, 24);
  ASSERT_FALSE(hours);
  EXPECT_EQ(hours.error().kind, ProblemKind::impossible);
  EXPECT_EQ(hours.error().message.id, "problem.losses_outrun");
  EXPECT_TRUE(fill_time_h(5000, 0.11, 361, 24));
}

TEST(FillTime, RefusesWhatCannotBe) {
  EXPECT_EQ(fill_time_h(-1, 100, 5000, 0).error().parameter, "volume_m3");
  EXPECT_EQ(fill_time_h(5000, 0, 5000, 0).error().parameter, "inflow_l_s");
  EXPECT_EQ(fill_time_h(5000, 100, -1, 0).error().parameter, "area_m2");
  EXPECT_EQ(fill_time_h(5000, 100, 5000, 501).error().parameter, "loss_mm_d");
}

}  // namespace
}  // namespace tawny
