// Moments and days, kept apart: an Instant is a point on the world's clock, a CivilDay is a date at the farm.
//
// A farm keeps one fixed offset from UTC (UtcOffset). Between 1900 and 2200 every function here is exact;
// leap seconds do not exist (Unix time). Nothing here reads a clock: the shell hands in what time it is.
#pragma once

#include <cmath>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.h"

namespace tawny {

struct Instant {
  std::int64_t unix_s = 0;  // seconds since 1970-01-01T00:00:00Z
  auto operator<=>(const Instant&) const = default;
  Instant plus_s(std::int64_t seconds) const { return Instant{unix_s + seconds}; }
  Instant plus_min(std::int64_t minutes) const { return Instant{unix_s + 60 * minutes}; }
  // To the nearest second.
  Instant plus_h(double hours) const {
    return Instant{unix_s + static_cast<std::int64_t>(std::llround(hours * 3600.0))};
  }
};

// Hours from `from` to `to`; negative when `to` is earlier.
inline double hours_between(Instant from, Instant to) {
  return static_cast<double>(to.unix_s - from.unix_s) / 3600.0;
}

struct CivilDay {
  std::int32_t days = 0;  // days since 1970-01-01
  auto operator<=>(const CivilDay&) const = default;
  CivilDay plus(int count) const { return CivilDay{days + count}; }
};

struct UtcOffset {
  std::int32_t minutes = 0;  // east of Greenwich positive; -12 h .. +14 h
  auto operator<=>(const UtcOffset&) const = default;
};

struct YearMonthDay {
  int year = 1970;
  int month = 1;  // 1..12
  int day = 1;    // 1..31
  auto operator<=>(const YearMonthDay&) const = default;
};

// The farm's date at an instant.
CivilDay civil_day(Instant instant, UtcOffset offset);

// Seconds since the farm's midnight, 0..86399.
int second_of_day(Instant instant, UtcOffset offset);

// The instant at `second_of_day` seconds after the farm's midnight of `day`; seconds may lie outside
// 0..86399 and then reach into the neighbour day.
Instant instant_at(CivilDay day, int second_of_day, UtcOffset offset);

YearMonthDay year_month_day(CivilDay day);

// Refuses a date that does not exist, and years outside 1900..2200.
Result<CivilDay> civil_day_of(YearMonthDay date);

// "2026-11-25"; anything else is refused as malformed.
Result<CivilDay> parse_civil_day(std::string_view text);
std::string to_iso(CivilDay day);

// ISO 8601 with seconds and Z, "2026-11-25T10:12:00Z"; anything else is refused as malformed.
Result<Instant> parse_instant(std::string_view text);
std::string to_iso(Instant instant);

// "05:42", the farm's time of day.
std::string to_hh_mm(Instant instant, UtcOffset offset);

}  // namespace tawny
