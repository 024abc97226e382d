// The sun at the farm, with no network: when it rises, peaks and sets on a civil day, and how high it stands.
//
//   symbol  meaning                              unit
//   T       Julian centuries since J2000.0       100 * 365.25 d
//   L0, M   mean longitude, mean anomaly         deg
//   lam     apparent longitude                   deg
//   eps     obliquity with nutation              deg
//   dec     declination                          deg
//   EoT     equation of time, sun minus clock    min
//   H       hour angle of the sun on the horizon deg, its centre 90.833 deg from the zenith
//           (0.567 deg of refraction and 0.267 deg of half diameter)
//
//   cos H = cos(90.833) / (cos lat cos dec) - tan lat tan dec
//   noon  = 720 - 4 lon - EoT            minutes of the UTC day, lon east positive
//   rise  = noon - 4 H, set = noon + 4 H, with dec and EoT taken again at the event until it stands still
//
// Range: years 1900 to 2100, latitude -72 to 72 deg.
// Source: Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 25, in the form of the NOAA solar calculator.
// Differs from the SPA of Reda & Andreas (NREL/TP-560-34302) by 7 s at most in its worked case, from public
// almanac codes by 4 s at most at low latitude.
//
// What does not hold: hills, a high walkway and unusual air move the real moment by minutes; the difference
// between UT and UTC is taken as nothing (< 1 s); near the polar circles a second of arc is worth minutes.
#pragma once

#include "base/problem.h"
#include "base/time.h"

namespace tawny {

struct SunDay {
  Instant sunrise, solar_noon, sunset;
  bool operator==(const SunDay&) const = default;
};

// The events around the solar noon that lies closest to the farm's clock noon of `day`: they belong to the
// farm's day even where that day straddles 0 h UTC. Rounded to the second. Refuses a latitude, longitude,
// offset or year out of range, and (kind impossible) a day without sunrise or sunset.
Result<SunDay> sun_day(CivilDay day, double latitude_deg, double longitude_deg, UtcOffset offset);

// Height of the sun's centre over a level horizon, with refraction in standard air (1010 hPa, 10 C); negative
// at night. For drawing: takes what position it is given and refuses nothing.
double solar_elevation_deg(Instant instant, double latitude_deg, double longitude_deg);

// Sundial minus clock, minutes: about -14.2 in mid February, +16.5 in early November.
double equation_of_time_min(Instant instant);

}  // namespace tawny
