#include "farm/pond_day.h"

#include <algorithm>
#include <set>
#include <utility>

#include "farm/taken.h"

namespace tawny {
namespace {

class PondDay {
 public:
  PondDay(const FarmPond& pond, const Protocol& protocol, const Day& day, std::vector<DueItem>& items)
      : history_(pond.history), state_(pond.state), protocol_(protocol), day_(day), items_(items) {}

  void collect() {
    if (state_.unsupported) return;
    if (!state_.in_cycle) {
      add(Act::start_cycle, DueState::now, Message("due.why.no_cycle"));
      return;
    }
    questions();
    if (state_.finished) return;
    doses();
    readings();
    secchi();
    levels();
    screens();
    looks();
    troubles();
    gate();
  }

 private:
  DueItem& add(Act act, DueState state, Message why) {
    DueItem item;
    item.pond = history_.pond.id;
    item.act = act;
    item.role = role_for(act);
    item.state = state;
    item.from = day_.from;
    item.until = day_.until;
    item.why = std::move(why);
    item.walk_order = history_.pond.walk_order;
    asked_.insert(act);
    items_.push_back(std::move(item));
    return items_.back();
  }

  void add_done(Act act, const Observed& taken, Message why) {
    DueItem& item = add(act, DueState::done, std::move(why));
    if (taken.entry != nullptr) item.done_by = taken.entry->id;
  }

  void add_in_window(Act act, WindowName name, const Observed* taken, Message why) {
    const Window& window = day_.windows.of(name);
    DueItem& item = add(act, taken != nullptr ? DueState::done : state_of(window, day_.now), std::move(why));
    item.window = name;
    item.from = window.from;
    item.until = window.until;
    if (taken != nullptr && taken->entry != nullptr) item.done_by = taken->entry->id;
  }

  // Every so many days, counted from the last time, or due at once when it was never done since `since`.
  DueItem* add_every(Act act, double every_days, const Observed* last, Instant since) {
    asked_.insert(act);
    if (last != nullptr && day_.of(last->at) == day_.day) {
      add_done(act, *last, days_ago(*last));
      return &items_.back();
    }
    const CivilDay due =
        last != nullptr ? day_.of(last->at).plus(static_cast<int>(every_days)) : day_.of(since);
    if (due > day_.day) return nullptr;
    return &add(act, due < day_.day ? DueState::overdue : DueState::now,
                last != nullptr ? days_ago(*last) : Message("due.why.never"));
  }

  Message days_ago(const Observed& last) const {
    const int days = day_.day.days - day_.of(last.at).days;
    if (days == 0) return Message("due.why.today");
    return Message("due.why.days_ago").with("count", Quantity{static_cast<double>(days), 0, ""});
  }

  const Observed* today(Act act) const { return last_taken(history_, act, day_.from, day_.now); }
  const Observed* in_cycle(Act act) const { return last_taken(history_, act, history_.cycle_start, day_.now); }

  // A reason that names the gate where the act would settle it.
  Message because(Act act, std::optional<WindowName> window, std::string_view otherwise) const {
    for (const Criterion& one : state_.criteria) {
      if (one.verdict != Verdict::met && one.settles == act &&
          (!window || !one.window || one.window == window)) {
        return Message("due.why.gate");
      }
    }
    return Message(otherwise);
  }

  bool filling() const {
    return state_.stage == Stage::first_fill || state_.stage == Stage::second_fill ||
           state_.stage == Stage::third_fill;
  }

  // However many there are: they are settled on one screen.
  void questions() {
    if (!state_.questions.empty()) add(Act::settle_question, DueState::now, Message("due.why.question"));
  }

  void doses() {
    const Window& window = day_.windows.dose;
    if (state_.open_walk) {
      add(Act::dose, DueState::now, Message("due.why.walk_open"));
      return;
    }
    if (const Observed* taken = today(Act::dose)) {
      add_in_window(Act::dose, WindowName::dose, taken, Message("due.why.dosed"));
      return;
    }
    asked_.insert(Act::dose);
    for (const Trouble& trouble : state_.troubles) {
      if (trouble.forbids_dose) return;
    }
    const bool first = state_.stage == Stage::first_dose;
    if (!state_.dose.advised) return;
    const bool closed = day_.now > window.until;
    // Advice that came up after this morning's window is for the next one.
    const Instant known_since = first ? state_.stage_since : newest_secchi_day();
    if (closed && known_since > window.until) return;
    if (!closed && state_.dose.window_from && day_.of(*state_.dose.window_from) > day_.day) return;
    add_in_window(Act::dose, WindowName::dose, nullptr,
                  Message(first ? "due.why.first_dose" : "due.why.over_band"));
  }

