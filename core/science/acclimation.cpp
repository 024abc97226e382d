#include "science/acclimation.h"

#include <cmath>

namespace tawny {
namespace {

constexpr Range kTemperature{0, 40, "c", 1};
constexpr Range kSalinity{0, 60, "", 1};
constexpr Range kPh{3, 12, "", 2};
constexpr Range kSalinityRate{0.05, 50, "per_h", 2};
constexpr Range kTemperatureRate{0.05, 20, "c_per_h", 2};
constexpr Range kPhRate{0.01, 5, "per_h", 2};
constexpr Range kTemperatureTotal{0.1, 40, "c", 1};
constexpr double kOldest_days = 60;

}  // namespace

std::string_view name_of(AcclimationLimit limit) {
  switch (limit) {
    case AcclimationLimit::salinity:
      return "salinity";
    case AcclimationLimit::temperature:
      return "temperature";
    case AcclimationLimit::ph:
      return "ph";
    case AcclimationLimit::none:
      break;
  }
  return "none";
}

Result<Acclimation> acclimation(const AcclimationWater& bag, const AcclimationWater& pond,
                                const AcclimationRates& rates, double temperature_total_c) {
  TAWNY_REFUSE_OUTSIDE("bag_temperature_c", bag.temperature_c, kTemperature);
  TAWNY_REFUSE_OUTSIDE("bag_salinity", bag.salinity, kSalinity);
  TAWNY_REFUSE_OUTSIDE("bag_ph", bag.ph, kPh);
  TAWNY_REFUSE_OUTSIDE("pond_temperature_c", pond.temperature_c, kTemperature);
  TAWNY_REFUSE_OUTSIDE("pond_salinity", pond.salinity, kSalinity);
  TAWNY_REFUSE_OUTSIDE("pond_ph", pond.ph, kPh);
  TAWNY_REFUSE_OUTSIDE("salinity_per_h", rates.salinity_per_h, kSalinityRate);
  TAWNY_REFUSE_OUTSIDE("temperature_c_per_h", rates.temperature_c_per_h, kTemperatureRate);
  TAWNY_REFUSE_OUTSIDE("ph_per_h", rates.ph_per_h, kPhRate);
  TAWNY_REFUSE_OUTSIDE("temperature_total_c", temperature_total_c, kTemperatureTotal);
  Acclimation out;
  const double warmer_c = std::fabs(pond.temperature_c - bag.temperature_c);
  out.salinity_h = std::fabs(pond.salinity - bag.salinity) / rates.salinity_per_h;
  out.temperature_h = warmer_c / rates.temperature_c_per_h;
  out.ph_h = std::fabs(pond.ph - bag.ph) / rates.ph_per_h;
  const auto longer = [&out](double hours, AcclimationLimit limit) {
    if (hours <= out.hours) return;
    out.hours = hours;
    out.governs = limit;
  };
  longer(out.salinity_h, AcclimationLimit::salinity);
  longer(out.temperature_h, AcclimationLimit::temperature);
  longer(out.ph_h, AcclimationLimit::ph);
  out.temperature_too_far = warmer_c > temperature_total_c;
  return out;
}

Result<double> pl_lowest_salinity(double pl_age_days, const PlSalinity& rule) {
  const Range young{0, kOldest_days, "d", 0};
  TAWNY_REFUSE_OUTSIDE("young_days", rule.young_days, young);
  const Range older{rule.young_days, kOldest_days, "d", 0};
  TAWNY_REFUSE_OUTSIDE("older_days", rule.older_days, older);
  TAWNY_REFUSE_OUTSIDE("young_lowest", rule.young_lowest, kSalinity);
  TAWNY_REFUSE_OUTSIDE("older_lowest", rule.older_lowest, kSalinity);
  TAWNY_REFUSE_OUTSIDE("pl_age_days", pl_age_days, older);
  return pl_age_days >= rule.older_days ? rule.older_lowest : rule.young_lowest;
}

}  // namespace tawny
