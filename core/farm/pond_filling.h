// What a filling of this pond starts from and aims at: its water now, the level that a fill asks for, its
// inlets and tide, and when their screens must be looked at.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/farm.h"
#include "pond/filling.h"

namespace tawny {

// The fills of the protocol, and the top-up before release, whose range ends at the brim.
inline constexpr Stage kFills[] = {Stage::first_fill, Stage::second_fill, Stage::third_fill, Stage::release};

struct FillTarget {
  Stage stage = Stage::first_fill;
  double low_cm = 0, high_cm = 0;  // the protocol's range, on the gauge
  double low_share = 0, high_share = 0;
  double aim_cm = 0;  // to the whole centimetre
};

// Refused for a pond whose shape is not known. The aim is the protocol's own where it names one, else the
// middle of the range; of the top-up, the pond's stocking level.
Result<FillTarget> fill_target(const FarmPond& pond, const Protocol& protocol, Stage fill);

// The fill of the present stage, or the next one to come; past it where its aim has been reached already.
Stage fill_to_plan(const FarmPond& pond, const Protocol& protocol);

// Inlets as they are set up, the pond's tide, evaporation and seepage of the protocol.
FillingSetup filling_setup_of(const FarmPond& pond, const Protocol& protocol);

struct ScreenDue {
  std::string inlet;
  std::optional<Instant> last;  // nothing: not checked in this cycle
  bool whole = false;           // at the last check
  std::optional<Instant> due;   // nothing: before any water comes in
};
// Of each of the pond's inlets: when its screen is next to be checked.
std::vector<ScreenDue> screens_due(const FarmPond& pond, const Protocol& protocol, Instant now);

}  // namespace tawny
