#include "protocol/assess.h"

#include <initializer_list>

#include "logbook/kinds.h"
#include "protocol/criteria.h"
#include "protocol/dose_advice.h"
#include "protocol/gate_record.h"
#include "protocol/odd_reading.h"
#include "protocol/troubles.h"

namespace tawny {
namespace {

// The kinds that a stage's criteria look at: nothing can open at the instants of others.
bool is_looked_at(Stage stage, std::string_view kind) {
  const auto among = [&](std::initializer_list<std::string_view> kinds) {
    return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
  };
  switch (stage) {
    case Stage::bottom:
      return among({kind::kBottomLook, kind::kSoilBroadcast, kind::kScreenCheck, kind::kSourceLook});
    case Stage::first_fill:
    case Stage::second_fill:
      return among({kind::kLevelReading});
    case Stage::rest:
      return among({kind::kLevelReading, kind::kInletMoved, kind::kWaterReading, kind::kWaterColour});
    case Stage::first_dose:
      return among({kind::kDose, kind::kQuestionSettled, kind::kSky});
    case Stage::bloom:
      return among(
          {kind::kDose, kind::kQuestionSettled, kind::kSecchiReading, kind::kWaterReading, kind::kWaterColour});
    case Stage::third_fill:
      return among({kind::kLevelReading, kind::kSecchiReading});
    case Stage::hold_band:
      return among({kind::kSecchiReading, kind::kGrazerCount, kind::kBottomGrab});
    case Stage::release:
      return among(
          {kind::kWaterReading, kind::kWaterTest, kind::kPestLook, kind::kLevelReading, kind::kReleaseSigned});
    case Stage::early_cycle:
      break;
  }
  return false;
}

// Walks a cycle from its start and opens gate after gate, each at the first instant at which all its criteria
// hold.
class Replay {
 public:
  Replay(const PondHistory& history, const ProtocolTimes& times, const Usable& usable, const FarmPlace& place)
      : history_(history), times_(times), usable_(usable), place_(place), since_(history.cycle_start) {
    find_events();
  }

  void run(Instant now) {
    Instant at = history_.cycle_start;
    while (!finished_) {
      std::optional<Instant> recheck;
      if (try_gate(at, recheck)) continue;
      const auto next = std::upper_bound(events_.begin(), events_.end(), at);
      if (next == events_.end() && !recheck) return;
      at = next == events_.end() ? *recheck : recheck ? std::min(*next, *recheck) : *next;
      if (at > now) return;
    }
  }

  Look look(Instant at, bool explain) const {
    return Look{history_, usable_, times_.at(at), place_, at, civil_day(at, place_.offset),
                stage_,   since_,  explain};
  }

  std::vector<Criterion> judge(Instant at) const { return judge_all(look(at, true)); }

  // The manager's last word on the present gate.
  const GateDecision* decision(Instant at) const {
    const GateDecision* last = nullptr;
    for (const GateDecision& one : history_.gate_decisions) {
      if (one.at > at) break;
      if (one.stage == static_cast<int>(stage_)) last = &one;
    }
    return last;
  }

  Stage stage() const { return stage_; }
  Instant since() const { return since_; }
  bool finished() const { return finished_; }
  std::vector<GateOpened> take_gates() { return std::move(gates_); }

 private:
  // When the present gate may open: at what its criteria look at, at the manager's word, at a change of
  // protocol.
  void find_events() {
    events_.clear();
    for (const Entry* entry : history_.entries) {
      if (is_looked_at(stage_, entry->kind) && !settles_reading(*entry)) events_.push_back(entry->observed);
    }
    for (const GateDecision& word : history_.gate_decisions) {
      if (word.stage == static_cast<int>(stage_)) events_.push_back(word.at);
    }
    for (const Instant change : times_.changes()) events_.push_back(change);
    std::sort(events_.begin(), events_.end());
  }

  bool try_gate(Instant at, std::optional<Instant>& recheck) {
    const GateDecision* word = decision(at);
    if (word != nullptr && word->passed && word->at >= since_) {
      pass_by_hand(*word, at);
      return true;
    }
    const bool held = word != nullptr && !word->passed;
    if (held || !all_met(at, recheck)) return false;
    GateOpened gate;
    gate.stage = stage_;
    gate.at = at;
    open(std::move(gate));
    return true;
  }

