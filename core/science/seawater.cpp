#include "science/seawater.h"

#include <cmath>

namespace tawny {
namespace {

constexpr Range kTemperature{-2, 40, "c", 1};
constexpr Range kSalinity{0, 42, "", 1};

}  // namespace

Result<double> seawater_density_kg_m3(double temperature_c, double salinity) {
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  TAWNY_REFUSE_OUTSIDE("salinity", salinity, kSalinity);
  const double t = 1.00024 * temperature_c;
  const double s = salinity;
  const double pure =
      999.842594 +
      t * (6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
  const double linear = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
  const double three_halves = -5.72466e-3 + t * (1.0227e-4 + t * -1.6546e-6);
  return pure + s * linear + s * std::sqrt(s) * three_halves + 4.8314e-4 * s * s;
}

}  // namespace tawny
