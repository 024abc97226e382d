#include "protocol/odd_reading.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <utility>

#include "base/sort_stably.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

constexpr double kBesideH = 24;  // as long a temperature or salinity stands in for one that was not read

double days_between(Instant from, Instant to) { return std::max(1.0, hours_between(from, to) / 24); }

// The readings of one value that lie next to one another in time and are the same to the last digit.
struct Run {
  double value = 0;
  std::vector<const Entry*> entries;
};

class OddReadings {
 public:
  explicit OddReadings(const Look& look)
      : look_(look),
        since_(look.start_of(look.day.plus(-static_cast<int>(look.number("question.reading_days"))))) {
    for (const Entry* entry : look.history.kept) {
      kept_.insert(entry);
    }
  }

  std::vector<Question> find() {
    read_water();
    read_secchi();
    read_levels();
    sort_stably(found_, [](const Found& a, const Found& b) { return a.at < b.at; });
    std::vector<Question> questions;
    for (Found& one : found_) questions.push_back(std::move(one.question));
    return questions;
  }

 private:
  struct Found {
    Instant at;
    Question question;
  };

  bool is_open(const Entry* entry) const {
    return entry->observed >= since_ && entry->observed <= look_.at && kept_.count(entry) == 0;
  }

  void ask(Message what, const std::vector<const Entry*>& asks, const std::vector<const Entry*>& beside) {
    Question question;
    question.id = "odd_reading";
    question.what = std::move(what);
    for (const Entry* entry : beside) question.evidence.push_back(entry->id);
    for (const Entry* entry : asks) {
      question.asks.push_back(entry->id);
      if (std::find(beside.begin(), beside.end(), entry) == beside.end())
        question.evidence.push_back(entry->id);
    }
    found_.push_back({asks.back()->observed, std::move(question)});
  }

  std::optional<double> full_mg_l(const WaterReading& reading) const {
    if (!temperature_ || !salinity_) return std::nullopt;
    if (hours_between(temperature_at_, reading.at) > kBesideH) return std::nullopt;
    if (hours_between(salinity_at_, reading.at) > kBesideH) return std::nullopt;
    const Result<double> pressure_atm = pressure_at_altitude_atm(look_.place.altitude_m);
    if (!pressure_atm) return std::nullopt;
    const Result<double> full = oxygen_saturation_mg_l(*temperature_, *salinity_, *pressure_atm);
    return full ? std::optional(*full) : std::nullopt;
  }

  void read_water() {
    const std::vector<std::string>& keys = look_.protocol.list("entry.questioned.same_value_keys");
    std::vector<Run> runs(keys.size());
    for (const WaterReading& reading : look_.history.water) {
      if (reading.at > look_.at) break;
      if (reading.temperature_c) {
        temperature_ = reading.temperature_c;
        temperature_at_ = reading.at;
      }
      if (reading.salinity) {
        salinity_ = reading.salinity;
        salinity_at_ = reading.at;
      }
      for (std::size_t i = 0; i < keys.size(); ++i) {
        const double* value = reading.entry->number(keys[i]);
        if (value == nullptr) continue;
        if (!runs[i].entries.empty() && runs[i].value != *value) finish(keys[i], runs[i]);
        runs[i].value = *value;
        runs[i].entries.push_back(reading.entry);
      }
      if (!is_open(reading.entry)) continue;
      if (reading.do_mg_l) {
        if (const auto full = full_mg_l(reading)) {
          if (auto what = odd_saturation(look_.protocol, *reading.do_mg_l, *full)) {
            ask(*std::move(what), {reading.entry}, {});
          }
        }
      }
      if (reading.ph) {
        if (auto what = odd_ph(look_.protocol, *reading.ph)) ask(*std::move(what), {reading.entry}, {});
      }
    }
    for (std::size_t i = 0; i < keys.size(); ++i) finish(keys[i], runs[i]);
  }

  // A stuck meter's readings are one question: all of the run are in doubt.
  void finish(const std::string& key, Run& run) {
    const std::vector<const Entry*> entries = std::exchange(run.entries, {});
    const auto times = static_cast<std::size_t>(look_.number("entry.questioned.same_value_times"));
    if (entries.size() < times || times < 2) return;
    std::vector<const Entry*> asks;
    for (const Entry* entry : entries) {
      if (is_open(entry)) asks.push_back(entry);
    }
    // What was kept stands; only a reading that makes the run longer asks anew.
    if (asks.empty() || asks.back() != entries.back()) return;
    ask(same_value(key, run.value, static_cast<int>(entries.size())), asks, entries);
  }

