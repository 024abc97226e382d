#include "science/gates.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tawny {
namespace {

constexpr double kGravity_m_s2 = 9.80665;

constexpr Range kWidth{0.05, 50, "m", 2};
constexpr Range kOpening{0.01, 10, "m", 2};
constexpr Range kDiameter{0.02, 5, "m", 2};
constexpr Range kHead{-30, 30, "m", 2};
constexpr Range kCoefficient{0.3, 1, "", 2};

// Critical depth over head, where nothing holds the water back: of a flat sill; of a round invert while shallow, and a
// little less where it is fuller. With less than that a pipe would pass more when the lower side rises.
constexpr double kFlatShare = 2.0 / 3;
constexpr double kRoundShare = 3.0 / 4;

// Of an opening `height_m` high whose cross-section up to a depth is `area_m2(depth_m)`.
template <typename Area>
OpeningFlow opening_flow(double height_m, double critical_share, const Area& area_m2, double head_up_m,
                         double head_down_m, double coefficient) {
  const double high_m = std::max(0.0, std::max(head_up_m, head_down_m));
  const double low_m = std::max(0.0, std::min(head_up_m, head_down_m));
  OpeningFlow out;
  if (!(high_m > 0)) return out;
  const double depth_m = std::min(height_m, std::max(critical_share * high_m, low_m));
  out.drowned = low_m > depth_m / 2;
  if (depth_m < height_m) {
    out.regime = FlowRegime::weir;
  } else {
    out.regime = out.drowned ? FlowRegime::drowned : FlowRegime::free;
  }
  const double fall_m = high_m - std::max(low_m, depth_m / 2);
  out.flow_m3_s = coefficient * area_m2(depth_m) * std::sqrt(2 * kGravity_m_s2 * fall_m);
  if (head_down_m > head_up_m) out.flow_m3_s = -out.flow_m3_s;
  return out;
}

}  // namespace

std::string_view name_of(FlowRegime regime) {
  switch (regime) {
    case FlowRegime::dry:
      return "dry";
    case FlowRegime::weir:
      return "weir";
    case FlowRegime::free:
      return "free";
    case FlowRegime::drowned:
      return "drowned";
  }
  return "";
}

Result<OpeningFlow> gate_flow(double width_m, double opening_m, double head_up_m, double head_down_m,
                              double discharge_coefficient) {
  TAWNY_REFUSE_OUTSIDE("width_m", width_m, kWidth);
  TAWNY_REFUSE_OUTSIDE("opening_m", opening_m, kOpening);
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, kHead);
  TAWNY_REFUSE_OUTSIDE("discharge_coefficient", discharge_coefficient, kCoefficient);
  const auto area_m2 = [&](double depth_m) { return width_m * depth_m; };
  return opening_flow(opening_m, kFlatShare, area_m2, head_up_m, head_down_m, discharge_coefficient);
}

Result<OpeningFlow> pipe_flow(double diameter_m, double head_up_m, double head_down_m,
                              double discharge_coefficient) {
  TAWNY_REFUSE_OUTSIDE("diameter_m", diameter_m, kDiameter);
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, kHead);
  TAWNY_REFUSE_OUTSIDE("discharge_coefficient", discharge_coefficient, kCoefficient);
  const auto area_m2 = [&](double depth_m) {
    const double angle = 2 * std::acos(1 - 2 * depth_m / diameter_m);
    return diameter_m * diameter_m / 8 * (angle - std::sin(angle));
  };
  return opening_flow(diameter_m, kRoundShare, area_m2, head_up_m, head_down_m, discharge_coefficient);
}

}  // namespace tawny
