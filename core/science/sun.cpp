#include "science/sun.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace tawny {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kDegree = kPi / 180.0;
constexpr double kHorizonZenithDeg = 90.833;
constexpr double kSecondsPerDay = 86400.0;

constexpr Range kLatitude{-72, 72, "deg", 0};
constexpr Range kLongitude{-180, 180, "deg", 0};
constexpr Range kOffset{-720, 840, "min", 0};
constexpr Range kYear{1900, 2100, "", 0};

struct SunPosition {
  double declination_rad = 0;
  double equation_of_time_min = 0;
};

SunPosition sun_position(double unix_s) {
  const double julian_day = unix_s / kSecondsPerDay + 2440587.5;
  const double t = (julian_day - 2451545.0) / 36525.0;
  const double mean_longitude = std::fmod(280.46646 + t * (36000.76983 + 0.0003032 * t), 360.0) * kDegree;
  const double anomaly = (357.52911 + t * (35999.05029 - 0.0001537 * t)) * kDegree;
  const double e = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);
  const double centre_deg = std::sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t)) +
                            std::sin(2 * anomaly) * (0.019993 - 0.000101 * t) +
                            std::sin(3 * anomaly) * 0.000289;
  const double node = (125.04 - 1934.136 * t) * kDegree;
  const double apparent_longitude =
      mean_longitude + (centre_deg - 0.00569 - 0.00478 * std::sin(node)) * kDegree;
  const double mean_obliquity_deg =
      23.0 + (26.0 + (21.448 - t * (46.815 + t * (0.00059 - 0.001813 * t))) / 60.0) / 60.0;
  const double obliquity = (mean_obliquity_deg + 0.00256 * std::cos(node)) * kDegree;
  const double half_tan = std::tan(obliquity / 2);
  const double y = half_tan * half_tan;
  const double equation_rad = y * std::sin(2 * mean_longitude) - 2 * e * std::sin(anomaly) +
                              4 * e * y * std::sin(anomaly) * std::cos(2 * mean_longitude) -
                              0.5 * y * y * std::sin(4 * mean_longitude) - 1.25 * e * e * std::sin(2 * anomaly);
  return SunPosition{std::asin(std::sin(obliquity) * std::sin(apparent_longitude)), 4 * equation_rad / kDegree};
}

// Nothing when the sun stays above or below the horizon all day.
std::optional<double> horizon_hour_angle_deg(double latitude_rad, double declination_rad) {
  const double cosine =
      std::cos(kHorizonZenithDeg * kDegree) / (std::cos(latitude_rad) * std::cos(declination_rad)) -
      std::tan(latitude_rad) * std::tan(declination_rad);
  if (!(cosine >= -1 && cosine <= 1)) return std::nullopt;
  return std::acos(cosine) / kDegree;
}

double refraction_deg(double elevation_deg) {
  const double h = elevation_deg;
  double arcsec = 0;
  if (h > 85) return 0;
  const double tangent = std::tan(h * kDegree);
  if (h > 5) {
    arcsec = 58.1 / tangent - 0.07 / std::pow(tangent, 3) + 0.000086 / std::pow(tangent, 5);
  } else if (h > -0.575) {
    arcsec = 1735 + h * (-518.2 + h * (103.4 + h * (-12.79 + 0.711 * h)));
  } else {
    arcsec = -20.774 / tangent;
  }
  return arcsec / 3600.0;
}

Instant to_instant(double unix_s) { return Instant{static_cast<std::int64_t>(std::llround(unix_s))}; }

}  // namespace

Result<SunDay> sun_day(CivilDay day, double latitude_deg, double longitude_deg, UtcOffset offset) {
  TAWNY_REFUSE_OUTSIDE("latitude_deg", latitude_deg, kLatitude);
  TAWNY_REFUSE_OUTSIDE("longitude_deg", longitude_deg, kLongitude);
  TAWNY_REFUSE_OUTSIDE("utc_offset_min", static_cast<double>(offset.minutes), kOffset);
  TAWNY_REFUSE_OUTSIDE("year", static_cast<double>(year_month_day(day).year), kYear);

  const double clock_noon_s = static_cast<double>(instant_at(day, 12 * 3600, offset).unix_s);
  const double mean_noon_utc_s = (720.0 - 4.0 * longitude_deg) * 60.0;  // of any UTC day
  // The whole number of days that brings the noon of mean sun time next to the farm's clock noon.
  const double whole_days = std::round((clock_noon_s - mean_noon_utc_s) / kSecondsPerDay);
  const double mean_noon_s = whole_days * kSecondsPerDay + mean_noon_utc_s;

  constexpr int kRounds = 5;  // three are enough at low latitude
  constexpr double kStill_s = 1e-3;
  double noon_s = mean_noon_s;
  for (int i = 0; i < kRounds; ++i) {
    const double last_s = noon_s;
    noon_s = mean_noon_s - 60.0 * sun_position(noon_s).equation_of_time_min;
    if (std::fabs(noon_s - last_s) < kStill_s) break;
  }

  const double latitude_rad = latitude_deg * kDegree;
  double rise_s = noon_s;
  double set_s = noon_s;
  for (int i = 0; i < kRounds; ++i) {
    const double last_rise_s = rise_s;
    const double last_set_s = set_s;
    const SunPosition at_rise = sun_position(rise_s);
    const SunPosition at_set = sun_position(set_s);
    const auto before = horizon_hour_angle_deg(latitude_rad, at_rise.declination_rad);
    const auto after = horizon_hour_angle_deg(latitude_rad, at_set.declination_rad);
    if (!before || !after) {
      return refuse(ProblemKind::impossible, "latitude_deg", Message("problem.no_sunrise").with("day", day));
    }
    rise_s = mean_noon_s - 60.0 * at_rise.equation_of_time_min - 240.0 * *before;
    set_s = mean_noon_s - 60.0 * at_set.equation_of_time_min + 240.0 * *after;
    if (std::fabs(rise_s - last_rise_s) < kStill_s && std::fabs(set_s - last_set_s) < kStill_s) break;
  }
  return SunDay{to_instant(rise_s), to_instant(noon_s), to_instant(set_s)};
}

double solar_elevation_deg(Instant instant, double latitude_deg, double longitude_deg) {
  const SunPosition sun = sun_position(static_cast<double>(instant.unix_s));
  const double utc_min = second_of_day(instant, UtcOffset{0}) / 60.0;
  const double hour_angle = ((utc_min + sun.equation_of_time_min + 4 * longitude_deg) / 4 - 180) * kDegree;
  const double latitude = latitude_deg * kDegree;
  const double sine = std::sin(latitude) * std::sin(sun.declination_rad) +
                      std::cos(latitude) * std::cos(sun.declination_rad) * std::cos(hour_angle);
  const double elevation_deg = std::asin(std::clamp(sine, -1.0, 1.0)) / kDegree;
  return elevation_deg + refraction_deg(elevation_deg);
}

double equation_of_time_min(Instant instant) {
  return sun_position(static_cast<double>(instant.unix_s)).equation_of_time_min;
}

}  // namespace tawny
