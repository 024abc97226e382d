// A farm of any size for the tests of screens.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "logbook/kinds.h"
#include "logbook/logbook.h"

namespace tawny::ui {

// Lines of a farm with the ponds "Pond 001" to "Pond 200", set up three days before `now`: every third rests,
// every third waits at its bottom, every third has no cycle.
inline std::string many_ponds(int count, Instant now) {
  std::string lines;
  DeviceChain chain{"farm", "office", 0, 0, std::string(64, '0')};
  const auto tell = [&](std::string_view kind, const std::string& pond, Instant at, Values values) {
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = pond;
    draft.who = "Ines";
    draft.observed = at;
    draft.values = std::move(values);
    lines += seal(draft, at, chain)->line + "\n";
  };
  const Instant start = now.plus_h(-72);
  tell(kind::kFarmSetup, "", start,
       {{"name", std::string("Heron Bend")},
        {"latitude_deg", -2.2},
        {"longitude_deg", -79.9},
        {"utc_offset_min", -300.0}});
  tell(kind::kDeviceSetup, "", start, {{"person", std::string("Ines")}, {"role", std::string("manager")}});
  for (int number = 1; number <= count; ++number) {
    const std::string digits = std::to_string(1000 + number).substr(1);
    const std::string pond = "p" + digits;
    tell(kind::kPondSetup, pond, start,
         {{"name", "Pond " + digits},
          {"walk_order", static_cast<double>(number)},
          {"build", std::string("earthen")},
          {"nominal_area_ha", 1.0},
          {"inlets", std::vector<std::string>{"gate"}},
          {"bottom_length_m", 100.0},
          {"bottom_width_m", 100.0},
          {"depth_m", 1.2},
          {"bank_slope", 0.0}});
    if (number % 3 == 0) continue;
    tell(kind::kCycleStart, pond, start, {{"cycle", std::string("A")}});
    if (number % 3 == 1) continue;
    tell(kind::kGatePassed, pond, start.plus_min(1), {{"stage", 1.0}, {"reason", std::string("seen")}});
    tell(kind::kLevelReading, pond, start.plus_min(number), {{"level_cm", 30.0}});
  }
  return lines;
}

}  // namespace tawny::ui
