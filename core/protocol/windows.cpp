#include "protocol/windows.h"

#include "protocol/history.h"

namespace tawny {
namespace {

// Where the protocol says how far a window reaches, by the sun and by the clock.
struct Reach {
  std::string_view from, until, clock_from, clock_until;
};
constexpr Reach kDawn{"windows.dawn.from_min", "windows.dawn.until_min", "windows.dawn.clock_from_min",
                      "windows.dawn.clock_until_min"};
constexpr Reach kDose{"windows.dose.from_min", "windows.dose.until_min", "windows.dose.clock_from_min",
                      "windows.dose.clock_until_min"};
constexpr Reach kPeak{"windows.peak.from_min", "windows.peak.until_min", "windows.peak.clock_from_min",
                      "windows.peak.clock_until_min"};
constexpr Reach kAfternoon{"windows.afternoon.from_min", "windows.afternoon.until_min",
                           "windows.afternoon.clock_from_min", "windows.afternoon.clock_until_min"};

std::int64_t minutes(const Protocol& protocol, std::string_view path) {
  return static_cast<std::int64_t>(protocol.number(path));
}

Window by_sun(const Protocol& protocol, const Reach& reach, Instant start, Instant end) {
  return Window{start.plus_min(minutes(protocol, reach.from)), end.plus_min(minutes(protocol, reach.until))};
}

Window by_clock(const Protocol& protocol, const Reach& reach, CivilDay day, UtcOffset offset) {
  const Instant midnight = instant_at(day, 0, offset);
  return Window{midnight.plus_min(minutes(protocol, reach.clock_from)),
                midnight.plus_min(minutes(protocol, reach.clock_until))};
}

}  // namespace

const Window& DayWindows::of(WindowName window) const {
  switch (window) {
    case WindowName::dawn:
      return dawn;
    case WindowName::dose:
      return dose;
    case WindowName::peak:
      return peak;
    case WindowName::afternoon:
      break;
  }
  return afternoon;
}

SunDays::SunDays(const FarmPlace& place)
    : latitude_deg_(place.latitude_deg), longitude_deg_(place.longitude_deg), offset_(place.offset) {}

bool SunDays::fits(const FarmPlace& place) const {
  return place.latitude_deg == latitude_deg_ && place.longitude_deg == longitude_deg_ &&
         place.offset == offset_;
}

Result<SunDay> SunDays::of(CivilDay day, const FarmPlace& place) {
  const auto reckon = [&] { return sun_day(day, place.latitude_deg, place.longitude_deg, place.offset); };
  if (!fits(place)) return reckon();
  const auto known = known_.lower_bound(day);
  if (known != known_.end() && known->first == day) return known->second;
  return known_.emplace_hint(known, day, reckon())->second;
}

Result<DayWindows> windows_of(CivilDay day, const FarmPlace& place, const Protocol& protocol) {
  const Result<SunDay> sun = place.sun_days
                                 ? place.sun_days->of(day, place)
                                 : sun_day(day, place.latitude_deg, place.longitude_deg, place.offset);
  if (!sun) return tl::unexpected<Problem>(sun.error());
  DayWindows windows;
  windows.day = day;
  windows.sun = *sun;
  if (place.windows_by_clock) {
    windows.dawn = by_clock(protocol, kDawn, day, place.offset);
    windows.dose = by_clock(protocol, kDose, day, place.offset);
    windows.peak = by_clock(protocol, kPeak, day, place.offset);
    windows.afternoon = by_clock(protocol, kAfternoon, day, place.offset);
  } else {
    windows.dawn = by_sun(protocol, kDawn, sun->sunrise, sun->sunrise);
    windows.dose = by_sun(protocol, kDose, sun->sunrise, sun->sunrise);
    windows.peak = by_sun(protocol, kPeak, sun->solar_noon, sun->solar_noon);
    windows.afternoon = by_sun(protocol, kAfternoon, sun->solar_noon, sun->sunset);
  }
  return windows;
}

}  // namespace tawny
