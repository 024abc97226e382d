// Where water comes into a pond: pumps, and openings whose flow follows from the levels on both sides of the
// bank.
//
// Levels are readings of the pond's own gauge in cm. Formulas, ranges and sources: science/gates.h, weirs.h.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "base/time.h"

namespace tawny {

struct PumpInlet {
  double rate_l_s = 0;  // as measured at this lift: 0.1 .. 20000
};

struct GateInlet {
  double width_m = 0;
  double opening_m = 0;
  double sill_level_cm = 0;
  double discharge_coefficient = 0;
};

struct PipeInlet {
  double diameter_m = 0;
  double invert_level_cm = 0;
  double discharge_coefficient = 0;
};

enum class WeirKind { v_notch_60, v_notch_90, rectangular, contracted, broad_crested };

struct WeirInlet {
  WeirKind kind = WeirKind::rectangular;
  double crest_level_cm = 0;
  double width_m = 0;            // not of a V-notch
  double crest_height_m = 0;     // above the floor before it; of a rectangular weir
  double crest_coefficient = 0;  // of a broad crest
};

// From `from` (in) to `until` (out).
struct OpenSpan {
  Instant from;
  Instant until;
};

struct Inlet {
  std::string name;
  std::variant<PumpInlet, GateInlet, PipeInlet, WeirInlet> kind;
  std::vector<OpenSpan> open;  // none: open all the time
  // A flap, or a hand that shuts it on the ebb: water comes in, never out. Pumps always keep it.
  bool keeps_water = true;
  std::string pump = {};  // the pump or gate behind it where that serves several ponds, by its name; else empty
};

// Whether its flow follows from the level outside.
bool is_tidal(const Inlet& inlet);

// Sizes and hours within range: spans must end after they begin.
std::optional<Problem> unfit(const Inlet& inlet);

struct InletFlow {
  double flow_l_s = 0;       // less than 0: the pond runs out
  bool outside_fit = false;  // of a weir: see science/weirs.h
};

// While it is open. `outside_level_cm` nothing: not known, and a tidal inlet passes nothing.
Result<InletFlow> inlet_flow(const Inlet& inlet, double pond_level_cm, std::optional<double> outside_level_cm);

}  // namespace tawny
