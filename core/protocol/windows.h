// The windows of a day in which a reading or a dose counts: by the farm's sun, or by the clock where a farm
// says so.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string_view>

#include "base/problem.h"
#include "base/time.h"
#include "protocol/protocol.h"
#include "science/sun.h"

namespace tawny {

struct FarmPlace;

enum class WindowName { dawn, dose, peak, afternoon };
// "dawn", ...: the word is "window.<name>".
std::string_view name_of(WindowName window);

struct Window {
  Instant from;
  Instant until;  // still inside
  bool contains(Instant instant) const { return instant >= from && instant <= until; }
};

struct DayWindows {
  CivilDay day;
  SunDay sun;
  Window dawn, dose, peak, afternoon;
  const Window& of(WindowName window) const;
};

// The sun of one place, each day reckoned once: a hundred ponds look at the same days.
class SunDays {
 public:
  explicit SunDays(const FarmPlace& place);
  bool fits(const FarmPlace& place) const;
  // As science's sun_day(). For another place than the one it was made for, the same, but not kept.
  Result<SunDay> of(CivilDay day, const FarmPlace& place);

 private:
  double latitude_deg_, longitude_deg_;
  UtcOffset offset_;
  std::map<CivilDay, Result<SunDay>> known_;
};

// Refuses a place or day for which the sun neither rises nor sets.
Result<DayWindows> windows_of(CivilDay day, const FarmPlace& place, const Protocol& protocol);

}  // namespace tawny
