// By hand: what the dose bin needs. Salts, bins, bags, lanes.
#include <algorithm>
#include <cmath>

#include "dose/bin_plan.h"
#include "dose/dose.h"
#include "dose/lanes.h"
#include "reckon/given.h"
#include "science/salts.h"

namespace tawny {
namespace {

using Kind = ReckonInput::Kind;

// The product's cautions go with every answer that someone may mix by.
void add_cautions(ReckonResults& results, const Product& product) {
  for (const std::string& caution : product.cautions) results.note(Message(caution));
}

Result<Salt> salt_of(const Product& product) {
  if (!product.salt.empty()) return salt_named(product.salt);
  return refuse(ProblemKind::unsupported, "product",
                Message("problem.not_a_salt_to_dissolve").with("product", Word{"product." + product.id}));
}

Result<ReckonAnswer> reckon_dose(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(product, given.product("product"));
  BinLimits limits;
  limits.bin_volume_l = given.number("bin_l");
  limits.fill_share = given.number("fill_share");
  limits.lift_kg = given.number("lift_kg");
  limits.boat_load_kg = given.number("boat_load_kg");
  limits.water_temperature_c = given.number("temperature_c");
  limits.water_salinity = given.number("salinity");
  limits.saturation_share = given.number("saturation_share");
  const double area_ha = given.number("area_ha");
  TAWNY_RECKON_TAKE(product_kg, product_for_pond_kg(given.number("rate_kg_ha"), area_ha));
  // Bins first: they refuse what the protocol does not allow, and say why.
  TAWNY_RECKON_TAKE(plan, plan_bins(*product, product_kg, limits));
  TAWNY_RECKON_TAKE(nitrogen_kg, nitrogen_in_product_kg(*product, product_kg));
  TAWNY_RECKON_TAKE(nitrate_n_mg_l,
                    nitrate_n_added_mg_l(*product, product_kg, 1e4 * area_ha * given.number("mean_depth_m")));
  const double bag_kg = given.number("bag_kg");
  TAWNY_RECKON_TAKE(bags, bags_for(product_kg, bag_kg));
  ReckonResults results(given);
  results.put("product_kg", product_kg)
      .put("nitrogen_kg", nitrogen_kg)
      .put("nitrate_n_mg_l", nitrate_n_mg_l)
      .put("bags", product_kg / bag_kg)
      .put("whole_bags", static_cast<double>(bags.whole))
      .put("part_bag_kg", bags.part_kg)
      .put("bins", static_cast<double>(plan.bins))
      .put("salt_per_bin_kg", plan.salt_per_bin_kg)
      .put("water_per_bin_l", plan.water_per_bin_l)
      .put("solution_per_bin_l", plan.solution_per_bin_l)
      .put("solution_mass_kg", plan.solution_mass_kg)
      .put("final_temperature_c", plan.final_temperature_c)
      .put("share_of_saturation", plan.share_of_saturation)
      .put("bound_by", plan.bound_by);
  if (const auto price_per_kg = given.maybe("price_per_kg")) {
    TAWNY_RECKON_TAKE(cost, dose_cost(product_kg, *price_per_kg));
    results.put("cost", cost);
    if (const auto production_cost = given.maybe("production_cost")) {
      TAWNY_RECKON_TAKE(share, share_of_production_cost(cost, *production_cost));
      results.put("cost_share", share);
    }
  } else if (given.has("production_cost")) {
    return refuse(ProblemKind::missing, "price_per_kg",
                  Message("problem.input_missing").with("parameter", Word{"parameter.price_per_kg"}));
  }
  add_cautions(results, *product);
  results.note(Message("caution.lift_and_boat")).note(Message("caution.boat")).note(Message("caution.law"));
  return results.done();
}

Result<ReckonAnswer> reckon_dissolving(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(product, given.product("product"));
  TAWNY_RECKON_TAKE(salt, salt_of(*product));
  const double product_kg = given.number("salt_kg");
  const double anhydrous_kg = product_kg * product->anhydrous_fraction;
  TAWNY_RECKON_TAKE(end, dissolve(salt, anhydrous_kg, given.number("water_kg") + product_kg - anhydrous_kg,
                                  given.number("temperature_c")));
  ReckonResults results(given);
  results.put("final_temperature_c", end.final_temperature_c)
      .put("solution_volume_l", end.solution_volume_l)
      .put("share_of_saturation", end.share_of_saturation)
      .put("dissolves", end.dissolves);
  add_cautions(results, *product);
  return results.done();
}

Result<ReckonAnswer> reckon_solubility(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(product, given.product("product"));
  TAWNY_RECKON_TAKE(salt, salt_of(*product));
  TAWNY_RECKON_TAKE(mass_fraction, solubility_mass_fraction(salt, given.number("temperature_c")));
  return ReckonResults(given)
      .put("mass_fraction", mass_fraction)
      .put("grams_per_100_g_water", 100 * mass_fraction / (1 - mass_fraction))
      .done();
}

Result<ReckonAnswer> reckon_solution_density(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(product, given.product("product"));
  TAWNY_RECKON_TAKE(salt, salt_of(*product));
  TAWNY_RECKON_TAKE(density_kg_m3,
                    solution_density_kg_m3(salt, given.number("mass_fraction"), given.number("temperature_c")));
  return ReckonResults(given).put("density_kg_m3", density_kg_m3).done();
}

Result<ReckonAnswer> reckon_lanes(const ReckonGiven& given) {
  const double bins = given.number("bins");
  if (bins != std::floor(bins)) {
    return refuse(ProblemKind::malformed, "bins",
                  Message("problem.not_whole").with("parameter", Word{"parameter.bins"}));
  }
  TAWNY_RECKON_TAKE(lanes, plan_lanes(given.number("length_m"), given.number("width_m"),
                                      given.number("spacing_m"), static_cast<int>(bins)));
  // A lane on which a bin runs empty is cut there: as many lanes as there are different rows.
  double travel_m = 0;
  double count = 0;
  for (std::size_t i = 0; i < lanes.size(); ++i) {
    travel_m += std::fabs(lanes[i].x1 - lanes[i].x0);
    if (i == 0 || lanes[i].y0 != lanes[i - 1].y0) ++count;
  }
  return ReckonResults(given)
      .put("lanes", count)
      .put("lane_spacing_m", given.number("width_m") / count)
      .put("travel_m", travel_m)
      .put("travel_per_bin_m", travel_m / bins)
      .done();
}

constexpr ReckonInput kDoseInputs[] = {
    plain_input("product", Kind::product),
    number_input("area_ha", {0.001, 1000, "ha", 3}),
    number_input("rate_kg_ha", {0.1, 500, "kg_ha", 1}),
    number_input("mean_depth_m", {0.05, 10, "m", 2}),
    number_input("temperature_c", kTemperature_c),
    number_input("bag_kg", {0.1, 2000, "kg", 1}),
    protocol_number("bin_l", {1, 10000, "l", 0}, "bin.volume_l"),
    protocol_number("lift_kg", {1, 1000, "kg", 0}, "bin.lift_kg"),
    protocol_number("boat_load_kg", {1, 10000, "kg", 0}, "bin.boat_load_kg"),
    protocol_number("fill_share", {0.1, 1, "share", 2}, "bin.fill_share"),
    protocol_number("saturation_share", {0.05, 0.95, "share", 2}, "bin.saturation_share"),
    number_or("salinity", kSalinity, 0),
    optional_number("price_per_kg", {0, 1e9, "", 2}),
    optional_number("production_cost", {0.01, 1e12, "", 2}),
};
constexpr ReckonResult kDoseResults[] = {
    {"product_kg", "kg", 2},
    {"nitrogen_kg", "kg", 2},
    {"nitrate_n_mg_l", "mg_l_n", 3},
    {"bags", "", 2},
    {"whole_bags", "", 0},
    {"part_bag_kg", "kg", 2},
    {"bins", "", 0},
    {"salt_per_bin_kg", "kg", 2},
    {"water_per_bin_l", "l", 0},
    {"solution_per_bin_l", "l", 0},
    {"solution_mass_kg", "kg", 0},
    {"final_temperature_c", "c", 1},
    {"share_of_saturation", "share", 2},
    {"bound_by", "", 0, ReckonResult::Kind::choice},
    {"cost", "", 2},
    {"cost_share", "share", 4},
};

constexpr ReckonInput kDissolvingInputs[] = {
    plain_input("product", Kind::product),
    number_input("salt_kg", {0.01, 100000, "kg", 2}),
    number_input("water_kg", {0.01, 99000, "kg", 2}),
    number_input("temperature_c", kTemperature_c),
};
constexpr ReckonResult kDissolvingResults[] = {
    {"final_temperature_c", "c", 1},
    {"solution_volume_l", "l", 1},
    {"share_of_saturation", "share", 2},
    {"dissolves", "", 0, ReckonResult::Kind::flag},
};

constexpr ReckonInput kSolubilityInputs[] = {
    plain_input("product", Kind::product),
    number_input("temperature_c", kTemperature_c),
};
constexpr ReckonResult kSolubilityResults[] = {
    {"mass_fraction", "share", 3},
    {"grams_per_100_g_water", "g", 1},
};

constexpr ReckonInput kSolutionDensityInputs[] = {
    plain_input("product", Kind::product),
    number_input("mass_fraction", {0, 0.6, "share", 3}),
    number_input("temperature_c", kTemperature_c),
};
constexpr ReckonResult kSolutionDensityResults[] = {{"density_kg_m3", "kg_m3", 1}};

constexpr ReckonInput kLanesInputs[] = {
    number_input("length_m", {1, 5000, "m", 0}),
    number_input("width_m", {1, 5000, "m", 0}),
    protocol_number("spacing_m", {1, 200, "m", 1}, "bin.lane_spacing_m"),
    number_input("bins", {1, 500, "", 0}),
};
constexpr ReckonResult kLanesResults[] = {
    {"lanes", "", 0},
    {"lane_spacing_m", "m", 1},
    {"travel_m", "m", 0},
    {"travel_per_bin_m", "m", 0},
};

constexpr Reckoning kRows[] = {
    {"dose", ReckonGroup::dose, kDoseInputs, kDoseResults,
     "IUPAC atomic weights and label grades; bins: CRC Handbook, 98th ed. (solubility), Laliberté & Cooper "
     "2004 "
     "and Laliberté 2009 (density), CRC heats of formation (cooling)",
     "product=sodium_nitrate area_ha=0.5 rate_kg_ha=25 mean_depth_m=0.6 temperature_c=27 bag_kg=25",
     reckon_dose},
    {"dissolving", ReckonGroup::dose, kDissolvingInputs, kDissolvingResults,
     "CRC heats of formation; sodium nitrate at strength: J. Solution Chem., BF00647029; specific heat: "
     "Laliberté "
     "2009; no heat from outside",
     "product=potassium_nitrate salt_kg=20 water_kg=100 temperature_c=25", reckon_dissolving},
    {"solubility", ReckonGroup::dose, kSolubilityInputs, kSolubilityResults,
     "CRC Handbook of Chemistry and Physics, 98th ed.; anhydrous salt in pure water",
     "product=sodium_nitrate temperature_c=25", reckon_solubility},
    {"solution-density", ReckonGroup::dose, kSolutionDensityInputs, kSolutionDensityResults,
     "Laliberté & Cooper 2004, J. Chem. Eng. Data 49:1141; parameters Laliberté 2009, 54:1725; anhydrous salt",
     "product=sodium_nitrate mass_fraction=0.2 temperature_c=20", reckon_solution_density},
    {"lanes", ReckonGroup::dose, kLanesInputs, kLanesResults,
     "parallel lanes, the outer ones half a spacing from the banks; no published source",
     "length_m=140 width_m=60 bins=4", reckon_lanes},
};

}  // namespace

std::span<const Reckoning> dose_reckonings() { return kRows; }

}  // namespace tawny
