#include "protocol/usable.h"

#include <algorithm>
#include <limits>

namespace tawny {
namespace {

bool within(std::optional<double> value, const Protocol& protocol, std::string_view low,
            std::string_view high) {
  return value && *value >= protocol.number(low) && *value <= protocol.number(high);
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

template <typename Item>
auto day_of(const std::vector<Item>& items, CivilDay day) {
  return std::equal_range(items.begin(), items.end(), Item{day},
                          [](const Item& a, const Item& b) { return a.day < b.day; });
}

void add_once(std::vector<const Entry*>& entries, const Entry* entry) {
  if (std::find(entries.begin(), entries.end(), entry) == entries.end()) entries.push_back(entry);
}

}  // namespace

std::optional<double> DayWater::do_swing_mg_l() const {
  if (!dawn_do_mg_l || !afternoon_do_mg_l) return std::nullopt;
  return *afternoon_do_mg_l - *dawn_do_mg_l;
}

std::optional<double> DayWater::ph_swing() const {
  if (!dawn_ph || !afternoon_ph) return std::nullopt;
  return *afternoon_ph - *dawn_ph;
}

Usable::Usable(const PondHistory& history, const ProtocolTimes& times, const FarmPlace& place)
    : times_(&times), place_(place) {
  for (const WaterReading& reading : history.water) {
    const bool has_do = possible_do(reading);
    const bool has_ph = possible_ph(reading);
    const DayWindows* day = has_do || has_ph ? windows_at(reading.at) : nullptr;
    if (day == nullptr) continue;
    const bool dawn = day->dawn.contains(reading.at);
    if (!dawn && !day->afternoon.contains(reading.at)) continue;
    waters_.push_back(Water{day->day, dawn, has_do, has_ph, &reading});
  }
  for (const SecchiPair& pair : history.secchi) {
    const DayWindows* day = windows_at(pair.at);
    if (day == nullptr || !day->peak.contains(pair.at)) continue;
    const Protocol& protocol = times_->at(pair.at);
    const double cm = pair.seen_on_bottom ? *pair.depth_at_disc_cm : (*pair.vanish_cm + *pair.return_cm) / 2;
    if (!within(cm, protocol, "entry.refused.secchi_low_cm", "entry.refused.secchi_high_cm")) continue;
    if (!pair.seen_on_bottom && pair.depth_at_disc_cm && cm > *pair.depth_at_disc_cm) continue;
    pairs_.push_back(Pair{day->day, cm, pair.seen_on_bottom, &pair});
  }
}

bool Usable::possible_do(const WaterReading& reading) const {
  return within(reading.do_mg_l, times_->at(reading.at), "entry.refused.do_low_mg_l",
                "entry.refused.do_high_mg_l");
}

bool Usable::possible_ph(const WaterReading& reading) const {
  return within(reading.ph, times_->at(reading.at), "entry.refused.ph_low", "entry.refused.ph_high");
}

const DayWindows* Usable::windows(CivilDay day, Instant by) const {
  const std::size_t index = times_->index_at(by);
  const auto [place, fresh] = windows_.try_emplace({index, day});
  if (fresh) {
    if (Result<DayWindows> windows = windows_of(day, place_, times_->of(index))) place->second = *windows;
  }
  return place->second ? &*place->second : nullptr;
}

const DayWindows* Usable::windows_at(Instant at) const { return windows(civil_day(at, place_.offset), at); }

DayWater Usable::water(CivilDay day, Instant until) const {
  DayWater result;
  result.day = day;
  const WaterReading* used[4] = {};
  const auto [first, last] = day_of(waters_, day);
  for (auto it = first; it != last && it->reading->at <= until; ++it) {
    const std::size_t slot = it->dawn ? 0 : 2;
    if (it->has_do) used[slot] = it->reading;
    if (it->has_ph) used[slot + 1] = it->reading;
  }
  if (used[0] != nullptr) result.dawn_do_mg_l = used[0]->do_mg_l;
  if (used[1] != nullptr) result.dawn_ph = used[1]->ph;
  if (used[2] != nullptr) result.afternoon_do_mg_l = used[2]->do_mg_l;
  if (used[3] != nullptr) result.afternoon_ph = used[3]->ph;
  result.dawn_do = used[0];
  result.dawn_ph_reading = used[1];
  result.afternoon_do = used[2];
  result.afternoon_ph_reading = used[3];
  for (const WaterReading* reading : used) {
    if (reading != nullptr) add_once(result.entries, reading->entry);
  }
  return result;
}

std::optional<DaySecchi> Usable::secchi(CivilDay day, Instant after, Instant until) const {
  const auto [first, last] = day_of(pairs_, day);
  std::vector<double> at_least;
  std::vector<double> at_most;
  double least_measured = std::numeric_limits<double>::infinity();
  DaySecchi result;
  result.day = day;
  for (auto it = first; it != last && it->pair->at <= until; ++it) {
    if (it->pair->at <= after) continue;
    at_least.push_back(it->cm);
    at_most.push_back(it->bottom ? std::numeric_limits<double>::infinity() : it->cm);
    if (!it->bottom) least_measured = std::min(least_measured, it->cm);
    result.entries.push_back(it->pair->entry);
  }
  if (at_least.empty()) return std::nullopt;
  result.secchi_cm = median(at_least);
  result.more_than = median(at_most) != result.secchi_cm;
  result.spread_cm = std::max(0.0, *std::max_element(at_least.begin(), at_least.end()) - least_measured);
  const Protocol& protocol = times_->at(until);
  const double allowed_cm = std::max(protocol.number("usable.secchi.spread_cm"),
                                     protocol.number("usable.secchi.spread_share") * result.secchi_cm);
  result.asks_for_another = result.spread_cm > allowed_cm && static_cast<double>(at_least.size()) <
                                                                 protocol.number("usable.secchi.pairs_enough");
  return result;
}

std::vector<DaySecchi> Usable::secchi_days(CivilDay first, Instant after, Instant until, std::size_t most,
                                           bool asking_too) const {
  std::vector<DaySecchi> days;
  auto it = std::upper_bound(pairs_.begin(), pairs_.end(), until,
                             [](Instant instant, const Pair& pair) { return instant < pair.pair->at; });
  while (it != pairs_.begin() && days.size() < most) {
    const CivilDay day = std::prev(it)->day;
    if (day < first) break;
    auto one = secchi(day, after, until);
    if (one && (asking_too || !one->asks_for_another)) days.push_back(std::move(*one));
    while (it != pairs_.begin() && std::prev(it)->day == day) --it;
  }
  return days;
}

std::vector<DayWater> Usable::paired_days(CivilDay first, Instant until, std::size_t most) const {
  std::vector<DayWater> days;
  auto it = std::upper_bound(waters_.begin(), waters_.end(), until,
                             [](Instant instant, const Water& water) { return instant < water.reading->at; });
  while (it != waters_.begin() && days.size() < most) {
    const CivilDay day = std::prev(it)->day;
    if (day < first) break;
    DayWater one = water(day, until);
    if (one.paired()) days.push_back(std::move(one));
    while (it != waters_.begin() && std::prev(it)->day == day) --it;
  }
  return days;
}

std::vector<DaySecchi> Usable::all_secchi_days(Instant until) const {
  std::vector<DaySecchi> days;
  for (std::size_t i = 0; i < pairs_.size(); ++i) {
    if (i > 0 && pairs_[i - 1].day == pairs_[i].day) continue;
    if (pairs_[i].pair->at > until) break;
    if (auto day = secchi(pairs_[i].day, Instant{std::numeric_limits<std::int64_t>::min()}, until)) {
      days.push_back(std::move(*day));
    }
  }
  return days;
}

std::vector<DayWater> Usable::all_water_days(Instant until) const {
  std::vector<DayWater> days;
  for (std::size_t i = 0; i < waters_.size(); ++i) {
    if (i > 0 && waters_[i - 1].day == waters_[i].day) continue;
    if (waters_[i].reading->at > until) break;
    days.push_back(water(waters_[i].day, until));
  }
  return days;
}

}  // namespace tawny
