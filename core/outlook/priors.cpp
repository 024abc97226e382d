#include "outlook/priors.h"

#include <cmath>
#include <string>

#include "base/json.h"

namespace tawny {
namespace {

constexpr std::array<std::string_view, kTraits> kTraitNames = {
    "growth_share",
    "half_light_umol_m2_s",
    "half_nitrogen_mg_l",
    "carbon_per_chlorophyll",
    "loss_per_d",
    "grazing_per_d",
    "background_per_m",
    "chlorophyll_attenuation_m2_mg",
    "secchi_coefficient",
    "bottom_nitrogen_mg_m2_d",
    "nitrogen_loss_per_d",
    "recycled_share",
    "soil_release_per_d",
    "soil_kept_share",
    "source_chlorophyll_mg_m3",
    "source_nitrogen_mg_l",
    "oxygen_share",
    "secchi_error_share",
    "unrest",
};

using Json = rapidjson::Document::ValueType;

// Collects the first fault; what was read after it does not matter.
class Rows {
 public:
  explicit Rows(const Json& all) : all_(all) {}

  double number(std::string_view row, const char* key) {
    const auto found = all_.FindMember(Json(row.data(), static_cast<rapidjson::SizeType>(row.size())));
    if (found != all_.MemberEnd() && found->value.IsObject()) {
      const auto value = found->value.FindMember(key);
      if (value != found->value.MemberEnd() && value->value.IsNumber()) return value->value.GetDouble();
    }
    fault(row);
    return 1;
  }
  double above_zero(std::string_view row, const char* key) {
    const double value = number(row, key);
    if (!(value > 0)) fault(row);
    return value;
  }
  void fault(std::string_view row) {
    if (faulty_.empty()) faulty_ = row;
  }
  const std::string& faulty() const { return faulty_; }

 private:
  const Json& all_;
  std::string faulty_;
};

tl::unexpected<Problem> malformed(std::string_view row) {
  return refuse(ProblemKind::malformed, "outlook",
                Message("problem.outlook_row").with("row", Text{std::string(row)}));
}

TraitPrior trait_in(Rows& rows, std::string_view row) {
  const double median = rows.above_zero(row, "median");
  const double low = rows.above_zero(row, "low");
  const double high = rows.above_zero(row, "high");
  const double log_sd = rows.above_zero(row, "log_sd");
  if (!(low < median && median < high)) rows.fault(row);
  return {std::log(median), log_sd, std::log(low), std::log(high), low, high};
}

}  // namespace

std::string_view name_of(Trait trait) { return kTraitNames[static_cast<std::size_t>(trait)]; }

Result<OutlookPriors> parse_outlook_priors(std::string_view json) {
  const rapidjson::Document document = parse_json(json);
  if (document.HasParseError() || !document.IsObject()) return malformed("");
  Rows rows(document);
  OutlookPriors priors;
  for (std::size_t i = 0; i < kTraits; ++i) priors.traits[i] = trait_in(rows, kTraitNames[i]);
  priors.grazing_drift = rows.above_zero("drift.grazing", "log_sd_per_root_d");
  priors.background_drift = rows.above_zero("drift.background", "log_sd_per_root_d");
  priors.bottom_nitrogen_drift = rows.above_zero("drift.bottom_nitrogen", "log_sd_per_root_d");
  priors.trait_kept = std::exp(-static_cast<double>(kForgetTurns) / rows.above_zero("trait_memory_d", "value"));
  priors.trait_renewed = std::sqrt(1 - priors.trait_kept * priors.trait_kept);
  constexpr std::array<Sky, 3> kSkies = {Sky::bright, Sky::mixed, Sky::dull};
  for (const Sky sky : kSkies) {
    const std::string row = "sky." + std::string(tawny::name_of(sky));
    priors.skies[static_cast<std::size_t>(sky)] = {rows.above_zero(row, "mean"), rows.above_zero(row, "sd")};
  }
  priors.swing_error_share = rows.above_zero("swing_error_share", "value");
  priors.swing_least_mg_l = rows.above_zero("swing_least_mg_l", "value");
  priors.wild_chance = rows.above_zero("wild_chance", "value");
  priors.wild_error_share = rows.above_zero("wild_error_share", "value");
  priors.water_attenuation_per_m = rows.above_zero("water_attenuation_per_m", "value");
  priors.surface_share = rows.above_zero("surface_share", "value");
  priors.temperature_c = rows.above_zero("temperature_c", "value");
  priors.days_most = static_cast<int>(rows.above_zero("days_most", "value"));
  priors.readings_enough = static_cast<std::size_t>(rows.above_zero("readings_enough", "value"));
  priors.least_learned_share = rows.above_zero("least_learned_share", "value");
  priors.farm_share = rows.above_zero("farm_share", "value");
  if (!(priors.farm_share < 1)) rows.fault("farm_share");
  priors.farm_cycles_most = static_cast<std::size_t>(rows.above_zero("farm_cycles_most", "value"));
  priors.floor_risk_high = rows.above_zero("floor_risk_high", "value");
  const auto dawn = [&](std::string_view key) { return rows.above_zero("dawn." + std::string(key), "value"); };
  priors.dawn.reading_error_mg_l = dawn("reading_error_mg_l");
  priors.dawn.two_dusk_error_mg_l = dawn("two_dusk_error_mg_l");
  priors.dawn.own_nights_error_mg_l = dawn("own_nights_error_mg_l");
  priors.dawn.one_night_share = dawn("one_night_share");
  priors.dawn.dusk_hours_apart = dawn("dusk_hours_apart");
  priors.dawn.nights_enough = static_cast<std::size_t>(dawn("nights_enough"));
  priors.dawn.nights_most = static_cast<std::size_t>(dawn("nights_most"));
  priors.dawn.q10 = dawn("q10");
  priors.dawn.risk_high = dawn("risk_high");
  priors.dawn.wind_m_s = dawn("wind_m_s");
  priors.dawn.temperature_c = priors.temperature_c;
  priors.dawn.salinity = dawn("salinity");
  priors.dawn.depth_m = dawn("depth_m");
  priors.words.very_unlikely = rows.above_zero("words.very_unlikely", "value");
  priors.words.unlikely = rows.above_zero("words.unlikely", "value");
  priors.words.likely = rows.above_zero("words.likely", "value");
  priors.words.very_likely = rows.above_zero("words.very_likely", "value");
  if (!rows.faulty().empty()) return malformed(rows.faulty());
  return priors;
}

}  // namespace tawny
