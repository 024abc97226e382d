// By hand: sun and light. The day's events and windows, light in the water, radiation, evaporation.
#include "science/sun.h"

#include <cmath>

#include "protocol/history.h"
#include "protocol/windows.h"
#include "reckon/given.h"

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
};

}  // namespace

std::span<const Reckoning> sun_reckonings() { return kRows; }

}  // namespace tawny
