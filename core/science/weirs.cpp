#include "science/weirs.h"

#include <algorithm>
#include <cmath>

namespace tawny {
namespace {

constexpr double kGravity_m_s2 = 9.80665;

constexpr Range kHead{-30, 30, "m", 2};
constexpr Range kWidth{0.05, 50, "m", 2};
constexpr Range kCrestHeight{0.05, 10, "m", 2};
constexpr Range kContractions{0, 2, "", 0};
constexpr Range kCrestCoefficient{0.5, 1.2, "", 2};
constexpr Range kFlumeWidth{0.06, 5, "m", 2};
constexpr Range kShareHead{0, 30, "m", 2};
constexpr Range kExponent{1, 3, "", 1};

double drowned_share(double high_m, double low_m, double exponent) {
  return low_m > 0 ? std::pow(1 - std::pow(low_m / high_m, exponent), 0.385) : 1;
}

struct Fit {
  double least_m, most_m;
};

template <typename Free>
WeirFlow weir_flow(double head_up_m, double head_down_m, double exponent, Fit fit, const Free& free_m3_s) {
  const double high_m = std::max(head_up_m, head_down_m);
  const double low_m = std::min(head_up_m, head_down_m);
  WeirFlow out;
  if (!(high_m > 0)) return out;
  out.drowned = low_m > 0;
  out.drowned_share = drowned_share(high_m, low_m, exponent);
  out.outside_fit = high_m < fit.least_m || high_m > fit.most_m;
  out.flow_m3_s = out.drowned_share * free_m3_s(high_m);
  if (head_down_m > head_up_m) out.flow_m3_s = -out.flow_m3_s;
  return out;
}

}  // namespace

Result<WeirFlow> v_notch_flow(double notch_deg, double head_up_m, double head_down_m) {
  const bool wide = notch_deg == 90;
  if (!wide && notch_deg != 60) {
    return refuse(ProblemKind::unsupported, "notch_deg",
                  Message("problem.notch_angle").with("angle", Quantity{notch_deg, 0, "deg"}));
  }
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, kHead);
  const double coefficient = wide ? 0.578 : 0.576;
  const double added_m = wide ? 0.00085 : 0.0012;
  const double half_tangent = wide ? 1 : 1 / std::sqrt(3.0);
  return weir_flow(head_up_m, head_down_m, 2.5, {0.05, 0.6}, [&](double head_m) {
    return 8.0 / 15 * coefficient * half_tangent * std::sqrt(2 * kGravity_m_s2) *
           std::pow(head_m + added_m, 2.5);
  });
}

Result<WeirFlow> rectangular_weir_flow(double width_m, double crest_height_m, double head_up_m,
                                       double head_down_m) {
  TAWNY_REFUSE_OUTSIDE("width_m", width_m, kWidth);
  TAWNY_REFUSE_OUTSIDE("crest_height_m", crest_height_m, kCrestHeight);
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, kHead);
  return weir_flow(head_up_m, head_down_m, 1.5, {0.03, 2.5 * crest_height_m}, [&](double head_m) {
    return 2.0 / 3 * (0.602 + 0.075 * head_m / crest_height_m) * std::sqrt(2 * kGravity_m_s2) *
           (width_m - 0.0009) * std::pow(head_m + 0.001, 1.5);
  });
}

Result<WeirFlow> contracted_weir_flow(double width_m, int end_contractions, double head_up_m,
                                      double head_down_m) {
  TAWNY_REFUSE_OUTSIDE("width_m", width_m, kWidth);
  TAWNY_REFUSE_OUTSIDE("end_contractions", end_contractions, kContractions);
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, kHead);
  const double lost_width_per_head = 0.1 * end_contractions;
  const double high_m = std::max(head_up_m, head_down_m);
  if (lost_width_per_head * high_m >= width_m) {
    return refuse(ProblemKind::impossible, "head_up_m",
                  Message("problem.contractions_close")
                      .with("head", Quantity{high_m, 2, "m"})
                      .with("width", Quantity{width_m, 2, "m"}));
  }
  return weir_flow(head_up_m, head_down_m, 1.5, {0.03, width_m / 3}, [&](double head_m) {
    return 1.838 * (width_m - lost_width_per_head * head_m) * std::pow(head_m, 1.5);
  });
}

Result<WeirFlow> broad_crested_weir_flow(double width_m, double crest_coefficient, double head_up_m,
                                         double head_down_m) {
  TAWNY_REFUSE_OUTSIDE("width_m", width_m, kWidth);
  TAWNY_REFUSE_OUTSIDE("crest_coefficient", crest_coefficient, kCrestCoefficient);
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, kHead);
  return weir_flow(head_up_m, head_down_m, 1.5, {0.05, kHead.high}, [&](double head_m) {
    return crest_coefficient * std::sqrt(kGravity_m_s2) * width_m * std::pow(2.0 / 3 * head_m, 1.5);
  });
}

Result<WeirFlow> open_flume_flow(double width_m, double head_up_m, double head_down_m) {
  TAWNY_REFUSE_OUTSIDE("width_m", width_m, kFlumeWidth);
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, kHead);
  const double coefficient = width_m < 0.10 ? 0.0160 : width_m <= 0.15 ? 0.0164 : 0.0166;
  // From L/s of centimetres to m3/s of metres: 100 x 100^1.5 / 1000.
  return weir_flow(head_up_m, head_down_m, 1.5, {0.05, kHead.high},
                   [&](double head_m) { return 100 * coefficient * width_m * std::pow(head_m, 1.5); });
}

Result<double> villemonte_share(double head_up_m, double head_down_m, double exponent) {
  TAWNY_REFUSE_OUTSIDE("head_up_m", head_up_m, kShareHead);
  TAWNY_REFUSE_OUTSIDE("head_down_m", head_down_m, (Range{0, head_up_m, "m", 2}));
  TAWNY_REFUSE_OUTSIDE("exponent", exponent, kExponent);
  return drowned_share(head_up_m, head_down_m, exponent);
}

}  // namespace tawny
