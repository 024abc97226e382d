#include "simulate/farm_run.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "logbook/kinds.h"

namespace tawny::simulate {
namespace {

constexpr std::array<std::string_view, 14> kFirstNames = {
    "Plover",   "Sedge",  "Mullet",    "Driftwood", "Egret", "Reed",     "Osprey",
    "Samphire", "Curlew", "Tidewrack", "Mangrove",  "Gull",  "Saltwort", "Lantern"};
constexpr std::array<std::string_view, 12> kLastNames = {"Reach",  "Bank",  "Hollow", "Levels",
                                                         "Turn",   "Flats", "Ditch",  "Landing",
                                                         "Corner", "Fold",  "Sluice", "Marsh"};
constexpr std::array<std::string_view, 12> kPondNames = {"North", "Long", "Corner", "Bridge", "Hut",  "Low",
                                                         "Palm",  "Bend", "Stone",  "Far",    "Gate", "New"};
constexpr std::array<std::string_view, 4> kInlets = {"main gate", "pump", "side gate", "sock"};
constexpr int kWeatherDaysBeyond = 3;

std::string four_digits(int number) {
  std::string text = std::to_string(number);
  return std::string(text.size() < 4 ? 4 - text.size() : 0, '0') + text;
}

double in_tens(double value) { return std::round(value * 10) / 10; }

}  // namespace

FarmRun::FarmRun(const Options& options, const Protocol& protocol)
    : options_(options),
      protocol_(protocol),
      random_(Random(options.seed).part("farm " + std::to_string(options.number))),
      id_("farm-" + four_digits(options.number)),
      crew_(id_, random_.part("crew")),
      hand_(options.carelessness, random_.part("hand")) {
  set_up_place();
  weather_.emplace(place_, options.first_day, options.days + kWeatherDaysBeyond, random_.part("weather"));
  set_up_ponds();
}

void FarmRun::set_up_place() {
  Random random = random_.part("place");
  name_ = std::string(random.one_of(kFirstNames)) + " " + std::string(random.one_of(kLastNames));
  // Where shrimp ponds may lie: the tropics, any longitude.
  place_.latitude_deg = std::round(random.between(-18, 18) * 100) / 100;
  place_.longitude_deg = std::round(random.between(-105, 130) * 100) / 100;
  place_.offset.minutes = static_cast<std::int32_t>(std::lround(place_.longitude_deg / 15)) * 60;
  place_.altitude_m = 2;
  begin_ = hour_ = instant_at(options_.first_day, 0, place_.offset);
  end_ = instant_at(options_.first_day.plus(options_.days), 0, place_.offset);
}

void FarmRun::set_up_ponds() {
  for (int i = 0; i < options_.ponds; ++i) {
    Random random = random_.part("pond " + std::to_string(i + 1));
    Pond pond;
    pond.id = "p" + std::to_string(i + 1);
    pond.name = std::string(kPondNames[static_cast<std::size_t>(i) % kPondNames.size()]);
    if (i >= static_cast<int>(kPondNames.size())) pond.name += " " + std::to_string(i / 12 + 1);
    pond.walk_order = i + 1;
    pond.length_m = std::round(random.between(90, 160));
    pond.width_m = std::round(random.between(60, 95));
    const double depth_m = in_tens(random.between(1.3, 1.7));
    const double slope = in_tens(random.between(1.5, 2.5));
    pond.bank_slope = slope;
    pond.curve = *StageCurve::from_basin(pond.length_m, pond.width_m, depth_m, slope);
    pond.nominal_area_ha = in_tens(0.97 * *pond.curve->area_m2(pond.curve->full_level_cm()) / 10000);
    for (int inlet = random.whole(1, 3); inlet > 0; --inlet) {
      pond.inlets.emplace_back(kInlets[static_cast<std::size_t>(inlet)]);
    }
    // One pond in sixteen is filled through a torn screen that nobody mends: estimate.
    const bool by_chance = random.happens(1.0 / 16);
    const bool torn = options_.torn.value_or(by_chance);
    const Traits traits = draw_traits(random.part("traits"), pond.curve->full_volume_m3(), torn);
    PondLife life(traits, *pond.curve, random.part("life"));
    OnePond one{std::move(pond), std::move(life), {}, {}};
    one.truth.pond = one.pond.id;
    one.truth.torn = torn;
    one.truth.traits = traits;
    one.next_start = options_.first_day.plus(random.whole(0, std::max(0, std::min(14, options_.days - 46))));
    one.patience_days = random.whole(4, 9);
    one.crop_days = random.whole(40, 75);
    one.despair_days = random.whole(45, 70);
    one.broadcast_kg_ha = std::round(random.between(50, 90) / 5) * 5;
    if (random.happens(0.2)) {
      one.product = "calcium_nitrate_fertilizer";
      one.nitrogen_share = 0.155;
    }
    one.life.start(begin_);
    ponds_.push_back(std::move(one));
  }
}

void FarmRun::set_up_entries() {
  Instant at = begin_.plus_h(-10);
  const auto put = [&](Phone& phone, std::string_view kind, const std::string& pond, Values values) {
    at = at.plus_min(2);
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = pond;
    draft.observed = at;
    draft.values = std::move(values);
    crew_.put(phone, std::move(draft), at.plus_s(30));
  };
  Phone& manager = crew_.manager();
  put(manager, kind::kFarmSetup, "",
      {{"name", name_},
       {"latitude_deg", place_.latitude_deg},
       {"longitude_deg", place_.longitude_deg},
       {"utc_offset_min", static_cast<double>(place_.offset.minutes)},
       {"altitude_m", place_.altitude_m}});
  put(manager, kind::kBinSetup, "",
      {{"bin_volume_l", 200.0},
       {"fill_share", 0.85},
       {"lift_kg", 25.0},
       {"boat_load_kg", 250.0},
       {"lane_spacing_m", 10.0}});
  for (const OnePond& one : ponds_) {
    const Pond& pond = one.pond;
    put(manager, kind::kPondSetup, pond.id,
        {{"name", pond.name},
         {"walk_order", static_cast<double>(pond.walk_order)},
         {"build", std::string("earthen")},
         {"nominal_area_ha", pond.nominal_area_ha},
         {"inlets", pond.inlets},
         {"bottom_length_m", pond.length_m},
         {"bottom_width_m", pond.width_m},
         {"depth_m", (pond.curve->full_level_cm() - pond.curve->lowest_level_cm()) / 100},
         {"bank_slope", pond.bank_slope}});
  }
  for (Phone& phone : crew_.phones()) {
    put(phone, kind::kDeviceSetup, "", {{"person", phone.person}, {"role", std::string(name_of(phone.role))}});
  }
  for (Phone& phone : crew_.phones()) crew_.sync(phone);
  for (Phone& phone : crew_.phones()) crew_.sync(phone);

  // A phone whose clock was set wrong, until somebody sees it.
  Random random = random_.part("clock");
  if (options_.days > 20 && random.happens(0.12 * std::min(1.0, options_.carelessness))) {
    static constexpr std::array<std::int64_t, 4> kOff = {86400, -5 * 3600, 7 * 3600, -86400};
    Phone& phone = crew_.phones()[random.below(crew_.phones().size())];
    phone.clock_off_s = random.one_of(kOff);
    phone.off_from = begin_.plus_h(24 * random.between(4, options_.days - 12));
    phone.off_until = phone.off_from.plus_h(random.between(20, 90));
  }
}

void FarmRun::in_a_moment(Instant at, std::function<void()> act) {
  queue_.push(Moment{at, order_++, std::move(act)});
}

void FarmRun::live_until(Instant until) {
  for (; hour_ <= until; hour_ = hour_.plus_h(1)) {
    while (!queue_.empty() && queue_.top().at <= hour_) {
      const Moment moment = queue_.top();
      queue_.pop();
      moment.act();
    }
    for (OnePond& one : ponds_) {
      one.life.live(hour_, *weather_);
      const double there = one.life.nitrogen().total();
      const double off = std::abs(there - one.life.flow().balance()) / std::max(1.0, there);
      one.truth.largest_nitrogen_error = std::max(one.truth.largest_nitrogen_error, off);
      if (options_.keep_truth && (one.truth.hours.empty() || one.truth.hours.back().at < hour_)) {
        one.truth.hours.push_back(one.life.water());
      }
    }
  }
}

FarmRun::OnePond* FarmRun::pond_of(const std::string& id) {
  for (OnePond& one : ponds_) {
    if (one.pond.id == id) return &one;
  }
  return nullptr;
}

void FarmRun::morning(CivilDay day) {
  const Result<DayWindows> windows = windows_of(day, place_, protocol_);
  if (!windows) return;
  const Instant now = windows->sun.sunrise.plus_min(-80);
  live_until(now);
  const Farm farm = fold_farm(crew_.known(), protocol_, now);
  if (const Result<Rounds> due = rounds(farm, protocol_, now)) {
    for (const DueItem& item : due->items) plan(item, *windows, farm);
  }
  for (OnePond& one : ponds_) {
    const FarmPond* known = farm.pond(one.pond.id);
    if (known == nullptr) continue;
    think_over(one, *known, *windows);
    mend_decisions(one, *known, windows->sun.solar_noon.plus_min(chance().whole(150, 260)));
  }
}

void FarmRun::evening(const DayWindows& windows, bool last) {
  for (Phone& phone : crew_.phones()) {
    // Some evenings nobody thinks of it, or the network is away; what goes by hand goes twice a week.
    const bool meets = last || chance().happens(phone.networked ? 0.85 : 0.3);
    if (!meets) continue;
    in_a_moment(windows.sun.sunset.plus_min(last ? 200 : chance().whole(70, 180)),
                [this, &phone] { crew_.sync(phone); });
    if (phone.networked && chance().happens(0.5)) {
      in_a_moment(windows.sun.solar_noon.plus_min(chance().whole(20, 140)),
                  [this, &phone] { crew_.sync(phone); });
    }
  }
}

SimulatedFarm FarmRun::run() {
  set_up_entries();
  for (int i = 0; i < options_.days; ++i) {
    const CivilDay day = options_.first_day.plus(i);
    morning(day);
    if (const Result<DayWindows> windows = windows_of(day, place_, protocol_)) {
      evening(*windows, i + 1 == options_.days);
    }
  }
  live_until(end_);
  // What was to come later than the last evening is never told; what was told is taken to the office.
  for (Phone& phone : crew_.phones()) crew_.sync(phone);
  for (int turn = 0; turn < 3; ++turn) {
    const Farm farm = fold_farm(crew_.known(), protocol_, end_);
    for (OnePond& one : ponds_) {
      if (const FarmPond* known = farm.pond(one.pond.id)) mend_decisions(one, *known, end_.plus_min(-4 + turn));
    }
    while (!queue_.empty() && queue_.top().at < end_) {
      const Moment moment = queue_.top();
      queue_.pop();
      if (moment.at >= end_.plus_min(-4)) moment.act();
    }
    crew_.sync(crew_.manager());
  }
  SimulatedFarm farm;
  farm.id = id_;
  farm.name = name_;
  farm.place = place_;
  farm.begin = begin_;
  farm.end = end_;
  farm.logbook = crew_.everything();
  farm.phones = crew_.phones();
  for (OnePond& one : ponds_) {
    one.truth.nitrogen = one.life.nitrogen();
    farm.ponds.push_back(std::move(one.truth));
  }
  return farm;
}

SimulatedFarm simulate_farm(const Options& options, const Protocol& protocol) {
  return FarmRun(options, protocol).run();
}

}  // namespace tawny::simulate
