#include "ui/screens/parts.h"

#include <algorithm>
#include <array>

#include "imgui.h"
#include "logbook/kinds.h"

namespace tawny::ui {
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
};

struct ActOfKind {
  std::string_view kind;
  Act act;
};
constexpr ActOfKind kActs[] = {
    {kind::kWaterReading, Act::water_reading},
    {kind::kLevelReading, Act::level_reading},
    {kind::kSecchiReading, Act::secchi_reading},
    {kind::kWaterColour, Act::water_colour},
    {kind::kSky, Act::sky},
    {kind::kWaterTest, Act::water_test},
    {kind::kGrazerCount, Act::grazer_count},
    {kind::kBottomGrab, Act::bottom_grab},
    {kind::kPestLook, Act::pest_look},
    {kind::kMeterCheck, Act::meter_check},
    {kind::kBottomLook, Act::bottom_look},
    {kind::kSoilBroadcast, Act::soil_broadcast},
    {kind::kScreenCheck, Act::screen_check},
    {kind::kSourceLook, Act::source_look},
    {kind::kInletMoved, Act::shut_inlets},
    {kind::kCycleStart, Act::start_cycle},
    {kind::kDose, Act::dose},
    {kind::kQuestionSettled, Act::settle_question},
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
};

// Values that only tie entries together, and say nothing to a reader.
bool is_tie(std::string_view key) { return key == "walk" || key == "question" || key == "decision"; }

}  // namespace

std::string act_word(const Words& words, Act act) { return words("act." + std::string(name_of(act))); }

std::string stage_word(const Words& words, Stage stage) {
  return words(Message("screen.stage")
                   .with("number", Quantity{static_cast<double>(stage), 0, ""})
                   .with("stage", Word{"stage." + std::string(name_of(stage))}));
}

std::string_view act_icon(Act act) {
  switch (act) {
    case Act::water_reading:
      return "oxygen";
    case Act::level_reading:
      return "level";
    case Act::fill:
      return "gate";
    case Act::secchi_reading:
      return "disc";
    case Act::water_colour:
      return "colour";
    case Act::source_look:
      return "colour";
    case Act::sky:
      return "sky-bright";
    case Act::dose:
      return "bin";
    case Act::soil_broadcast:
      return "scoop";
    case Act::water_test:
      return "flask";
    case Act::meter_check:
      return "thermometer";
    case Act::grazer_count:
      return "grazer";
    case Act::bottom_grab:
      return "worm";
    case Act::bottom_look:
      return "bottom";
    case Act::pest_look:
      return "clam";
    case Act::screen_check:
      return "screen";
    case Act::shut_inlets:
      return "gate";
    case Act::sign_release:
    case Act::decide_gate:
    case Act::settle_question:
      return "check";
    case Act::start_cycle:
      return "plus";
  }
  return "note";
}

std::string pond_name(const App& app, std::string_view pond) {
  if (pond.empty()) return app.farm().name;
  const FarmPond* found = app.farm().pond(pond);
  return found == nullptr ? std::string(pond) : found->history.pond.name;
}

std::optional<Act> act_of_kind(std::string_view kind) {
  for (const ActOfKind& pair : kActs) {
    if (pair.kind == kind) return pair.act;
  }
  return std::nullopt;
}

Status status_of(DueState state) {
  switch (state) {
    case DueState::now:
      return Status::due;
    case DueState::later:
      return Status::waiting;
    case DueState::overdue:
      return Status::overdue;
    case DueState::missed:
      return Status::stopped;
    case DueState::done:
      return Status::done;
  }
  return Status::unknown;
}

Status status_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::met:
      return Status::done;
    case Verdict::unmet:
      return Status::waiting;
    case Verdict::unknown:
      return Status::unknown;
  }
  return Status::unknown;
}

Tone tone_of(Trouble::Severity severity) {
  switch (severity) {
    case Trouble::Severity::watch:
      return Tone::quiet;
    case Trouble::Severity::warn:
      return Tone::warn;
    case Trouble::Severity::alarm:
      return Tone::alarm;
  }
  return Tone::warn;
}

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
    if (key == "reason" || key == "text" || key == "inlet" || key == "cycle" || key == "lot") return *text;
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
      const Result<Instant> instant = parse_instant(text);
      list += (list.empty() ? "" : ", ") + (instant ? words.time(*instant) : text);
    }
  }
  return list;
}

static std::string brief_value(const Words& words, std::string_view key, const Value& value) {
  const std::string word = value_word(words, key, value);
  if (word.empty()) return word;
  const Measure* measure = measure_of(key);
  const bool answer = std::holds_alternative<bool>(value);
  if (!answer && (measure == nullptr || !measure->unit.empty())) return word;
  return words(Message(answer ? "screen.key_answer" : "screen.key_value")
                   .with("key", Text{key_word(words, key)})
                   .with("value", Text{word}));
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

std::optional<LastValue> last_value(const PondHistory& history, std::string_view kind, std::string_view key) {
  for (auto entry = history.entries.rbegin(); entry != history.entries.rend(); ++entry) {
    if ((*entry)->kind != kind) continue;
    if (const double* value = (*entry)->number(key)) return LastValue{*value, (*entry)->observed};
  }
  return std::nullopt;
}

std::string last_line(const Words& words, std::string_view key, const std::optional<LastValue>& last) {
  if (!last) return {};
  return words(Message("screen.last")
                   .with("value", Text{measured(words, key, last->value)})
                   .with("age", Text{words.age(last->at)}));
}

std::string secchi_line(const Words& words, const FarmPond& pond) {
  if (pond.history.secchi.empty()) return {};
  const SecchiPair& pair = pond.history.secchi.back();
  std::string value;
  if (pair.seen_on_bottom) {
    value =
        words(Message("screen.more_than").with("value", Quantity{pair.depth_at_disc_cm.value_or(0), 0, "cm"}));
  } else if (pair.vanish_cm && pair.return_cm) {
    value = words.quantity(Quantity{(*pair.vanish_cm + *pair.return_cm) / 2, 0, "cm"});
  } else {
    return {};
  }
  return words(Message("screen.value_age").with("value", Text{value}).with("age", Text{words.age(pair.at)}));
}

std::string oxygen_line(const Words& words, const FarmPond& pond) {
  const std::optional<LastValue> last = last_value(pond.history, kind::kWaterReading, "do_mg_l");
  if (!last) return {};
  return words(Message("screen.value_age")
                   .with("value", Text{measured(words, "do_mg_l", last->value)})
                   .with("age", Text{words.age(last->at)}));
}

std::string capitalised(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  }
  return text;
}

ScreenShape screen_shape() {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  return ScreenShape{size.x, size.y};
}

}  // namespace tawny::ui
