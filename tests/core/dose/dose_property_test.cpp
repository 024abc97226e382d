#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <map>

#include "core/dose/products_of_the_app.h"
#include "dose/bin_plan.h"
#include "dose/dose.h"
#include "dose/lanes.h"
#include "science/salts.h"

namespace tawny {
namespace {

double between(int low, int high, double scale) { return *rc::gen::inRange(low, high + 1) / scale; }

Product any_salt_product() {
  return app_product(*rc::gen::element<std::string>(
      "sodium_nitrate", "potassium_nitrate", "calcium_nitrate_tetrahydrate", "calcium_nitrate_fertilizer"));
}

BinLimits any_limits() {
  BinLimits limits;
  limits.bin_volume_l = between(20, 500, 1);
  limits.fill_share = between(50, 100, 100);
  limits.lift_kg = between(5, 80, 1);
  limits.boat_load_kg = between(30, 600, 1);
  limits.water_temperature_c = between(80, 340, 10);
  limits.water_salinity = between(0, 420, 10);
  limits.saturation_share = between(20, 80, 100);
  return limits;
}

RC_GTEST_PROP(BinPlanProperty, EveryBoundHoldsAndTheDoseIsWhole, ()) {
  const Product product = any_salt_product();
  const BinLimits limits = any_limits();
  const double product_kg = between(1, 5000, 10);
  const Result<BinPlan> plan = plan_bins(product, product_kg, limits);
  if (!plan) {
    RC_ASSERT(plan.error().kind == ProblemKind::impossible);
    return;
  }
  RC_ASSERT(plan->bins >= 1);
  RC_ASSERT(plan->bins <= kMostBins);
  RC_ASSERT(std::fabs(plan->bins * plan->salt_per_bin_kg - product_kg) <= 1e-9 * product_kg);
  RC_ASSERT(plan->salt_per_bin_kg <= limits.lift_kg);
  RC_ASSERT(plan->solution_per_bin_l <= limits.bin_volume_l * limits.fill_share + 1e-9);
  RC_ASSERT(plan->solution_mass_kg <= limits.boat_load_kg + 1e-9);
  RC_ASSERT(plan->share_of_saturation <= limits.saturation_share);
  RC_ASSERT(plan->final_temperature_c >= 0);
  RC_ASSERT(plan->final_temperature_c < limits.water_temperature_c);
  RC_ASSERT(plan->water_per_bin_l > 0);
  RC_ASSERT((plan->bins == 1) == (plan->bound_by == "none"));
}

RC_GTEST_PROP(BinPlanProperty, AsMuchWaterAsBinOrBoatAllow, ()) {
  const BinLimits limits = any_limits();
  const Result<BinPlan> plan = plan_bins(any_salt_product(), between(1, 500, 10), limits);
  if (!plan) return;
  const bool bin_full = plan->solution_per_bin_l >= limits.bin_volume_l * limits.fill_share - 1e-6;
  const bool boat_full = plan->solution_mass_kg >= limits.boat_load_kg - 1e-6;
  RC_ASSERT(bin_full || boat_full);
}

RC_GTEST_PROP(BinPlanProperty, LooserLimitsNeverAskForMoreBins, ()) {
  const Product product = any_salt_product();
  const BinLimits limits = any_limits();
  const double product_kg = between(1, 5000, 10);
  BinLimits looser = limits;
  looser.bin_volume_l *= 1.5;
  looser.lift_kg *= 1.5;
  looser.boat_load_kg *= 1.5;
  const Result<BinPlan> plan = plan_bins(product, product_kg, limits);
  const Result<BinPlan> loose = plan_bins(product, product_kg, looser);
  if (!plan) return;
  RC_ASSERT(loose.has_value());
  RC_ASSERT(loose->bins <= plan->bins);
}

RC_GTEST_PROP(DissolveProperty, NeverMoreThanTheChilledWaterHolds, ()) {
  const Salt salt = static_cast<Salt>(*rc::gen::inRange(0, 3));
  const double salt_kg = between(1, 20000, 100);
  const double start_c = between(0, 400, 10);
  const Result<Dissolving> state = dissolve(salt, salt_kg, 100, start_c);
  RC_ASSERT(state.has_value());
  RC_ASSERT(state->share_of_saturation <= 1 + 1e-9);
  RC_ASSERT(state->final_temperature_c >= 0);
  RC_ASSERT(state->final_temperature_c <= start_c);
  RC_ASSERT(std::isfinite(state->solution_volume_l));
}

RC_GTEST_PROP(BagsProperty, WholeAndPartMakeTheDose, ()) {
  const double product_kg = between(0, 1000000, 100);
  const double bag_kg = between(50, 5000, 100);
  const Result<Bags> bags = bags_for(product_kg, bag_kg);
  RC_ASSERT(bags.has_value());
  RC_ASSERT(std::fabs(bags->whole * bag_kg + bags->part_kg - product_kg) < 0.0011);
  RC_ASSERT(bags->part_kg >= 0);
  RC_ASSERT(bags->part_kg < bag_kg);
}

RC_GTEST_PROP(LanesProperty, EqualSharesAndTheWholeSurface, ()) {
  const double length_m = between(10, 5000, 10);
  const double width_m = between(10, 3000, 10);
  const double spacing_m = between(10, 500, 10);
  const int bins = *rc::gen::inRange(1, 61);
  const Result<std::vector<Lane>> lanes = plan_lanes(length_m, width_m, spacing_m, bins);
  RC_ASSERT(lanes.has_value());
  std::map<int, double> length_of_bin_m;
  std::map<double, double> length_of_row_m;
  int last_bin = 1;
  for (const Lane& lane : *lanes) {
    RC_ASSERT(lane.y0 == lane.y1);
    RC_ASSERT(lane.bin >= last_bin);  // one bin after the other
    RC_ASSERT(lane.bin <= last_bin + 1);
    last_bin = lane.bin;
    const double piece_m = std::fabs(lane.x1 - lane.x0);
    RC_ASSERT(piece_m > 0);
    length_of_bin_m[lane.bin] += piece_m;
    length_of_row_m[lane.y0] += piece_m;
  }
  RC_ASSERT(static_cast<int>(length_of_bin_m.size()) == bins);
  const double share_m = length_m * static_cast<double>(length_of_row_m.size()) / bins;
  for (const auto& [bin, bin_m] : length_of_bin_m) RC_ASSERT(std::fabs(bin_m - share_m) < 1e-6);
  double before_m = 0;  // the bank, then each row
  bool first = true;
  for (const auto& [y, row_m] : length_of_row_m) {
    RC_ASSERT(std::fabs(row_m - length_m) < 1e-6);
    RC_ASSERT(y - before_m <= (first ? spacing_m / 2 : spacing_m) + 1e-6);
    before_m = y;
    first = false;
  }
  RC_ASSERT(width_m - before_m <= spacing_m / 2 + 1e-6);
}

}  // namespace
}  // namespace tawny
