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

double clegg_whitfield_pka(double temperature_c, double salinity) {
  const double kelvin = temperature_c + 273.15;
  const double root = std::sqrt(kelvin);
  const double x = 1 / kelvin;
  const double s_half = std::sqrt(salinity);
  const double s_2 = salinity * salinity;
  return 9.244605 - 2729.33 * (1 / 298.15 - x) + (0.04203362 - 11.24742 * x) * std::sqrt(s_half) +
         (-13.6416 + 1.176949 * root - 0.02860785 * kelvin + 545.4834 * x) * s_half +
         (-0.1462507 + 0.0090226468 * root - 0.0001471361 * kelvin + 10.5425 * x) * salinity * s_half +
         (0.004669309 - 0.0001691742 * root - 0.5677934 * x) * s_2 +
         (-2.354039e-5 + 0.009698623 * x) * s_2 * s_half - std::log10(1 - 0.001005 * salinity);
}

std::optional<Problem> outside_water(double ph, double temperature_c, double salinity) {
  if (auto problem = outside("ph", ph, kPh)) return problem;
  if (auto problem = outside("temperature_c", temperature_c, kTemperature)) return problem;
  return outside("salinity", salinity, kSalinity);
}

double fraction_at(double pka, double ph) { return 1 / (1 + std::pow(10.0, pka - ph)); }

}  // namespace

Result<double> un_ionized_ammonia_fraction(double ph, double temperature_c, double salinity) {
  if (auto problem = outside_water(ph, temperature_c, salinity)) return tl::unexpected<Problem>(*problem);
  const double pka =
      salinity < kFreshBelowSalinity ? emerson_pka(temperature_c) : hampson_pka(temperature_c, salinity);
  return fraction_at(pka, ph);
}

Result<double> un_ionized_ammonia_fraction_total_scale(double ph, double temperature_c, double salinity) {
  if (auto problem = outside_water(ph, temperature_c, salinity)) return tl::unexpected<Problem>(*problem);
  return fraction_at(clegg_whitfield_pka(temperature_c, salinity), ph);
}

Result<double> un_ionized_ammonia_n_mg_l(double tan_mg_l, double ph, double temperature_c, double salinity) {
  TAWNY_REFUSE_OUTSIDE("tan_mg_l", tan_mg_l, kTan);
  const Result<double> fraction = un_ionized_ammonia_fraction(ph, temperature_c, salinity);
  if (!fraction) return fraction;
  return tan_mg_l * *fraction;
}

}  // namespace tawny
