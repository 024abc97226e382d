#include "logbook/kinds.h"
#include "protocol/troubles.h"

namespace tawny {
namespace {

void cite(Trouble& trouble, const Entry* entry) {
  if (std::find(trouble.evidence.begin(), trouble.evidence.end(), entry->id) == trouble.evidence.end()) {
    trouble.evidence.push_back(entry->id);
  }
}

void cite(Trouble& trouble, const std::vector<const Entry*>& entries) {
  for (const Entry* entry : entries) cite(trouble, entry);
}

// Only what was read lately is a trouble of now.
CivilDay first_current_day(const Look& look) {
  return look.day.plus(-static_cast<int>(look.number("trouble.current_days")));
}

const DoseRecord* last_strong_dose(const Look& look) {
  const DoseRecord* strong = nullptr;
  for (const DoseRecord* dose : doses_at(look.history, look.at)) {
    if (at_least(dose->rate_kg_ha, look.number("trouble.clear.dose_kg_ha"))) strong = dose;
  }
  return strong;
}

Message check_walls(const Look& look) {
  const PestLook* pests = last_of(look.history.pests, look.at);
  if (pests == nullptr) return Message("trouble.clear_and_flat.check.walls");
  return Message(pests->bivalves ? "trouble.clear_and_flat.check.walls_seen"
                                 : "trouble.clear_and_flat.check.walls_none")
      .with("day", look.day_of(pests->at));
}

Message check_screens(const Look& look) {
  const ScreenCheck* last = last_of(look.history.screens, look.at);
  if (last == nullptr) return Message("trouble.clear_and_flat.check.screens");
  return Message(last->whole ? "trouble.clear_and_flat.check.screens_whole"
                             : "trouble.clear_and_flat.check.screens_torn")
      .with("day", look.day_of(last->at))
      .with("mesh", Quantity{last->mesh_um, 0, "um"});
}

Message check_spread(const DoseRecord& dose, const Look& look) {
  const bool well = dose.whole_surface && dose.dissolved;
  return Message(well ? "trouble.clear_and_flat.check.spread_whole"
                      : "trouble.clear_and_flat.check.spread_part")
      .with("day", look.day_of(dose.started));
}

int greenness(WaterColour colour) {
  switch (colour) {
    case WaterColour::light_green:
      return 1;
    case WaterColour::green:
      return 2;
    case WaterColour::dark_green:
      return 3;
    case WaterColour::clear:
    case WaterColour::muddy:
    case WaterColour::pale_gold:
    case WaterColour::golden:
    case WaterColour::golden_brown:
    case WaterColour::red_brown:
      break;
  }
  return 0;
}

bool filled_between(const Look& look, Instant from, Instant until) {
  const LevelReading* lowest = nullptr;
  for (const LevelReading& reading : look.history.levels) {
    if (reading.at > until) break;
    // The last reading before the span is where the water stood at its start.
    if (reading.at <= from || lowest == nullptr) {
      lowest = &reading;
      continue;
    }
    if (reading.level_cm - lowest->level_cm > look.number("trouble.crash.fill_rise_cm")) return true;
    if (reading.level_cm < lowest->level_cm) lowest = &reading;
  }
  for (const InletMove& move : look.history.inlet_moves) {
    if (move.at > from && move.at <= until && move.open) return true;
  }
  return false;
}

// The swing fell to the set share of what it was on the last paired day up to `before`.
std::optional<std::pair<DayWater, DayWater>> halved_swing(const Look& look, CivilDay before) {
  const std::vector<DayWater> now = look.usable.paired_days(before.plus(1), look.at, 1);
  const std::vector<DayWater> then =
      look.usable.paired_days(before.plus(-static_cast<int>(look.number("trouble.current_days"))),
                              look.start_of(before.plus(1)).plus_s(-1), 1);
  if (now.empty() || then.empty()) return std::nullopt;
  const double was_mg_l = *then.front().do_swing_mg_l();
  const double is_mg_l = *now.front().do_swing_mg_l();
  if (was_mg_l <= 0 || !at_most(is_mg_l, look.number("trouble.crash.swing_share") * was_mg_l))
    return std::nullopt;
  return std::pair(then.front(), now.front());
}

void add_crash_checks(Trouble& trouble) {
  trouble.severity = Trouble::Severity::alarm;
  trouble.forbids_dose = true;
  trouble.check_next = {Message("trouble.crash.check.dusk_pair"), Message("trouble.crash.check.aeration"),
                        Message("trouble.crash.check.no_dose")};
}

std::optional<Trouble> low_dawn(const Look& look) {
  for (int back = 0; back < 2; ++back) {
    const DayWater day = look.usable.water(look.day.plus(-back), look.at);
    if (!day.dawn_do_mg_l) continue;
    if (*day.dawn_do_mg_l >= look.number("trouble.crash.dawn_do_mg_l")) return std::nullopt;
    Trouble trouble;
    trouble.id = "crash";
    trouble.what = Message("trouble.crash.what_dawn")
                       .with("do", in_mg_l(*day.dawn_do_mg_l))
                       .with("limit", in_mg_l(look.number("trouble.crash.dawn_do_mg_l")))
                       .with("day", day.day);
    cite(trouble, day.entries);
    add_crash_checks(trouble);
    return trouble;
  }
  return std::nullopt;
}

std::optional<Trouble> secchi_jump(const Look& look) {
  const auto within_days = static_cast<int>(look.number("trouble.crash.within_days"));
  const std::vector<DaySecchi> days =
      look.usable.secchi_days(first_current_day(look).plus(-within_days), Instant{INT64_MIN}, look.at,
                              static_cast<std::size_t>(within_days) + 1);
  if (days.empty() || days.front().day < first_current_day(look)) return std::nullopt;
  const DaySecchi& now = days.front();
  for (std::size_t i = 1; i < days.size() && now.day.days - days[i].day.days <= within_days; ++i) {
    const DaySecchi& then = days[i];
    // Seen on the bottom before: nobody knows from how deep it came.
    if (then.more_than || !at_least(now.secchi_cm - then.secchi_cm, look.number("trouble.crash.rise_cm")))
      continue;
    if (filled_between(look, look.start_of(then.day), look.start_of(now.day.plus(1)))) continue;
    const auto swings = halved_swing(look, then.day);
    if (!swings) continue;
    Trouble trouble;
    trouble.id = "crash";
    trouble.what = Message("trouble.crash.what")
                       .with("before", in_cm(then.secchi_cm))
                       .with("secchi", in_cm(now.secchi_cm))
                       .with("count", plain(now.day.days - then.day.days))
                       .with("swing_before", in_mg_l(*swings->first.do_swing_mg_l()))
                       .with("swing", in_mg_l(*swings->second.do_swing_mg_l()));
    for (const auto* entries : {&then.entries, &now.entries, &swings->first.entries, &swings->second.entries}) {
      cite(trouble, *entries);
    }
    add_crash_checks(trouble);
    return trouble;
  }
  return std::nullopt;
}

}  // namespace

std::optional<Trouble> clear_water(const Look& look) {
  const DoseRecord* dose = last_strong_dose(look);
  if (dose == nullptr) return std::nullopt;
  const CivilDay dose_day = look.day_of(dose->started);
  const std::vector<DaySecchi> days = look.usable.secchi_days(dose_day, Instant{INT64_MIN}, look.at, 2);
  if (days.empty() || days.front().day < first_current_day(look)) return std::nullopt;
  const DaySecchi& now = days.front();
  if (!now.over(look.number("trouble.clear.secchi_cm"))) return std::nullopt;
  if (now.day.days - dose_day.days < look.number("trouble.clear.days_after_dose")) return std::nullopt;
  const auto flat_days = static_cast<std::size_t>(look.number("trouble.flat.days"));
  const std::vector<DayWater> paired = look.usable.paired_days(dose_day.plus(1), look.at, flat_days);
  if (paired.empty()) return std::nullopt;
  const bool flat =
      paired.size() == flat_days &&
      std::all_of(paired.begin(), paired.end(), [&](const DayWater& day) { return is_flat(look, day); });
  Trouble trouble;
  cite(trouble, dose->entry);
  cite(trouble, now.entries);
  for (const DayWater& day : paired) cite(trouble, day.entries);
  trouble.forbids_dose = true;
  const auto say = [&](std::string_view message) {
    return Message(message)
        .with("secchi", in_cm(now.secchi_cm))
        .with("days", in_days(now.day.days - dose_day.days))
        .with("rate", in_kg_ha(dose->rate_kg_ha))
        .with("do", in_mg_l(*paired.front().do_swing_mg_l()))
        .with("ph", in_ph(*paired.front().ph_swing()));
  };
  if (flat) {
    std::vector<const Entry*> skies;
    const auto dull = [&](const DayWater& day) { return sky_of_day(look, day.day, skies) == Sky::dull; };
    const auto dull_days = static_cast<std::size_t>(std::count_if(paired.begin(), paired.end(), dull));
    cite(trouble, skies);
    if (dull_days == paired.size()) {
      trouble.id = "slow_start";
      trouble.severity = Trouble::Severity::watch;
      trouble.what = say("trouble.slow_start.what_dull");
      trouble.check_next = {Message("trouble.slow_start.check.wait")};
      return trouble;
    }
    trouble.id = "clear_and_flat";
    trouble.severity = Trouble::Severity::warn;
    trouble.what = say(now.more_than ? "trouble.clear_and_flat.what_bottom" : "trouble.clear_and_flat.what");
    trouble.check_next = {
        check_walls(look), check_screens(look), check_spread(*dose, look),
        Message(skies.empty() ? "trouble.clear_and_flat.check.sky_unknown" : "trouble.clear_and_flat.check.sky")
            .with("dull", plain(static_cast<double>(dull_days)))
            .with("of", plain(static_cast<double>(paired.size())))};
    return trouble;
  }
  const bool falls = days.size() == 2 && !now.more_than && !days[1].under(now.secchi_cm + 1e-9) &&
                     days[1].secchi_cm > now.secchi_cm;
  if (is_flat(look, paired.front()) || !falls) return std::nullopt;
  trouble.id = "slow_start";
  trouble.severity = Trouble::Severity::watch;
  trouble.what = say("trouble.slow_start.what").with("before", in_cm(days[1].secchi_cm));
  trouble.check_next = {Message("trouble.slow_start.check.wait")};
  return trouble;
}

std::optional<Trouble> too_dense(const Look& look) {
  const auto falls_asked = static_cast<std::size_t>(look.number("trouble.too_dense.falling_days"));
  // Pairs that differ count here, too: a warning does not wait for one more.
  const std::vector<DaySecchi> days = look.usable.secchi_days(
      look.day_of(look.history.cycle_start), Instant{INT64_MIN}, look.at, falls_asked + 1, true);
  if (days.empty() || days.front().day < first_current_day(look)) return std::nullopt;
  const DaySecchi& now = days.front();
  const bool alarm = now.under(look.number("trouble.too_dense.alarm_cm"));
  bool falling = days.size() == falls_asked + 1;
  for (std::size_t i = 1; falling && i < days.size(); ++i) {
    falling = !days[i - 1].more_than && days[i - 1].secchi_cm < days[i].secchi_cm;
  }
  if (!alarm && !(falling && now.under(look.number("trouble.too_dense.secchi_cm")))) return std::nullopt;
  Trouble trouble;
  trouble.id = "too_dense";
  trouble.severity = alarm ? Trouble::Severity::alarm : Trouble::Severity::warn;
  trouble.forbids_dose = true;
  if (falling) {
    for (const DaySecchi& day : days) cite(trouble, day.entries);
  } else {
    cite(trouble, now.entries);
  }
  trouble.what =
      Message(alarm ? "trouble.too_dense.what_alarm" : "trouble.too_dense.what")
          .with("secchi", in_cm(now.secchi_cm))
          .with("limit",
                in_cm(look.number(alarm ? "trouble.too_dense.alarm_cm" : "trouble.too_dense.secchi_cm")));
  if (falling) trouble.what.with("before", in_cm(days.back().secchi_cm));
  trouble.check_next = {Message("trouble.too_dense.check.no_dose"), Message("trouble.too_dense.check.dawn_do"),
                        Message("trouble.too_dense.check.exchange")};
  return trouble;
}

std::optional<Trouble> crash(const Look& look) {
  auto jump = secchi_jump(look);
  return jump ? jump : low_dawn(look);
}

GreenDrift green_drift(const Look& look) {
  GreenDrift drift;
  const ColourLook* later = nullptr;
  for (auto it = look.history.colours.rbegin(); it != look.history.colours.rend(); ++it) {
    if (it->at > look.at) continue;
    if (later == nullptr) {
      if (it->colour == WaterColour::red_brown) break;
      drift.looks.push_back(&*it);
    } else if (greenness(it->colour) < greenness(later->colour)) {
      ++drift.moves;
      drift.light_to_dark = drift.light_to_dark || (it->colour == WaterColour::light_green &&
                                                    later->colour == WaterColour::dark_green);
      drift.looks.push_back(&*it);
    } else if (greenness(it->colour) > greenness(later->colour)) {
      break;
    }
    later = &*it;
  }
  std::reverse(drift.looks.begin(), drift.looks.end());
  return drift;
}

std::optional<Trouble> drifting_green(const Look& look) {
  const GreenDrift drift = green_drift(look);
  if (drift.moves < look.number("trouble.drifting.moves") && !drift.light_to_dark) return std::nullopt;
  Trouble trouble;
  trouble.id = "drifting_green";
  trouble.severity = Trouble::Severity::warn;
  trouble.forbids_dose = true;
  for (const ColourLook* one : drift.looks) cite(trouble, one->entry);
  trouble.what = Message("trouble.drifting_green.what")
                     .with("from", Word{"colour." + std::string(name_of(drift.looks.front()->colour))})
                     .with("to", Word{"colour." + std::string(name_of(drift.looks.back()->colour))})
                     .with("since", look.day_of(drift.looks.front()->at));
  trouble.check_next = {
      Message("trouble.drifting_green.check.bottom"), Message("trouble.drifting_green.check.source"),
      Message("trouble.drifting_green.check.fertilizer"), Message("trouble.drifting_green.check.no_dose")};
  return trouble;
}

std::optional<Trouble> red_brown(const Look& look) {
  const ColourLook* last = last_of(look.history.colours, look.at);
  if (last == nullptr || last->colour != WaterColour::red_brown) return std::nullopt;
  Trouble trouble;
  trouble.id = "red_brown";
  trouble.severity = Trouble::Severity::alarm;
  trouble.forbids_dose = true;
  cite(trouble, last->entry);
  trouble.what = Message("trouble.red_brown.what").with("day", look.day_of(last->at));
  trouble.check_next = {Message("trouble.red_brown.check.laboratory"),
                        Message("trouble.red_brown.check.keep_off"),
                        Message("trouble.red_brown.check.manager")};
  return trouble;
}

}  // namespace tawny
