// What people see and do at a pond, and what gets into the phone of it.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "logbook/kinds.h"
#include "simulate/farm_run.h"

namespace tawny::simulate {

Draft FarmRun::draft_of(std::string_view kind, const OnePond& pond, Instant at) const {
  Draft draft;
  draft.kind = std::string(kind);
  draft.pond = pond.pond.id;
  draft.observed = at;
  return draft;
}

// A value as it was typed; where the hand slipped, `truly` keeps what was meant.
void FarmRun::number(Telling& telling, const char* key, double value, int decimals, double low, double high) {
  const double scale = std::pow(10, decimals);
  const double rounded = std::clamp(std::round(value * scale) / scale, low, high);
  const Hand::Typed typed = hand_.type(rounded, decimals, low, high);
  if (typed.wrong && !telling.truly) telling.truly = telling.draft;
  telling.draft.values.insert_or_assign(key, typed.value);
  if (telling.truly) telling.truly->values.insert_or_assign(key, rounded);
}

void FarmRun::note(Phone& phone, Draft draft, Instant at) {
  tell(phone, Telling{std::move(draft), std::nullopt}, at);
}

// Mostly at once, now and then in the evening; what was typed wrong is corrected by whoever sees it, or never.
void FarmRun::tell(Phone& phone, Telling telling, Instant at) {
  const Instant typed = slips(0.05) ? at.plus_min(chance().whole(60, 420)) : at.plus_s(chance().whole(15, 150));
  const auto shared = std::make_shared<Telling>(std::move(telling));
  in_a_moment(typed, [this, &phone, shared, typed] {
    const std::string reference = crew_.put(phone, shared->draft, typed);
    const std::string pond = shared->draft.pond;
    if (shared->truly && chance().happens(0.6)) {
      const Instant seen = typed.plus_min(chance().whole(2, 300));
      in_a_moment(seen, [this, &phone, shared, reference, seen] {
        Draft draft = *shared->truly;
        draft.corrects = reference;
        crew_.put(phone, std::move(draft), seen);
      });
    } else if (shared->truly && chance().happens(0.5)) {
      const Instant seen = typed.plus_h(chance().between(14, 26));
      in_a_moment(seen, [this, &phone, pond, reference, seen] {
        crew_.sync(phone);
        crew_.sync(crew_.manager());
        Draft draft;
        draft.kind = std::string(kind::kVoid);
        draft.pond = pond;
        draft.observed = seen;
        draft.voids = reference;
        draft.values = {{"reason", std::string("cannot be")}};
        crew_.put(crew_.manager(), std::move(draft), seen);
      });
    } else if (slips(0.003)) {
      // Taken back by mistake, and some of these brought back.
      const Instant back = typed.plus_min(chance().whole(1, 90));
      in_a_moment(back, [this, &phone, pond, reference, back] {
        Draft draft;
        draft.kind = std::string(kind::kVoid);
        draft.pond = pond;
        draft.observed = back;
        draft.voids = reference;
        const std::string taken_back = crew_.put(phone, draft, back);
        if (!chance().happens(0.4)) return;
        const Instant again = back.plus_min(chance().whole(1, 30));
        in_a_moment(again, [this, &phone, draft, taken_back, again] {
          Draft restored = draft;
          restored.observed = again;
          restored.voids = taken_back;
          crew_.put(phone, std::move(restored), again);
        });
      });
    }
  });
}

void FarmRun::read_water(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  if (!pond.life.wet()) return;
  const Water& water = pond.life.water();
  Telling telling{draft_of(kind::kWaterReading, pond, at), std::nullopt};
  // A field meter: 0.15 mg/L, 0.04 of pH, 0.2 C, 0.3 of salinity.
  number(telling, "do_mg_l", std::max(0.1, water.do_mg_l + 0.15 * chance().normal()), 1, 0, 40);
  if (!slips(0.03)) number(telling, "ph", water.ph + 0.04 * chance().normal(), 2, 3, 12);
  number(telling, "temperature_c", water.temperature_c + 0.2 * chance().normal(), 1, 0, 45);
  if (chance().happens(0.6)) {
    number(telling, "salinity", std::max(0.0, water.salinity + 0.3 * chance().normal()), 1, 0, 80);
  }
  tell(phone, std::move(telling), at);
}

void FarmRun::read_level(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  const double low = pond.pond.curve->lowest_level_cm();
  const double high = pond.pond.curve->full_level_cm();
  Telling telling{draft_of(kind::kLevelReading, pond, at), std::nullopt};
  number(telling, "level_cm", pond.life.water().level_cm + 0.5 * chance().normal(), 0, low, high);
  tell(phone, std::move(telling), at);
}

void FarmRun::read_secchi(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  if (!pond.life.wet()) return;
  const Water& water = pond.life.water();
  const double depth_cm = std::round(water.level_cm - pond.pond.curve->lowest_level_cm());
  if (depth_cm < 5) return;
  const int pairs = chance().happens(0.12) ? 2 : 1;
  for (int pair = 0; pair < pairs; ++pair) {
    const Instant now = at.plus_min(4 * pair);
    const double seen_cm = water.secchi_cm * (1 + 0.035 * chance().normal());
    Telling telling{draft_of(kind::kSecchiReading, pond, now), std::nullopt};
    if (seen_cm + 2 >= depth_cm) {
      telling.draft.values = {{"seen_on_bottom", true}, {"depth_at_disc_cm", depth_cm}};
    } else {
      number(telling, "secchi_vanish_cm", seen_cm + 1, 0, 1, 400);
      number(telling, "secchi_return_cm", seen_cm - 1, 0, 1, 400);
    }
    tell(phone, std::move(telling), now);
  }
}

void FarmRun::look_at_colour(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  if (!pond.life.wet()) return;
  WaterColour colour = pond.life.water().colour;
  // Eyes differ about neighbouring golds.
  if (slips(0.08) && colour >= WaterColour::pale_gold && colour <= WaterColour::golden_brown) {
    colour = chance().happens(0.5) ? WaterColour::golden : WaterColour::pale_gold;
  }
  Draft draft = draft_of(kind::kWaterColour, pond, at);
  draft.values = {{"colour", std::string(name_of(colour))}};
  note(phone, std::move(draft), at);
}

void FarmRun::look_at_bottom(OnePond& pond, Phone& phone, Instant at) {
  Draft draft = draft_of(kind::kBottomLook, pond, at);
  draft.values = {{"thick_sludge", std::string(chance().happens(0.85) ? "none" : "some")},
                  {"dried_days", static_cast<double>(chance().whole(5, 14))}};
  note(phone, std::move(draft), at);
}

void FarmRun::look_at_source(OnePond& pond, Phone& phone, Instant at) {
  static constexpr std::array<std::string_view, 4> kColours = {"clear", "clear", "muddy", "pale_gold"};
  Draft draft = draft_of(kind::kSourceLook, pond, at);
  draft.values = {{"colour", std::string(chance().happens(0.06) ? "green" : chance().one_of(kColours))}};
  note(phone, std::move(draft), at);
}

void FarmRun::look_for_pests(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  const double bivalves_g_m2 = pond.life.water().bivalves_g_m2;
  Draft draft = draft_of(kind::kPestLook, pond, at);
  draft.values = {{"bivalves", std::string(bivalves_g_m2 > 0.05   ? "many"
                                           : bivalves_g_m2 > 0.01 ? "few"
                                                                  : "none")},
                  {"predators", std::string(chance().happens(0.05) ? "seen" : "none")}};
  note(phone, std::move(draft), at);
}

// A tear under water is seldom seen.
void FarmRun::check_screen(OnePond& pond, Phone& phone, const std::string& inlet, Instant at) {
  const bool seen = chance().happens(pond.life.traits().torn ? 0.04 : 0.012);
  Draft draft = draft_of(kind::kScreenCheck, pond, at);
  draft.values = {{"inlet", inlet}, {"mesh_um", 300.0}, {"whole", !seen}};
  note(phone, std::move(draft), at);
  if (!seen) return;
  const Instant mended = at.plus_h(chance().between(2, 6));
  in_a_moment(mended, [this, &pond, &phone, inlet, mended] {
    pond.life.set_torn(false);
    Draft whole = draft_of(kind::kScreenCheck, pond, mended);
    whole.values = {{"inlet", inlet}, {"mesh_um", 300.0}, {"whole", true}};
    note(phone, std::move(whole), mended);
  });
}

// One bucket of water from one side of the pond.
void FarmRun::count_grazers(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  const double there_per_l = pond.life.water().copepods_per_l[chance().below(2)];
  Telling telling{draft_of(kind::kGrazerCount, pond, at), std::nullopt};
  number(telling, "copepods_per_l", std::max(0.0, there_per_l + std::sqrt(there_per_l) * chance().normal()), 0,
         0, 5000);
  tell(phone, std::move(telling), at);
}

void FarmRun::grab_bottom(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  const double found = 1 - std::exp(-pond.life.water().worms_g_m2 / 0.012);
  double with_animals = 0;
  for (int grab = 0; grab < 5; ++grab) with_animals += chance().happens(found) ? 1 : 0;
  Draft draft = draft_of(kind::kBottomGrab, pond, at);
  draft.values = {{"grabs", 5.0}, {"grabs_with_animals", with_animals}};
  note(phone, std::move(draft), at);
}

void FarmRun::test_water(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  if (!pond.life.wet()) return;
  Telling telling{draft_of(kind::kWaterTest, pond, at), std::nullopt};
  number(telling, "tan_mg_l", pond.life.water().ammonia_n_mg_l * chance().around(1, 0.15), 2, 0, 20);
  number(telling, "alkalinity_mg_l", pond.life.water().alkalinity_mg_l * chance().around(1, 0.05), 0, 0, 1000);
  tell(phone, std::move(telling), at);
}

void FarmRun::look_at_sky(Phone& phone, Instant at) {
  Draft draft;
  draft.kind = std::string(kind::kSky);
  draft.observed = at;
  draft.values = {{"sky", std::string(name_of(weather_->sky(civil_day(at, place_.offset))))}};
  note(phone, std::move(draft), at);
}

void FarmRun::broadcast(OnePond& pond, Phone& phone, Instant at) {
  pond.life.live(at, *weather_);
  if (pond.life.nitrogen().soil > 1) return;
  const double product_kg = std::round(pond.broadcast_kg_ha * pond.pond.nominal_area_ha);
  pond.life.broadcast(product_kg * 1000 * pond.nitrogen_share);
  Telling telling{draft_of(kind::kSoilBroadcast, pond, at), std::nullopt};
  telling.draft.values = {{"product", pond.product}};
  number(telling, "product_kg", product_kg, 0, 1, 1000);
  tell(phone, std::move(telling), at);
}

// The walk with its bins, then the dose itself; now and then a second phone writes the same dose down again.
void FarmRun::give_dose(OnePond& pond, Phone& phone, double rate_kg_ha, Instant started, int minutes) {
  pond.life.live(started.plus_min(minutes), *weather_);
  const double area_ha = pond.pond.nominal_area_ha;
  const double generous = slips(0.04) ? 1.2 : 1.0;
  const double product_kg = std::round(2 * rate_kg_ha * area_ha * generous) / 2;
  const Instant ended = started.plus_min(minutes);
  pond.life.dose(product_kg * 1000 * pond.nitrogen_share);
  if (slips(0.01)) return;  // never written down
  const int bins = static_cast<int>(std::ceil(product_kg / 25));
  const std::string sky(name_of(weather_->sky(civil_day(started, place_.offset))));
  std::string walk;
  if (chance().happens(0.7)) {
    walk = "w" + std::to_string(chance().next() % 1000000000U);
    Draft start = draft_of(kind::kDoseWalkStart, pond, started);
    start.values = {{"walk", walk},
                    {"product", pond.product},
                    {"rate_kg_ha", rate_kg_ha},
                    {"area_ha", area_ha},
                    {"area_counted", std::string("nominal")},
                    {"product_kg", product_kg},
                    {"bins", static_cast<double>(bins)},
                    {"salt_per_bin_kg", product_kg / bins},
                    {"water_per_bin_l", 150.0},
                    {"solution_per_bin_l", 160.0},
                    {"sky", sky}};
    crew_.put(phone, std::move(start), ended);
    for (int bin = 1; bin <= bins; ++bin) {
      for (const char* step : {"mixed", "spread"}) {
        Draft tick = draft_of(kind::kDoseStep, pond, started.plus_min(minutes * bin / (bins + 1)));
        tick.values = {{"walk", walk}, {"step", std::string(step)}, {"bin", static_cast<double>(bin)}};
        crew_.put(phone, std::move(tick), ended);
      }
    }
  }
  Telling telling{draft_of(kind::kDose, pond, ended), std::nullopt};
  telling.draft.values = {{"product", pond.product},
                          {"bins", static_cast<double>(bins)},
                          {"started", to_iso(started)},
                          {"ended", to_iso(ended)},
                          {"coverage", std::string(slips(0.02) ? "part" : "whole")},
                          {"dissolved", !slips(0.02)},
                          {"sky", sky},
                          {"rate_kg_ha", rate_kg_ha},
                          {"area_ha", area_ha}};
  if (!walk.empty()) telling.draft.values.emplace("walk", walk);
  number(telling, "product_kg", product_kg, 1, 0.5, 1000);
  const bool twice = slips(0.05);
  if (twice) {
    Draft again = draft_of(kind::kDose, pond, ended.plus_min(chance().whole(5, 60)));
    again.values = telling.draft.values;
    again.values.erase("walk");
    again.values.insert_or_assign("product_kg", product_kg);
    again.values.insert_or_assign("started", to_iso(started.plus_min(chance().whole(0, 12))));
    note(crew_.other_than(phone), again, again.observed);
  }
  tell(phone, std::move(telling), ended);
}

void FarmRun::open_inlets(OnePond& pond, Phone& phone, double share, Instant at) {
  pond.life.live(at, *weather_);
  const Result<double> level_cm = pond.pond.curve->level_cm_for_share(share);
  if (pond.life.is_open() || !level_cm || pond.life.water().level_cm >= *level_cm) return;
  pond.fill_to_cm = *level_cm;
  pond.life.open(true);
  Draft draft = draft_of(kind::kInletMoved, pond, at);
  draft.values = {{"position", std::string("open")}};
  if (!slips(0.08)) note(phone, std::move(draft), at);
  const Instant next = at.plus_min(40);
  in_a_moment(next, [this, &pond, next] { watch_filling(pond, next); });
}

// Somebody looks at the gauge about every hour; at night the inlets stand shut, and nobody writes that down.
void FarmRun::watch_filling(OnePond& pond, Instant at) {
  pond.life.live(at, *weather_);
  if (pond.fill_to_cm <= 0) return;
  if (pond.life.water().level_cm >= pond.fill_to_cm) {
    pond.life.open(false);
    pond.fill_to_cm = 0;
    Phone& worker = crew_.one_for(Role::worker, chance());
    Draft draft = draft_of(kind::kInletMoved, pond, at.plus_min(2));
    draft.values = {{"position", std::string("shut")}};
    if (!slips(0.05)) note(worker, std::move(draft), at.plus_min(2));
    if (!slips(0.1)) read_level(pond, crew_.one_for(Role::technician, chance()), at.plus_min(6));
    return;
  }
  const int hour = second_of_day(at, place_.offset) / 3600;
  pond.life.open(hour >= 6 && hour < 20);
  const Instant next = at.plus_min(hour >= 6 && hour < 20 ? chance().whole(30, 60) : 60);
  in_a_moment(next, [this, &pond, next] { watch_filling(pond, next); });
}

void FarmRun::start_cycle(OnePond& pond, Instant at) {
  pond.life.live(at, *weather_);
  pond.life.start(at);
  pond.fill_to_cm = 0;
  ++pond.cycles;
  Draft draft = draft_of(kind::kCycleStart, pond, at);
  draft.values = {{"cycle", "cycle " + std::to_string(pond.cycles)}};
  note(crew_.manager(), std::move(draft), at);
}

void FarmRun::end_cycle(OnePond& pond, const std::string& reason, Instant at) {
  pond.life.live(at, *weather_);
  pond.life.open(false);
  pond.fill_to_cm = 0;
  pond.life.drain_to(pond.pond.curve->lowest_level_cm());
  pond.next_start = civil_day(at, place_.offset).plus(chance().whole(6, 12));
  Draft draft = draft_of(kind::kCycleEnd, pond, at);
  draft.values = {{"reason", reason}};
  note(crew_.manager(), std::move(draft), at);
}

}  // namespace tawny::simulate
