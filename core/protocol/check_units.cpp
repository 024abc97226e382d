#include "protocol/check_units.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "logbook/kinds.h"
#include "protocol/look.h"
#include "science/salinity.h"

namespace tawny {
namespace {

constexpr double kCmPerM = 100, kCmPerDm = 10, kCmPerInch = 2.54, kCmPerFoot = 30.48;
constexpr double kM2PerHa = 10000, kGPerKg = 1000;
constexpr double kMeterReferenceC = 25;
constexpr double kSameArea = 2;  // a nominal area and that of the shape are alike within this factor

Word unit_name(std::string_view unit) { return Word{"unit_name." + std::string(unit)}; }
Word value_word(std::string_view key) { return Word{"value." + std::string(key)}; }

// As many decimals as the figure has, two at most.
Quantity as_typed(double value, std::string_view unit) {
  int decimals = 0;
  for (double scaled = value; decimals < 2 && std::abs(scaled - std::round(scaled)) > 1e-6; scaled *= 10) {
    ++decimals;
  }
  return Quantity{value, decimals, std::string(unit)};
}

struct Other {
  std::string_view name;  // "unit_name.<name>"
  double factor = 1;      // of the key's unit in one of it
};

class UnitQuestions {
 public:
  UnitQuestions(const Draft& draft, const PondHistory& history, const Protocol& protocol,
                const WaterForUnits& water, const BagSizes& bags_kg, std::vector<Finding>& findings)
      : draft_(draft),
        history_(history),
        protocol_(protocol),
        water_(water),
        bags_kg_(bags_kg),
        findings_(findings) {}

  void ask() {
    if (draft_.kind == kind::kSecchiReading) ask_secchi();
    if (draft_.kind == kind::kLevelReading) ask_level();
    if (draft_.kind == kind::kWaterReading) ask_water();
    if (draft_.kind == kind::kMeterCheck) ask_air();
    const bool corrected_dose = draft_.kind == kind::kDose && !draft_.corrects.empty();
    if (draft_.kind == kind::kSoilBroadcast || corrected_dose) ask_product();
  }

 private:
  std::optional<double> number(std::string_view key) const {
    const auto found = draft_.values.find(key);
    const auto* value = found == draft_.values.end() ? nullptr : std::get_if<double>(&found->second);
    if (value == nullptr || !std::isfinite(*value) || *value <= 0) return std::nullopt;
    // What cannot be is refused, and not asked about too.
    const bool refused = std::any_of(findings_.begin(), findings_.end(), [&](const Finding& finding) {
      return finding.key == key && finding.weight == Finding::Weight::refused;
    });
    return refused ? std::nullopt : std::optional(*value);
  }

  double limit(std::string_view name) const {
    return protocol_.number("entry.questioned." + std::string(name));
  }

  void question(std::string_view key, double value, std::string_view unit, std::string_view other,
                std::optional<double> likely, int decimals) {
    Message message(likely ? "finding.unit" : "finding.unit_open");
    message.with("what", value_word(key))
        .with("value", as_typed(value, unit))
        .with("unit", Word{"unit." + std::string(unit)})
        .with("other", unit_name(other));
    if (likely) message.with("likely", Quantity{*likely, decimals, std::string(unit)});
    findings_.push_back({Finding::Weight::questioned, std::string(key), std::move(message), likely});
  }

  bool near(double value, double last) const {
    return std::abs(value - last) <= limit("unit_near_share") * std::abs(last);
  }

  bool recent(Instant at) const {
    return at <= draft_.observed && hours_between(at, draft_.observed) <= 24 * limit("unit_days");
  }

  // The unit in which the figure comes near to the last reading; null when it is near as it stands, or in none.
  const Other* explained_by(double value, double last, const Other* first, const Other* end) const {
    if (near(value, last)) return nullptr;
    const Other* found =
        std::find_if(first, end, [&](const Other& other) { return near(value * other.factor, last); });
    return found == end ? nullptr : found;
  }

  std::optional<double> last_secchi_cm() const {
    for (auto it = history_.secchi.rbegin(); it != history_.secchi.rend(); ++it) {
      if (it->at > draft_.observed) continue;
      if (!recent(it->at) || it->seen_on_bottom || !it->vanish_cm || !it->return_cm) return std::nullopt;
      return (*it->vanish_cm + *it->return_cm) / 2;
    }
    return std::nullopt;
  }

