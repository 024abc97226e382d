#include "science/ammonia.h"

#include <cmath>

namespace tawny {
namespace {

constexpr Range kPh{3, 12, "", 2};
constexpr Range kTemperature{0, 40, "c", 1};
constexpr Range kSalinity{0, 40, "", 1};
constexpr Range kTan{0, 500, "mg_l", 2};
constexpr double kFreshBelowSalinity = 1;

double emerson_pka(double temperature_c) { return 0.09018 + 2729.92 / (temperature_c + 273.2); }

double hampson_pka(double temperature_c, double salinity) {
  const double ionic_strength = 19.9273 * salinity / (1000 - 1.005109 * salinity);
  return 9.245 + 0.116 * ionic_strength + 0.0324 * (25 - temperature_c);
}

}  // namespace

Result<double> un_ionized_ammonia_fraction(double ph, double temperature_c, double salinity) {
  TAWNY_REFUSE_OUTSIDE("ph", ph, kPh);
  TAWNY_REFUSE_OUTSIDE("temperature_c", temperature_c, kTemperature);
  TAWNY_REFUSE_OUTSIDE("salinity", salinity, kSalinity);
  const double pka =
      salinity < kFreshBelowSalinity ? emerson_pka(temperature_c) : hampson_pka(temperature_c, salinity);
  return 1 / (1 + std::pow(10.0, pka - ph));
}

Result<double> un_ionized_ammonia_n_mg_l(double tan_mg_l, double ph, double temperature_c, double salinity) {
  TAWNY_REFUSE_OUTSIDE("tan_mg_l", tan_mg_l, kTan);
  const Result<double> fraction = un_ionized_ammonia_fraction(ph, temperature_c, salinity);
  if (!fraction) return fraction;
  return tan_mg_l * *fraction;
}

}  // namespace tawny
