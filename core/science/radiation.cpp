#include "science/radiation.h"

#include <cmath>

namespace tawny {
namespace {

constexpr double kPi = 3.14159265358979323846;

constexpr Range kLatitude{-66, 66, "deg", 0};
constexpr Range kDayOfYear{1, 366, "", 0};
constexpr Range kAltitude{-400, 5000, "m", 0};
constexpr Range kRadiation{0, 60, "mj_m2_d", 1};

struct DayArc {
  double declination_rad = 0;
  double sunset_rad = 0;  // hour angle
};

Result<DayArc> day_arc(double latitude_deg, int day_of_year) {
  TAWNY_REFUSE_OUTSIDE("latitude_deg", latitude_deg, kLatitude);
  TAWNY_REFUSE_OUTSIDE("day_of_year", static_cast<double>(day_of_year), kDayOfYear);
  const double declination = 0.409 * std::sin(2 * kPi * day_of_year / 365 - 1.39);
  return DayArc{declination, std::acos(-std::tan(latitude_deg * kPi / 180) * std::tan(declination))};
}

}  // namespace

Result<double> extraterrestrial_radiation_mj_m2_d(double latitude_deg, int day_of_year) {
  return day_arc(latitude_deg, day_of_year).map([&](const DayArc& arc) {
    const double latitude = latitude_deg * kPi / 180;
    const double distance = 1 + 0.033 * std::cos(2 * kPi * day_of_year / 365);
    return 24 * 60 / kPi * 0.0820 * distance *
           (arc.sunset_rad * std::sin(latitude) * std::sin(arc.declination_rad) +
            std::cos(latitude) * std::cos(arc.declination_rad) * std::sin(arc.sunset_rad));
  });
}

Result<double> daylight_h(double latitude_deg, int day_of_year) {
  return day_arc(latitude_deg, day_of_year).map([](const DayArc& arc) { return 24 * arc.sunset_rad / kPi; });
}

Result<double> daily_radiation_mj_m2_d(double latitude_deg, int day_of_year, double sunshine_h) {
  const Result<double> day_h = daylight_h(latitude_deg, day_of_year);
  if (!day_h) return day_h;
  // Upwards, so that the limit that a person is shown is one that they may give.
  const Range sunshine{0, std::ceil(100 * *day_h) / 100, "h", 2};
  TAWNY_REFUSE_OUTSIDE("sunshine_h", sunshine_h, sunshine);
  return extraterrestrial_radiation_mj_m2_d(latitude_deg, day_of_year).map([&](double top) {
    return (0.25 + 0.50 * sunshine_h / *day_h) * top;
  });
}

Result<double> clear_sky_radiation_mj_m2_d(double latitude_deg, int day_of_year, double altitude_m) {
  TAWNY_REFUSE_OUTSIDE("altitude_m", altitude_m, kAltitude);
  return extraterrestrial_radiation_mj_m2_d(latitude_deg, day_of_year).map([&](double top) {
    return (0.75 + 2e-5 * altitude_m) * top;
  });
}

Result<double> photosynthetic_light_mol_m2_d(double radiation_mj_m2_d) {
  TAWNY_REFUSE_OUTSIDE("radiation_mj_m2_d", radiation_mj_m2_d, kRadiation);
  return 0.45 * 4.57 * radiation_mj_m2_d;
}

}  // namespace tawny
