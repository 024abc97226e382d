#include "science/salinity.h"

#include <cmath>
#include <string>

namespace tawny {
namespace {

constexpr Range kTemperature{0, 40, "c", 1};
constexpr Range kConductivity{0, 100, "ms_cm", 2};
constexpr double kHighest = 42;
constexpr double kStandard_ms_cm = 42.914;  // of sea water of salinity 35 at 15 C
constexpr double kSlope_per_c = 0.0191;
constexpr double kHillBelow = 2;

double practical_salinity(double conductivity_ms_cm, double temperature_c) {
  const double t = 1.00024 * temperature_c;
  const double rt = 0.6766097 + t * (2.00564e-2 + t * (1.104259e-4 + t * (-6.9698e-7 + t * 1.0031e-9)));
  const double ratio = conductivity_ms_cm / kStandard_ms_cm / rt;
  const double x = std::sqrt(ratio);
  const double f = (t - 15) / (1 + 0.0162 * (t - 15));
  const double at_15_c = 0.0080 + x * (-0.1692 + x * (25.3851 + x * (14.0941 + x * (-7.0261 + x * 2.7081))));
  const double warmer = 0.0005 + x * (-0.0056 + x * (-0.0066 + x * (-0.0375 + x * (0.0636 - x * 0.0144))));
  const double salinity = at_15_c + f * warmer;
  if (salinity >= kHillBelow) return salinity;
  const double hill_x = 400 * ratio;
  const double root = 10 * x;
  const double corrected =
      salinity - 0.0080 / (1 + hill_x * (1.5 + hill_x)) - 0.0005 * f / (1 + root * (1 + root * (1 + root)));
  return std::fmax(0, corrected);
}

Result<double> on_the_scale(std::string_view parameter, double shown_ms_cm, double salinity) {
  if (salinity <= kHighest) return salinity;
  return refuse(
      ProblemKind::out_of_range, parameter,
      Message("problem.salinity_beyond_scale")
          .with("parameter", Word{"parameter." + std::string(parameter)})
          .with("value", Quantity{shown_ms_cm, kConductivity.decimals, std::string(kConductivity.unit)})
          .with("salinity", Quantity{salinity, 1, {}})
          .with("high", Quantity{kHighest, 0, {}}));
}

}  // namespace

Result<double> salinity_from_conductivity(double conductivity_ms_cm, double temperature_c) {
  TAWNY_REFUSE_OUTSIDE("conductivity_ms_cm", conductivity_ms_cm, kConductivity);
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  return on_the_scale("conductivity_ms_cm", conductivity_ms_cm,
                      practical_salinity(conductivity_ms_cm, temperature_c));
}

Result<double> salinity_from_specific_conductance(double specific_conductance_ms_cm, double temperature_c) {
  TAWNY_REFUSE_OUTSIDE("specific_conductance_ms_cm", specific_conductance_ms_cm, kConductivity);
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  const double conductivity_ms_cm = specific_conductance_ms_cm * (1 + kSlope_per_c * (temperature_c - 25));
  return on_the_scale("specific_conductance_ms_cm", specific_conductance_ms_cm,
                      practical_salinity(conductivity_ms_cm, temperature_c));
}

}  // namespace tawny
