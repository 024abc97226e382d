#include "science/weirs.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tawny {
namespace {

// ISO 1438 form with Ce and kh from memory [computed: an independent coding], beside the cone formula
// 2.49 h^2.48 (ft, cfs) of the USBR [computed: an independent coding].
TEST(VNotch, Of90DegreesMatchesTheIsoForm) {
  struct Row {
    double head_m, iso_l_s, cone_l_s;
  };
  const Row rows[] = {
      {0.05, 0.796, 0.797}, {0.10, 4.410, 4.445}, {0.20, 24.682, 24.799}, {0.30, 67.776, 67.787}};
  for (const Row& row : rows) {
    const double flow_l_s = 1000 * v_notch_flow(90, row.head_m, 0)->flow_m3_s;
    EXPECT_NEAR(flow_l_s, row.iso_l_s, 0.0006) << row.head_m;
    EXPECT_NEAR(flow_l_s / row.cone_l_s, 1, 0.008) << row.head_m;
  }
}

// 796.7 H^2.5 L/s, heads in feet [published: a table after ASTM D5242]; ISO form [computed: an independent
// coding].
TEST(VNotch, Of60DegreesLiesNearTheFieldTable) {
  struct Row {
    double head_ft, table_l_s, iso_l_s;
  };
  const Row rows[] = {{0.20, 0.7310, 0.757}, {0.25, 1.277, 1.309}, {0.30, 2.014, 2.052}};
  for (const Row& row : rows) {
    const double flow_l_s = 1000 * v_notch_flow(60, 0.3048 * row.head_ft, 0)->flow_m3_s;
    EXPECT_NEAR(flow_l_s, row.iso_l_s, 0.0006) << row.head_ft;
    EXPECT_NEAR(flow_l_s / row.table_l_s, 1, 0.036) << row.head_ft;
  }
}

TEST(VNotch, OfAnotherAngleIsRefused) {
  for (const double angle : {45.0, 89.9, 120.0, 0.0}) {
    const Result<WeirFlow> flow = v_notch_flow(angle, 0.2, 0);
    ASSERT_FALSE(flow) << angle;
    EXPECT_EQ(flow.error().kind, ProblemKind::unsupported);
    EXPECT_EQ(flow.error().message.id, "problem.notch_angle");
  }
}

// Kindsvater & Carter, from memory, b 1 m, P 0.5 m, beside Rehbock [computed: an independent coding].
TEST(RectangularWeir, MatchesTheIndependentValues) {
  struct Row {
    double head_m, flow_m3_s, rehbock_m3_s;
  };
  const Row rows[] = {{0.1, 0.05842, 0.05880}, {0.2, 0.16800, 0.16925}, {0.3, 0.31517, 0.31811}};
  for (const Row& row : rows) {
    const double flow_m3_s = rectangular_weir_flow(1, 0.5, row.head_m, 0)->flow_m3_s;
    EXPECT_NEAR(flow_m3_s, row.flow_m3_s, 6e-6) << row.head_m;
    EXPECT_NEAR(flow_m3_s / row.rehbock_m3_s, 1, 0.0095) << row.head_m;
  }
}

// 9.2519 m3/s, head 0.9 m over a crest 0.6 m high and 5 m wide, by Ackers [published: Cengel & Cimbala's
// example].
TEST(RectangularWeir, LiesNearAckersAtATallHead) {
  const double ackers = 0.564 * (1 + 0.150 * 0.9 / 0.6) * 5 * std::sqrt(9.80665) * std::pow(0.9 + 0.001, 1.5);
  EXPECT_NEAR(ackers, 9.2519, 5e-5);
  EXPECT_NEAR(rectangular_weir_flow(5, 0.6, 0.9, 0)->flow_m3_s / ackers, 1, 0.026);
}

// Francis, from memory: worked by hand.
TEST(ContractedWeir, LosesATenthOfTheHeadAtEachSide) {
  EXPECT_NEAR(contracted_weir_flow(1, 0, 0.25, 0)->flow_m3_s, 1.838 * 0.125, 1e-12);
  EXPECT_NEAR(contracted_weir_flow(1, 1, 0.25, 0)->flow_m3_s, 1.838 * 0.975 * 0.125, 1e-12);
  EXPECT_NEAR(contracted_weir_flow(1, 2, 0.25, 0)->flow_m3_s, 1.838 * 0.95 * 0.125, 1e-12);
  const Result<WeirFlow> closed = contracted_weir_flow(0.5, 2, 2.5, 0);
  ASSERT_FALSE(closed);
  EXPECT_EQ(closed.error().kind, ProblemKind::impossible);
  EXPECT_EQ(closed.error().message.id, "problem.contractions_close");
}

// 1.705 Cd b h^1.5, from memory.
TEST(BroadCrest, PassesWhatCriticalDepthAllows) {
  EXPECT_NEAR(broad_crested_weir_flow(1, 1, 1, 0)->flow_m3_s, 1.705, 0.0006);
  EXPECT_NEAR(broad_crested_weir_flow(3, 0.9, 0.25, 0)->flow_m3_s, 1.7046 * 0.9 * 3 * 0.125, 1e-4);
}

// FAO ADCP/REP/84/21, ch. 8, example 3: 150 L/s through an inlet 30 cm wide under a head of 45 cm [published].
TEST(OpenFlume, MatchesTheFaoExample) {
  const double flow_l_s = 1000 * open_flume_flow(0.30, 0.45, 0)->flow_m3_s;
  EXPECT_NEAR(flow_l_s, 150, 0.4);
  EXPECT_NEAR(flow_l_s, 150.33, 0.005);  // [computed: an independent coding]
}

TEST(OpenFlume, TakesTheCoefficientOfItsWidth) {
  const auto coefficient = [](double width_m) {
    return 1000 * open_flume_flow(width_m, 0.25, 0)->flow_m3_s / (100 * width_m * 125);
  };
  EXPECT_NEAR(coefficient(0.08), 0.0160, 1e-9);
  EXPECT_NEAR(coefficient(0.10), 0.0164, 1e-9);
  EXPECT_NEAR(coefficient(0.15), 0.0164, 1e-9);
  EXPECT_NEAR(coefficient(0.16), 0.0166, 1e-9);
  EXPECT_EQ(open_flume_flow(0.05, 0.25, 0).error().parameter, "width_m");
}

// (1 - (h2/h1)^1.5)^0.385, from memory: worked by hand.
TEST(Villemonte, IsOneWhenFreeAndNothingWhenLevel) {
  EXPECT_EQ(*villemonte_share(0.4, 0, 1.5), 1);
  EXPECT_EQ(*villemonte_share(0.4, 0.4, 1.5), 0);
  EXPECT_NEAR(*villemonte_share(0.4, 0.2, 1.5), std::pow(1 - std::sqrt(0.125), 0.385), 1e-12);
  EXPECT_NEAR(*villemonte_share(0.4, 0.2, 2.5), std::pow(1 - std::sqrt(1.0 / 32), 0.385), 1e-12);
  double before = 1;
  for (int i = 1; i <= 100; ++i) {
    const double share = *villemonte_share(1, i / 100.0, 1.5);
    EXPECT_LT(share, before);
    before = share;
  }
}

using AnyWeir = Result<WeirFlow> (*)(double up_m, double down_m);

constexpr AnyWeir kWeirs[] = {
    [](double up, double down) { return v_notch_flow(60, up, down); },
    [](double up, double down) { return v_notch_flow(90, up, down); },
    [](double up, double down) { return rectangular_weir_flow(1, 0.5, up, down); },
    [](double up, double down) { return contracted_weir_flow(1, 2, up, down); },
    [](double up, double down) { return broad_crested_weir_flow(1, 0.9, up, down); },
    [](double up, double down) { return open_flume_flow(0.3, up, down); },
};

TEST(Weirs, PassTheirShareWhenDrowned) {
  const double exponents[] = {2.5, 2.5, 1.5, 1.5, 1.5, 1.5};
  for (std::size_t i = 0; i < std::size(kWeirs); ++i) {
    const WeirFlow free = *kWeirs[i](0.3, -0.1);
    EXPECT_FALSE(free.drowned) << i;
    EXPECT_EQ(free.drowned_share, 1) << i;
    const WeirFlow drowned = *kWeirs[i](0.3, 0.2);
    EXPECT_TRUE(drowned.drowned) << i;
    EXPECT_NEAR(drowned.flow_m3_s / free.flow_m3_s, *villemonte_share(0.3, 0.2, exponents[i]), 1e-12) << i;
    EXPECT_EQ(kWeirs[i](0.2, 0.3)->flow_m3_s, -drowned.flow_m3_s) << i;
  }
}

TEST(Weirs, PassNothingUnderTheirCrest) {
  for (const AnyWeir weir : kWeirs) {
    for (const double up_m : {0.0, -0.2}) {
      const WeirFlow flow = *weir(up_m, -0.5);
      EXPECT_EQ(flow.flow_m3_s, 0);
      EXPECT_FALSE(flow.outside_fit);
    }
  }
}

TEST(Weirs, TellWhenTheHeadIsOutsideTheFit) {
  EXPECT_TRUE(v_notch_flow(90, 0.04, 0)->outside_fit);
  EXPECT_FALSE(v_notch_flow(90, 0.05, 0)->outside_fit);
  EXPECT_TRUE(v_notch_flow(90, 0.7, 0)->outside_fit);
  EXPECT_TRUE(rectangular_weir_flow(1, 0.1, 0.3, 0)->outside_fit);
  EXPECT_TRUE(rectangular_weir_flow(1, 0.5, 0.02, 0)->outside_fit);
  EXPECT_TRUE(contracted_weir_flow(0.6, 2, 0.25, 0)->outside_fit);
  EXPECT_TRUE(broad_crested_weir_flow(1, 0.9, 0.04, 0)->outside_fit);
  for (const AnyWeir weir : kWeirs) EXPECT_FALSE(weir(0.3, 0)->outside_fit);
}

TEST(Weirs, RefuseWhatCannotBe) {
  for (const AnyWeir weir : kWeirs) {
    EXPECT_EQ(weir(31, 0).error().parameter, "head_up_m");
    EXPECT_EQ(weir(1, -31).error().parameter, "head_down_m");
    EXPECT_EQ(weir(std::nan(""), 0).error().parameter, "head_up_m");
  }
  EXPECT_EQ(rectangular_weir_flow(0, 0.5, 0.2, 0).error().parameter, "width_m");
  EXPECT_EQ(rectangular_weir_flow(1, 0, 0.2, 0).error().parameter, "crest_height_m");
  EXPECT_EQ(contracted_weir_flow(1, 3, 0.2, 0).error().parameter, "end_contractions");
  EXPECT_EQ(broad_crested_weir_flow(1, 0.4, 0.2, 0).error().parameter, "crest_coefficient");
  EXPECT_EQ(villemonte_share(0.2, 0.3, 1.5).error().parameter, "head_down_m");
  EXPECT_EQ(villemonte_share(0.2, 0.1, 0.5).error().parameter, "exponent");
}

}  // namespace
}  // namespace tawny
