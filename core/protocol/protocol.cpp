#include "protocol/protocol.h"

#include <cmath>
#include <map>
#include <utility>

#include "base/json.h"
#include "protocol/protocol_range.h"

namespace tawny {
namespace {

enum class Type { number, list, text };

struct UsedPath {
  std::string_view path;
  Type type;
};

// Every value that the code below and above this floor asks for by name: parse() vouches for these.
constexpr UsedPath kUsedPaths[] = {
    {"windows.dawn.from_min", Type::number},
    {"windows.dawn.until_min", Type::number},
    {"windows.dose.from_min", Type::number},
    {"windows.dose.until_min", Type::number},
    {"windows.peak.from_min", Type::number},
    {"windows.peak.until_min", Type::number},
    {"windows.afternoon.from_min", Type::number},
    {"windows.afternoon.until_min", Type::number},
    {"windows.dusk.from_min", Type::number},
    {"windows.dusk.until_min", Type::number},
    {"windows.dusk.again_from_min", Type::number},
    {"windows.dusk.again_until_min", Type::number},
    {"windows.dawn.clock_from_min", Type::number},
    {"windows.dawn.clock_until_min", Type::number},
    {"windows.dose.clock_from_min", Type::number},
    {"windows.dose.clock_until_min", Type::number},
    {"windows.peak.clock_from_min", Type::number},
    {"windows.peak.clock_until_min", Type::number},
    {"windows.afternoon.clock_from_min", Type::number},
    {"windows.afternoon.clock_until_min", Type::number},
    {"usable.secchi.spread_cm", Type::number},
    {"usable.secchi.spread_share", Type::number},
    {"usable.secchi.pairs_enough", Type::number},
    {"entry.refused.do_low_mg_l", Type::number},
    {"entry.refused.do_high_mg_l", Type::number},
    {"entry.refused.ph_low", Type::number},
    {"entry.refused.ph_high", Type::number},
    {"entry.refused.temperature_low_c", Type::number},
    {"entry.refused.temperature_high_c", Type::number},
    {"entry.refused.salinity_low", Type::number},
    {"entry.refused.salinity_high", Type::number},
    {"entry.refused.secchi_low_cm", Type::number},
    {"entry.refused.secchi_high_cm", Type::number},
    {"entry.questioned.do_percent", Type::number},
    {"entry.questioned.ph_low", Type::number},
    {"entry.questioned.ph_high", Type::number},
    {"entry.questioned.secchi_change_cm", Type::number},
    {"entry.questioned.level_fall_cm", Type::number},
    {"entry.questioned.same_value_times", Type::number},
    {"entry.questioned.same_value_keys", Type::list},
    {"entry.questioned.secchi_unit_below_cm", Type::number},
    {"entry.questioned.level_unit_below_cm", Type::number},
    {"entry.questioned.secchi_inch_below_cm", Type::number},
    {"entry.questioned.do_unit_above_mg_l", Type::number},
    {"entry.questioned.air_unit_below_percent", Type::number},
    {"entry.questioned.salinity_unit_above", Type::number},
    {"entry.questioned.area_unit_below_m2", Type::number},
    {"entry.questioned.stock_unit_above_kg", Type::number},
    {"entry.questioned.unit_near_share", Type::number},
    {"entry.questioned.unit_days", Type::number},
    {"question.reading_days", Type::number},
    {"question.clock_ahead_min", Type::number},
    {"question.clock_behind_days", Type::number},
    {"stage.bottom.dried_days", Type::number},
    {"stage.bottom.broadcast_low_kg_ha", Type::number},
    {"stage.bottom.broadcast_high_kg_ha", Type::number},
    {"stage.bottom.mesh_high_um", Type::number},
    {"stage.bottom.screen_age_days", Type::number},
    {"stage.bottom.source_colours_refused", Type::list},
    {"stage.first_fill.level_low_share", Type::number},
    {"stage.first_fill.level_high_share", Type::number},
    {"stage.rest.rest_h", Type::number},
    {"stage.rest.paired_days", Type::number},
    {"stage.rest.paired_days_of", Type::number},
    {"stage.rest.do_swing_mg_l", Type::number},
    {"stage.rest.ph_swing", Type::number},
    {"stage.rest.colours", Type::list},
    {"stage.second_fill.level_low_share", Type::number},
    {"stage.second_fill.level_high_share", Type::number},
    {"stage.first_dose.rate_kg_ha", Type::number},
    {"stage.first_dose.rate_tolerance_share", Type::number},
    {"stage.bloom.days_after_dose", Type::number},
    {"stage.bloom.days_normal", Type::number},
    {"stage.bloom.secchi_low_cm", Type::number},
    {"stage.bloom.secchi_high_cm", Type::number},
    {"stage.bloom.do_swing_mg_l", Type::number},
    {"stage.bloom.ph_swing", Type::number},
    {"stage.bloom.colours", Type::list},
    {"stage.third_fill.level_low_share", Type::number},
    {"stage.third_fill.level_high_share", Type::number},
    {"stage.third_fill.level_aim_share", Type::number},
    {"stage.third_fill.secchi_low_cm", Type::number},
    {"stage.third_fill.secchi_high_cm", Type::number},
    {"stage.hold_band.secchi_low_cm", Type::number},
    {"stage.hold_band.secchi_high_cm", Type::number},
    {"stage.hold_band.band_days", Type::number},
    {"stage.hold_band.band_days_of", Type::number},
    {"stage.hold_band.copepods_per_l", Type::number},
    {"stage.hold_band.grabs_with_animals", Type::number},
    {"stage.hold_band.grabs", Type::number},
    {"stage.release.dawn_do_mg_l", Type::number},
    {"stage.release.dawn_do_days", Type::number},
    {"stage.release.ph_low", Type::number},
    {"stage.release.ph_high", Type::number},
    {"stage.release.ph_swing", Type::number},
    {"stage.release.ph_swing_stocked", Type::number},
    {"stage.release.temperature_low_c", Type::number},
    {"stage.release.temperature_high_c", Type::number},
    {"stage.release.salinity_low", Type::number},
    {"stage.release.salinity_high", Type::number},
    {"stage.release.ammonia_n_mg_l", Type::number},
    {"stage.release.alkalinity_mg_l", Type::number},
    {"stage.release.reading_age_days", Type::number},
    {"stage.release.look_age_days", Type::number},
    {"stage.release.level_share", Type::number},
    {"stage.early_cycle.weeks", Type::number},
    {"dose.products_allowed", Type::list},
    {"dose.area_counted", Type::text},
    {"dose.days_between", Type::number},
    {"dose.days_over_band", Type::number},
    {"dose.low_kg_ha", Type::number},
    {"dose.middle_kg_ha", Type::number},
    {"dose.high_kg_ha", Type::number},
    {"dose.low_up_to_cm", Type::number},
    {"dose.middle_up_to_cm", Type::number},
    {"dose.most_at_once_kg_ha", Type::number},
    {"dose.secchi_warn_cm", Type::number},
    {"dose.secchi_age_days", Type::number},
    {"dose.sky_age_days", Type::number},
    {"dose.double_within_h", Type::number},
    {"trouble.current_days", Type::number},
    {"trouble.clear.secchi_cm", Type::number},
    {"trouble.clear.days_after_dose", Type::number},
    {"trouble.clear.dose_kg_ha", Type::number},
    {"trouble.flat.do_swing_mg_l", Type::number},
    {"trouble.flat.ph_swing", Type::number},
    {"trouble.flat.days", Type::number},
    {"trouble.too_dense.secchi_cm", Type::number},
    {"trouble.too_dense.alarm_cm", Type::number},
    {"trouble.too_dense.falling_days", Type::number},
    {"trouble.crash.rise_cm", Type::number},
    {"trouble.crash.within_days", Type::number},
    {"trouble.crash.swing_share", Type::number},
    {"trouble.crash.fill_rise_cm", Type::number},
    {"trouble.crash.dawn_do_mg_l", Type::number},
    {"trouble.drifting.moves", Type::number},
    {"trouble.stratified.do_mg_l", Type::number},
    {"trouble.stratified.temperature_c", Type::number},
    {"trouble.losing_water.loss_cm_d", Type::number},
    {"trouble.losing_water.reading_error_cm", Type::number},
    {"trouble.losing_water.least_h", Type::number},
    {"trouble.losing_water.look_back_days", Type::number},
    {"trouble.meter.do_percent", Type::number},
    {"trouble.meter.same_times", Type::number},
    {"trouble.meter.air_percent", Type::number},
    {"rounds.screens_every_days", Type::number},
    {"rounds.grazers_every_days", Type::number},
    {"rounds.bottom_grab_every_days", Type::number},
    {"rounds.water_test_every_days", Type::number},
    {"rounds.pest_look_every_days", Type::number},
    {"rounds.sky_days_after_dose", Type::number},
    {"series.gap.water_days", Type::number},
    {"series.gap.secchi_days", Type::number},
    {"series.gap.level_days", Type::number},
    {"stock.lead_days", Type::number},
    {"stock.fill_days", Type::number},
    {"stock.dose_every_days", Type::number},
    {"stock.dose_seldom_days", Type::number},
    {"bin.volume_l", Type::number},
    {"bin.fill_share", Type::number},
    {"bin.lift_kg", Type::number},
    {"bin.boat_load_kg", Type::number},
    {"bin.saturation_share", Type::number},
    {"bin.lane_spacing_m", Type::number},
    {"screen.approach_velocity_m_s", Type::number},
    {"screen.open_share", Type::number},
    {"screen.clogging_factor", Type::number},
    {"filling.gate_coefficient", Type::number},
    {"filling.evaporation_mm_d", Type::number},
    {"filling.seepage_mm_d", Type::number},
    {"metabolism.reading_error_mg_l", Type::number},
    {"metabolism.exchange_error_share", Type::number},
    {"acclimation.salinity_per_h", Type::number},
    {"acclimation.temperature_c_per_h", Type::number},
    {"acclimation.ph_per_h", Type::number},
    {"acclimation.temperature_total_c", Type::number},
    {"acclimation.young_days", Type::number},
    {"acclimation.young_lowest_salinity", Type::number},
    {"acclimation.older_days", Type::number},
    {"acclimation.older_lowest_salinity", Type::number},
    {"light.secchi_coefficient", Type::number},
    {"light.secchi_coefficient_low", Type::number},
    {"light.secchi_coefficient_high", Type::number},
    {"light.lit_share", Type::number},
    {"evaporation.open_water_factor", Type::number},
    {"evaporation.pan_coefficient", Type::number},
    {"plan.bottom.median_d", Type::number},
    {"plan.bottom.late_d", Type::number},
    {"plan.first_fill.median_d", Type::number},
    {"plan.first_fill.late_d", Type::number},
    {"plan.rest.median_d", Type::number},
    {"plan.rest.late_d", Type::number},
    {"plan.second_fill.median_d", Type::number},
    {"plan.second_fill.late_d", Type::number},
    {"plan.first_dose.median_d", Type::number},
    {"plan.first_dose.late_d", Type::number},
    {"plan.bloom.median_d", Type::number},
    {"plan.bloom.late_d", Type::number},
    {"plan.third_fill.median_d", Type::number},
    {"plan.third_fill.late_d", Type::number},
    {"plan.hold_band.median_d", Type::number},
    {"plan.hold_band.late_d", Type::number},
    {"plan.release.median_d", Type::number},
    {"plan.release.late_d", Type::number},
    {"plan.fill.least_d", Type::number},
    {"plan.fill.extra_d", Type::number},
    {"plan.own_weight", Type::number},
    {"plan.boats", Type::number},
    {"plan.bin_crews", Type::number},
    {"plan.people", Type::number},
    {"plan.minutes_per_bin", Type::number},
    {"plan.minutes_per_pond", Type::number},
    {"plan.people_per_delivery", Type::number},
    {"plan.culture_days", Type::number},
    {"plan.ready_for_days", Type::number},
};

Type type_of(const ProtocolValue& value) {
  if (std::holds_alternative<double>(value.value)) return Type::number;
  if (std::holds_alternative<std::vector<std::string>>(value.value)) return Type::list;
  return Type::text;
}

tl::unexpected<Problem> refuse_path(ProblemKind kind, std::string_view message, std::string_view path) {
  return refuse(kind, "protocol", Message(message).with("path", Text{std::string(path)}));
}

std::string text_of(const rapidjson::Value& object, const char* key) {
  const auto member = object.FindMember(key);
  if (member == object.MemberEnd() || !member->value.IsString()) return {};
  return std::string(member->value.GetString(), member->value.GetStringLength());
}

bool read_value(const rapidjson::Value& json, ProtocolValue& out) {
  if (json.IsNumber()) {
    out.value = json.GetDouble();
  } else if (json.IsBool()) {
    out.value = json.GetBool();
  } else if (json.IsString()) {
    out.value = std::string(json.GetString(), json.GetStringLength());
  } else if (json.IsArray()) {
    std::vector<std::string> texts;
    for (const rapidjson::Value& item : json.GetArray()) {
      if (!item.IsString()) return false;
      texts.emplace_back(item.GetString(), item.GetStringLength());
    }
    out.value = std::move(texts);
  } else {
    return false;
  }
  return true;
}

std::vector<std::string> split_list(std::string_view text) {
  std::vector<std::string> items;
  while (!text.empty()) {
    const std::size_t comma = text.find(',');
    std::string_view item = text.substr(0, comma);
    while (!item.empty() && item.front() == ' ') item.remove_prefix(1);
    while (!item.empty() && item.back() == ' ') item.remove_suffix(1);
    if (!item.empty()) items.emplace_back(item);
    if (comma == std::string_view::npos) break;
    text.remove_prefix(comma + 1);
  }
  return items;
}

}  // namespace

Result<Protocol> Protocol::parse(std::string_view json) {
  const rapidjson::Document document = parse_json(json);
  if (document.HasParseError() || !document.IsObject()) {
    return refuse(ProblemKind::malformed, "protocol", Message("problem.protocol_unreadable"));
  }
  std::map<std::string, ProtocolValue> values;
  for (auto it = document.MemberBegin(); it < document.MemberEnd(); ++it) {
    const auto& member = *it;
    const std::string path(member.name.GetString(), member.name.GetStringLength());
    ProtocolValue value;
    const bool whole =
        member.value.IsObject() && member.value.HasMember("value") && read_value(member.value["value"], value);
    if (!whole) return refuse_path(ProblemKind::malformed, "problem.protocol_value", path);
    value.unit = text_of(member.value, "unit");
    value.mark = text_of(member.value, "mark");
    value.source = text_of(member.value, "source");
    if (value.mark != "P" && value.mark != "H" && value.mark != "E") {
      return refuse_path(ProblemKind::malformed, "problem.protocol_mark", path);
    }
    values.insert_or_assign(path, std::move(value));
  }
  Protocol protocol;
  Places places;
  for (auto& [path, value] : values) {
    places.emplace(path, protocol.values_.size());
    protocol.values_.emplace_back(path, std::move(value));
  }
  protocol.places_ = std::make_shared<const Places>(std::move(places));
  for (const UsedPath& used : kUsedPaths) {
    const ProtocolValue* value = protocol.find(used.path);
    if (value == nullptr) return refuse_path(ProblemKind::missing, "problem.protocol_missing", used.path);
    if (type_of(*value) != used.type) {
      return refuse_path(ProblemKind::malformed, "problem.protocol_type", used.path);
    }
  }
  return protocol;
}

const ProtocolValue* Protocol::find(std::string_view path) const {
  const auto found = places_->find(path);
  return found == places_->end() ? nullptr : &values_[found->second].second;
}

double Protocol::number(std::string_view path) const {
  const ProtocolValue* value = find(path);
  const double* number = value == nullptr ? nullptr : std::get_if<double>(&value->value);
  return number == nullptr ? 0 : *number;
}

bool Protocol::flag(std::string_view path) const {
  const ProtocolValue* value = find(path);
  const bool* flag = value == nullptr ? nullptr : std::get_if<bool>(&value->value);
  return flag != nullptr && *flag;
}

const std::vector<std::string>& Protocol::list(std::string_view path) const {
  static const std::vector<std::string> kNone;
  const ProtocolValue* value = find(path);
  const auto* list = value == nullptr ? nullptr : std::get_if<std::vector<std::string>>(&value->value);
  return list == nullptr ? kNone : *list;
}

Result<Protocol> Protocol::with(std::string_view path,
                                const std::variant<double, bool, std::string>& value) const {
  const ProtocolValue* old = find(path);
  if (old == nullptr) return refuse_path(ProblemKind::missing, "problem.protocol_unknown_path", path);
  ProtocolValue changed = *old;
  bool fits = false;
  if (std::holds_alternative<double>(changed.value) && std::holds_alternative<double>(value)) {
    fits = std::isfinite(std::get<double>(value));
    changed.value = std::get<double>(value);
  } else if (std::holds_alternative<bool>(changed.value) && std::holds_alternative<bool>(value)) {
    fits = true;
    changed.value = std::get<bool>(value);
  } else if (const auto* text = std::get_if<std::string>(&value)) {
    if (std::holds_alternative<std::string>(changed.value)) {
      fits = true;
      changed.value = *text;
    } else if (std::holds_alternative<std::vector<std::string>>(changed.value)) {
      fits = true;
      changed.value = split_list(*text);
    }
  }
  if (!fits) return refuse_path(ProblemKind::malformed, "problem.protocol_type", path);
  if (auto outside = outside_protocol(path, changed)) return tl::unexpected<Problem>(*std::move(outside));
  changed.mark = "P";
  changed.source = "source.farm";
  Protocol result = *this;
  result.values_[places_->find(path)->second].second = std::move(changed);
  return result;
}

std::optional<SecchiLimits> secchi_limits(const Protocol& protocol, Stage stage) {
  for (int of = static_cast<int>(stage); of >= static_cast<int>(Stage::bottom); --of) {
    const std::string path = "stage." + std::string(name_of(static_cast<Stage>(of)));
    if (protocol.find(path + ".secchi_low_cm") == nullptr) continue;
    return SecchiLimits{protocol.number(path + ".secchi_low_cm"), protocol.number(path + ".secchi_high_cm")};
  }
  return std::nullopt;
}

Result<Protocol> Protocol::with_value_of(const Protocol& other, std::string_view path) const {
  const ProtocolValue* value = other.find(path);
  if (value == nullptr || find(path) == nullptr) {
    return refuse_path(ProblemKind::missing, "problem.protocol_unknown_path", path);
  }
  Protocol result = *this;
  result.values_[places_->find(path)->second].second = *value;
  return result;
}

}  // namespace tawny
