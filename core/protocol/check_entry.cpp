#include "protocol/check_entry.h"

#include <algorithm>
#include <cmath>

#include "base/sort_stably.h"
#include "logbook/kinds.h"
#include "protocol/check_dose.h"
#include "protocol/check_units.h"
#include "protocol/look.h"
#include "protocol/odd_reading.h"
#include "protocol/read_kinds.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

Word value_word(std::string_view key) { return Word{"value." + std::string(key)}; }

// The limits of a value that cannot lie outside them, and what a value beyond them most likely is.
struct Limit {
  std::string_view key;
  std::string_view low, high;  // protocol paths
  Quantity (*show)(double);
  std::string_view hint_low, hint_high;  // message ids, "finding.<hint>"; empty: none
};

constexpr double kCmPerM = 100;
double celsius_of_fahrenheit(double value_f) { return (value_f - 32) / 1.8; }

Quantity in_c(double value) { return Quantity{value, 1, "c"}; }
Quantity bare(double value) { return Quantity{value, 1, ""}; }
Quantity in_tenths_cm(double value) { return Quantity{value, 1, "cm"}; }

constexpr Limit kLimits[] = {
    {"do_mg_l", "entry.refused.do_low_mg_l", "entry.refused.do_high_mg_l", in_mg_l, "", "finding.do_percent"},
    {"do_bottom_mg_l", "entry.refused.do_low_mg_l", "entry.refused.do_high_mg_l", in_mg_l, "",
     "finding.do_percent"},
    {"ph", "entry.refused.ph_low", "entry.refused.ph_high", in_ph, "", ""},
    {"temperature_c", "entry.refused.temperature_low_c", "entry.refused.temperature_high_c", in_c, "",
     "finding.fahrenheit"},
    {"temperature_bottom_c", "entry.refused.temperature_low_c", "entry.refused.temperature_high_c", in_c, "",
     "finding.fahrenheit"},
    {"salinity", "entry.refused.salinity_low", "entry.refused.salinity_high", bare, "", ""},
    {"secchi_vanish_cm", "entry.refused.secchi_low_cm", "entry.refused.secchi_high_cm", in_tenths_cm,
     "finding.metres", ""},
    {"secchi_return_cm", "entry.refused.secchi_low_cm", "entry.refused.secchi_high_cm", in_tenths_cm,
     "finding.metres", ""},
    {"depth_at_disc_cm", "entry.refused.secchi_low_cm", "entry.refused.secchi_high_cm", in_tenths_cm,
     "finding.metres", ""},
};

constexpr std::string_view kNeverNegative[] = {
    "tan_mg_l",   "alkalinity_mg_l", "copepods_per_l", "grabs_with_animals",
    "dried_days", "product_kg",      "rate_kg_ha",     "do_percent_in_air",
    "mesh_um",    "grabs",           "area_ha"};

class Checker {
 public:
  Checker(const Draft& draft, const PondHistory& history, const Protocol& standard, const Protocol& protocol,
          const FarmPlace& place, Instant now, const BagSizes& bags_kg)
      : draft_(draft),
        history_(history),
        standard_(standard),
        protocol_(protocol),
        place_(place),
        now_(now),
        bags_kg_(bags_kg) {}

  std::vector<Finding> check() {
    check_time();
    check_limits();
    check_units(draft_, history_, protocol_,
                WaterForUnits{typed_or_last("temperature_c", &WaterReading::temperature_c), saturation_mg_l()},
                bags_kg_, findings_);
    check_water();
    check_secchi();
    check_level();
    check_dose(draft_, history_, standard_, protocol_, place_, now_, findings_);
    check_whole();
    sort_stably(findings_, [](const Finding& a, const Finding& b) {
      return a.weight == Finding::Weight::refused && b.weight == Finding::Weight::questioned;
    });
    return std::move(findings_);
  }