  void ask_secchi() {
    const auto depth_cm = number("depth_at_disc_cm");
    if (depth_cm && *depth_cm < limit("level_unit_below_cm") && *depth_cm != std::floor(*depth_cm)) {
      question("depth_at_disc_cm", *depth_cm, "cm", "m", *depth_cm * kCmPerM, 0);
    }
    const auto vanish_cm = number("secchi_vanish_cm");
    const auto return_cm = number("secchi_return_cm");
    if (!vanish_cm || !return_cm) return;
    const double secchi_cm = (*vanish_cm + *return_cm) / 2;
    const std::optional<double> last_cm = last_secchi_cm();
    const Other inch{"inch", kCmPerInch};
    // About the pair as one: a depth put right beside one that is not would be no pair.
    const auto ask_pair = [&](std::string_view other, double factor) {
      question("secchi_cm", secchi_cm, "cm", other, secchi_cm * factor, 1);
      findings_.back().key = "secchi_vanish_cm";
      findings_.back().likely.reset();
    };
    if (secchi_cm < limit("secchi_unit_below_cm")) {
      ask_pair("dm", kCmPerDm);
    } else if (last_cm ? explained_by(secchi_cm, *last_cm, &inch, &inch + 1) != nullptr
                       : secchi_cm < limit("secchi_inch_below_cm")) {
      ask_pair("inch", kCmPerInch);
    }
  }

  // Nothing when the gauge does not reach that far.
  std::optional<double> on_gauge(double level_cm) const {
    if (history_.pond.curve && level_cm > history_.pond.curve->full_level_cm()) return std::nullopt;
    return level_cm;
  }

  void ask_level() {
    const auto level_cm = number("level_cm");
    if (!level_cm) return;
    static constexpr Other kUnits[] = {{"m", kCmPerM}, {"inch", kCmPerInch}, {"foot", kCmPerFoot}};
    const LevelReading* last = last_of(history_.levels, draft_.observed);
    if (last != nullptr && recent(last->at)) {
      const Other* other = explained_by(*level_cm, last->level_cm, std::begin(kUnits), std::end(kUnits));
      if (other != nullptr) {
        question("level_cm", *level_cm, "cm", other->name, on_gauge(*level_cm * other->factor), 0);
        return;
      }
    }
    if (*level_cm >= limit("level_unit_below_cm") || *level_cm == std::floor(*level_cm)) return;
    question("level_cm", *level_cm, "cm", "m", on_gauge(*level_cm * kCmPerM), 0);
  }

  void ask_water() {
    for (const std::string_view key : {"do_mg_l", "do_bottom_mg_l"}) {
      const auto do_mg_l = number(key);
      if (!do_mg_l) continue;
      const auto& full_mg_l = water_.saturation_mg_l;
      const bool over_saturation = full_mg_l && 100 * *do_mg_l / *full_mg_l > limit("do_percent");
      if (*do_mg_l <= limit("do_unit_above_mg_l") && !over_saturation) continue;
      question(key, *do_mg_l, "mg_l", "percent_saturation",
               full_mg_l ? std::optional(*full_mg_l * *do_mg_l / 100) : std::nullopt, 1);
    }
    ask_salinity();
  }

  std::optional<double> last_salinity() const {
    for (auto it = history_.water.rbegin(); it != history_.water.rend(); ++it) {
      if (it->at > draft_.observed || !it->salinity) continue;
      return recent(it->at) ? it->salinity : std::nullopt;
    }
    return std::nullopt;
  }

  void ask_salinity() {
    const auto typed = number("salinity");
    if (!typed) return;
    const Result<double> salinity =
        salinity_from_specific_conductance(*typed, water_.temperature_c.value_or(kMeterReferenceC));
    if (!salinity) return;
    const std::optional<double> last = last_salinity();
    const bool odd =
        last ? !near(*typed, *last) && near(*salinity, *last) : *typed > limit("salinity_unit_above");
    if (!odd) return;
    findings_.push_back({Finding::Weight::questioned, "salinity",
                         Message("finding.unit_salinity")
                             .with("value", as_typed(*typed, ""))
                             .with("conductivity", as_typed(*typed, "ms_cm"))
                             .with("likely", Quantity{*salinity, 1, ""}),
                         std::round(*salinity * 10) / 10});
  }

