#include "protocol/read_kinds.h"

#include <cmath>

#include "logbook/kinds.h"

namespace tawny {
namespace {

std::optional<double> number_of(const Entry& entry, std::string_view key) {
  const double* value = entry.number(key);
  if (value == nullptr || !std::isfinite(*value)) return std::nullopt;
  return *value;
}

bool flag_of(const Entry& entry, std::string_view key) {
  const bool* value = entry.flag(key);
  return value != nullptr && *value;
}

std::string text_of(const Entry& entry, std::string_view key) {
  const std::string* value = entry.text(key);
  return value == nullptr ? std::string() : *value;
}

std::optional<Instant> instant_of(const Entry& entry, std::string_view key) {
  const std::string* text = entry.text(key);
  if (text == nullptr) return std::nullopt;
  const Result<Instant> instant = parse_instant(*text);
  if (!instant) return std::nullopt;
  return *instant;
}

std::optional<Sky> sky_in(const Entry& entry) {
  const std::string* text = entry.text("sky");
  return text == nullptr ? std::nullopt : sky_of(*text);
}

template <typename T>
T observed(const Entry& entry) {
  T item;
  item.at = entry.observed;
  item.entry = &entry;
  return item;
}

bool read_water(const Entry& entry, PondHistory& history) {
  auto item = observed<WaterReading>(entry);
  item.do_mg_l = number_of(entry, "do_mg_l");
  item.ph = number_of(entry, "ph");
  item.temperature_c = number_of(entry, "temperature_c");
  item.salinity = number_of(entry, "salinity");
  item.do_bottom_mg_l = number_of(entry, "do_bottom_mg_l");
  item.temperature_bottom_c = number_of(entry, "temperature_bottom_c");
  if (!item.do_mg_l && !item.ph && !item.temperature_c && !item.salinity) return false;
  history.water.push_back(item);
  return true;
}

bool read_level(const Entry& entry, PondHistory& history) {
  auto item = observed<LevelReading>(entry);
  const auto level_cm = number_of(entry, "level_cm");
  if (!level_cm) return false;
  item.level_cm = *level_cm;
  history.levels.push_back(item);
  return true;
}

bool read_secchi(const Entry& entry, PondHistory& history) {
  auto item = observed<SecchiPair>(entry);
  item.vanish_cm = number_of(entry, "secchi_vanish_cm");
  item.return_cm = number_of(entry, "secchi_return_cm");
  item.depth_at_disc_cm = number_of(entry, "depth_at_disc_cm");
  item.seen_on_bottom = flag_of(entry, "seen_on_bottom");
  if (item.seen_on_bottom ? !item.depth_at_disc_cm : !item.vanish_cm || !item.return_cm) return false;
  history.secchi.push_back(item);
  return true;
}

bool read_colour_into(const Entry& entry, std::vector<ColourLook>& looks) {
  auto item = observed<ColourLook>(entry);
  const auto colour = water_colour_of(text_of(entry, "colour"));
  if (!colour) return false;
  item.colour = *colour;
  looks.push_back(item);
  return true;
}

bool read_colour(const Entry& entry, PondHistory& history) { return read_colour_into(entry, history.colours); }
bool read_source(const Entry& entry, PondHistory& history) {
  return read_colour_into(entry, history.source_colours);
}

bool read_sky(const Entry& entry, PondHistory& history) {
  auto item = observed<SkyLook>(entry);
  const auto sky = sky_in(entry);
  if (!sky) return false;
  item.sky = *sky;
  history.skies.push_back(item);
  return true;
}

bool read_test(const Entry& entry, PondHistory& history) {
  auto item = observed<WaterTest>(entry);
  item.tan_mg_l = number_of(entry, "tan_mg_l");
  item.alkalinity_mg_l = number_of(entry, "alkalinity_mg_l");
  if (!item.tan_mg_l && !item.alkalinity_mg_l) return false;
  history.tests.push_back(item);
  return true;
}

bool read_grazers(const Entry& entry, PondHistory& history) {
  auto item = observed<GrazerCount>(entry);
  const auto copepods_per_l = number_of(entry, "copepods_per_l");
  if (!copepods_per_l) return false;
  item.copepods_per_l = *copepods_per_l;
  history.grazers.push_back(item);
  return true;
}

bool read_grab(const Entry& entry, PondHistory& history) {
  auto item = observed<BottomGrab>(entry);
  const auto grabs = number_of(entry, "grabs");
  const auto with_animals = number_of(entry, "grabs_with_animals");
  if (!grabs || !with_animals || *grabs <= 0 || *with_animals < 0 || *with_animals > *grabs) return false;
  item.grabs = *grabs;
  item.grabs_with_animals = *with_animals;
  history.grabs.push_back(item);
  return true;
}

bool read_pests(const Entry& entry, PondHistory& history) {
  auto item = observed<PestLook>(entry);
  const std::string bivalves = text_of(entry, "bivalves");
  const std::string predators = text_of(entry, "predators");
  if (bivalves != "none" && bivalves != "few" && bivalves != "many") return false;
  if (predators != "none" && predators != "seen") return false;
  item.bivalves = bivalves != "none";
  item.many_bivalves = bivalves == "many";
  item.predators = predators == "seen";
  history.pests.push_back(item);
  return true;
}

bool read_meter(const Entry& entry, PondHistory& history) {
  auto item = observed<MeterCheck>(entry);
  const auto percent = number_of(entry, "do_percent_in_air");
  if (!percent) return false;
  item.do_percent_in_air = *percent;
  history.meter_checks.push_back(item);
  return true;
}

bool read_bottom(const Entry& entry, PondHistory& history) {
  auto item = observed<BottomLook>(entry);
  const std::string sludge = text_of(entry, "thick_sludge");
  if (sludge != "none" && sludge != "some" && sludge != "much") return false;
  item.thick_sludge = sludge != "none";
  item.dried_days = number_of(entry, "dried_days");
  item.treated_wet = flag_of(entry, "treated_wet");
  history.bottoms.push_back(item);
  return true;
}

bool read_broadcast(const Entry& entry, PondHistory& history) {
  auto item = observed<SoilBroadcast>(entry);
  item.product = text_of(entry, "product");
  const auto product_kg = number_of(entry, "product_kg");
  if (item.product.empty() || !product_kg || *product_kg < 0) return false;
  item.product_kg = *product_kg;
  history.broadcasts.push_back(item);
  return true;
}

bool read_screen(const Entry& entry, PondHistory& history) {
  auto item = observed<ScreenCheck>(entry);
  item.inlet = text_of(entry, "inlet");
  const auto mesh_um = number_of(entry, "mesh_um");
  const bool* whole = entry.flag("whole");
  if (!mesh_um || *mesh_um <= 0 || whole == nullptr) return false;
  item.mesh_um = *mesh_um;
  item.whole = *whole;
  history.screens.push_back(item);
  return true;
}

bool read_inlet(const Entry& entry, PondHistory& history) {
  auto item = observed<InletMove>(entry);
  const std::string position = text_of(entry, "position");
  if (position != "open" && position != "shut") return false;
  item.inlet = text_of(entry, "inlet");
  item.open = position == "open";
  history.inlet_moves.push_back(item);
  return true;
}

bool read_outflow(const Entry& entry, PondHistory& history) {
  history.outflows.push_back(observed<Outflow>(entry));
  return true;
}

bool read_dose(const Entry& entry, PondHistory& history) {
  auto item = observed<DoseRecord>(entry);
  item.product = text_of(entry, "product");
  const auto product_kg = number_of(entry, "product_kg");
  const auto started = instant_of(entry, "started");
  const auto ended = instant_of(entry, "ended");
  const std::string coverage = text_of(entry, "coverage");
  const bool* dissolved = entry.flag("dissolved");
  if (item.product.empty() || !product_kg || *product_kg < 0 || !started || !ended || *ended < *started)
    return false;
  if ((coverage != "whole" && coverage != "part") || dissolved == nullptr) return false;
  item.product_kg = *product_kg;
  item.started = *started;
  item.ended = *ended;
  item.whole_surface = coverage == "whole";
  item.dissolved = *dissolved;
  item.sky = sky_in(entry);
  item.walk = text_of(entry, "walk");
  // What was really spread over the area that the dose is counted on; the planned rate only where no area is
  // told.
  const auto area_ha = number_of(entry, "area_ha");
  const double area_counted_ha = area_ha && *area_ha > 0 ? *area_ha : history.pond.nominal_area_ha;
  if (area_counted_ha > 0) {
    item.rate_kg_ha = item.product_kg / area_counted_ha;
  } else if (const auto rate_kg_ha = number_of(entry, "rate_kg_ha")) {
    item.rate_kg_ha = *rate_kg_ha;
  } else {
    return false;
  }
  history.doses.push_back(item);
  return true;
}

bool read_decision(const Entry& entry, PondHistory& history) {
  auto item = observed<GateDecision>(entry);
  const auto stage = number_of(entry, "stage");
  item.reason = text_of(entry, "reason");
  if (!stage || *stage < 1 || *stage > 10 || *stage != std::floor(*stage) || item.reason.empty()) return false;
  item.stage = static_cast<int>(*stage);
  item.passed = entry.kind == kind::kGatePassed;
  history.gate_decisions.push_back(item);
  return true;
}

bool read_release(const Entry& entry, PondHistory& history) {
  history.releases.push_back(observed<ReleaseSigned>(entry));
  return true;
}

bool read_change(const Entry& entry, PondHistory& history) {
  auto item = observed<ProtocolChange>(entry);
  item.path = text_of(entry, "path");
  const auto from = instant_of(entry, "from");
  const auto value = entry.values.find("value");
  if (item.path.empty() || !from || value == entry.values.end()) return false;
  item.from = *from;
  item.value = value->second;
  item.to_default = flag_of(entry, "to_default");
  history.protocol_changes.push_back(item);
  return true;
}

bool read_settled(const Entry& entry, PondHistory& history) {
  const std::string keep = text_of(entry, "keep");
  if (text_of(entry, "question").empty()) return false;
  // Words on a reading are taken before the readings are; those on a clock are of the whole farm.
  if (settles_reading(entry) || keep == "clock") return true;
  if (keep != "both" && keep != "first" && keep != "second") return false;
  history.settled.push_back(&entry);
  return true;
}

bool read_walk_start(const Entry& entry, PondHistory& history) {
  DoseWalk walk;
  walk.start = &entry;
  walk.walk = text_of(entry, "walk");
  walk.product = text_of(entry, "product");
  const auto rate_kg_ha = number_of(entry, "rate_kg_ha");
  const auto area_ha = number_of(entry, "area_ha");
  const auto product_kg = number_of(entry, "product_kg");
  const auto bins = number_of(entry, "bins");
  if (walk.walk.empty() || walk.product.empty() || !rate_kg_ha || !area_ha || !product_kg || !bins)
    return false;
  if (*bins < 1 || *bins > 10000 || *bins != std::floor(*bins)) return false;
  walk.rate_kg_ha = *rate_kg_ha;
  walk.area_ha = *area_ha;
  walk.product_kg = *product_kg;
  walk.bins = static_cast<int>(*bins);
  walk.salt_per_bin_kg = number_of(entry, "salt_per_bin_kg").value_or(*product_kg / *bins);
  walk.water_per_bin_l = number_of(entry, "water_per_bin_l").value_or(0);
  walk.solution_per_bin_l = number_of(entry, "solution_per_bin_l").value_or(0);
  walk.sky = sky_in(entry);
  history.walks.push_back(std::move(walk));
  return true;
}

bool read_step(const Entry& entry, PondHistory&) {
  const std::string step = text_of(entry, "step");
  const auto bin = number_of(entry, "bin");
  return !text_of(entry, "walk").empty() && (step == "mixed" || step == "spread") && bin && *bin >= 1 &&
         *bin == std::floor(*bin);
}

bool read_stop(const Entry& entry, PondHistory&) { return !text_of(entry, "walk").empty(); }

struct Reader {
  std::string_view kind;
  bool (*read)(const Entry&, PondHistory&);
};

constexpr Reader kReaders[] = {
    {kind::kWaterReading, read_water},
    {kind::kLevelReading, read_level},
    {kind::kSecchiReading, read_secchi},
    {kind::kWaterColour, read_colour},
    {kind::kSourceLook, read_source},
    {kind::kSky, read_sky},
    {kind::kWaterTest, read_test},
    {kind::kGrazerCount, read_grazers},
    {kind::kBottomGrab, read_grab},
    {kind::kPestLook, read_pests},
    {kind::kMeterCheck, read_meter},
    {kind::kBottomLook, read_bottom},
    {kind::kSoilBroadcast, read_broadcast},
    {kind::kScreenCheck, read_screen},
    {kind::kInletMoved, read_inlet},
    {kind::kOutflow, read_outflow},
    {kind::kDose, read_dose},
    {kind::kGatePassed, read_decision},
    {kind::kGateRefused, read_decision},
    {kind::kReleaseSigned, read_release},
    {kind::kProtocolChange, read_change},
    {kind::kQuestionSettled, read_settled},
    {kind::kDoseWalkStart, read_walk_start},
    {kind::kDoseStep, read_step},
    {kind::kDoseWalkStop, read_stop},
};

DoseWalk* walk_named(PondHistory& history, const std::string& name) {
  for (DoseWalk& walk : history.walks) {
    if (walk.walk == name) return &walk;
  }
  return nullptr;
}

}  // namespace

bool read_observation(const Entry& entry, PondHistory& history) {
  for (const Reader& reader : kReaders) {
    if (reader.kind == entry.kind) return reader.read(entry, history);
  }
  return true;
}

void read_walks(PondHistory& history) {
  if (history.walks.empty()) return;
  struct Tick {
    int bin;
    Instant at;
  };
  std::vector<std::vector<Tick>> ticks(2 * history.walks.size());
  for (const Entry* entry : history.entries) {
    const bool step = entry->kind == kind::kDoseStep;
    if (!step && entry->kind != kind::kDoseWalkStop && entry->kind != kind::kDose) continue;
    DoseWalk* walk = walk_named(history, text_of(*entry, "walk"));
    if (walk == nullptr) continue;
    if (entry->kind == kind::kDoseWalkStop) walk->stopped = true;
    if (entry->kind == kind::kDose) walk->recorded = true;
    if (!step || !read_step(*entry, history)) continue;
    const bool spread = text_of(*entry, "step") == "spread";
    const auto slot = 2 * static_cast<std::size_t>(walk - history.walks.data()) + (spread ? 1 : 0);
    const double bin = *number_of(*entry, "bin");
    if (bin <= walk->bins) ticks[slot].push_back({static_cast<int>(bin), entry->observed});
  }
  // Bins are ticked in turn; a bin whose turn has not come yet waits for the ones before it.
  for (std::size_t i = 0; i < history.walks.size(); ++i) {
    for (const bool spread : {false, true}) {
      std::vector<Instant>& done = spread ? history.walks[i].spread : history.walks[i].mixed;
      bool more = true;
      while (more) {
        more = false;
        for (const Tick& tick : ticks[2 * i + (spread ? 1 : 0)]) {
          if (tick.bin != static_cast<int>(done.size()) + 1) continue;
          done.push_back(tick.at);
          more = true;
          break;
        }
      }
    }
  }
}

}  // namespace tawny
