#include "words/entry_words.h"

#include <algorithm>
#include <array>

#include "logbook/device_key.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

constexpr Measure kMeasures[] = {
    {"do_mg_l", "mg_l", 1},
    {"do_bottom_mg_l", "mg_l", 1},
    {"ph", "", 1},
    {"temperature_c", "c", 1},
    {"temperature_bottom_c", "c", 1},
    {"salinity", "", 1},
    {"level_cm", "cm", 0},
    {"secchi_vanish_cm", "cm", 0},
    {"secchi_return_cm", "cm", 0},
    {"depth_at_disc_cm", "cm", 0},
    {"tan_mg_l", "mg_l", 2},
    {"alkalinity_mg_l", "mg_l", 0},
    {"copepods_per_l", "per_l", 0},
    {"grabs", "", 0},
    {"grabs_with_animals", "", 0},
    {"do_percent_in_air", "percent", 0},
    {"dried_days", "days", 0},
    {"product_kg", "kg", 1},
    {"rate_kg_ha", "kg_ha", 1},
    {"area_ha", "ha", 2},
    {"mesh_um", "um", 0},
    {"bins", "", 0},
    {"bin", "", 0},
    {"salt_per_bin_kg", "kg", 1},
    {"water_per_bin_l", "l", 0},
    {"solution_per_bin_l", "l", 0},
    {"nitrate_n_mg_l", "mg_l", 2},
    {"stage", "", 0},
    {"rate_l_s", "l_s", 1},
    {"width_m", "m", 2},
    {"opening_m", "m", 2},
    {"sill_level_cm", "cm", 0},
    {"diameter_m", "m", 2},
    {"invert_level_cm", "cm", 0},
    {"levels_cm", "cm", 0},
    {"pl_count", "", 0},
    {"boats", "", 0},
    {"bin_crews", "", 0},
    {"people", "", 0},
    {"bag_kg", "kg", 1},
    {"lead_days", "d", 0},
};

// Of entries with many values, those that tell most; the entry's own screen shows them all.
struct BriefOfKind {
  std::string_view kind;
  std::array<std::string_view, 3> keys;  // in the order in which they are told
};
constexpr BriefOfKind kBriefs[] = {
    {kind::kDose, {"product_kg", "product", "coverage"}},
    {kind::kDoseWalkStart, {"product_kg", "product", "bins"}},
    {kind::kDoseStep, {"bin", "step", ""}},
    {kind::kFarmSetup, {"name", "", ""}},
    {kind::kPondSetup, {"name", "nominal_area_ha", ""}},
    {kind::kBinSetup, {"bin_volume_l", "lift_kg", "boat_load_kg"}},
    {kind::kInletSetup, {"inlet", "kind", "rate_l_s"}},
    {kind::kPondPerson, {"person", "role", ""}},
    {kind::kPlBooking, {"deliver_on", "pl_count", "cancelled"}},
    {kind::kStockDelivery, {"product_kg", "product", "lot"}},
    {kind::kStockCount, {"product_kg", "product", ""}},
    {kind::kStockOrder, {"product_kg", "product", "expected_on"}},
    {kind::kProtocolChange, {"path", "value", ""}},
    {kind::kDeviceKey, {"", "", ""}},
    {kind::kChainSigned, {"", "", ""}},
    {kind::kDeviceAdmitted, {"device", "office", ""}},
    {kind::kDeviceRevoked, {"device", "from", ""}},
};

// Values that only tie entries together, and say nothing to a reader.
bool is_tie(std::string_view key) {
  return key == "order" || key == "walk" || key == "booking" || key == "question" || key == "other" ||
         key == "decision" || key == "cautions";
}

std::string brief_value(const Words& words, std::string_view key, const Value& value) {
  const std::string word = value_word(words, key, value);
  if (word.empty()) return word;
  const Measure* measure = measure_of(key);
  const bool answer = std::holds_alternative<bool>(value);
  if (!answer && (measure == nullptr || !measure->unit.empty())) return word;
  return words(Message(answer ? "screen.key_answer" : "screen.key_value")
                   .with("key", Text{key_word(words, key)})
                   .with("value", Text{word}));
}

}  // namespace

