#include <cmath>

#include "protocol/troubles.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

Instant first_current_instant(const Look& look) {
  return look.start_of(look.day.plus(-static_cast<int>(look.number("trouble.current_days"))));
}

bool outflow_between(const Look& look, Instant from, Instant until) {
  const Outflow* last = last_of(look.history.outflows, until);
  return last != nullptr && last->at >= from;
}

struct Fall {
  const LevelReading* from = nullptr;
  double fall_cm = 0, days = 0, explained_cm = 0;
};

// The fall up to `now` that is farthest beyond what is explained, as long as the water still falls too fast. A
// small leak shows only over several days, so every earlier reading within reach is held against it; none from
// before water was let out.
std::optional<Fall> worst_fall(const Look& look, const LevelReading& now) {
  const double least_h = look.number("trouble.losing_water.least_h");
  const double most_h = 24 * look.number("trouble.losing_water.look_back_days");
  const double loss_cm_d = look.number("trouble.losing_water.loss_cm_d");
  const double error_cm = look.number("trouble.losing_water.reading_error_cm");
  std::optional<Fall> worst;
  std::optional<Fall> last;
  double worst_cm = 0;
  for (const LevelReading& reading : look.history.levels) {
    if (reading.at >= now.at) break;
    const double apart_h = hours_between(reading.at, now.at);
    if (apart_h < least_h || apart_h > most_h || outflow_between(look, reading.at, now.at)) continue;
    const Fall fall{&reading, reading.level_cm - now.level_cm, apart_h / 24, apart_h / 24 * loss_cm_d};
    last = fall;
    const double beyond_cm = fall.fall_cm - fall.explained_cm - error_cm;
    if (at_most(beyond_cm, worst_cm)) continue;
    worst = fall;
    worst_cm = beyond_cm;
  }
  if (last && at_most(last->fall_cm, last->explained_cm)) return std::nullopt;
  return worst;
}

const MeterCheck* last_good_check(const Look& look) {
  const MeterCheck* good = nullptr;
  for (const MeterCheck& check : look.history.meter_checks) {
    if (check.at > look.at) break;
    if (std::fabs(check.do_percent_in_air - 100) <= look.number("trouble.meter.air_percent")) good = &check;
  }
  return good;
}

std::optional<double> percent_of_saturation(const Look& look, const WaterReading& reading) {
  if (!reading.do_mg_l || !reading.temperature_c || !reading.salinity) return std::nullopt;
  const Result<double> pressure_atm = pressure_at_altitude_atm(look.place.altitude_m);
  if (!pressure_atm) return std::nullopt;
  const Result<double> saturation_mg_l =
      oxygen_saturation_mg_l(*reading.temperature_c, *reading.salinity, *pressure_atm);
  if (!saturation_mg_l) return std::nullopt;
  return 100 * *reading.do_mg_l / *saturation_mg_l;
}

Trouble meter_trouble(Message what, const MeterCheck* good, const std::vector<const WaterReading*>& readings) {
  Trouble trouble;
  trouble.id = "doubtful_meter";
  trouble.severity = Trouble::Severity::warn;
  trouble.what = std::move(what);
  // Everything that the meter has said since it was last known to be right.
  for (const WaterReading* reading : readings) trouble.evidence.push_back(reading->entry->id);
  trouble.check_next = {Message("trouble.doubtful_meter.check.calibrate"),
                        Message(good == nullptr ? "trouble.doubtful_meter.check.marked_all"
                                                : "trouble.doubtful_meter.check.marked")
                            .with("count", plain(static_cast<double>(readings.size())))};
  if (good != nullptr) trouble.check_next.back().with("since", good->at);
  return trouble;
}

}  // namespace