  void read_secchi() {
    const SecchiPair* before = nullptr;
    for (const SecchiPair& pair : look_.history.secchi) {
      if (pair.at > look_.at) break;
      if (pair.seen_on_bottom || !pair.vanish_cm || !pair.return_cm) {
        before = nullptr;
        continue;
      }
      if (before != nullptr && is_open(pair.entry)) {
        auto what = odd_secchi_change(look_.protocol, (*before->vanish_cm + *before->return_cm) / 2, before->at,
                                      (*pair.vanish_cm + *pair.return_cm) / 2, pair.at);
        if (what) ask(*std::move(what), {pair.entry}, {before->entry});
      }
      before = &pair;
    }
  }

  void read_levels() {
    const LevelReading* before = nullptr;
    for (const LevelReading& level : look_.history.levels) {
      if (level.at > look_.at) break;
      if (before != nullptr && is_open(level.entry)) {
        const Outflow* out = last_of(look_.history.outflows, level.at);
        const bool let_out = out != nullptr && out->at >= before->at;
        auto what = odd_level_fall(look_.protocol, before->level_cm, before->at, level.level_cm, level.at);
        if (what && !let_out) ask(*std::move(what), {level.entry}, {before->entry});
      }
      before = &level;
    }
  }

  const Look& look_;
  Instant since_;
  std::set<const Entry*> kept_;
  std::optional<double> temperature_, salinity_;
  Instant temperature_at_, salinity_at_;
  std::vector<Found> found_;
};

}  // namespace

std::optional<Message> odd_saturation(const Protocol& protocol, double do_mg_l, double full_mg_l) {
  const double limit = protocol.number("entry.questioned.do_percent");
  const double percent = 100 * do_mg_l / full_mg_l;
  if (percent <= limit) return std::nullopt;
  return Message("finding.do_above_saturation")
      .with("value", in_mg_l(do_mg_l))
      .with("percent", Quantity{percent, 0, "percent"})
      .with("limit", Quantity{limit, 0, "percent"})
      .with("full", in_mg_l(full_mg_l));
}

std::optional<Message> odd_ph(const Protocol& protocol, double ph) {
  const double low = protocol.number("entry.questioned.ph_low");
  const double high = protocol.number("entry.questioned.ph_high");
  if (ph >= low && ph <= high) return std::nullopt;
  return Message("finding.ph_unusual")
      .with("value", in_ph(ph))
      .with("low", in_ph(low))
      .with("high", in_ph(high));
}

std::optional<Message> odd_secchi_change(const Protocol& protocol, double before_cm, Instant before,
                                         double secchi_cm, Instant at) {
  const double limit_cm = protocol.number("entry.questioned.secchi_change_cm");
  if (std::fabs(secchi_cm - before_cm) <= limit_cm * days_between(before, at)) return std::nullopt;
  return Message("finding.secchi_change")
      .with("value", in_cm(secchi_cm))
      .with("before", in_cm(before_cm))
      .with("time", before)
      .with("limit", in_cm(limit_cm));
}

std::optional<Message> odd_level_fall(const Protocol& protocol, double before_cm, Instant before,
                                      double level_cm, Instant at) {
  const double limit_cm = protocol.number("entry.questioned.level_fall_cm");
  const double fall_cm = before_cm - level_cm;
  if (at_most(fall_cm, limit_cm * days_between(before, at))) return std::nullopt;
  return Message("finding.level_fall")
      .with("fall", in_cm(fall_cm))
      .with("before", in_cm(before_cm))
      .with("time", before)
      .with("limit", in_cm(limit_cm));
}

Message same_value(std::string_view key, double value, int times) {
  return Message("finding.same_value")
      .with("what", Word{"value." + std::string(key)})
      .with("value", Quantity{value, 2, key == "do_mg_l" ? "mg_l" : ""})
      .with("count", plain(times));
}

std::vector<Question> odd_readings(const Look& look) { return OddReadings(look).find(); }

}  // namespace tawny
