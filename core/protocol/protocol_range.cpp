#include "protocol/protocol_range.h"

#include <algorithm>
#include <cmath>

namespace tawny {
namespace {

struct UnitRange {
  std::string_view unit;
  Range range;
};
constexpr UnitRange kUnitRanges[] = {
    {"share", {0, 1, "share", 2}},  {"percent", {0, 1000, "percent", 0}},
    {"min", {-720, 720, "min", 0}}, {"min_of_day", {0, 1439, "min_of_day", 0}},
    {"h", {0, 1000, "h", 0}},       {"d", {0, 365, "d", 0}},
    {"weeks", {0, 52, "weeks", 0}}, {"cm", {0, 1000, "cm", 1}},
    {"cm_d", {0, 100, "cm_d", 1}},  {"m", {0, 1000, "m", 1}},
    {"mm_d", {0, 100, "mm_d", 1}},  {"um", {1, 10000, "um", 0}},
    {"kg", {0, 10000, "kg", 1}},    {"kg_ha", {0, 1000, "kg_ha", 1}},
    {"l", {1, 10000, "l", 0}},      {"mg_l", {0, 1000, "mg_l", 2}},
    {"c", {-5, 60, "c", 1}},        {"c_per_h", {0, 20, "c_per_h", 1}},
    {"per_h", {0, 20, "per_h", 1}}, {"per_l", {0, 100000, "per_l", 0}},
    {"m_s", {0, 5, "m_s", 3}},      {"m2", {0, 1000000, "m2", 0}},
};

bool contains(std::string_view path, std::string_view part) {
  return path.find(part) != std::string_view::npos;
}

// Of the paths with a unit of time, or none, those that are counted.
constexpr std::string_view kCounts[] = {"usable.secchi.pairs_enough",
                                        "entry.questioned.same_value_times",
                                        "stage.hold_band.grabs_with_animals",
                                        "stage.hold_band.grabs",
                                        "trouble.drifting.moves",
                                        "trouble.meter.same_times",
                                        "plan.boats",
                                        "plan.bin_crews",
                                        "plan.people",
                                        "plan.people_per_delivery"};

constexpr std::string_view kColours[] = {"clear",       "muddy", "pale_gold",  "golden",   "golden_brown",
                                         "light_green", "green", "dark_green", "red_brown"};
constexpr std::string_view kReadings[] = {"do_mg_l", "ph", "temperature_c", "salinity"};
constexpr std::string_view kAreas[] = {"nominal", "surface"};

struct Order {
  std::string_view low, high;
};
constexpr Order kOrders[] = {
    {"windows.dawn.from_min", "windows.dawn.until_min"},
    {"windows.dose.from_min", "windows.dose.until_min"},
    {"windows.peak.from_min", "windows.peak.until_min"},
    {"windows.dusk.from_min", "windows.dusk.until_min"},
    {"windows.dusk.again_from_min", "windows.dusk.again_until_min"},
    {"windows.dawn.clock_from_min", "windows.dawn.clock_until_min"},
    {"windows.dose.clock_from_min", "windows.dose.clock_until_min"},
    {"windows.peak.clock_from_min", "windows.peak.clock_until_min"},
    {"windows.afternoon.clock_from_min", "windows.afternoon.clock_until_min"},
    {"entry.refused.do_low_mg_l", "entry.refused.do_high_mg_l"},
    {"entry.refused.ph_low", "entry.questioned.ph_low"},
    {"entry.questioned.ph_low", "entry.questioned.ph_high"},
    {"entry.questioned.ph_high", "entry.refused.ph_high"},
    {"entry.refused.temperature_low_c", "entry.refused.temperature_high_c"},
    {"entry.refused.salinity_low", "entry.refused.salinity_high"},
    {"entry.refused.secchi_low_cm", "entry.refused.secchi_high_cm"},
    {"stage.bottom.broadcast_low_kg_ha", "stage.bottom.broadcast_high_kg_ha"},
    {"stage.first_fill.level_low_share", "stage.first_fill.level_high_share"},
    {"stage.first_fill.level_high_share", "stage.second_fill.level_low_share"},
    {"stage.second_fill.level_low_share", "stage.second_fill.level_high_share"},
    {"stage.second_fill.level_high_share", "stage.third_fill.level_low_share"},
    {"stage.third_fill.level_low_share", "stage.third_fill.level_aim_share"},
    {"stage.third_fill.level_aim_share", "stage.third_fill.level_high_share"},
    {"stage.rest.paired_days", "stage.rest.paired_days_of"},
    {"stage.bloom.days_after_dose", "stage.bloom.days_normal"},
    {"stage.bloom.secchi_low_cm", "stage.bloom.secchi_high_cm"},
    {"stage.third_fill.secchi_low_cm", "stage.third_fill.secchi_high_cm"},
    {"stage.hold_band.secchi_low_cm", "stage.hold_band.secchi_high_cm"},
    {"stage.hold_band.secchi_high_cm", "dose.low_up_to_cm"},
    {"stage.hold_band.band_days", "stage.hold_band.band_days_of"},
    {"stage.hold_band.grabs_with_animals", "stage.hold_band.grabs"},
    {"stage.release.ph_low", "stage.release.ph_high"},
    {"stage.release.temperature_low_c", "stage.release.temperature_high_c"},
    {"stage.release.salinity_low", "stage.release.salinity_high"},
    {"dose.low_kg_ha", "dose.middle_kg_ha"},
    {"dose.middle_kg_ha", "dose.high_kg_ha"},
    {"dose.high_kg_ha", "dose.most_at_once_kg_ha"},
    {"dose.low_up_to_cm", "dose.middle_up_to_cm"},
    {"dose.secchi_warn_cm", "stage.hold_band.secchi_low_cm"},
    {"trouble.too_dense.alarm_cm", "trouble.too_dense.secchi_cm"},
    {"stock.dose_every_days", "stock.dose_seldom_days"},
    {"acclimation.young_days", "acclimation.older_days"},
    {"acclimation.older_lowest_salinity", "acclimation.young_lowest_salinity"},
    {"light.secchi_coefficient_low", "light.secchi_coefficient"},
    {"light.secchi_coefficient", "light.secchi_coefficient_high"},
};

Word name_of_path(std::string_view path) { return Word{"protocol." + std::string(path)}; }

Quantity shown(double value, std::string_view unit) {
  if (unit == "share") return Quantity{100 * value, 0, "percent"};
  int decimals = 0;
  double scaled = value;
  while (decimals < 3 && std::abs(scaled - std::round(scaled)) > 1e-6) {
    scaled *= 10;
    ++decimals;
  }
  return Quantity{value, decimals, std::string(unit)};
}

Problem refused(std::string_view message, std::string_view path) {
  return Problem{ProblemKind::out_of_range, "value", Message(message).with("what", name_of_path(path))};
}

bool is_plan_time(std::string_view path) {
  return path.substr(0, 5) == "plan." && path.size() > 2 && path.substr(path.size() - 2) == "_d";
}

}  // namespace

Range range_of(std::string_view path, std::string_view unit) {
  // What cannot be nothing, since something is divided by it or it is counted from.
  if (path.substr(0, 4) == "bin." && unit == "share") return {0.1, 1, "share", 2};
  if (path == "screen.open_share") return {0.01, 1, "share", 2};
  if (path == "light.lit_share") return {0.001, 0.5, "share", 3};
  if (path == "bin.lane_spacing_m") return {1, 200, "m", 0};
  if (path == "bin.lift_kg" || path == "bin.boat_load_kg") return {1, 10000, "kg", 0};
  if (path == "entry.questioned.stock_unit_above_kg") return {1, 10000000, "kg", 0};
  if (path == "screen.approach_velocity_m_s") return {0.001, 5, "m_s", 3};
  if (path == "dose.days_between" || path == "stock.dose_every_days" || path == "stock.dose_seldom_days" ||
      path == "dose.days_over_band" || path.substr(0, 7) == "rounds.") {
    return {1, 365, "d", 0};
  }
  // A stage or a fill may take part of a day, never none of it.
  if (is_plan_time(path)) return {0.1, 365, "d", 1};
  for (const UnitRange& each : kUnitRanges) {
    if (each.unit == unit) return each.range;
  }
  if (contains(path, "ph_") || contains(path, ".ph")) return {0, 14, "", 1};
  if (contains(path, "salinity")) return {0, 100, "", 1};
  if (is_whole(path, unit)) return {1, 1000, "", 0};
  return {0.01, 10, "", 2};  // factors and coefficients
}

bool is_whole(std::string_view path, std::string_view unit) {
  if (is_plan_time(path)) return false;
  if (unit == "d" || unit == "weeks" || unit == "min" || unit == "min_of_day") return true;
  return std::find(std::begin(kCounts), std::end(kCounts), path) != std::end(kCounts);
}

std::vector<std::string> choices_of(std::string_view path) {
  if (path == "dose.area_counted") return {std::begin(kAreas), std::end(kAreas)};
  if (path == "entry.questioned.same_value_keys") return {std::begin(kReadings), std::end(kReadings)};
  if (contains(path, "colours")) return {std::begin(kColours), std::end(kColours)};
  return {};
}

std::optional<Problem> outside_protocol(std::string_view path, const ProtocolValue& value) {
  if (const double* number = std::get_if<double>(&value.value)) {
    const Range range = range_of(path, value.unit);
    if (!std::isfinite(*number) || *number < range.low || *number > range.high) {
      Problem problem = refused("protocol.refused.range", path);
      problem.message.with("value", shown(*number, value.unit))
          .with("low", shown(range.low, value.unit))
          .with("high", shown(range.high, value.unit));
      return problem;
    }
    if (is_whole(path, value.unit) && *number != std::floor(*number)) {
      Problem problem = refused("protocol.refused.whole", path);
      problem.message.with("value", shown(*number, value.unit));
      return problem;
    }
    return std::nullopt;
  }
  const std::vector<std::string> choices = choices_of(path);
  const auto is_choice = [&](const std::string& text) {
    return choices.empty() || std::find(choices.begin(), choices.end(), text) != choices.end();
  };
  if (const std::string* text = std::get_if<std::string>(&value.value)) {
    if (is_choice(*text)) return std::nullopt;
    Problem problem = refused("protocol.refused.choice", path);
    problem.message.with("value", Text{*text});
    return problem;
  }
  if (const auto* list = std::get_if<std::vector<std::string>>(&value.value)) {
    if (list->empty()) return refused("protocol.refused.empty", path);
    for (const std::string& text : *list) {
      if (is_choice(text)) continue;
      Problem problem = refused("protocol.refused.choice", path);
      problem.message.with("value", Text{text});
      return problem;
    }
  }
  return std::nullopt;
}

Quantity quantity_of(const ProtocolValue& value) {
  const double* number = std::get_if<double>(&value.value);
  return shown(number == nullptr ? 0 : *number, value.unit);
}

std::vector<Contradiction> contradictions(const Protocol& protocol) {
  std::vector<Contradiction> found;
  for (const Order& order : kOrders) {
    if (protocol.number(order.low) <= protocol.number(order.high)) continue;
    found.push_back({std::string(order.low), std::string(order.high)});
  }
  return found;
}

Problem problem_of(const Contradiction& contradiction, const Protocol& protocol) {
  Message message("protocol.refused.order");
  message.with("what", name_of_path(contradiction.low))
      .with("value", quantity_of(*protocol.find(contradiction.low)))
      .with("other", name_of_path(contradiction.high))
      .with("limit", quantity_of(*protocol.find(contradiction.high)));
  return Problem{ProblemKind::conflict, "value", std::move(message)};
}

}  // namespace tawny