  void ask_air() {
    const auto percent = number("do_percent_in_air");
    if (!percent || *percent >= limit("air_unit_below_percent")) return;
    question("do_percent_in_air", *percent, "percent", "mg_l", std::nullopt, 0);
  }

  double bag_kg() const {
    const auto found = draft_.values.find("product");
    const auto* product = found == draft_.values.end() ? nullptr : std::get_if<std::string>(&found->second);
    if (product == nullptr) return 0;
    const auto bag = bags_kg_.find(*product);
    return bag == bags_kg_.end() ? 0 : bag->second;
  }

  void ask_product() {
    const auto product_kg = number("product_kg");
    const double area_ha = number("area_ha").value_or(history_.pond.nominal_area_ha);
    if (!product_kg || area_ha <= 0) return;
    const bool soil = draft_.kind == kind::kSoilBroadcast;
    const double low = protocol_.number(soil ? "stage.bottom.broadcast_low_kg_ha" : "dose.low_kg_ha");
    const double high = soil ? protocol_.number("stage.bottom.broadcast_high_kg_ha")
                             : protocol_.number("stage.first_dose.rate_kg_ha") *
                                   (1 + protocol_.number("stage.first_dose.rate_tolerance_share"));
    const auto inside = [&](double kg) { return at_least(kg / area_ha, low) && at_most(kg / area_ha, high); };
    if (inside(*product_kg)) return;
    for (const Other& other : {Other{"bag", bag_kg()}, Other{"g", 1 / kGPerKg}, Other{"kg_ha", area_ha}}) {
      const double likely_kg = *product_kg * other.factor;
      if (inside(likely_kg)) question("product_kg", *product_kg, "kg", other.name, likely_kg, 1);
    }
  }

  const Draft& draft_;
  const PondHistory& history_;
  const Protocol& protocol_;
  const WaterForUnits& water_;
  const BagSizes& bags_kg_;
  std::vector<Finding>& findings_;
};

bool alike(double one, double other) { return one <= kSameArea * other && other <= kSameArea * one; }

Finding area_question(std::string_view key, double value, std::string_view unit, std::string_view other,
                      double likely) {
  return {Finding::Weight::questioned, std::string(key),
          Message("finding.unit")
              .with("what", value_word("area_ha"))
              .with("value", as_typed(value, unit))
              .with("unit", Word{"unit." + std::string(unit)})
              .with("other", unit_name(other))
              .with("likely", as_typed(likely, unit)),
          likely};
}

}  // namespace

void check_units(const Draft& draft, const PondHistory& history, const Protocol& protocol,
                 const WaterForUnits& water, const BagSizes& bags_kg, std::vector<Finding>& findings) {
  UnitQuestions(draft, history, protocol, water, bags_kg, findings).ask();
}

std::optional<Finding> question_area(const Protocol& protocol, double nominal_area_ha, double shape_area_ha) {
  if (nominal_area_ha <= 0 || shape_area_ha <= 0) return std::nullopt;
  const double shape_m2 = shape_area_ha * kM2PerHa;
  if (shape_m2 < protocol.number("entry.questioned.area_unit_below_m2")) {
    return area_question("survey_area_m2", shape_m2, "m2", "ha", shape_m2 * kM2PerHa);
  }
  if (!alike(nominal_area_ha / kM2PerHa, shape_area_ha)) return std::nullopt;
  return area_question("nominal_area_ha", nominal_area_ha, "ha", "m2", nominal_area_ha / kM2PerHa);
}

std::optional<Finding> question_stock(const Protocol& protocol, double product_kg, double bag_kg) {
  if (product_kg <= 0) return std::nullopt;
  const auto question = [&](std::string_view other, double likely_kg) {
    return Finding{Finding::Weight::questioned, "product_kg",
                   Message("finding.unit")
                       .with("what", value_word("product_kg"))
                       .with("value", as_typed(product_kg, "kg"))
                       .with("unit", Word{"unit.kg"})
                       .with("other", unit_name(other))
                       .with("likely", Quantity{likely_kg, 1, "kg"}),
                   likely_kg};
  };
  if (product_kg > protocol.number("entry.questioned.stock_unit_above_kg")) {
    return question("g", product_kg / kGPerKg);
  }
  if (bag_kg > 0 && product_kg < bag_kg) return question("bag", product_kg * bag_kg);
  return std::nullopt;
}

}  // namespace tawny