  // The end of the last day with a usable Secchi reading: today's only counts for tomorrow.
  Instant newest_secchi_day() const {
    if (state_.secchi_days.empty()) return state_.stage_since;
    return instant_at(state_.secchi_days.back().day.plus(1), -1, day_.offset);
  }

  void readings() {
    if (state_.stage < Stage::rest) return;
    reading(WindowName::dawn, "due.why.dawn_round");
    reading(WindowName::afternoon, "due.why.afternoon_round");
  }

  // Oxygen and pH both, be it in two entries.
  void reading(WindowName name, std::string_view otherwise) {
    const Window& window = day_.windows.of(name);
    const Observed* oxygen = nullptr;
    const Observed* ph = nullptr;
    for (const WaterReading& one : history_.water) {
      if (!window.contains(one.at) || one.at > day_.now) continue;
      if (one.do_mg_l) oxygen = &one;
      if (one.ph) ph = &one;
    }
    const bool both = oxygen != nullptr && ph != nullptr;
    const bool half = !both && (oxygen != nullptr || ph != nullptr);
    const Observed* later = both && ph->at > oxygen->at ? ph : oxygen;
    add_in_window(Act::water_reading, name, both ? later : nullptr,
                  half ? Message("due.why.half_taken") : because(Act::water_reading, name, otherwise));
  }

  void secchi() {
    if (state_.stage < Stage::bloom) return;
    const Window& window = day_.windows.peak;
    const Observed* taken =
        last_taken(history_, Act::secchi_reading, window.from, std::min(window.until, day_.now));
    const bool another = !state_.secchi_days.empty() && state_.secchi_days.back().day == day_.day &&
                         state_.secchi_days.back().asks_for_another;
    add_in_window(Act::secchi_reading, WindowName::peak, another ? nullptr : taken,
                  another ? Message("due.why.another_pair")
                          : because(Act::secchi_reading, WindowName::peak, "due.why.peak_round"));
  }

  void levels() {
    if (filling()) {
      const Observed* taken = today(Act::level_reading);
      if (taken != nullptr) {
        add_done(Act::level_reading, *taken, Message("due.why.level_round"));
      } else {
        add(Act::level_reading, DueState::now,
            because(Act::level_reading, std::nullopt, "due.why.level_round"));
      }
      add(Act::fill, DueState::now, fill_reason());
      return;
    }
    if (state_.stage < Stage::rest) return;
    // Read on the dawn round, but the water stands still enough for any hour of the day to do.
    add_in_window(Act::level_reading, WindowName::dawn, today(Act::level_reading),
                  because(Act::level_reading, std::nullopt, "due.why.level_round"));
  }

  Message fill_reason() const {
    const std::string stage = "stage." + std::string(name_of(state_.stage));
    const ProtocolValue* aim = protocol_.find(stage + ".level_aim_share");
    if (aim == nullptr) aim = protocol_.find(stage + ".level_low_share");
    const double* share = aim == nullptr ? nullptr : std::get_if<double>(&aim->value);
    if (share == nullptr || !history_.pond.curve) return Message("due.why.fill");
    const auto level_cm = history_.pond.curve->level_cm_for_share(*share);
    if (!level_cm) return Message("due.why.fill");
    return Message("due.why.fill_to").with("level", Quantity{*level_cm, 0, "cm"});
  }

  void screens() {
    if (state_.stage > Stage::third_fill) return;
    asked_.insert(Act::screen_check);
    for (const std::string& inlet : history_.pond.inlets) {
      const ScreenCheck* last = nullptr;
      for (const ScreenCheck& one : history_.screens) {
        if (one.inlet == inlet && one.at <= day_.now) last = &one;
      }
      DueItem* item = nullptr;
      if (last != nullptr && !last->whole) {
        item = &add(Act::screen_check, DueState::now, Message("due.why.screen_torn"));
      } else {
        item = add_every(Act::screen_check, protocol_.number("rounds.screens_every_days"), last,
                         history_.cycle_start);
      }
      if (item != nullptr) item->detail = inlet;
    }
  }

  void looks() {
    if (state_.stage >= Stage::bloom) {
      add_in_window(Act::water_colour, WindowName::peak, today(Act::water_colour),
                    because(Act::water_colour, std::nullopt, "due.why.colour_round"));
    } else if (state_.stage >= Stage::rest) {
      add_in_window(Act::water_colour, WindowName::afternoon, today(Act::water_colour),
                    because(Act::water_colour, std::nullopt, "due.why.colour_round"));
    }
    if (state_.stage == Stage::hold_band) {
      every(Act::grazer_count, "rounds.grazers_every_days");
      every(Act::bottom_grab, "rounds.bottom_grab_every_days");
    }
    if (state_.stage == Stage::release) {
      every(Act::water_test, "rounds.water_test_every_days");
      every(Act::pest_look, "rounds.pest_look_every_days");
    }
  }