std::optional<Trouble> stratified(const Look& look) {
  const WaterReading* both = nullptr;
  for (const WaterReading& reading : look.history.water) {
    if (reading.at > look.at) break;
    if ((reading.do_mg_l && reading.do_bottom_mg_l) ||
        (reading.temperature_c && reading.temperature_bottom_c)) {
      both = &reading;
    }
  }
  if (both == nullptr || both->at < first_current_instant(look)) return std::nullopt;
  std::optional<double> apart_mg_l;
  std::optional<double> apart_c;
  if (both->do_mg_l && both->do_bottom_mg_l) apart_mg_l = std::fabs(*both->do_mg_l - *both->do_bottom_mg_l);
  if (both->temperature_c && both->temperature_bottom_c) {
    apart_c = std::fabs(*both->temperature_c - *both->temperature_bottom_c);
  }
  const bool by_do = apart_mg_l && !at_most(*apart_mg_l, look.number("trouble.stratified.do_mg_l"));
  const bool by_temperature = apart_c && !at_most(*apart_c, look.number("trouble.stratified.temperature_c"));
  if (!by_do && !by_temperature) return std::nullopt;
  Trouble trouble;
  trouble.id = "stratified";
  trouble.severity = Trouble::Severity::warn;
  trouble.forbids_dose = true;
  trouble.evidence.push_back(both->entry->id);
  if (by_do) {
    trouble.what =
        Message("trouble.stratified.what_do").with("apart", in_mg_l(*apart_mg_l)).with("time", both->at);
  } else {
    trouble.what = Message("trouble.stratified.what_temperature")
                       .with("apart", Quantity{*apart_c, 1, "c"})
                       .with("time", both->at);
  }
  trouble.check_next = {Message("trouble.stratified.check.mix")};
  return trouble;
}

std::optional<Trouble> losing_water(const Look& look) {
  const LevelReading* now = last_of(look.history.levels, look.at, first_current_instant(look));
  if (now == nullptr) return std::nullopt;
  const std::optional<Fall> fall = worst_fall(look, *now);
  if (!fall) return std::nullopt;
  Trouble trouble;
  trouble.id = "losing_water";
  trouble.severity = Trouble::Severity::warn;
  trouble.forbids_dose = true;
  trouble.evidence = {fall->from->entry->id, now->entry->id};
  trouble.what = Message("trouble.losing_water.what")
                     .with("fall", Quantity{fall->fall_cm, 1, "cm"})
                     .with("days", Quantity{fall->days, 1, "d"})
                     .with("explained", Quantity{fall->explained_cm, 1, "cm"});
  trouble.check_next = {Message("trouble.losing_water.check.gate"),
                        Message("trouble.losing_water.check.burrows"),
                        Message("trouble.losing_water.check.no_dose")};
  return trouble;
}

std::optional<Trouble> doubtful_meter(const Look& look) {
  const MeterCheck* good = last_good_check(look);
  const MeterCheck* last = last_of(look.history.meter_checks, look.at, first_current_instant(look));
  std::vector<const WaterReading*> since_good;
  for (const WaterReading& reading : look.history.water) {
    if (reading.at > look.at) break;
    if (reading.do_mg_l && (good == nullptr || reading.at > good->at)) since_good.push_back(&reading);
  }
  if (last != nullptr && (good == nullptr || good->at < last->at)) {
    Trouble trouble =
        meter_trouble(Message("trouble.doubtful_meter.what_air")
                          .with("percent", Quantity{last->do_percent_in_air, 0, "percent"})
                          .with("limit", Quantity{look.number("trouble.meter.air_percent"), 0, "percent"})
                          .with("day", look.day_of(last->at)),
                      good, since_good);
    trouble.evidence.insert(trouble.evidence.begin(), last->entry->id);
    return trouble;
  }
  const auto same_times = static_cast<std::size_t>(look.number("trouble.meter.same_times"));
  std::size_t same = 0;
  std::optional<Message> found;
  for (std::size_t i = 0; i < since_good.size(); ++i) {
    const WaterReading& reading = *since_good[i];
    same = i > 0 && *since_good[i - 1]->do_mg_l == *reading.do_mg_l ? same + 1 : 1;
    if (reading.at < first_current_instant(look)) continue;
    const auto percent = percent_of_saturation(look, reading);
    const bool beyond = percent && *percent > look.number("trouble.meter.do_percent");
    if (beyond || !look.usable.possible_do(reading)) {
      found =
          Message(percent ? "trouble.doubtful_meter.what_impossible" : "trouble.doubtful_meter.what_cannot_be")
              .with("do", in_mg_l(*reading.do_mg_l))
              .with("time", reading.at);
      if (percent) found->with("percent", Quantity{*percent, 0, "percent"});
    } else if (same >= same_times) {
      found = Message("trouble.doubtful_meter.what_stuck")
                  .with("do", Quantity{*reading.do_mg_l, 2, "mg_l"})
                  .with("count", plain(static_cast<double>(same)));
    }
  }
  if (!found) return std::nullopt;
  return meter_trouble(std::move(*found), good, since_good);
}

}  // namespace tawny