const Measure* measure_of(std::string_view key) {
  const auto* found = std::find_if(std::begin(kMeasures), std::end(kMeasures),
                                   [&](const Measure& measure) { return measure.key == key; });
  return found == std::end(kMeasures) ? nullptr : found;
}

std::string measured(const Words& words, std::string_view key, double value) {
  const Measure* measure = measure_of(key);
  if (measure == nullptr) return words.number(value, 2);
  return words.quantity(Quantity{value, measure->decimals, std::string(measure->unit)});
}

std::string key_word(const Words& words, std::string_view key) { return words("key." + std::string(key)); }

std::string value_word(const Words& words, std::string_view key, const Value& value) {
  if (const double* number = std::get_if<double>(&value)) return measured(words, key, *number);
  if (const bool* flag = std::get_if<bool>(&value)) return words(*flag ? "key.yes" : "key.no");
  if (const std::string* text = std::get_if<std::string>(&value)) {
    if (key == "started" || key == "ended" || key == "from") {
      if (const Result<Instant> instant = parse_instant(*text)) return words.time(*instant);
    }
    if (key == "deliver_on" || key == "expected_on") {
      if (const Result<CivilDay> day = parse_civil_day(*text)) return words.day(*day);
    }
    if (const auto six = key == "device" ? fingerprint_words(*text) : std::nullopt) {
      std::string spoken;
      for (const std::string& word : *six) spoken += (spoken.empty() ? "" : " ") + word;
      return spoken;
    }
    if (key == "person" && text->empty()) return words("key.person.none");
    if (key == "path") return words.has("protocol." + *text) ? words("protocol." + *text) : *text;
    if (key == "note" || key == "pump" || key == "reason" || key == "text" || key == "inlet" ||
        key == "cycle" || key == "lot" || key == "person")
      return *text;
    // Words that stand for themselves (a colour, the sky) are worded once for all; the others belong to their
    // key.
    const std::string own = "key." + std::string(key) + "." + *text;
    if (words.has(own)) return words(own);
    const std::string id = std::string(key) + "." + *text;
    return words.has(id) ? words(id) : *text;
  }
  std::string list;
  if (const auto* numbers = std::get_if<std::vector<double>>(&value)) {
    for (const double number : *numbers) list += (list.empty() ? "" : ", ") + measured(words, key, number);
  } else if (const auto* texts = std::get_if<std::vector<std::string>>(&value)) {
    for (const std::string& text : *texts) {
      if (key == "cautions" && words.has(text)) {
        list += (list.empty() ? "" : " ") + words(text);
        continue;
      }
      const Result<Instant> instant = parse_instant(text);
      list += (list.empty() ? "" : ", ") + (instant ? words.time(*instant) : text);
    }
  }
  return list;
}

std::string brief_of(const Words& words, const Entry& entry) {
  const double* vanish = entry.number("secchi_vanish_cm");
  const double* back = entry.number("secchi_return_cm");
  if (vanish != nullptr && back != nullptr) return measured(words, "secchi_vanish_cm", (*vanish + *back) / 2);
  const bool* on_bottom = entry.flag("seen_on_bottom");
  const double* depth = entry.number("depth_at_disc_cm");
  if (on_bottom != nullptr && *on_bottom && depth != nullptr) {
    return words(Message("screen.more_than").with("value", Quantity{*depth, 0, "cm"}));
  }
  if (const auto* times = entry.texts("times"); entry.kind == kind::kTideTable && times && !times->empty()) {
    Message tides = Message("brief.tides").with("count", bare(times->size()));
    const Result<Instant> first = parse_instant(times->front());
    const Result<Instant> last = parse_instant(times->back());
    if (first && last) return words(std::move(tides).with("from", *first).with("until", *last));
  }
  std::string line;
  const auto tell = [&](std::string_view key, const Value& value) {
    std::string word = brief_value(words, key, value);
    if (word.empty()) return;
    if (!line.empty()) line += ", ";
    line += word;
  };
  for (const BriefOfKind& brief : kBriefs) {
    if (entry.kind != brief.kind) continue;
    for (const std::string_view key : brief.keys) {
      if (const auto found = entry.values.find(std::string(key)); found != entry.values.end()) {
        tell(key, found->second);
      }
    }
    return line;
  }
  for (const auto& [key, value] : entry.values) {
    if (!is_tie(key)) tell(key, value);
  }
  return line;
}

}  // namespace tawny
