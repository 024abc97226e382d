#include "protocol/windows.h"

#include <string>

#include "protocol/history.h"

namespace tawny {
namespace {

std::int64_t minutes(const Protocol& protocol, std::string_view window, std::string_view value) {
  std::string path = "windows.";
  path.append(window).append(".").append(value);
  return static_cast<std::int64_t>(protocol.number(path));
}

Window by_sun(const Protocol& protocol, std::string_view name, Instant start, Instant end) {
  return Window{start.plus_min(minutes(protocol, name, "from_min")),
                end.plus_min(minutes(protocol, name, "until_min"))};
}

Window by_clock(const Protocol& protocol, std::string_view name, CivilDay day, UtcOffset offset) {
  const Instant midnight = instant_at(day, 0, offset);
  return Window{midnight.plus_min(minutes(protocol, name, "clock_from_min")),
                midnight.plus_min(minutes(protocol, name, "clock_until_min"))};
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

Result<DayWindows> windows_of(CivilDay day, const FarmPlace& place, const Protocol& protocol) {
  const Result<SunDay> sun = sun_day(day, place.latitude_deg, place.longitude_deg, place.offset);
  if (!sun) return tl::unexpected<Problem>(sun.error());
  DayWindows windows;
  windows.day = day;
  windows.sun = *sun;
  if (place.windows_by_clock) {
    windows.dawn = by_clock(protocol, "dawn", day, place.offset);
    windows.dose = by_clock(protocol, "dose", day, place.offset);
    windows.peak = by_clock(protocol, "peak", day, place.offset);
    windows.afternoon = by_clock(protocol, "afternoon", day, place.offset);
  } else {
    windows.dawn = by_sun(protocol, "dawn", sun->sunrise, sun->sunrise);
    windows.dose = by_sun(protocol, "dose", sun->sunrise, sun->sunrise);
    windows.peak = by_sun(protocol, "peak", sun->solar_noon, sun->solar_noon);
    windows.afternoon = by_sun(protocol, "afternoon", sun->solar_noon, sun->sunset);
  }
  return windows;
}

}  // namespace tawny
