#include "science/light.h"

#include <cmath>

namespace tawny {
namespace {

constexpr Range kSecchi{1, 5000, "cm", 0};
constexpr Range kCoefficient{0.5, 4, "", 2};
constexpr Range kAttenuation{0.01, 400, "per_m", 2};
constexpr Range kShare{0.0001, 1, "share", 4};
constexpr Range kDepth{0, 100, "m", 2};

}  // namespace

Result<double> attenuation_per_m(double secchi_cm, double coefficient) {
  TAWNY_REFUSE_OUTSIDE("secchi_cm", secchi_cm, kSecchi);
  TAWNY_REFUSE_OUTSIDE("coefficient", coefficient, kCoefficient);
  return 100 * coefficient / secchi_cm;
}

Result<double> lit_depth_m(double attenuation_per_m, double share) {
  TAWNY_REFUSE_OUTSIDE("attenuation_per_m", attenuation_per_m, kAttenuation);
  TAWNY_REFUSE_OUTSIDE("share", share, kShare);
  return std::fabs(std::log(share)) / attenuation_per_m;
}

Result<double> mean_light_share(double attenuation_per_m, double depth_m) {
  TAWNY_REFUSE_OUTSIDE("attenuation_per_m", attenuation_per_m, kAttenuation);
  TAWNY_REFUSE_OUTSIDE("depth_m", depth_m, kDepth);
  const double x = attenuation_per_m * depth_m;
  return x == 0 ? 1 : -std::expm1(-x) / x;
}

}  // namespace tawny
