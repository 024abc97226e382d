// A pond's cycle as the protocol sees it: typed observations in order of time, each with the entry it rests on.
//
// Built from the logbook's effective entries (voided and corrected ones are already out). Entries whose values
// cannot be read as their kind demands are listed in `unreadable`, never guessed at. Nothing here is judged:
// windows, usable readings and gates are the business of the files beside this one.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/time.h"
#include "logbook/entry.h"
#include "logbook/left_out.h"
#include "logbook/logbook.h"
#include "pond/pond.h"
#include "protocol/protocol.h"

namespace tawny {

class SunDays;

// Where and by what offset the farm counts its days.
struct FarmPlace {
  double latitude_deg = 0;
  double longitude_deg = 0;
  UtcOffset offset;
  double altitude_m = 0;
  bool windows_by_clock = false;
  std::shared_ptr<SunDays> sun_days;  // kept by windows_of() where it is there; copies of the place share it
};

// Every observation points back at its entry; the pointer lives as long as the logbook is unchanged.
struct Observed {
  Instant at;
  const Entry* entry = nullptr;
};

struct WaterReading : Observed {
  std::optional<double> do_mg_l, ph, temperature_c, salinity, do_bottom_mg_l, temperature_bottom_c;
};
struct LevelReading : Observed {
  double level_cm = 0;
};
struct SecchiPair : Observed {
  std::optional<double> vanish_cm, return_cm;  // both, unless seen_on_bottom
  bool seen_on_bottom = false;
  std::optional<double> depth_at_disc_cm;
};
struct ColourLook : Observed {
  WaterColour colour = WaterColour::clear;
};
struct SkyLook : Observed {
  Sky sky = Sky::mixed;
};
struct WaterTest : Observed {
  std::optional<double> tan_mg_l, alkalinity_mg_l;
};
struct GrazerCount : Observed {
  double copepods_per_l = 0;
};
struct BottomGrab : Observed {
  double grabs = 0, grabs_with_animals = 0;
};
struct PestLook : Observed {
  bool bivalves = false, many_bivalves = false, predators = false;
};
struct MeterCheck : Observed {
  double do_percent_in_air = 100;
};
struct BottomLook : Observed {
  bool thick_sludge = false;
  std::optional<double> dried_days;
  bool treated_wet = false;
};
struct SoilBroadcast : Observed {
  std::string product;
  double product_kg = 0;
};
struct ScreenCheck : Observed {
  std::string inlet;
  double mesh_um = 0;
  bool whole = false;
};
struct InletMove : Observed {
  std::string inlet;  // empty: all
  bool open = false;
};
struct Outflow : Observed {};
struct DoseRecord : Observed {
  std::string product;
  double product_kg = 0;
  double rate_kg_ha = 0;
  Instant started, ended;
  bool whole_surface = false;
  bool dissolved = false;
  std::optional<Sky> sky;
  std::string walk;
};
struct GateDecision : Observed {
  int stage = 0;
  bool passed = false;  // false: refused
  std::string reason;
};
struct ReleaseSigned : Observed {};
struct ProtocolChange : Observed {
  std::string path;
  Value value;
  Instant from;
  bool to_default = false;  // the own value is taken back
};

// A dose walk that was started; derived from its steps.
struct DoseWalk {
  std::string walk;
  const Entry* start = nullptr;
  std::string product;
  double rate_kg_ha = 0, area_ha = 0, product_kg = 0;
  int bins = 0;
  double salt_per_bin_kg = 0, water_per_bin_l = 0, solution_per_bin_l = 0;
  std::optional<Sky> sky;
  std::vector<Instant> mixed, spread;  // ticks so far, in order of bin
  bool stopped = false;
  bool recorded = false;  // a dose entry names this walk
};

// A reading that counts for nothing, as if it had been taken back; it is in no other list of the history.
struct LeftOut {
  const Entry* entry = nullptr;
  const Entry* decision = nullptr;
};

struct PondHistory {
  Pond pond;
  std::string cycle;  // label; empty: no cycle started
  Instant cycle_start;
  bool cycle_ended = false;
  std::vector<WaterReading> water;
  std::vector<LevelReading> levels;
  std::vector<SecchiPair> secchi;
  std::vector<ColourLook> colours;
  std::vector<ColourLook> source_colours;
  std::vector<SkyLook> skies;  // of the pond and of the whole farm
  std::vector<WaterTest> tests;
  std::vector<GrazerCount> grazers;
  std::vector<BottomGrab> grabs;
  std::vector<PestLook> pests;
  std::vector<MeterCheck> meter_checks;
  std::vector<BottomLook> bottoms;
  std::vector<SoilBroadcast> broadcasts;
  std::vector<ScreenCheck> screens;
  std::vector<InletMove> inlet_moves;
  std::vector<Outflow> outflows;
  std::vector<DoseRecord> doses;
  std::vector<GateDecision> gate_decisions;
  std::vector<ReleaseSigned> releases;
  std::vector<ProtocolChange> protocol_changes;  // of the farm and of this pond, by their "from"
  std::vector<DoseWalk> walks;
  std::vector<const Entry*> settled;     // question_settled about doses
  std::vector<const Entry*> kept;        // odd readings that the manager lets count
  std::vector<LeftOut> left_out;         // readings of this cycle that the manager left out
  std::vector<const Entry*> unreadable;  // of a known kind, but without what the kind demands
  std::vector<const Entry*> entries;     // all of this cycle, in order
};

// From a start to what closed it: the pond's own end of cycle, or the next start where nobody ended it.
struct CycleSpan {
  const Entry* start = nullptr;  // the cycle_start that counts
  std::optional<Instant> end;    // none: not over
  bool ended = false;            // by an end of cycle
};

// Every cycle of the pond that the entries start, oldest first. A start with the label of the cycle that is
// running starts nothing; one that is followed by another at the same instant holds no time, and is no cycle.
std::vector<CycleSpan> cycle_spans(std::string_view pond_id, const std::vector<const Entry*>& effective);

// The cycle `span` of `pond`; without one, only the changes of protocol. `effective` is Logbook::effective():
// only entries of this pond and of the whole farm (pond empty) are taken, from the cycle's start to its end;
// changes of protocol stand in it whenever they were put on record, and count from then on.
PondHistory build_history(const Pond& pond, const std::vector<const Entry*>& effective,
                          const std::optional<CycleSpan>& span);

// The last started cycle of `pond`.
PondHistory build_history(const Pond& pond, const std::vector<const Entry*>& effective);

}  // namespace tawny
