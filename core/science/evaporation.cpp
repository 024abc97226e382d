#include "science/evaporation.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "science/oxygen.h"
#include "science/radiation.h"

namespace tawny {
namespace {

constexpr Range kTemperature{-10, 50, "c", 1};
constexpr Range kHumidity{1, 100, "percent", 0};
constexpr Range kWind{0, 40, "m_s", 1};
constexpr Range kWindHeight{0.5, 100, "m", 1};
constexpr Range kGroundHeat{-5, 5, "mj_m2_d", 2};
constexpr Range kFactor{0.5, 2, "", 2};
constexpr Range kPan{0, 40, "mm_d", 1};
constexpr Range kPanCoefficient{0.3, 1.2, "", 2};
constexpr double kAtmosphere_kpa = 101.325;

double saturation_kpa(double temperature_c) {
  return 0.6108 * std::exp(17.27 * temperature_c / (temperature_c + 237.3));
}

// What is asked for once, by either of two numbers.
std::optional<Problem> not_one_of(const std::optional<double>& one, std::string_view one_name,
                                  const std::optional<double>& other, std::string_view other_name) {
  if (one.has_value() != other.has_value()) return std::nullopt;
  const std::string keys = std::string(one_name) + ", " + std::string(other_name);
  const bool none = !one.has_value();
  return Problem{none ? ProblemKind::missing : ProblemKind::conflict, std::string(one_name),
                 Message(none ? "problem.one_of_missing" : "problem.one_of_only").with("keys", Text{keys})};
}

Result<double> radiation_of(const DayWeather& weather) {
  if (weather.sunshine_h) {
    return daily_radiation_mj_m2_d(weather.latitude_deg, weather.day_of_year, *weather.sunshine_h);
  }
  const Result<double> top = extraterrestrial_radiation_mj_m2_d(weather.latitude_deg, weather.day_of_year);
  if (!top) return top;
  const Range radiation{0, *top, "mj_m2_d", 1};
  TAWNY_REFUSE_OUTSIDE("radiation_mj_m2_d", *weather.radiation_mj_m2_d, radiation);
  return *weather.radiation_mj_m2_d;
}

Result<double> vapour_pressure_of(const DayWeather& weather, double saturation) {
  if (weather.humidity_percent) {
    TAWNY_REFUSE_OUTSIDE("humidity_percent", *weather.humidity_percent, kHumidity);
    return *weather.humidity_percent / 100 * saturation;
  }
  const Range pressure{0, saturation, "kpa", 3};
  TAWNY_REFUSE_OUTSIDE("vapour_pressure_kpa", *weather.vapour_pressure_kpa, pressure);
  return *weather.vapour_pressure_kpa;
}

}  // namespace

Result<Evaporation> evaporation(const DayWeather& weather, double open_water_factor) {
  TAWNY_REFUSE_OUTSIDE("temperature_low_c", weather.temperature_low_c, kTemperature);
  const Range high{weather.temperature_low_c, kTemperature.high, "c", 1};
  TAWNY_REFUSE_OUTSIDE("temperature_high_c", weather.temperature_high_c, high);
  TAWNY_REFUSE_OUTSIDE("wind_m_s", weather.wind_m_s, kWind);
  TAWNY_REFUSE_OUTSIDE("wind_height_m", weather.wind_height_m, kWindHeight);
  TAWNY_REFUSE_OUTSIDE("ground_heat_mj_m2_d", weather.ground_heat_mj_m2_d, kGroundHeat);
  TAWNY_REFUSE_OUTSIDE("open_water_factor", open_water_factor, kFactor);
  if (auto problem = not_one_of(weather.humidity_percent, "humidity_percent", weather.vapour_pressure_kpa,
                                "vapour_pressure_kpa")) {
    return tl::unexpected<Problem>(*std::move(problem));
  }
  if (auto problem =
          not_one_of(weather.radiation_mj_m2_d, "radiation_mj_m2_d", weather.sunshine_h, "sunshine_h")) {
    return tl::unexpected<Problem>(*std::move(problem));
  }
  const Result<double> pressure_atm = pressure_at_altitude_atm(weather.altitude_m);
  if (!pressure_atm) return tl::unexpected<Problem>(pressure_atm.error());
  const Result<double> radiation = radiation_of(weather);
  if (!radiation) return tl::unexpected<Problem>(radiation.error());
  const Result<double> clear_sky =
      clear_sky_radiation_mj_m2_d(weather.latitude_deg, weather.day_of_year, weather.altitude_m);
  if (!clear_sky) return tl::unexpected<Problem>(clear_sky.error());

  const double low_c = weather.temperature_low_c;
  const double high_c = weather.temperature_high_c;
  const double mean_c = (low_c + high_c) / 2;
  const double saturation = (saturation_kpa(low_c) + saturation_kpa(high_c)) / 2;
  const Result<double> vapour = vapour_pressure_of(weather, saturation);
  if (!vapour) return tl::unexpected<Problem>(vapour.error());

  Evaporation out;
  out.radiation_mj_m2_d = *radiation;
  out.clear_sky_radiation_mj_m2_d = *clear_sky;
  out.vapour_pressure_kpa = *vapour;
  out.saturation_pressure_kpa = saturation;
  out.wind_at_2_m_s = weather.wind_m_s * 4.87 / std::log(67.8 * weather.wind_height_m - 5.42);

  const double clearness = std::clamp(*radiation / *clear_sky, 0.3, 1.0);
  const double emitted = 4.903e-9 * (std::pow(high_c + 273.16, 4) + std::pow(low_c + 273.16, 4)) / 2;
  out.net_long_wave_mj_m2_d = emitted * (0.34 - 0.14 * std::sqrt(*vapour)) * (1.35 * clearness - 0.35);
  out.net_radiation_mj_m2_d = 0.77 * *radiation - out.net_long_wave_mj_m2_d;

  const double slope = 4098 * saturation_kpa(mean_c) / ((mean_c + 237.3) * (mean_c + 237.3));
  const double psychrometric = 0.665e-3 * *pressure_atm * kAtmosphere_kpa;
  const double wind = out.wind_at_2_m_s;
  out.reference_mm_d = (0.408 * slope * (out.net_radiation_mj_m2_d - weather.ground_heat_mj_m2_d) +
                        psychrometric * 900 / (mean_c + 273) * wind * (saturation - *vapour)) /
                       (slope + psychrometric * (1 + 0.34 * wind));
  out.open_water_mm_d = open_water_factor * out.reference_mm_d;
  return out;
}

Result<double> pond_evaporation_from_pan_mm_d(double pan_mm_d, double pan_coefficient) {
  TAWNY_REFUSE_OUTSIDE("pan_mm_d", pan_mm_d, kPan);
  TAWNY_REFUSE_OUTSIDE("pan_coefficient", pan_coefficient, kPanCoefficient);
  return pan_coefficient * pan_mm_d;
}

}  // namespace tawny
