// By hand: sun and light. The day's events and windows, light in the water, radiation, evaporation.
#include "science/sun.h"

#include <cmath>

#include "base/time.h"
#include "protocol/history.h"
#include "protocol/windows.h"
#include "reckon/given.h"
#include "science/evaporation.h"
#include "science/light.h"
#include "science/radiation.h"

namespace tawny {
namespace {

using Kind = ReckonInput::Kind;

std::string two_digits(int number) {
  const std::string text = std::to_string(number);
  return text.size() < 2 ? "0" + text : text;
}

std::string hh_mm_ss(Instant instant, UtcOffset offset) {
  const int second = second_of_day(instant, offset);
  return two_digits(second / 3600) + ":" + two_digits(second / 60 % 60) + ":" + two_digits(second % 60);
}

Result<ReckonAnswer> reckon_sun(const ReckonGiven& given) {
  FarmPlace place;
  place.latitude_deg = given.number("latitude_deg");
  place.longitude_deg = given.number("longitude_deg");
  place.offset = UtcOffset{static_cast<std::int32_t>(std::lround(60 * given.number("utc_offset_h")))};
  TAWNY_RECKON_TAKE(windows, windows_of(given.day("date"), place, given.protocol()));
  const SunDay& sun = windows.sun;
  ReckonResults results(given);
  results.put("sunrise", hh_mm_ss(sun.sunrise, place.offset))
      .put("solar_noon", hh_mm_ss(sun.solar_noon, place.offset))
      .put("sunset", hh_mm_ss(sun.sunset, place.offset))
      .put("day_length_h", hours_between(sun.sunrise, sun.sunset))
      .put("noon_elevation_deg", solar_elevation_deg(sun.solar_noon, place.latitude_deg, place.longitude_deg));
  for (const WindowName name : {WindowName::dawn, WindowName::dose, WindowName::peak, WindowName::afternoon}) {
    const Window& window = windows.of(name);
    results.put("window_" + std::string(name_of(name)),
                to_hh_mm(window.from, place.offset) + "-" + to_hh_mm(window.until, place.offset));
  }
  return results.done();
}

// Of `date` or `day_of_year`.
Result<int> day_of_year(const ReckonGiven& given) {
  const auto number = given.maybe("day_of_year");
  if (!number) {
    const CivilDay day = given.day("date");
    TAWNY_RECKON_TAKE(new_year, civil_day_of({year_month_day(day).year, 1, 1}));
    return day.days - new_year.days + 1;
  }
  if (*number == std::floor(*number)) return static_cast<int>(*number);
  return refuse(ProblemKind::malformed, "day_of_year",
                Message("problem.not_whole").with("parameter", Word{"parameter.day_of_year"}));
}

Result<ReckonAnswer> reckon_light(const ReckonGiven& given) {
  const double secchi_cm = given.number("secchi_cm");
  const double lit_share = given.protocol().number("light.lit_share");
  TAWNY_RECKON_TAKE(attenuation, attenuation_per_m(secchi_cm, given.number("coefficient")));
  TAWNY_RECKON_TAKE(lit_m, lit_depth_m(attenuation, lit_share));
  ReckonResults results(given);
  results.put("attenuation_per_m", attenuation).put("lit_depth_m", lit_m);
  // The published coefficients spread: murky first, since there the lit depth is least.
  TAWNY_RECKON_TAKE(murky,
                    attenuation_per_m(secchi_cm, given.protocol().number("light.secchi_coefficient_high")));
  TAWNY_RECKON_TAKE(clear,
                    attenuation_per_m(secchi_cm, given.protocol().number("light.secchi_coefficient_low")));
  TAWNY_RECKON_TAKE(least_m, lit_depth_m(murky, lit_share));
  TAWNY_RECKON_TAKE(most_m, lit_depth_m(clear, lit_share));
  results.put("lit_depth_low_m", least_m).put("lit_depth_high_m", most_m);
  if (const auto depth_m = given.maybe("depth_m")) {
    TAWNY_RECKON_TAKE(mean_share, mean_light_share(attenuation, *depth_m));
    results.put("mean_light_share", mean_share);
  }
  return results.done();
}

Result<ReckonAnswer> reckon_radiation(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(day, day_of_year(given));
  const double latitude_deg = given.number("latitude_deg");
  TAWNY_RECKON_TAKE(extraterrestrial, extraterrestrial_radiation_mj_m2_d(latitude_deg, day));
  TAWNY_RECKON_TAKE(daylight, daylight_h(latitude_deg, day));
  TAWNY_RECKON_TAKE(clear_sky, clear_sky_radiation_mj_m2_d(latitude_deg, day, given.number("altitude_m")));
  ReckonResults results(given);
  double on_ground = clear_sky;
  if (const auto sunshine_h = given.maybe("sunshine_h")) {
    TAWNY_RECKON_TAKE(radiation, daily_radiation_mj_m2_d(latitude_deg, day, *sunshine_h));
    on_ground = radiation;
    results.put("radiation_mj_m2_d", radiation);
  }
  TAWNY_RECKON_TAKE(light_mol, photosynthetic_light_mol_m2_d(on_ground));
  results.put("clear_sky_radiation_mj_m2_d", clear_sky)
      .put("extraterrestrial_radiation_mj_m2_d", extraterrestrial)
      .put("daylight_h", daylight)
      .put("photosynthetic_light_mol_m2_d", light_mol);
  return results.done();
}

Result<ReckonAnswer> reckon_evaporation(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(day, day_of_year(given));
  DayWeather weather;
  weather.temperature_low_c = given.number("temperature_low_c");
  weather.temperature_high_c = given.number("temperature_high_c");
  weather.humidity_percent = given.maybe("humidity_percent");
  weather.vapour_pressure_kpa = given.maybe("vapour_pressure_kpa");
  weather.wind_m_s = given.number("wind_m_s");
  weather.wind_height_m = given.number("wind_height_m");
  weather.radiation_mj_m2_d = given.maybe("radiation_mj_m2_d");
  weather.sunshine_h = given.maybe("sunshine_h");
  weather.latitude_deg = given.number("latitude_deg");
  weather.day_of_year = day;
  weather.altitude_m = given.number("altitude_m");
  TAWNY_RECKON_TAKE(taken, evaporation(weather, given.number("open_water_factor")));
  return ReckonResults(given)
      .put("open_water_mm_d", taken.open_water_mm_d)
      .put("reference_mm_d", taken.reference_mm_d)
      .put("net_radiation_mj_m2_d", taken.net_radiation_mj_m2_d)
      .put("radiation_mj_m2_d", taken.radiation_mj_m2_d)
      .done();
}

Result<ReckonAnswer> reckon_pan(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(pond_mm_d,
                    pond_evaporation_from_pan_mm_d(given.number("pan_mm_d"), given.number("pan_coefficient")));
  return ReckonResults(given).put("open_water_mm_d", pond_mm_d).done();
}

constexpr Range kRadiationLatitude_deg{-66, 66, "deg", 4};
constexpr Range kSunshine_h{0, 24, "h", 1};
constexpr ReckonInput kDate = either_input("date", Kind::day, "day");
constexpr ReckonInput kDayOfYear = either_number("day_of_year", {1, 366, "", 0}, "day", true);

constexpr ReckonInput kLightInputs[] = {
    number_input("secchi_cm", {1, 400, "cm", 1}),
    protocol_number("coefficient", {0.5, 4, "", 2}, "light.secchi_coefficient"),
    optional_number("depth_m", kDepth_m),
};
constexpr ReckonResult kLightResults[] = {
    {"attenuation_per_m", "per_m", 2}, {"lit_depth_m", "m", 2},          {"lit_depth_low_m", "m", 2},
    {"lit_depth_high_m", "m", 2},      {"mean_light_share", "share", 2},
};

constexpr ReckonInput kRadiationInputs[] = {
    number_input("latitude_deg", kRadiationLatitude_deg),
    kDate,
    kDayOfYear,
    optional_number("sunshine_h", kSunshine_h),
    number_or("altitude_m", kAltitude_m, 0),
};
constexpr ReckonResult kRadiationResults[] = {
    {"radiation_mj_m2_d", "mj_m2_d", 1},
    {"clear_sky_radiation_mj_m2_d", "mj_m2_d", 1},
    {"extraterrestrial_radiation_mj_m2_d", "mj_m2_d", 1},
    {"daylight_h", "h", 1},
    {"photosynthetic_light_mol_m2_d", "mol_m2_d", 0},
};

constexpr ReckonInput kEvaporationInputs[] = {
    number_input("latitude_deg", kRadiationLatitude_deg),
    kDate,
    kDayOfYear,
    number_input("temperature_low_c", {-10, 50, "c", 1}),
    number_input("temperature_high_c", {-10, 50, "c", 1}),
    either_number("humidity_percent", {1, 100, "percent", 0}, "damp", true),
    either_number("vapour_pressure_kpa", {0, 10, "kpa", 2}, "damp", true),
    number_input("wind_m_s", {0, 40, "m_s", 1}),
    number_or("wind_height_m", {0.5, 100, "m", 1}, 2),
    either_number("sunshine_h", kSunshine_h, "light", true),
    either_number("radiation_mj_m2_d", {0, 45, "mj_m2_d", 1}, "light", true),
    number_or("altitude_m", kAltitude_m, 0),
    protocol_number("open_water_factor", {0.5, 2, "", 2}, "evaporation.open_water_factor"),
};
constexpr ReckonResult kEvaporationResults[] = {
    {"open_water_mm_d", "mm_d", 1},
    {"reference_mm_d", "mm_d", 1},
    {"net_radiation_mj_m2_d", "mj_m2_d", 1},
    {"radiation_mj_m2_d", "mj_m2_d", 1},
};

constexpr ReckonInput kPanInputs[] = {
    number_input("pan_mm_d", {0, 40, "mm_d", 1}),
    protocol_number("pan_coefficient", {0.3, 1.2, "", 2}, "evaporation.pan_coefficient"),
};
constexpr ReckonResult kPanResults[] = {{"open_water_mm_d", "mm_d", 1}};

constexpr ReckonInput kSunInputs[] = {
    number_input("latitude_deg", kLatitude_deg),
    number_input("longitude_deg", {-180, 180, "deg", 4}),
    plain_input("date", Kind::day),
    number_input("utc_offset_h", {-12, 14, "h", 2}),
};
constexpr ReckonResult kSunResults[] = {
    {"sunrise", "", 0, ReckonResult::Kind::text},
    {"solar_noon", "", 0, ReckonResult::Kind::text},
    {"sunset", "", 0, ReckonResult::Kind::text},
    {"day_length_h", "h", 2},
    {"noon_elevation_deg", "deg", 1},
    {"window_dawn", "", 0, ReckonResult::Kind::text},
    {"window_dose", "", 0, ReckonResult::Kind::text},
    {"window_peak", "", 0, ReckonResult::Kind::text},
    {"window_afternoon", "", 0, ReckonResult::Kind::text},
};

constexpr Reckoning kRows[] = {
    {"sun", ReckonGroup::sun, kSunInputs, kSunResults,
     "Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 25, in the form of the NOAA solar calculator; windows: "
     "the "
     "protocol",
     "latitude_deg=10.5 longitude_deg=106.3 date=2026-03-20 utc_offset_h=7", reckon_sun},
    {"light", ReckonGroup::sun, kLightInputs, kLightResults,
     "k = c / Secchi; c 1.44: Holmes 1970 (from memory), range 1.1 to 1.9 by 235 open field pairs; lit down to "
     "1 % "
     "of the light",
     "secchi_cm=50", reckon_light},
    {"radiation", ReckonGroup::sun, kRadiationInputs, kRadiationResults,
     "Allen et al. 1998, FAO Irrigation and Drainage Paper 56, eq. 21 to 37; light for algae: 45 % of it (from "
     "memory)",
     "latitude_deg=10.5 day_of_year=79 sunshine_h=8", reckon_radiation},
    {"evaporation", ReckonGroup::sun, kEvaporationInputs, kEvaporationResults,
     "Allen et al. 1998, FAO Irrigation and Drainage Paper 56, eq. 6; open water 1.05 of it, table 12 (from "
     "memory)",
     "latitude_deg=13.7 date=2026-04-15 temperature_low_c=25.6 temperature_high_c=34.8 "
     "vapour_pressure_kpa=2.85 "
     "wind_m_s=2 sunshine_h=8.5",
     reckon_evaporation},
    {"pan-evaporation", ReckonGroup::sun, kPanInputs, kPanResults,
     "pond = 0.81 of a class A pan: Boyd 1985 (from memory)", "pan_mm_d=6", reckon_pan},
};

}  // namespace

std::span<const Reckoning> sun_reckonings() { return kRows; }

}  // namespace tawny
