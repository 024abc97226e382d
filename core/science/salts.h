// Nitrate salts in water: how much dissolves, how heavy the solution is, how far it cools itself.
//
// Every mass of salt here is ANHYDROUS salt. Water that a crystal brings along (calcium nitrate) belongs to
// water_kg.
//
//   symbol  meaning                                   unit
//   t       temperature                               C          0 .. 40
//   w       mass of salt over mass of solution        (none)
//   m       molality                                  mol/kg water
//   rho     density of the solution                   kg/m3
//   dH      integral heat of solution, + = cools      kJ/mol
//   cp      specific heat of the solution, at 25 C    kJ/(kg K)
//
// Solubility: CRC Handbook of Chemistry and Physics, 98th ed., mass fractions at 0, 10, 20, 25, 30 and 40 C,
//   linear between. Differs from the same book's molalities between those points by 0.003 at most.
// Density: Laliberte & Cooper 2004, J. Chem. Eng. Data 49:1141, parameters of Laliberte 2009, 54:1725:
//   rho = 1 / ((1 - w)/rho_w + w/rho_a),  rho_a = (c0 w + c1) exp(1e-6 (t + c4)^2) / (w + c2 + c3 t)
//   fitted for  sodium nitrate 0 .. 100 C, w <= 0.489;  potassium nitrate 5 .. 95 C, w <= 0.284;
//               calcium nitrate 25 .. 60 C, w <= 0.768: below 25 C carried on, with no table to check by.
//   Within 1.5 kg/m3 of the CRC table of sodium nitrate at 20 C, w 0.01 .. 0.4.
// Heat: sodium nitrate, integral of the differential heat at 25 C (J. Solution Chem., BF00647029), m <= 10.4:
//     dH = 20.4537 + 0.70413 m^0.5 - 3.5284 m + 1.14636 m^1.5 - 0.112733 m^2
//   potassium nitrate, infinite dilution, from the CRC heats of formation: 34.8, an upper bound.
//   calcium nitrate, as the tetrahydrate, from heats of formation: 31.5 (from memory).
// Specific heat: Laliberte 2009 for sodium and potassium nitrate (w <= 0.460 and 0.200, carried on above);
//   calcium nitrate: as if the salt added none, which exaggerates the cooling (our own estimate).
//
// What does not hold: pond water as the solvent (its own salts take some of the room: stay at half of
// saturation); fertilizer-grade calcium nitrate, a double salt with ammonium nitrate, is taken for calcium
// nitrate tetrahydrate of the same anhydrous mass: its solubility and density are near, its cooling is an upper
// bound; coatings, clay and anti-caking agents; heat from the bin's walls and the sun (all is adiabatic);
// anhydrous calcium nitrate, which warms.
#pragma once

#include <string_view>

#include "base/problem.h"

namespace tawny {

enum class Salt { sodium_nitrate, potassium_nitrate, calcium_nitrate };

// "sodium_nitrate", "potassium_nitrate", "calcium_nitrate"; anything else is refused as unsupported.
Result<Salt> salt_named(std::string_view name);

// Largest w at t.
Result<double> solubility_mass_fraction(Salt salt, double temperature_c);

// w from nothing to 0.6; strengths above the fit or above saturation are reckoned, not judged.
Result<double> solution_density_kg_m3(Salt salt, double mass_fraction, double temperature_c);

struct Dissolving {
  double final_temperature_c = 0;
  double solution_volume_l =
      0;  // of what has dissolved, at the final temperature; crystals left over not counted
  double share_of_saturation =
      0;                   // salt per water, over what the same water would hold at the final temperature
  bool dissolves = false;  // all of it, without heat from outside and without reaching 0 C
};

// Stirs `salt_kg` into `water_kg` of `temperature_c` with no heat from outside. Where not all dissolves, the
// answer is the state in which it stops: saturated, or chilled to 0 C. Refuses: salt_kg outside 0.001 ..
// 100000, water_kg outside 0.001 .. 100000, temperature outside 0 .. 40.
Result<Dissolving> dissolve(Salt salt, double salt_kg, double water_kg, double temperature_c);

}  // namespace tawny
