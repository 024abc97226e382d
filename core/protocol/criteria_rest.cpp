// Stage 3: the shut, shallow pond while the soil nitrate dissolves.
#include <utility>

#include "protocol/criteria.h"

namespace tawny {
namespace {

struct Shut {
  std::optional<Instant> since;       // all inlets stand shut since then
  const InletMove* opened = nullptr;  // the last move, when it left an inlet open
  std::string not_recorded;           // an inlet of which nobody has written that it is shut
  std::vector<const Entry*> entries;
};

Shut inlets_shut(const Look& look) {
  std::vector<std::string> names = look.history.pond.inlets;
  if (names.empty()) names.emplace_back();
  Shut result;
  result.since = Instant{INT64_MIN};
  for (const std::string& name : names) {
    const InletMove* shut_by = nullptr;  // the move that turned it from open, or unrecorded, to shut
    const InletMove* last = nullptr;
    for (const InletMove& move : look.history.inlet_moves) {
      if (move.at > look.at) break;
      if (!move.inlet.empty() && move.inlet != name) continue;
      if (!move.open && (last == nullptr || last->open)) shut_by = &move;
      last = &move;
    }
    if (last != nullptr && last->open) {
      result.opened = last;
    } else if (last == nullptr && result.not_recorded.empty()) {
      result.not_recorded = name.empty() ? "-" : name;
    } else if (shut_by != nullptr) {
      result.since = std::max(*result.since, shut_by->at);
      result.entries.push_back(shut_by->entry);
    }
  }
  if (result.opened != nullptr || !result.not_recorded.empty()) result.since.reset();
  return result;
}

Criterion rested(const Look& look) {
  Answer answer(look, "rest.rested");
  answer.rests_on({"stage.rest.rest_h", "stage.first_fill.level_low_share"});
  const double needed_h = look.number("stage.rest.rest_h");
  const Shut shut = inlets_shut(look);
  answer.cite(shut.entries);
  if (shut.opened != nullptr) {
    return answer.cite(shut.opened->entry)
        .settled_by(Act::shut_inlets)
        .unmet(Message("why.inlet_open").with("time", shut.opened->at));
  }
  if (!shut.since) {
    answer.settled_by(Act::shut_inlets);
    if (shut.not_recorded == "-") return answer.unknown(Message("why.inlets_not_recorded"));
    return answer.unknown(Message("why.inlet_not_recorded").with("inlet", Text{shut.not_recorded}));
  }
  const LevelReading* reached =
      first_reaching(look, look.number("stage.first_fill.level_low_share"), look.history.cycle_start);
  if (reached != nullptr) answer.cite(reached->entry);
  const Instant start = std::max(reached == nullptr ? look.since : reached->at, *shut.since);
  const Instant done = start.plus_h(needed_h);
  Message why = Message(look.at >= done ? "why.rested" : "why.resting")
                    .with("hours", Quantity{hours_between(start, look.at), 0, "h"})
                    .with("needed", Quantity{needed_h, 0, "h"})
                    .with("until", done);
  if (look.at >= done) return answer.met(std::move(why));
  return answer.next_chance(done).recheck(done).unmet(std::move(why));
}

Criterion pairs(const Look& look) {
  Answer answer(look, "rest.pairs");
  answer.rests_on({"stage.rest.paired_days", "stage.rest.paired_days_of"});
  const double needed = look.number("stage.rest.paired_days");
  const auto of_days = static_cast<int>(look.number("stage.rest.paired_days_of"));
  const CivilDay first = look.day.plus(1 - of_days);
  const std::vector<DayWater> days = look.usable.paired_days(first, look.at, static_cast<std::size_t>(of_days));
  for (const DayWater& day : days) answer.cite(day.entries);
  Message count = Message(static_cast<double>(days.size()) >= needed ? "why.pairs_enough" : "why.pairs_missing")
                      .with("count", plain(static_cast<double>(days.size())))
                      .with("needed", plain(needed))
                      .with("of", plain(of_days));
  const DayWater today = look.usable.water(look.day, look.at);
  const bool dawn_taken = today.dawn_do_mg_l && today.dawn_ph;
  const bool afternoon_taken = today.afternoon_do_mg_l && today.afternoon_ph;
  const Instant tomorrow = look.start_of(look.day.plus(1));
  const auto dawn = look.next_in(WindowName::dawn, dawn_taken ? tomorrow : look.at);
  const auto afternoon = look.next_in(WindowName::afternoon, afternoon_taken ? tomorrow : look.at);
  const bool afternoon_first = dawn && afternoon && *afternoon < *dawn;
  answer.settled_by(Act::water_reading, afternoon_first ? WindowName::afternoon : WindowName::dawn,
                    (afternoon_first ? afternoon_taken : dawn_taken) ? tomorrow : look.at);
  if (static_cast<double>(days.size()) >= needed) return answer.met(std::move(count));
  return answer.unknown(say_why_water_missing(look, std::move(count)));
}

Criterion swing(const Look& look) {
  Answer answer(look, "rest.swing");
  answer.rests_on({"stage.rest.do_swing_mg_l", "stage.rest.ph_swing"});
  const double do_mg_l = look.number("stage.rest.do_swing_mg_l");
  const double ph = look.number("stage.rest.ph_swing");
  const auto of_days = static_cast<int>(look.number("stage.rest.paired_days_of"));
  const std::vector<DayWater> days = look.usable.paired_days(look.day.plus(1 - of_days), look.at, 1);
  if (days.empty()) {
    return answer.settled_by(Act::water_reading, WindowName::afternoon, look.at)
        .unknown(Message("why.swing_none").with("do_limit", in_mg_l(do_mg_l)).with("ph_limit", in_ph(ph)));
  }
  return judge_swing(look, answer, days.front(), do_mg_l, ph);
}

Criterion colour(const Look& look) { return judge_colour(look, "rest.colour"); }

constexpr CriterionFunction kCriteria[] = {rested, pairs, swing, colour};

}  // namespace

std::span<const CriterionFunction> rest_criteria() { return kCriteria; }

}  // namespace tawny
