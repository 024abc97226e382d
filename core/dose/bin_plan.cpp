#include "dose/bin_plan.h"

#include <algorithm>
#include <optional>
#include <variant>

#include "science/salts.h"
#include "science/seawater.h"

namespace tawny {
namespace {

constexpr Range kProduct{0.01, 100000, "kg", 2};
constexpr Range kBinVolume{1, 10000, "l", 0};
constexpr Range kFillShare{0.1, 1, "", 2};
constexpr Range kLift{1, 1000, "kg", 0};
constexpr Range kBoat{1, 10000, "kg", 0};
constexpr Range kTemperature{0, 40, "c", 1};
constexpr Range kSalinity{0, 42, "", 1};
constexpr Range kSaturationShare{0.05, 0.95, "", 2};

constexpr const char* kVolume = "volume";
constexpr const char* kSolubility = "solubility";
constexpr const char* kByLift = "lift";
constexpr const char* kByBoat = "boat";

std::optional<Problem> fault_in(const BinLimits& limits) {
  if (auto problem = outside("bin_volume_l", limits.bin_volume_l, kBinVolume)) return problem;
  if (auto problem = outside("fill_share", limits.fill_share, kFillShare)) return problem;
  if (auto problem = outside("lift_kg", limits.lift_kg, kLift)) return problem;
  if (auto problem = outside("boat_load_kg", limits.boat_load_kg, kBoat)) return problem;
  if (auto problem = outside("water_temperature_c", limits.water_temperature_c, kTemperature)) return problem;
  if (auto problem = outside("water_salinity", limits.water_salinity, kSalinity)) return problem;
  return outside("saturation_share", limits.saturation_share, kSaturationShare);
}

// One bin of `product_kg`, for a given salt, water and set of limits.
class Bin {
 public:
  Bin(Salt salt, const Product& product, double product_kg, double pond_water_kg_m3, double pure_water_kg_m3,
      const BinLimits& limits)
      : salt_(salt),
        product_kg_(product_kg),
        salt_kg_(product_kg * product.anhydrous_fraction),
        pond_water_kg_m3_(pond_water_kg_m3),
        pure_water_kg_m3_(pure_water_kg_m3),
        limits_(limits) {}

  // Litres of solution with `water_kg` of pond water. Nothing when it would be stronger than any solution is.
  std::optional<double> solution_l(double water_kg) const {
    const double mass_kg = product_kg_ + water_kg;
    const double w = salt_kg_ / mass_kg;
    const Result<double> in_pure_water = solution_density_kg_m3(salt_, w, limits_.water_temperature_c);
    if (!in_pure_water) return std::nullopt;
    const double density_kg_m3 = *in_pure_water + (1 - w) * (pond_water_kg_m3_ - pure_water_kg_m3_);
    return 1000 * mass_kg / density_kg_m3;
  }

  // The most water that the bin's usable volume takes beside the salt; 0 when not even the salt fits.
  double water_by_volume_kg() const {
    const double usable_l = limits_.bin_volume_l * limits_.fill_share;
    double fits_kg = 0;
    double too_much_kg = usable_l * pond_water_kg_m3_ / 1000;
    for (int i = 0; i < 50; ++i) {
      const double middle_kg = (fits_kg + too_much_kg) / 2;
      const std::optional<double> litres = solution_l(middle_kg);
      // Too strong to be a solution at all: more water mends that, if the volume allows it.
      const bool fits = litres ? *litres <= usable_l : true;
      (fits ? fits_kg : too_much_kg) = middle_kg;
    }
    const std::optional<double> litres = solution_l(fits_kg);
    return litres && *litres <= usable_l ? fits_kg : 0;
  }

  double water_by_boat_kg() const { return limits_.boat_load_kg - product_kg_; }

  // The state after stirring, if that keeps the solubility bound.
  std::optional<Dissolving> dissolved_in(double water_kg) const {
    if (!(water_kg > 0)) return std::nullopt;
    const double crystal_water_kg = product_kg_ - salt_kg_;
    const Result<Dissolving> out =
        dissolve(salt_, salt_kg_, water_kg + crystal_water_kg, limits_.water_temperature_c);
    if (!out || !out->dissolves || out->share_of_saturation > limits_.saturation_share) return std::nullopt;
    return *out;
  }

  // A plan of bins like this one, or the name of the bound that it breaks.
  std::variant<BinPlan, const char*> plan() const {
    if (product_kg_ > limits_.lift_kg) return kByLift;
    const double by_volume_kg = water_by_volume_kg();
    const double by_boat_kg = water_by_boat_kg();
    if (!(by_volume_kg > 0)) return kVolume;
    if (!(by_boat_kg > 0)) return kByBoat;
    const double water_kg = std::min(by_volume_kg, by_boat_kg);
    const std::optional<Dissolving> state = dissolved_in(water_kg);
    const std::optional<double> litres = solution_l(water_kg);
    if (!state || !litres)
      return by_boat_kg < by_volume_kg && dissolved_in(by_volume_kg) ? kByBoat : kSolubility;
    BinPlan plan;
    plan.salt_per_bin_kg = product_kg_;
    plan.water_per_bin_l = 1000 * water_kg / pond_water_kg_m3_;
    plan.solution_per_bin_l = *litres;
    plan.solution_mass_kg = product_kg_ + water_kg;
    plan.start_temperature_c = limits_.water_temperature_c;
    plan.final_temperature_c = state->final_temperature_c;
    plan.share_of_saturation = state->share_of_saturation;
    return plan;
  }

 private:
  Salt salt_;
  double product_kg_;
  double salt_kg_;
  double pond_water_kg_m3_;
  double pure_water_kg_m3_;
  const BinLimits& limits_;
};

}  // namespace

Result<BinPlan> plan_bins(const Product& product, double product_kg, const BinLimits& limits) {
  if (!product.allowed) {
    return refuse(ProblemKind::unsupported, "product",
                  Message("problem.product_not_allowed")
                      .with("product", Word{"product." + product.id})
                      .with("reason", Word{product.reason_id}));
  }
  const Result<Salt> salt = salt_named(product.salt);
  if (!salt) return tl::unexpected<Problem>(salt.error());
  TAWNY_REFUSE_OUTSIDE("product_kg", product_kg, kProduct);
  if (auto problem = fault_in(limits)) return tl::unexpected<Problem>(*std::move(problem));
  const Result<double> pond_water = seawater_density_kg_m3(limits.water_temperature_c, limits.water_salinity);
  if (!pond_water) return tl::unexpected<Problem>(pond_water.error());
  const Result<double> pure_water = seawater_density_kg_m3(limits.water_temperature_c, 0);
  if (!pure_water) return tl::unexpected<Problem>(pure_water.error());

  const char* broken = "none";
  for (int bins = 1; bins <= kMostBins; ++bins) {
    const Bin bin(*salt, product, product_kg / bins, *pond_water, *pure_water, limits);
    const std::variant<BinPlan, const char*> outcome = bin.plan();
    if (const auto* plan = std::get_if<BinPlan>(&outcome)) {
      BinPlan found = *plan;
      found.bins = bins;
      found.bound_by = broken;
      return found;
    }
    broken = std::get<const char*>(outcome);
  }
  return refuse(ProblemKind::impossible, broken,
                Message("problem.too_many_bins")
                    .with("product_kg", Quantity{product_kg, 1, "kg"})
                    .with("most", Quantity{kMostBins, 0, ""})
                    .with("bound", Word{std::string("bin_bound.") + broken}));
}

}  // namespace tawny
