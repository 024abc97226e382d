// Water through a gate or a pipe in a bank: from the side that stands higher to the side that stands lower.
//
//   symbol  meaning                                              unit   range
//   h1, h2  higher and lower water level, above sill or invert   m      -30 .. 30; under the sill counts as 0
//   b, a    width and opening of the gate                        m      0.05 .. 50, 0.01 .. 10
//   D       diameter of the pipe                                 m      0.02 .. 5
//   Cd      discharge coefficient                                (none) 0.3 .. 1; 0.61 for a sharp edge
//   y       depth of water in the opening                        m
//   A(y)    cross-section up to y: b y, or the pipe's segment    m2
//   g       9.80665                                              m/s2
//
//   y = min(a, max(2/3 h1, h2))                  (of a pipe: min(D, max(3/4 h1, h2)))
//   Q = Cd A(y) sqrt(2 g (h1 - max(h2, y/2)))    m3/s
//
//   dry      no water above the sill on either side
//   weir     y < a: the gate hangs clear of the water, which runs over the sill as over a broad crest,
//              Q = sqrt(2) Cd (2/3)^1.5 sqrt(g) b h1^1.5; with 0.61 the crest's own coefficient is 0.863
//   free     y = a, the lower side at most up to the middle of the opening
//   drowned  y = a, the lower side above it: the difference of the levels drives
//
// `drowned` is also told of a weir (h2 > y/2). The rule has no jump anywhere, grows with h1 and falls with h2.
// Sign: plus from "up" to "down"; minus where the down side stands higher, by the same rule turned round.
//
// Source: Q = Cd A sqrt(2 g dh) with Cd 0.61 and broad-crest coefficients of 0.85 to 1: hydraulics handbooks,
// from memory. That one coefficient serves both and the two meet at h1 = 1.5 a (4/3 D) is our own joining; a
// drowned sill lies within 10 % of Villemonte's rule for h2/h1 up to 0.95. A pipe that is not full passes 0.88
// to 0.97 of the critical flow Q^2 T = g A^3, h1 = y + A / (2 T), T the width at the surface (Chow, Open-Channel
// Hydraulics, 1959, chapter 4; from memory).
//
// What does not hold: speed of approach (a canal hardly wider than the gate); a hydraulic jump that keeps a
// free gate free although the tail water stands over the middle of its opening (we tell up to a third too
// little there); long pipes: friction makes Cd about 1 / sqrt(1.5 + 0.02 length/diameter); pipes that siphon;
// screens and stop logs in the slot, which a lower Cd must stand for.
#pragma once

#include <string_view>

#include "base/problem.h"

namespace tawny {

enum class FlowRegime { dry, weir, free, drowned };
// "dry", "weir", "free", "drowned".
std::string_view name_of(FlowRegime regime);

struct OpeningFlow {
  double flow_m3_s = 0;
  FlowRegime regime = FlowRegime::dry;
  bool drowned = false;  // the lower side holds the flow back
};

// Refuses what lies outside the ranges above.
Result<OpeningFlow> gate_flow(double width_m, double opening_m, double head_up_m, double head_down_m,
                              double discharge_coefficient);
Result<OpeningFlow> pipe_flow(double diameter_m, double head_up_m, double head_down_m,
                              double discharge_coefficient);

}  // namespace tawny
