// A pond as it was set up: who it is, how it is built, what water it can hold. Knows no entries and no
// protocol.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pond/curve.h"

namespace tawny {

enum class PondKind {
  earthen,
  lined,  // known, but the protocol is not for it: readers say so
};

struct Pond {
  std::string id;
  std::string name;
  int walk_order = 0;  // place on the technician's round, lowest first
  PondKind kind = PondKind::earthen;
  std::optional<StageCurve> curve;  // nothing: the shape is not known yet, so no share of the volume either
  double nominal_area_ha = 0;
  double length_m = 0;  // outline at the top of the banks, for the lanes; 0 where not told
  double width_m = 0;
  double bank_slope = 0;            // horizontal to 1 vertical
  std::vector<std::string> inlets;  // names, each with its own screen
  double stocking_level_cm = 0;     // the farm's own level for stocking; 0: none, the protocol's share counts
};

}  // namespace tawny
