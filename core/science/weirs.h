// Water over weirs and flumes, by the head on the crest.
//
//   symbol  meaning                                            unit   range
//   h1, h2  head above the crest, higher and lower side        m      -30 .. 30; under the crest counts as 0
//   b       width of the crest                                 m      0.05 .. 50
//   P       height of the crest above the floor before it      m      0.05 .. 10
//   n       side contractions                                  (none) 0, 1, 2
//   Cd      coefficient of a broad crest, approach included    (none) 0.5 .. 1.2; commonly 0.85 to 1
//   g       9.80665                                            m/s2
//
//   V-notch, thin plate (ISO 1438)    Q = 8/15 Ce tan(angle/2) sqrt(2 g) (h1 + kh)^2.5
//                                       90 deg: Ce 0.578, kh 0.00085 m; 60 deg: Ce 0.576, kh 0.0012 m
//   rectangular, full width           Q = 2/3 Ce sqrt(2 g) (b - 0.0009) (h1 + 0.001)^1.5
//     (Kindsvater & Carter, ISO 1438)   Ce = 0.602 + 0.075 h1/P
//   contracted (Francis)              Q = 1.838 (b - 0.1 n h1) h1^1.5
//   broad crest                       Q = Cd (2/3)^1.5 sqrt(g) b h1^1.5 = 1.705 Cd b h1^1.5
//   open flume of a pond inlet (FAO)  Q = C b h1^1.5, with b and h1 in cm and Q in L/s
//                                       C 0.0160 for b 6 to 10 cm, 0.0164 to 15, 0.0166 above
//   drowned, h2 > 0 (Villemonte)      Q = Qfree (1 - (h2/h1)^n)^0.385, n the exponent of h1 above
//
// Sign: plus from "up" to "down"; minus where the down side stands higher, by the same rule turned round.
//
// Sources: ISO 1438, Kindsvater & Carter 1957, Francis, Villemonte 1947: from memory; Kovari, FAO
// ADCP/REP/84/21, ch. 8 for the flume. Largest differences: 60 degrees + 3.6 % from a table after ASTM D5242 at
// heads of 6 to 9 cm; 90 degrees - 0.8 % from the USBR cone formula, heads of 5 to 30 cm; rectangular - 0.9 %
// from Rehbock, h1/P up to 0.6, and - 2.5 % from Ackers at h1/P 1.5; the flume 0.2 % from FAO's worked example.
//
// `outside_fit` marks a head for which the formula was not made; the true flow may then differ by more than 5
// %. Fitted: V-notch h1 0.05 .. 0.6; rectangular h1 0.03 .. 2.5 P; Francis h1 0.03 .. b/3; broad crest and
// flume h1 from 0.05 on. Below h1 0 nothing flows and nothing is marked.
//
// What does not hold: other notch angles (refused); heads measured nearer than 3 to 4 times the largest head
// before the crest; nappes that cling, rounded or rough edges; fast approach.
#pragma once

#include "base/problem.h"

namespace tawny {

struct WeirFlow {
  double flow_m3_s = 0;
  bool drowned = false;      // the lower side stands above the crest and holds the flow back
  double drowned_share = 1;  // of the free flow, 1 where it is free
  bool outside_fit = false;
};

// notch_deg 60 or 90; another angle is refused as unsupported.
Result<WeirFlow> v_notch_flow(double notch_deg, double head_up_m, double head_down_m);
Result<WeirFlow> rectangular_weir_flow(double width_m, double crest_height_m, double head_up_m,
                                       double head_down_m);
// Refused as impossible where the contractions leave no width: 0.1 n h1 >= b.
Result<WeirFlow> contracted_weir_flow(double width_m, int end_contractions, double head_up_m,
                                      double head_down_m);
Result<WeirFlow> broad_crested_weir_flow(double width_m, double crest_coefficient, double head_up_m,
                                         double head_down_m);
// width_m 0.06 .. 5.
Result<WeirFlow> open_flume_flow(double width_m, double head_up_m, double head_down_m);

// Share of the free flow that a drowned weir passes: heads above the crest with 0 <= down <= up, exponent 1.5
// for a level crest and 2.5 for a V-notch.
Result<double> villemonte_share(double head_up_m, double head_down_m, double exponent);

}  // namespace tawny
