// In how many bins, of how many kilograms in how many litres, a dose of salt is dissolved.
//
// The plan is the fewest equal bins for which every bound holds. Each bin gets as much pond water as its own
// volume and the boat leave room for, since more water means weaker and less chilled.
//
//   bound       what must hold
//   lift        product in one bin <= lift_kg
//   volume      solution in one bin, by its density, <= bin_volume_l * fill_share; at the pond water's
//               temperature, not the chilled one: it is the most that the bin will hold, once it warms again
//   boat        product and water in one bin <= boat_load_kg
//   solubility  all dissolves at the temperature that dissolving leaves, and salt per water there is at most
//               saturation_share of what the water would hold
//
// Solution density: that of science/salts.h in pure water, plus what the pond's own salts add to its water
// part. Our own estimate, below 0.5 % of the density at S 35.
//
// What does not hold: the few litres that crystals still undissolved take up more than dissolved ones (the head
// room of fill_share is for them and for stirring); persons and tools on the boat (take them off boat_load_kg
// first); anything said of the salts in science/salts.h.
#pragma once

#include <string>

#include "base/problem.h"
#include "dose/product.h"

namespace tawny {

struct BinLimits {
  double bin_volume_l = 0;         // to the brim, 1 .. 10000
  double fill_share = 0;           // of the brim volume that is used, 0.1 .. 1
  double lift_kg = 0;              // product that two people lift into one bin, 1 .. 1000
  double boat_load_kg = 0;         // one full bin on the boat, without people, 1 .. 10000
  double water_temperature_c = 0;  // 0 .. 40
  double water_salinity = 0;       // 0 .. 42
  double saturation_share = 0.5;   // 0.05 .. 0.95; pond water as solvent asks for half at most
};

struct BinPlan {
  int bins = 0;
  double salt_per_bin_kg = 0;  // of product, as weighed from the bag
  double water_per_bin_l = 0;  // of pond water, as poured
  double solution_per_bin_l = 0;
  double solution_mass_kg = 0;
  double start_temperature_c = 0;
  double final_temperature_c = 0;
  double share_of_saturation = 0;
  // What one bin fewer would break: "lift", "volume", "boat", "solubility"; "none" when one bin is enough.
  // Where the boat leaves too little water for the salt, though the bin has room, it is "boat". Worded by
  // "bin_bound.<...>".
  std::string bound_by;
};

inline constexpr int kMostBins = 500;

// Refuses: limits out of range, product_kg outside 0.01 .. 100000, a product that is not allowed or is no salt
// to dissolve (unsupported), and (impossible) a dose that kMostBins bins would not hold; the Problem names the
// bound.
Result<BinPlan> plan_bins(const Product& product, double product_kg, const BinLimits& limits);

}  // namespace tawny
