#include "science/gas_exchange.h"

#include <cmath>

namespace tawny {
namespace {

constexpr Range kTemperature{0, 40, "c", 1};
constexpr Range kSalinity{0, 42, "", 1};
constexpr Range kWind{0, 30, "m_s", 1};
constexpr Range kHeight{0.5, 30, "m", 1};
constexpr Range kDepth{0.05, 10, "m", 2};

constexpr double kSeaSalinity = 35;
constexpr double kMetresPerDay = 0.24;  // of 1 cm/h

}  // namespace

Result<double> schmidt_number_oxygen(double temperature_c, double salinity) {
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  TAWNY_REFUSE_OUTSIDE("salinity", salinity, kSalinity);
  const double t = temperature_c;
  const double fresh = 1745.1 + t * (-124.34 + t * (4.8055 + t * (-0.10115 + t * 0.00086842)));
  const double sea = 1920.4 + t * (-135.6 + t * (5.2122 + t * (-0.10939 + t * 0.00093777)));
  return fresh + (sea - fresh) * salinity / kSeaSalinity;
}

Result<double> wind_at_10_m_m_s(double wind_m_s, double height_m) {
  TAWNY_REFUSE_OUTSIDE("wind_m_s", wind_m_s, kWind);
  TAWNY_REFUSE_OUTSIDE("height_m", height_m, kHeight);
  return wind_m_s * std::pow(10 / height_m, 0.15);
}

Result<double> gas_exchange_600_m_d(double wind_10_m_s) {
  TAWNY_REFUSE_OUTSIDE("wind_10_m_s", wind_10_m_s, kWind);
  return kMetresPerDay * (2.07 + 0.215 * std::pow(wind_10_m_s, 1.7));
}

Result<double> oxygen_exchange_m_d(double temperature_c, double salinity, double wind_10_m_s) {
  const Result<double> schmidt = schmidt_number_oxygen(temperature_c, salinity);
  if (!schmidt) return schmidt;
  const Result<double> k600 = gas_exchange_600_m_d(wind_10_m_s);
  if (!k600) return k600;
  return *k600 / std::sqrt(*schmidt / 600);
}

Result<double> oxygen_exchange_per_h(double temperature_c, double salinity, double wind_10_m_s,
                                     double depth_m) {
  TAWNY_REFUSE_OUTSIDE("depth_m", depth_m, kDepth);
  const Result<double> exchange_m_d = oxygen_exchange_m_d(temperature_c, salinity, wind_10_m_s);
  if (!exchange_m_d) return exchange_m_d;
  return *exchange_m_d / (24 * depth_m);
}

}  // namespace tawny
