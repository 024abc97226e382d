// assess: what stage a pond is in, what holds its gate, what is going wrong, and what dose is allowed.
//
// A pure function: the same history, protocol and instant give the same answer, on a phone and in the office.
// It replays the cycle from its start: a gate opens at the first instant at which all its criteria hold (or the
// manager passed it by hand), and a later reading never closes a gate that has opened. A criterion without data
// is unknown, not unmet, and names the reading that would settle it and when that can next be taken.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/message.h"
#include "protocol/history.h"
#include "protocol/protocol.h"
#include "protocol/windows.h"

namespace tawny {

enum class Verdict { met, unmet, unknown };
std::string_view name_of(Verdict verdict);

// Acts that a person can be asked for; the words are "act.<name>".
enum class Act {
  bottom_look,
  soil_broadcast,
  screen_check,
  source_look,
  fill,
  level_reading,
  water_reading,
  secchi_reading,
  water_colour,
  sky,
  dose,
  water_test,
  grazer_count,
  bottom_grab,
  pest_look,
  meter_check,
  shut_inlets,
  sign_release,
  decide_gate,
  settle_question,
  start_cycle,
};
std::string_view name_of(Act act);

struct Criterion {
  std::string id;  // "rest.swing": the word is "criterion.<id>", its explanation "criterion.<id>.about"
  Verdict verdict = Verdict::unknown;
  Message why;  // value against limit, or what is missing
  std::vector<EntryId> evidence;
  std::vector<std::string> paths;      // protocol values it rests on: mark and source are shown from these
  std::optional<Act> settles;          // the act that would settle it
  std::optional<WindowName> window;    // in which window that act counts
  std::optional<Instant> next_chance;  // when it can next be taken, for unknown and unmet
  std::optional<Instant> recheck_at;   // when time alone may change the verdict
};

struct GateOpened {
  Stage stage = Stage::bottom;  // whose gate
  Instant at;
  bool by_hand = false;
  std::string reason;
  std::optional<EntryId> decision;
  std::vector<Criterion> unmet_then;  // what did not hold when it was passed by hand
};

struct Trouble {
  std::string id;  // "clear_and_flat": words are "trouble.<id>", "trouble.<id>.check"
  enum class Severity { watch, warn, alarm } severity = Severity::warn;
  Message what;                     // one sentence with the numbers
  std::vector<Message> check_next;  // what to look at, in order
  std::vector<EntryId> evidence;
  bool forbids_dose = false;
};

// What the protocol says about a dose on this pond now.
struct DoseAdvice {
  bool advised = false;
  bool allowed = false;                              // a dose may be recorded without the manager's word
  double rate_kg_ha = 0;                             // when advised
  std::vector<Message> why;                          // reasons for, or each reason against
  std::vector<Message> warnings;                     // too dense, floor
  std::optional<Instant> window_from, window_until;  // the next dose window
  std::optional<double> least_kg_ha, most_kg_ha;     // what may be entered
};

// A question for the manager: two entries that may be the same dose, or an odd reading. A question_settled
// answers it for one entry of "asks" (the later dose; the readings to be kept or left out, each by an entry of
// its own).
struct Question {
  std::string id;  // "double_dose", "odd_reading"
  Message what;
  std::vector<EntryId> evidence;  // what is to be looked at side by side, "asks" among it
  std::vector<EntryId> asks;
};

// Secchi of one day, by the protocol's rule.
struct SecchiDay {
  CivilDay day;
  double secchi_cm = 0;           // the median; for seen_on_bottom the depth, and the truth is more than that
  bool more_than = false;         // seen on the bottom
  bool asks_for_another = false;  // the pairs spread too far
  std::vector<EntryId> evidence;
};

// Dawn and afternoon of one day.
struct DayPair {
  CivilDay day;
  std::optional<double> dawn_do_mg_l, afternoon_do_mg_l, dawn_ph, afternoon_ph;
  std::optional<double> do_swing_mg_l() const {
    if (!dawn_do_mg_l || !afternoon_do_mg_l) return std::nullopt;
    return *afternoon_do_mg_l - *dawn_do_mg_l;
  }
  std::optional<double> ph_swing() const {
    if (!dawn_ph || !afternoon_ph) return std::nullopt;
    return *afternoon_ph - *dawn_ph;
  }
  std::vector<EntryId> evidence;
};

struct PondState {
  bool in_cycle = false;
  bool unsupported = false;  // a lined pond: out of scope, said
  bool finished = false;     // the early cycle is over
  Stage stage = Stage::bottom;
  Instant stage_since;
  std::vector<Criterion> criteria;   // of the present stage's gate
  std::optional<std::string> holds;  // id of the first criterion that is not met
  bool refused = false;              // the manager holds the gate shut
  std::vector<GateOpened> gates;
  std::vector<Trouble> troubles;  // most severe first
  DoseAdvice dose;
  std::vector<Question> questions;
  std::vector<SecchiDay> secchi_days;           // usable days, oldest first
  std::vector<DayPair> day_pairs;               // days with any usable reading, oldest first
  std::optional<double> level_cm, level_share;  // last reading, and its share of the volume
  std::optional<WaterColour> colour;
  std::optional<DoseWalk> open_walk;  // started, neither recorded nor stopped
};

// `protocol` is the default one; the history's protocol changes are applied as of each instant.
PondState assess(const PondHistory& history, const Protocol& protocol, const FarmPlace& place, Instant now);

}  // namespace tawny