  void every(Act act, std::string_view path) {
    if (add_every(act, protocol_.number(path), in_cycle(act), state_.stage_since) != nullptr) return;
    for (const Criterion& one : state_.criteria) {
      if (one.settles != act || one.verdict != Verdict::unknown || !within_reach(one)) continue;
      add(act, DueState::now, Message("due.why.gate"));
      return;
    }
  }

  void troubles() {
    for (const Trouble& trouble : state_.troubles) {
      if (trouble.id == "crash") dusk();
      if (trouble.id != "doubtful_meter") continue;
      if (const Observed* taken = today(Act::meter_check)) {
        add_done(Act::meter_check, *taken, Message("due.why.meter"));
      } else {
        add(Act::meter_check, DueState::now, Message("due.why.meter"));
      }
    }
  }

  Window after_sunset(std::string_view from_min, std::string_view until_min) const {
    const Instant sunset = day_.windows.sun.sunset;
    return Window{sunset.plus_min(static_cast<std::int64_t>(protocol_.number(from_min))),
                  sunset.plus_min(static_cast<std::int64_t>(protocol_.number(until_min)))};
  }

  // Two readings after sunset tell how fast the oxygen goes tonight: the second is asked for once the first is
  // over.
  void dusk() {
    Window window = after_sunset("windows.dusk.from_min", "windows.dusk.until_min");
    if (day_.now > window.until) {
      window = after_sunset("windows.dusk.again_from_min", "windows.dusk.again_until_min");
    }
    const Observed* taken =
        last_taken(history_, Act::water_reading, window.from, std::min(window.until, day_.now));
    DueItem& item = add(Act::water_reading, taken != nullptr ? DueState::done : state_of(window, day_.now),
                        Message("due.why.dusk"));
    item.from = window.from;
    item.until = window.until;
    if (taken != nullptr && taken->entry != nullptr) item.done_by = taken->entry->id;
  }

  bool within_reach(const Criterion& criterion) const {
    return !criterion.next_chance || day_.of(*criterion.next_chance) <= day_.day;
  }

  // What the gate waits for and nothing above has asked for yet.
  void gate() {
    const auto open = std::count_if(state_.criteria.begin(), state_.criteria.end(),
                                    [](const Criterion& one) { return one.verdict != Verdict::met; });
    if (state_.refused && open == 0) add(Act::decide_gate, DueState::now, Message("due.why.held_shut"));
    for (const Criterion& one : state_.criteria) {
      if (one.verdict == Verdict::met || !one.settles || asked_.count(*one.settles) != 0) continue;
      const Act act = *one.settles;
      // A signature is asked for when nothing else is open.
      if (act == Act::sign_release && open > 1) continue;
      if (one.window) {
        const Window& window = day_.windows.of(*one.window);
        add_in_window(act, *one.window,
                      last_taken(history_, act, window.from, std::min(window.until, day_.now)),
                      Message("due.why.gate"));
        continue;
      }
      if (const Observed* taken = today(act); taken != nullptr && act != Act::shut_inlets) {
        add_done(act, *taken, Message("due.why.gate"));
      } else if (within_reach(one)) {
        add(act, DueState::now, Message(act == Act::sign_release ? "due.why.sign" : "due.why.gate"));
      }
    }
  }

  const PondHistory& history_;
  const PondState& state_;
  const Protocol& protocol_;
  const Day& day_;
  std::vector<DueItem>& items_;
  std::set<Act> asked_;
};

}  // namespace

Role role_for(Act act) {
  switch (act) {
    case Act::soil_broadcast:
    case Act::fill:
    case Act::dose:
    case Act::shut_inlets:
      return Role::worker;
    case Act::sign_release:
    case Act::decide_gate:
    case Act::settle_question:
    case Act::start_cycle:
      return Role::manager;
    case Act::bottom_look:
    case Act::screen_check:
    case Act::source_look:
    case Act::level_reading:
    case Act::water_reading:
    case Act::secchi_reading:
    case Act::water_colour:
    case Act::sky:
    case Act::water_test:
    case Act::grazer_count:
    case Act::bottom_grab:
    case Act::pest_look:
    case Act::meter_check:
      break;
  }
  return Role::technician;
}

DueState state_of(const Window& window, Instant now) {
  if (now < window.from) return DueState::later;
  return now > window.until ? DueState::missed : DueState::now;
}

void collect_due(const FarmPond& pond, const Protocol& protocol, const Day& day, std::vector<DueItem>& items) {
  PondDay(pond, protocol, day, items).collect();
}

}  // namespace tawny
