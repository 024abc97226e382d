#include "science/oxygen.h"

#include <cmath>

namespace tawny {
namespace {

constexpr Range kTemperature{0, 40, "c", 1};
constexpr Range kSalinity{0, 40, "", 1};
constexpr Range kPressure{0.5, 1.1, "atm", 2};
constexpr Range kAltitude{-400, 5000, "m", 0};

}  // namespace

Result<double> oxygen_saturation_mg_l(double temperature_c, double salinity, double pressure_atm) {
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  TAWNY_REFUSE_OUTSIDE("salinity", salinity, kSalinity);
  TAWNY_REFUSE_OUTSIDE("pressure_atm", pressure_atm, kPressure);
  const double t = temperature_c;
  const double kelvin = t + 273.15;
  const double x = 1 / kelvin;
  const double fresh =
      std::exp(-139.34411 + x * (1.575701e5 + x * (-6.642308e7 + x * (1.243800e10 - x * 8.621949e11))));
  const double salt = std::exp(-salinity * (0.017674 + x * (-10.754 + x * 2140.7)));
  const double vapour = std::exp(11.8571 + x * (-3840.70 - x * 216961));
  const double theta = 0.000975 + t * (-1.426e-5 + t * 6.436e-8);
  const double pressure = (pressure_atm - vapour) * (1 - theta * pressure_atm) / ((1 - vapour) * (1 - theta));
  return fresh * salt * pressure;
}

Result<double> pressure_at_altitude_atm(double altitude_m) {
  TAWNY_REFUSE_OUTSIDE("altitude_m", altitude_m, kAltitude);
  return 101.3 * std::pow((293 - 0.0065 * altitude_m) / 293, 5.26) / 101.325;
}

}  // namespace tawny
