// From a rate in kg/ha to kilograms, nitrogen, bags and money.
//
//   product_kg  = rate_kg_ha * area_ha           the caller says which area: nominal or water surface
//   mg N / L    = 1000 * product_kg * fraction / volume_m3       (1 g/m3 = 1 mg/L)
//
// The rate counts kilograms of product, not of nitrogen: 25 kg/ha of sodium nitrate is 4.12 kg N/ha.
//
// What does not hold: nitrate that the mud and the algae took up on the way; the figure is what is added, not
// what a test kit will find.
#pragma once

#include "base/problem.h"
#include "dose/product.h"

namespace tawny {

// Rate 0.1 .. 500 kg/ha, area 0.001 .. 1000 ha.
Result<double> product_for_pond_kg(double rate_kg_ha, double area_ha);

// kg of nitrogen, all forms, in 0 .. 1e6 kg of product; and back.
Result<double> nitrogen_in_product_kg(const Product& product, double product_kg);
Result<double> product_for_nitrogen_kg(const Product& product, double nitrogen_kg);

// Nitrate-N that the product adds to the pond, mg/L; volume 1 .. 1e8 m3.
Result<double> nitrate_n_added_mg_l(const Product& product, double product_kg, double volume_m3);

struct Bags {
  int whole = 0;
  double part_kg = 0;  // out of one more bag, 0 .. below bag_kg
};

// Bag 0.1 .. 2000 kg, at most 100000 bags. A part below a gram is nothing, and one within a gram of a bag is a
// bag.
Result<Bags> bags_for(double product_kg, double bag_kg);

// Money, in the currency of the price. Price 0 .. 1e9 per kg.
Result<double> dose_cost(double product_kg, double price_per_kg);

// Share (1 = all) of a cost of production above zero.
Result<double> share_of_production_cost(double cost, double production_cost);

}  // namespace tawny
