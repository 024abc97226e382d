// Fertilizers as data (assets/products.json): what is in them, what the protocol thinks of them, what to beware
// of.
//
//   nitrogen_fraction     kg N in a kg of product, all forms
//   nitrate_n_fraction    of it as nitrate
//   ammonium_n_fraction   of it as ammonium
//   anhydrous_fraction    kg of salt without its crystal water in a kg of product
//
// For sodium nitrate, potassium nitrate and the tetrahydrate these are of the pure salt, so a bag may hold up
// to 4 % less; for the mixed 15.5-0-0 they are of the double salt.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace tawny {

struct Product {
  std::string id;        // its name is the word "product.<id>"
  std::string grade;     // N-P-K as printed on the bag; empty where there is none
  bool allowed = false;  // by the protocol for open earthen ponds
  std::string
      reason_id;  // word that says why it is not allowed, or what to know of an allowed one; may be empty
  double nitrogen_fraction = 0;
  double nitrate_n_fraction = 0;
  double ammonium_n_fraction = 0;
  std::string salt;  // "sodium_nitrate", "potassium_nitrate", "calcium_nitrate"; empty: not a salt to dissolve
  double anhydrous_fraction = 0;
  std::vector<std::string> cautions;      // message ids, in the order to show them
  std::vector<std::string> hazard_codes;  // GHS, as suppliers print them; the supplied sheet rules
  std::string mark;                       // of the verdict: "P" practice, "H" handbook, "E" our own estimate
};

// Reads {"products": [{...}, ...]}. Refuses what is not JSON, a missing or mistyped key, an id that comes
// twice, fractions outside 0 .. 1 or in conflict, a salt that science does not know, and an allowed product
// without a salt.
Result<std::vector<Product>> parse_products(std::string_view json);

// Null when there is none.
const Product* find_product(const std::vector<Product>& products, std::string_view id);

}  // namespace tawny
