// Hours to bring postlarvae from the water of their bags to the water of the pond.
//
//   symbol  meaning                                              unit
//   dS, dT, dpH   pond less bag                                  (none), C, (none)
//   rS, rT, rpH   what they bear in an hour                      1/h, C/h, 1/h
//   hours of each = |difference| / rate; the longest governs.
//
// Range: temperature 0 .. 40 C, salinity 0 .. 60, pH 3 .. 12; rates 0.05 .. 50 (salinity), 0.05 .. 20 C
// (temperature), 0.01 .. 5 (pH). There are no rates in here: they are the farm's, with 2 per hour, 2 C/h and
// 0.5 per hour to start with. Source: handbooks give 1 to 3 of salinity in an hour, slower below 10, at most 1
// C in 15 to 30 min and 4 C in all, at most 0.5 of pH in an hour (from memory). McGraw et al. 2002, J. World
// Aquacult. Soc. 33:78: falls of 19, 25 and 47 % an hour from 23 made no difference to survival after 48 h;
// PL10 only down to a salinity of 4, PL15 to PL20 down to 1. No published worked case was found; the formula is
// its own check.
//
// What does not hold: the rates are for strong larvae, after a short way; below a salinity of 1 hours are not
// enough: 72 h did better than 48 h (McGraw & Scarpa 2004). Hardness and alkalinity count as well, and are not
// here.
#pragma once

#include <string_view>

#include "base/problem.h"

namespace tawny {

struct AcclimationWater {
  double temperature_c = 0;
  double salinity = 0;
  double ph = 0;
};

struct AcclimationRates {
  double salinity_per_h = 0;
  double temperature_c_per_h = 0;
  double ph_per_h = 0;
};

enum class AcclimationLimit { none, salinity, temperature, ph };
// "none", "salinity", "temperature", "ph".
std::string_view name_of(AcclimationLimit limit);

struct Acclimation {
  double salinity_h = 0;
  double temperature_h = 0;
  double ph_h = 0;
  double hours = 0;
  AcclimationLimit governs = AcclimationLimit::none;  // of two that ask for the same, the first of salinity,
                                                      // temperature, pH
  bool temperature_too_far = false;  // further in all than the limit: the pond, or the bags, must change first
};

// `temperature_total_c` (0.1 .. 40): the largest difference that may be crossed at all. Problems name
// "bag_salinity", "pond_ph" and so on.
Result<Acclimation> acclimation(const AcclimationWater& bag, const AcclimationWater& pond,
                                const AcclimationRates& rates, double temperature_total_c);

// Lowest salinity that postlarvae of an age stand. Younger than `young_days` nothing is known: refused.
struct PlSalinity {
  double young_days = 0;
  double young_lowest = 0;
  double older_days = 0;
  double older_lowest = 0;
};
Result<double> pl_lowest_salinity(double pl_age_days, const PlSalinity& rule);

}  // namespace tawny
