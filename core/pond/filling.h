// How a pond fills over time: several inlets at once, a tide, losses and rain, over the pond's own curve.
//
//   dV/dt = sum of inlets(t, h) + A(h) (rain - evaporation - seepage)
//
// stepped by a second-order, L-stable Runge-Kutta rule (Alexander's SDIRK with 1 - 1/sqrt 2; his paper of 1977,
// from memory): a wide gate that follows the tide makes the equation stiff. Steps end at every opening, closing
// and end of the tide table; none is longer than `longest_step_s`, nor moves more than about 2 % of the volume
// to fill. Each step books what it moves, so that water balances to rounding: end = start + in + rain - lost -
// run out.
//
// Largest differences: 1e-9 of the hours from the closed form of a pump over a growing surface,
// t = integral of A dh / (Q - A (e + s)); 5.1e-6 of the hours, with tides, when the steps are halved or cut to
// 20 s.
//
// Losses and run-out taper off over the last millimetre of water, since a dry pond loses none.
//
// What does not hold: rain on the banks above the water counts for nothing; a soil that drinks more when dry
// (the first wetting may take several cm beyond seepage_mm_d); pumps that give less as the lift grows;
// levels that are not the same all over the pond.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "base/time.h"
#include "pond/curve.h"
#include "pond/inlet.h"
#include "pond/tide.h"

namespace tawny {

struct FillingSetup {
  std::vector<Inlet> inlets;  // 1 .. 20
  std::optional<TideTable> tide;
  double evaporation_mm_d = 0;  // 0 .. 50
  double seepage_mm_d = 0;      // 0 .. 500
  double rain_mm_d = 0;         // 0 .. 1000, on the water surface
  double longest_step_s = 300;  // 1 .. 900
};

struct FillingPoint {
  Instant at;
  double level_cm = 0;
  double inflow_l_s = 0;                   // of all inlets, what runs out taken off
  std::optional<double> outside_level_cm;  // where the tide table reaches
};

struct InletShare {
  std::string name;
  double in_m3 = 0;
  double ran_out_m3 = 0;
  double largest_flow_l_s = 0;  // inward: the flow that its own screen must bear
};

struct FillingPlan {
  bool reached = false;
  Instant ended_at;  // when the level was reached, or when the reckoning gave up: 30 days on
  double hours = 0;  // from the start, to the fraction of a second
  double end_level_cm = 0;
  double highest_level_cm = 0;
  double start_volume_m3 = 0;
  double end_volume_m3 = 0;
  double inflow_m3 = 0;
  double ran_out_m3 = 0;  // back through the inlets
  double lost_m3 = 0;     // evaporation and seepage
  double rain_m3 = 0;
  double largest_inflow_l_s = 0;
  std::vector<InletShare> inlets;         // in the order of the set-up
  std::vector<FillingPoint> series;       // about every 10 minutes, with both ends
  std::optional<Instant> uncovered_from;  // first moment at which a tidal inlet stood open and no tide was
                                          // known: it passed nothing there
  bool outside_fit = false;               // some weir worked outside the heads that its formula was made for
};

// Refuses (out of range) what an inlet, a level or a loss cannot be; (missing) no inlet, or a tidal inlet
// without a tide table; (conflict) a level to reach that is not above the one to start from. That the level is
// never reached is an answer, not a refusal.
Result<FillingPlan> plan_filling(const StageCurve& curve, const FillingSetup& setup, double from_level_cm,
                                 double to_level_cm, Instant start);

struct FillingStart {
  Instant start;
  FillingPlan plan;     // from that start
  double resolution_s;  // a start later than `start` by more than this is too late
};

// The latest start that still reaches the level by `wanted_by`, not before `earliest`; the pond is taken to
// keep its level until the start. With tides a later start may do where an earlier one fails and the other way
// round; all are looked at, every `resolution_s`. Impossible, with the reason, where no start does:
// "problem.filling_too_late" tells when the earliest start reaches the level, "problem.filling_never" how high
// it comes, "problem.filling_tide_ends" that the tide table ends before. Conflict where `wanted_by` is not
// after `earliest`, or more than 30 days later.
Result<FillingStart> start_for(const StageCurve& curve, const FillingSetup& setup, double from_level_cm,
                               double to_level_cm, Instant wanted_by, Instant earliest);

}  // namespace tawny