  // What did not hold a moment ago most likely does not hold now: it is asked first.
  bool all_met(Instant at, std::optional<Instant>& recheck) {
    const auto table = criteria_of(stage_);
    Look now = look(at, false);
    now.others_met = true;
    if (last_unmet_ < table.size()) {
      const Criterion criterion = table[last_unmet_](now);
      if (criterion.verdict != Verdict::met) {
        recheck = criterion.recheck_at;
        return false;
      }
    }
    for (std::size_t i = 0; i < table.size(); ++i) {
      const Criterion criterion = table[i](now);
      if (criterion.verdict == Verdict::met) continue;
      last_unmet_ = i;
      recheck = criterion.recheck_at;
      return false;
    }
    return true;
  }

  void pass_by_hand(const GateDecision& word, Instant at) {
    GateOpened gate;
    gate.stage = stage_;
    gate.at = at;
    gate.by_hand = true;
    gate.reason = word.reason;
    gate.decision = word.entry->id;
    for (Criterion& criterion : judge(at)) {
      if (criterion.verdict != Verdict::met) gate.unmet_then.push_back(std::move(criterion));
    }
    open(std::move(gate));
  }

  void open(GateOpened gate) {
    gates_.push_back(std::move(gate));
    last_unmet_ = 0;
    if (stage_ == Stage::early_cycle) {
      finished_ = true;
      return;
    }
    stage_ = static_cast<Stage>(static_cast<int>(stage_) + 1);
    since_ = gates_.back().at;
    find_events();
  }

  const PondHistory& history_;
  const ProtocolTimes& times_;
  const Usable& usable_;
  const FarmPlace& place_;
  std::vector<Instant> events_;  // of the present stage
  std::vector<GateOpened> gates_;
  Stage stage_ = Stage::bottom;
  Instant since_;
  std::size_t last_unmet_ = 0;
  bool finished_ = false;
};

std::vector<EntryId> ids_of(const std::vector<const Entry*>& entries) {
  std::vector<EntryId> ids;
  for (const Entry* entry : entries) ids.push_back(entry->id);
  return ids;
}

void list_readings(const PondHistory& history, const Usable& usable, Instant now, PondState& state) {
  for (const DaySecchi& day : usable.all_secchi_days(now)) {
    state.secchi_days.push_back(
        SecchiDay{day.day, day.secchi_cm, day.more_than, day.asks_for_another, ids_of(day.entries)});
  }
  for (const DayWater& day : usable.all_water_days(now)) {
    state.day_pairs.push_back(DayPair{day.day, day.dawn_do_mg_l, day.afternoon_do_mg_l, day.dawn_ph,
                                      day.afternoon_ph, ids_of(day.entries)});
  }
  if (const LevelReading* level = last_of(history.levels, now)) {
    state.level_cm = level->level_cm;
    if (history.pond.curve) {
      const Result<double> volume_m3 = history.pond.curve->volume_m3(level->level_cm);
      if (volume_m3) state.level_share = *volume_m3 / history.pond.curve->full_volume_m3();
    }
  }
  if (const ColourLook* colour = last_of(history.colours, now)) state.colour = colour->colour;
  for (const DoseWalk& walk : history.walks) {
    if (!walk.stopped && !walk.recorded && walk.start->observed <= now) state.open_walk = walk;
  }
}

bool in_cycle(const PondHistory& history, Instant now) {
  if (history.cycle.empty() || history.cycle_start > now) return false;
  // The end of a cycle is its last entry.
  return !history.cycle_ended || history.entries.empty() || history.entries.back()->observed > now;
}

}  // namespace

PondState assess(const PondHistory& history, const Protocol& protocol, const FarmPlace& place, Instant now) {
  PondState state;
  state.in_cycle = in_cycle(history, now);
  state.unsupported = history.pond.kind == PondKind::lined;
  if (!state.in_cycle || state.unsupported) return state;
  const ProtocolTimes times(protocol, history.protocol_changes);
  const Usable usable(history, times, place);
  Replay replay(history, times, usable, place);
  replay.run(now);
  state.stage = replay.stage();
  state.stage_since = replay.since();
  state.finished = replay.finished();
  state.criteria = replay.judge(now);
  const GateDecision* word = replay.decision(now);
  state.refused = word != nullptr && !word->passed;
  for (const Criterion& criterion : state.criteria) {
    if (criterion.verdict == Verdict::met) continue;
    state.holds = criterion.id;
    break;
  }
  state.gates = replay.take_gates();
  const Look look = replay.look(now, true);
  state.troubles = find_troubles(look);
  state.dose = advise_dose(look, state.troubles, state.finished);
  state.questions = double_doses(look);
  for (Question& odd : odd_readings(look)) state.questions.push_back(std::move(odd));
  list_readings(history, usable, now, state);
  return state;
}

}  // namespace tawny
