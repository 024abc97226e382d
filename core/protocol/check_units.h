// The part of check_entry that asks whether a value was read in another unit. A value that is possible as it
// stands, but far from what is likely while the same figure in another unit is likely, is questioned with both
// readings; it is never changed by itself.
//
//   value                       taken for             when
//   secchi_vanish_cm, _return   decimetres            the pair is under entry.questioned.secchi_unit_below_cm
//                               inches                as inches it is near the last Secchi and as it stands it is
//                                                     not; with no last one, under .secchi_inch_below_cm
//   level_cm                    m, inches, feet       the same against the last level; with no last one, a
//                                                     fraction under .level_unit_below_cm is metres
//   depth_at_disc_cm            m                     a fraction under .level_unit_below_cm
//   do_mg_l, do_bottom_mg_l     % of saturation       over .do_unit_above_mg_l or over .do_percent of saturation
//   do_percent_in_air           mg/L                  under .air_unit_below_percent
//   salinity                    mS/cm (at 25 C)       near the last salinity as conductivity and not as it stands;
//                                                     with no last one, over .salinity_unit_above
//   product_kg, on the soil or  bags, g, kg for each  the rate is outside the protocol's range, and inside it as
//   in a corrected dose         hectare               the other
//
// "Near": within .unit_near_share of it. "The last one" was read at most .unit_days before. The ranges and limits are
// our own estimates; inch and foot: the international ones, 2.54 and 30.48 cm.
#pragma once

#include <optional>
#include <vector>

#include "protocol/check_entry.h"

namespace tawny {

// What check_entry knows of the water: temperature and all the oxygen that it can hold against the air.
struct WaterForUnits {
  std::optional<double> temperature_c;
  std::optional<double> saturation_mg_l;
};

void check_units(const Draft& draft, const PondHistory& history, const Protocol& protocol,
                 const WaterForUnits& water, const BagSizes& bags_kg, std::vector<Finding>& findings);

// The same for set-up and stock, whose forms do not go through check_entry. Nothing where nothing is odd.
//
// A nominal area in ha that is that of the pond's shape (full) within a factor of two when it is taken for m2; and a
// shape under entry.questioned.area_unit_below_m2, which may be in ha.
std::optional<Finding> question_area(const Protocol& protocol, double nominal_area_ha, double shape_area_ha);
// Kilograms that came, were counted or ordered: under one bag they may be bags, over
// entry.questioned.stock_unit_above_kg grams. `bag_kg` of 0: not known.
std::optional<Finding> question_stock(const Protocol& protocol, double product_kg, double bag_kg);

}  // namespace tawny