 private:
  void refused(std::string_view key, Message message, std::optional<double> likely = std::nullopt) {
    findings_.push_back({Finding::Weight::refused, std::string(key), std::move(message), likely});
  }
  void questioned(std::string_view key, Message message, std::optional<double> likely = std::nullopt) {
    findings_.push_back({Finding::Weight::questioned, std::string(key), std::move(message), likely});
  }

  std::optional<double> number(std::string_view key) const {
    const auto found = draft_.values.find(key);
    if (found == draft_.values.end()) return std::nullopt;
    const auto* value = std::get_if<double>(&found->second);
    return value == nullptr ? std::nullopt : std::optional(*value);
  }

  bool flag(std::string_view key) const {
    const auto found = draft_.values.find(key);
    if (found == draft_.values.end()) return false;
    const auto* value = std::get_if<bool>(&found->second);
    return value != nullptr && *value;
  }

  bool of_cycle() const {
    return !draft_.pond.empty() && draft_.kind != kind::kPondSetup && draft_.kind != kind::kInletSetup &&
           draft_.kind != kind::kTideTable && draft_.kind != kind::kPlBooking &&
           draft_.kind != kind::kPondPerson && draft_.kind != kind::kCycleStart &&
           draft_.kind != kind::kProtocolChange && draft_.kind != kind::kVoid && draft_.kind != kind::kNote;
  }

  void check_time() {
    if (draft_.observed > now_) refused("observed", Message("finding.future").with("time", draft_.observed));
    if (!of_cycle()) return;
    if (history_.cycle.empty() || history_.cycle_ended) {
      questioned("observed", Message("finding.no_cycle"));
    } else if (draft_.observed < history_.cycle_start) {
      refused("observed", Message("finding.before_cycle").with("start", history_.cycle_start));
    }
  }

  void check_limits() {
    for (const Limit& limit : kLimits) {
      const auto value = number(limit.key);
      if (!value) continue;
      const double low = protocol_.number(limit.low);
      const double high = protocol_.number(limit.high);
      if (std::isfinite(*value) && *value >= low && *value <= high) continue;
      const std::string_view hint = *value < low ? limit.hint_low : limit.hint_high;
      const bool hinted = !hint.empty() && *value > 0;
      refused(limit.key,
              Message(hinted ? hint : "finding.out_of_range")
                  .with("what", value_word(limit.key))
                  .with("value", limit.show(*value))
                  .with("low", limit.show(low))
                  .with("high", limit.show(high)),
              likely_of(*value, low, high, hinted ? hint : ""));
    }
    for (const std::string_view key : kNeverNegative) {
      const auto value = number(key);
      if (!value || (std::isfinite(*value) && *value >= 0)) continue;
      refused(key, Message("finding.negative").with("what", value_word(key)).with("value", bare(*value)));
    }
    const auto grabs = number("grabs");
    const auto with_animals = number("grabs_with_animals");
    if (grabs && with_animals && *with_animals > *grabs) {
      refused("grabs_with_animals", Message("finding.more_than_grabs").with("count", plain(*grabs)));
    }
  }

  static std::optional<double> with_forgotten_mark(double value, double high) {
    if (!std::isfinite(value) || value <= high || high <= 0) return std::nullopt;
    while (value > high) value /= 10;
    return value;
  }

  // Another unit, or a decimal mark that was not pressed; nothing when that would not be possible either.
  std::optional<double> likely_of(double value, double low, double high, std::string_view hint) const {
    if (!std::isfinite(value)) return std::nullopt;
    std::optional<double> likely;
    if (hint == "finding.metres") {
      likely = value * kCmPerM;
    } else if (hint == "finding.fahrenheit") {
      likely = celsius_of_fahrenheit(value);
    } else if (hint == "finding.do_percent") {
      const std::optional<double> full_mg_l = saturation_mg_l();
      if (!full_mg_l) return std::nullopt;
      likely = *full_mg_l * value / 100;
    } else {
      likely = with_forgotten_mark(value, high);
    }
    if (!likely || *likely < low || *likely > high) return std::nullopt;
    return likely;
  }

