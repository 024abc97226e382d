// What the morning's list makes people do that day, and when.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "logbook/kinds.h"
#include "simulate/farm_run.h"

namespace tawny::simulate {
namespace {

constexpr std::array<std::string_view, 5> kReasons = {
    "looked at it with the technician, good enough", "delivery is booked, cannot wait", "meter was at repair",
    "stood at the pond, colour is right", "rain spoiled the readings"};

// A share of the volume to fill to; the middle of what the stage asks for.
double fill_share(Stage stage) {
  switch (stage) {
    case Stage::first_fill:
      return 0.245;
    case Stage::second_fill:
      return 0.615;
    case Stage::third_fill:
      return 0.758;
    default:
      return 0.94;
  }
}

}  // namespace

// When somebody goes: within the window as a rule; now and then after it, or not at all.
std::optional<Instant> FarmRun::moment_for(const DueItem& item, const DayWindows& windows) {
  if (slips(0.06)) return std::nullopt;
  Instant from = windows.sun.sunrise.plus_min(60);
  Instant until = windows.sun.sunset.plus_min(-60);
  if (item.window) {
    from = item.from.plus_min(3);
    until = item.until.plus_min(-8);
  } else if (item.from > from && item.until < until) {
    from = item.from;
    until = item.until;
  }
  if (item.window && slips(0.05)) return item.until.plus_min(chance().whole(5, 150));
  const double span_h = std::max(0.0, hours_between(from, until));
  return from.plus_h(span_h * chance().share());
}

void FarmRun::plan(const DueItem& item, const DayWindows& windows, const Farm& farm) {
  if (item.state == DueState::done || item.state == DueState::missed) return;
  if (item.act == Act::sky) {
    if (const auto at = moment_for(item, windows)) {
      Phone& phone = crew_.one_for(Role::technician, chance());
      in_a_moment(*at, [this, &phone, at = *at] { look_at_sky(phone, at); });
    }
    return;
  }
  OnePond* pond = pond_of(item.pond);
  const FarmPond* known = farm.pond(item.pond);
  if (pond == nullptr || known == nullptr) return;
  switch (item.act) {
    case Act::dose:
      plan_dose(item, windows, *pond, known->state.dose.rate_kg_ha);
      return;
    case Act::fill: {
      if (pond->life.is_open() || slips(0.15)) return;
      const Instant at = windows.sun.sunrise.plus_min(chance().whole(40, 170));
      Phone& phone = crew_.one_for(Role::worker, chance());
      const double share = fill_share(known->state.stage);
      in_a_moment(at, [this, pond, &phone, share, at] { open_inlets(*pond, phone, share, at); });
      return;
    }
    case Act::sign_release:
    case Act::decide_gate:
    case Act::settle_question:
    case Act::start_cycle:
      plan_decision(item, windows, *pond, *known);
      return;
    default:
      plan_reading(item, windows, *pond);
  }
}

void FarmRun::plan_reading(const DueItem& item, const DayWindows& windows, OnePond& pond) {
  const std::optional<Instant> moment = moment_for(item, windows);
  if (!moment) return;
  const Instant at = *moment;
  const bool by_worker = item.act == Act::soil_broadcast || item.act == Act::shut_inlets;
  Phone& phone = crew_.one_for(by_worker ? Role::worker : Role::technician, chance());
  const Act act = item.act;
  const std::string detail = item.detail;
  in_a_moment(at, [this, &pond, &phone, act, detail, at] {
    switch (act) {
      case Act::water_reading:
        return read_water(pond, phone, at);
      case Act::secchi_reading:
        return read_secchi(pond, phone, at);
      case Act::level_reading:
        return read_level(pond, phone, at);
      case Act::water_colour:
        return look_at_colour(pond, phone, at);
      case Act::bottom_look:
        return look_at_bottom(pond, phone, at);
      case Act::source_look:
        return look_at_source(pond, phone, at);
      case Act::screen_check:
        return check_screen(pond, phone, detail, at);
      case Act::pest_look:
        return look_for_pests(pond, phone, at);
      case Act::grazer_count:
        return count_grazers(pond, phone, at);
      case Act::bottom_grab:
        return grab_bottom(pond, phone, at);
      case Act::water_test:
        return test_water(pond, phone, at);
      case Act::soil_broadcast:
        return broadcast(pond, phone, at);
      case Act::shut_inlets: {
        pond.life.open(false);
        Draft draft = draft_of(kind::kInletMoved, pond, at);
        draft.values = {{"position", std::string("shut")}};
        return note(phone, std::move(draft), at);
      }
      case Act::meter_check: {
        Telling telling{draft_of(kind::kMeterCheck, pond, at), std::nullopt};
        number(telling, "do_percent_in_air", 100 + 2.5 * chance().normal(), 0, 0, 200);
        return tell(phone, std::move(telling), at);
      }
      default:
        return;
    }
  });
}

void FarmRun::plan_dose(const DueItem& item, const DayWindows& windows, OnePond& pond, double rate_kg_ha) {
  if (rate_kg_ha <= 0 || slips(0.05)) return;
  // Nobody goes out in the boat under a dull sky, few under a mixed one.
  const Sky sky = weather_->sky(windows.day);
  if (sky == Sky::dull || (sky == Sky::mixed && !chance().happens(0.15))) return;
  const int minutes = chance().whole(30, 70);
  Instant started = item.from.plus_min(chance().whole(4, 80));
  if (slips(0.05)) started = item.until.plus_min(chance().whole(-20, 70));
  Phone& phone = crew_.one_for(Role::worker, chance());
  in_a_moment(started.plus_min(minutes), [this, &pond, &phone, rate_kg_ha, started, minutes] {
    give_dose(pond, phone, rate_kg_ha, started, minutes);
  });
}

void FarmRun::plan_decision(const DueItem& item, const DayWindows& windows, OnePond& pond,
                            const FarmPond& known) {
  if (chance().happens(0.1)) return;  // not today
  const Instant at = windows.dawn.until.plus_min(chance().whole(20, 150));
  if (item.act == Act::start_cycle) {
    if (windows.day < pond.next_start) return;
    in_a_moment(at, [this, &pond, at] { start_cycle(pond, at); });
    return;
  }
  if (item.act == Act::sign_release) {
    in_a_moment(at, [this, &pond, at] {
      Draft draft = draft_of(kind::kReleaseSigned, pond, at);
      draft.values = {{"decision", std::string("release")}};
      note(crew_.manager(), std::move(draft), at);
    });
    return;
  }
  if (item.act == Act::decide_gate) {
    if (!chance().happens(0.7)) return;
    const int stage = static_cast<int>(known.state.stage);
    const std::string reason(chance().one_of(kReasons));
    in_a_moment(at, [this, &pond, stage, reason, at] {
      Draft draft = draft_of(kind::kGatePassed, pond, at);
      draft.values = {{"stage", static_cast<double>(stage)}, {"reason", reason}};
      note(crew_.manager(), std::move(draft), at);
    });
    return;
  }
  if (known.state.questions.empty()) return;
  const std::string second = to_reference(known.state.questions.front().evidence.back());
  if (!pond.answered.insert(second).second) return;
  const double draw = chance().share();
  const std::string keep = draw < 0.75 ? "first" : draw < 0.92 ? "second" : "both";
  in_a_moment(at, [this, &pond, second, keep, at] {
    Draft draft = draft_of(kind::kQuestionSettled, pond, at);
    draft.values = {{"question", second}, {"keep", keep}, {"reason", std::string("asked both who were there")}};
    note(crew_.manager(), std::move(draft), at);
  });
}

// The manager looks at each pond in the morning: a gate that has been waiting for one thing too long, a cycle
// that gets nowhere, a crop that is done.
void FarmRun::think_over(OnePond& pond, const FarmPond& known, const DayWindows& windows) {
  const PondState& state = known.state;
  if (!state.in_cycle) return;
  const Instant at = windows.sun.solar_noon.plus_min(chance().whole(-100, 100));
  const double stage_days = hours_between(state.stage_since, at) / 24;
  const double cycle_days = hours_between(known.history.cycle_start, at) / 24;
  if (state.finished || (state.stage == Stage::early_cycle && stage_days > pond.crop_days)) {
    if (stage_days > pond.crop_days || state.finished) {
      in_a_moment(at, [this, &pond, at] { end_cycle(pond, "harvested", at); });
    }
    return;
  }
  if (state.stage < Stage::release && cycle_days > pond.despair_days) {
    in_a_moment(at, [this, &pond, at] { end_cycle(pond, "never came right, starting over", at); });
    return;
  }
  // Water that evaporated and seeped away is made up for.
  if (state.stage > Stage::third_fill && state.level_share && !pond.life.is_open()) {
    const double least = state.stage == Stage::hold_band ? 0.72 : 0.88;
    if (*state.level_share < least) {
      Phone& phone = crew_.one_for(Role::worker, chance());
      const double share = state.stage == Stage::hold_band ? 0.765 : 0.94;
      in_a_moment(at, [this, &pond, &phone, share, at] { open_inlets(pond, phone, share, at); });
    }
  }
  if (state.refused || state.stage >= Stage::release) return;
  const auto open = std::count_if(state.criteria.begin(), state.criteria.end(),
                                  [](const Criterion& one) { return one.verdict != Verdict::met; });
  const bool flat = std::any_of(state.troubles.begin(), state.troubles.end(),
                                [](const Trouble& trouble) { return trouble.id == "clear_and_flat"; });
  const bool fills = state.stage == Stage::first_fill || state.stage == Stage::second_fill;
  const int stage = static_cast<int>(state.stage);
  if (open >= 1 && open <= 2 && !flat && !fills && state.stage != Stage::first_dose &&
      stage_days > pond.patience_days && chance().happens(0.15 * options_.carelessness)) {
    const std::string reason(chance().one_of(kReasons));
    in_a_moment(at, [this, &pond, stage, reason, at] {
      Draft draft = draft_of(kind::kGatePassed, pond, at);
      draft.values = {{"stage", static_cast<double>(stage)}, {"reason", reason}};
      note(crew_.manager(), std::move(draft), at);
    });
  } else if (fills && slips(0.004)) {
    in_a_moment(at, [this, &pond, stage, at] {
      Draft draft = draft_of(kind::kGateRefused, pond, at);
      draft.values = {{"stage", static_cast<double>(stage)}, {"reason", std::string("want to see it myself")}};
      note(crew_.manager(), std::move(draft), at);
    });
  }
}

// A signature that came too early, and a gate passed by hand that had opened by itself: both are taken back.
void FarmRun::mend_decisions(OnePond& pond, const FarmPond& known, Instant at) {
  const PondState& state = known.state;
  if (!state.in_cycle) return;
  std::vector<const Entry*> needless;
  if (state.stage <= Stage::release) {
    for (const ReleaseSigned& one : known.history.releases) needless.push_back(one.entry);
  } else {
    for (const ReleaseSigned& one : known.history.releases) {
      const bool opened = std::any_of(state.gates.begin(), state.gates.end(), [&](const GateOpened& gate) {
        return gate.stage == Stage::release && !gate.by_hand && gate.at == one.at;
      });
      if (!opened) needless.push_back(one.entry);
    }
  }
  for (const GateDecision& one : known.history.gate_decisions) {
    if (!one.passed) continue;
    const bool opened = std::any_of(state.gates.begin(), state.gates.end(), [&](const GateOpened& gate) {
      return gate.by_hand && gate.decision && *gate.decision == one.entry->id;
    });
    if (!opened) needless.push_back(one.entry);
  }
  for (const Entry* entry : needless) {
    const std::string reference = to_reference(entry->id);
    in_a_moment(at, [this, &pond, reference, at] {
      Draft draft = draft_of(kind::kVoid, pond, at);
      draft.voids = reference;
      draft.values = {{"reason", std::string("was not needed")}};
      crew_.put(crew_.manager(), std::move(draft), at.plus_s(20));
    });
  }
}

}  // namespace tawny::simulate
