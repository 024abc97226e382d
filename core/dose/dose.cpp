#include "dose/dose.h"

#include <cmath>

namespace tawny {
namespace {

constexpr Range kRate{0.1, 500, "kg_ha", 1};
constexpr Range kArea{0.001, 1000, "ha", 3};
constexpr Range kMass{0, 1e6, "kg", 1};
constexpr Range kVolume{1, 1e8, "m3", 0};
constexpr Range kBag{0.1, 2000, "kg", 1};
constexpr Range kPrice{0, 1e9, "", 2};
constexpr Range kCost{0, 1e15, "", 2};
constexpr Range kProductionCost{0.01, 1e15, "", 2};
constexpr Range kBagCount{0, 100000, "", 0};
constexpr double kGram_kg = 0.001;

}  // namespace

Result<double> product_for_pond_kg(double rate_kg_ha, double area_ha) {
  TAWNY_REFUSE_OUTSIDE("rate_kg_ha", rate_kg_ha, kRate);
  TAWNY_REFUSE_OUTSIDE("area_ha", area_ha, kArea);
  return rate_kg_ha * area_ha;
}

Result<double> nitrogen_in_product_kg(const Product& product, double product_kg) {
  TAWNY_REFUSE_OUTSIDE("product_kg", product_kg, kMass);
  return product_kg * product.nitrogen_fraction;
}

Result<double> product_for_nitrogen_kg(const Product& product, double nitrogen_kg) {
  TAWNY_REFUSE_OUTSIDE("nitrogen_kg", nitrogen_kg, kMass);
  if (!(product.nitrogen_fraction > 0)) {
    return refuse(ProblemKind::impossible, "product",
                  Message("problem.product_without_nitrogen").with("product", Word{"product." + product.id}));
  }
  return nitrogen_kg / product.nitrogen_fraction;
}

Result<double> nitrate_n_added_mg_l(const Product& product, double product_kg, double volume_m3) {
  TAWNY_REFUSE_OUTSIDE("product_kg", product_kg, kMass);
  TAWNY_REFUSE_OUTSIDE("volume_m3", volume_m3, kVolume);
  return 1000 * product_kg * product.nitrate_n_fraction / volume_m3;
}

Result<Bags> bags_for(double product_kg, double bag_kg) {
  TAWNY_REFUSE_OUTSIDE("product_kg", product_kg, kMass);
  TAWNY_REFUSE_OUTSIDE("bag_kg", bag_kg, kBag);
  TAWNY_REFUSE_OUTSIDE("bags", product_kg / bag_kg, kBagCount);
  Bags bags;
  const double whole = std::floor((product_kg + kGram_kg) / bag_kg);
  bags.whole = static_cast<int>(whole);
  const double rest_kg = product_kg - whole * bag_kg;
  bags.part_kg = rest_kg < kGram_kg ? 0 : rest_kg;
  return bags;
}

Result<double> dose_cost(double product_kg, double price_per_kg) {
  TAWNY_REFUSE_OUTSIDE("product_kg", product_kg, kMass);
  TAWNY_REFUSE_OUTSIDE("price_per_kg", price_per_kg, kPrice);
  return product_kg * price_per_kg;
}

Result<double> share_of_production_cost(double cost, double production_cost) {
  TAWNY_REFUSE_OUTSIDE("cost", cost, kCost);
  TAWNY_REFUSE_OUTSIDE("production_cost", production_cost, kProductionCost);
  return cost / production_cost;
}

}  // namespace tawny