  // The same parameter as last read on this pond, lately enough to stand in for a value that was not typed.
  std::optional<double> typed_or_last(std::string_view key, std::optional<double> WaterReading::*value) const {
    if (const auto typed = number(key)) return typed;
    for (auto it = history_.water.rbegin(); it != history_.water.rend(); ++it) {
      if (it->at > draft_.observed || !((*it).*value)) continue;
      if (hours_between(it->at, draft_.observed) > 24) return std::nullopt;
      return (*it).*value;
    }
    return std::nullopt;
  }

  void check_water() {
    if (draft_.kind != kind::kWaterReading) return;
    const auto do_mg_l = number("do_mg_l");
    if (do_mg_l) check_saturation(*do_mg_l);
    if (const auto ph = number("ph")) {
      if (auto odd = odd_ph(protocol_, *ph)) questioned("ph", *std::move(odd));
    }
    for (const std::string& key : protocol_.list("entry.questioned.same_value_keys")) check_same(key);
  }

  // All the oxygen that this water can hold against the air.
  std::optional<double> saturation_mg_l() const {
    const auto temperature_c = typed_or_last("temperature_c", &WaterReading::temperature_c);
    const auto salinity = typed_or_last("salinity", &WaterReading::salinity);
    if (!temperature_c || !salinity) return std::nullopt;
    const Result<double> pressure_atm = pressure_at_altitude_atm(place_.altitude_m);
    if (!pressure_atm) return std::nullopt;
    const Result<double> full_mg_l = oxygen_saturation_mg_l(*temperature_c, *salinity, *pressure_atm);
    return full_mg_l ? std::optional(*full_mg_l) : std::nullopt;
  }

  void check_saturation(double do_mg_l) {
    const std::optional<double> full_mg_l = saturation_mg_l();
    if (!full_mg_l) return;
    if (auto odd = odd_saturation(protocol_, do_mg_l, *full_mg_l)) questioned("do_mg_l", *std::move(odd));
  }

  void check_same(const std::string& key) {
    const auto value = number(key);
    const int times = static_cast<int>(protocol_.number("entry.questioned.same_value_times"));
    if (!value) return;
    int same = 1;
    for (auto it = history_.water.rbegin(); it != history_.water.rend() && same < times; ++it) {
      if (it->at > draft_.observed) continue;
      const double* earlier = it->entry->number(key);
      if (earlier == nullptr) continue;
      if (*earlier != *value) return;
      ++same;
    }
    if (same < times) return;
    questioned(key, same_value(key, *value, times));
  }

  // How deep the water is where the disc hangs: as told with the reading, else the deepest there can be.
  std::optional<double> water_depth_cm() const {
    if (const auto told = number("depth_at_disc_cm")) return told;
    const LevelReading* level = last_of(history_.levels, draft_.observed);
    if (level == nullptr || !history_.pond.curve) return std::nullopt;
    return level->level_cm - history_.pond.curve->lowest_level_cm();
  }

  void check_secchi() {
    if (draft_.kind != kind::kSecchiReading) return;
    if (flag("seen_on_bottom")) {
      if (!number("depth_at_disc_cm")) refused("depth_at_disc_cm", Message("finding.bottom_needs_depth"));
      return;
    }
    const auto vanish_cm = number("secchi_vanish_cm");
    const auto back_cm = number("secchi_return_cm");
    const auto depth_cm = water_depth_cm();
    for (const std::string_view key : {"secchi_vanish_cm", "secchi_return_cm"}) {
      const auto value = number(key);
      if (!value || !depth_cm || *value <= *depth_cm) continue;
      refused(key,
              Message("finding.secchi_too_deep").with("value", in_cm(*value)).with("depth", in_cm(*depth_cm)));
    }
    if (!vanish_cm || !back_cm) return;
    check_secchi_change((*vanish_cm + *back_cm) / 2);
  }

