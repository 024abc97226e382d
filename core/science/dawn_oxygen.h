// Oxygen at the coming dawn, from two readings after dusk: three ways, shown as a band.
//
//   symbol  meaning                                                  unit
//   C1, C2  the two readings                                         mg/L     0 .. 40
//   D       hours between them                                       h        0.25 .. 12
//   h       hours after the FIRST reading                            h
//   K, Cs   exchange with the air, saturation, as in metabolism.h    1/h, mg/L
//   Ce      where oxygen would come to rest                          mg/L     below nothing in a living pond
//   R       respiration of the night                                 mg/L/h
//
//   linear                   C1 + (C2 - C1) h / D
//   exponential              C1 (C2 / C1)^(h / D)
//   respiration-diffusion    Ce + (C1 - Ce) exp(-K h)
//                            Ce = (C2 - C1 E) / (1 - E),  E = exp(-K D),  R = K (Cs - Ce)
//
// Sources: Boyd, Romaire & Johnston 1978, Trans. Am. Fish. Soc. 107:484 (from memory; linear); Madenjian,
// Rogers & Fast 1987, Aquacult. Eng. 6:191-208, 209-225 (the others: in prawn ponds the exponential beat the
// line, and respiration-diffusion was off by 0.40 mg/L in the mean of 40 nights). Differs from the unit case
// computed for it by less than its last printed digit.
//
// What does not hold: a wind that rises or dies in the night, rain, water let in, aeration, a pond still
// layered at dusk, readings while there is still light. In tidal water it is worthless: off by 1.3 to 1.9 mg/L
// over 55 nights of an open estuary record. The band is the spread of the three ways, no range of probability.
#pragma once

#include <optional>

#include "base/problem.h"

namespace tawny {

struct EveningPair {
  double first_mg_l = 0;
  double second_mg_l = 0;
  double hours_between = 0;
  double hours_to_dawn = 0;  // from the FIRST reading, not from the second: D .. 24
  double temperature_c = 0;  // 0 .. 40
  double salinity = 0;       // 0 .. 40
  double depth_m = 0;        // 0.05 .. 10
  double wind_10_m_s = 0;    // 0 .. 30
  double pressure_atm = 1;   // 0.5 .. 1.1
};

struct DawnOxygen {
  // A number below nothing is given as it comes out: it means that by this way none is left before dawn.
  double linear_mg_l = 0;
  double exponential_mg_l = 0;
  double respiration_diffusion_mg_l = 0;
  double low_mg_l = 0;  // the band: least and most of the three
  double high_mg_l = 0;
  double respiration_mg_l_h = 0;  // R; negative when the air alone takes more than was lost: not resolvable
  bool none_left = false;         // low_mg_l is below nothing

  // Hours from the first reading until the floor, by each way; nothing where it never comes to it. They may lie
  // after dawn, when the loss of the night is over: compare with hours_to_dawn.
  std::optional<double> linear_hours_to_floor;
  std::optional<double> exponential_hours_to_floor;
  std::optional<double> respiration_diffusion_hours_to_floor;
};

// `floor_mg_l` (0 .. 40) is the protocol's. Refuses what is out of range; a dawn before the second reading
// (kind conflict); a second reading above the first, since a rise is no night's loss to draw on to dawn, and a
// first reading of nothing (kind impossible).
Result<DawnOxygen> dawn_oxygen(const EveningPair& pair, double floor_mg_l);

}  // namespace tawny