  void check_secchi_change(double secchi_cm) {
    for (auto it = history_.secchi.rbegin(); it != history_.secchi.rend(); ++it) {
      if (it->at > draft_.observed) continue;
      if (it->seen_on_bottom || !it->vanish_cm || !it->return_cm) return;
      const double before_cm = (*it->vanish_cm + *it->return_cm) / 2;
      auto odd = odd_secchi_change(protocol_, before_cm, it->at, secchi_cm, draft_.observed);
      if (odd) questioned("secchi_vanish_cm", *std::move(odd));
      return;
    }
  }

  void check_level() {
    const auto level_cm = number("level_cm");
    if (!level_cm || draft_.kind != kind::kLevelReading) return;
    if (history_.pond.curve) {
      const double low_cm = history_.pond.curve->lowest_level_cm();
      const double high_cm = history_.pond.curve->full_level_cm();
      if (!std::isfinite(*level_cm) || *level_cm < low_cm || *level_cm > high_cm) {
        refused("level_cm",
                Message("finding.off_gauge")
                    .with("value", in_cm(*level_cm))
                    .with("low", in_cm(low_cm))
                    .with("high", in_cm(high_cm)),
                with_forgotten_mark(*level_cm, high_cm));
        return;
      }
    }
    const LevelReading* before = last_of(history_.levels, draft_.observed);
    if (before == nullptr) return;
    const Outflow* outflow = last_of(history_.outflows, draft_.observed);
    if (outflow != nullptr && outflow->at >= before->at) return;
    auto odd = odd_level_fall(protocol_, before->level_cm, before->at, *level_cm, draft_.observed);
    if (odd) questioned("level_cm", *std::move(odd));
  }

  // Whatever its kind demands must be there, or the entry would stand in the logbook and count for nothing.
  void check_whole() {
    for (const Finding& finding : findings_) {
      if (finding.weight == Finding::Weight::refused) return;
    }
    Entry entry;
    entry.kind = draft_.kind;
    entry.pond = draft_.pond;
    entry.observed = draft_.observed;
    entry.values = draft_.values;
    PondHistory scratch;
    scratch.pond.nominal_area_ha = history_.pond.nominal_area_ha;
    if (!read_observation(entry, scratch)) refused("", Message("finding.incomplete"));
  }

  const Draft& draft_;
  const PondHistory& history_;
  const Protocol& standard_;
  const Protocol& protocol_;
  const FarmPlace& place_;
  const Instant now_;
  const BagSizes& bags_kg_;
  std::vector<Finding> findings_;
};

template <typename Item>
void leave_out(std::vector<Item>& items, const std::string& reference) {
  items.erase(std::remove_if(items.begin(), items.end(),
                             [&](const Item& item) { return to_reference(item.entry->id) == reference; }),
              items.end());
}

// A correction is not held against the reading that it replaces.
PondHistory without(const PondHistory& history, const std::string& reference) {
  PondHistory rest = history;
  leave_out(rest.water, reference);
  leave_out(rest.levels, reference);
  leave_out(rest.secchi, reference);
  leave_out(rest.doses, reference);
  return rest;
}

}  // namespace

std::vector<Finding> check_entry(const Draft& draft, const PondHistory& history, const Protocol& protocol,
                                 const FarmPlace& place, Instant now, const BagSizes& bags_kg) {
  const ProtocolTimes times(protocol, history.protocol_changes);
  const Protocol& then = times.at(draft.observed);
  if (draft.corrects.empty()) return Checker(draft, history, protocol, then, place, now, bags_kg).check();
  const PondHistory others = without(history, draft.corrects);
  return Checker(draft, others, protocol, then, place, now, bags_kg).check();
}

}  // namespace tawny
