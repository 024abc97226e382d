// Stage 9: the last look before the pond is released for stocking; stage 10: the first weeks.
#include "protocol/criteria.h"
#include "science/ammonia.h"

namespace tawny {
namespace {

Criterion dawn_oxygen(const Look& look) {
  Answer answer(look, "release.dawn_do");
  answer.rests_on({"stage.release.dawn_do_mg_l", "stage.release.dawn_do_days"});
  const double limit_mg_l = look.number("stage.release.dawn_do_mg_l");
  const auto days = static_cast<int>(look.number("stage.release.dawn_do_days"));
  const DayWindows* today = look.usable.windows(look.day, look.at);
  const bool taken_today = look.usable.water(look.day, look.at).dawn_do_mg_l.has_value();
  // Before this dawn is over, and unread, the last days are those before it.
  const bool dawn_to_come = !taken_today && today != nullptr && look.at <= today->dawn.until;
  const CivilDay last = dawn_to_come ? look.day.plus(-1) : look.day;
  answer.settled_by(Act::water_reading, WindowName::dawn,
                    taken_today ? look.start_of(look.day.plus(1)) : look.at);
  if (dawn_to_come) answer.recheck(today->dawn.until.plus_s(1));
  std::optional<CivilDay> missing;
  std::optional<double> lowest_mg_l;
  for (int back = 0; back < days; ++back) {
    const DayWater day = look.usable.water(last.plus(-back), look.at);
    if (!day.dawn_do_mg_l) {
      if (!missing) missing = day.day;
      continue;
    }
    answer.cite(day.entries);
    lowest_mg_l = std::min(*day.dawn_do_mg_l, lowest_mg_l.value_or(*day.dawn_do_mg_l));
  }
  const auto say = [&](std::string_view message) {
    return Message(message).with("limit", in_mg_l(limit_mg_l)).with("count", plain(days));
  };
  if (lowest_mg_l && *lowest_mg_l < limit_mg_l) {
    return answer.unmet(say("why.dawn_do_low").with("do", in_mg_l(*lowest_mg_l)));
  }
  if (missing) {
    return answer.unknown(say_why_water_missing(look, say("why.dawn_do_missing").with("day", *missing)));
  }
  return answer.met(say("why.dawn_do_enough").with("do", in_mg_l(*lowest_mg_l)));
}

// The lowest and the highest possible pH read from `from` on, in a window or not: the range holds all day.
std::pair<const WaterReading*, const WaterReading*> ph_extremes(const Look& look, Instant from) {
  std::pair<const WaterReading*, const WaterReading*> result;
  for (const WaterReading& reading : look.history.water) {
    if (reading.at > look.at) break;
    if (reading.at < from || !look.usable.possible_ph(reading)) continue;
    if (result.first == nullptr || *reading.ph < *result.first->ph) result.first = &reading;
    if (result.second == nullptr || *reading.ph > *result.second->ph) result.second = &reading;
  }
  return result;
}

// Judged on the last paired day that is recent enough, and on every reading since that day began.
Criterion ph(const Look& look) {
  Answer answer(look, "release.ph");
  answer.rests_on({"stage.release.ph_low", "stage.release.ph_high", "stage.release.ph_swing",
                   "stage.release.ph_swing_stocked", "stage.release.reading_age_days"});
  const double low = look.number("stage.release.ph_low");
  const double high = look.number("stage.release.ph_high");
  const double swing_limit = look.number("stage.release.ph_swing");
  const auto age_days = static_cast<int>(look.number("stage.release.reading_age_days"));
  const auto say = [&](std::string_view message) {
    return Message(message)
        .with("low", in_ph(low))
        .with("high", in_ph(high))
        .with("limit", in_ph(swing_limit))
        .with("stocked", in_ph(look.number("stage.release.ph_swing_stocked")));
  };
  answer.settled_by(Act::water_reading, WindowName::afternoon, look.at);
  DayWater day;
  for (int back = 0; back < age_days && !day.ph_swing(); ++back) {
    day = look.usable.water(look.day.plus(-back), look.at);
  }
  const CivilDay first = day.ph_swing() ? day.day : look.day.plus(1 - age_days);
  const auto [lowest, highest] = ph_extremes(look, look.start_of(first));
  if (lowest != nullptr && (*lowest->ph < low || *highest->ph > high)) {
    const WaterReading& beyond = *lowest->ph < low ? *lowest : *highest;
    if (look.usable.water(look.day, look.at).afternoon_ph) {
      answer.settled_by(Act::water_reading, WindowName::afternoon, look.start_of(look.day.plus(1)));
    }
    return answer.cite(beyond.entry)
        .unmet(say("why.ph_outside").with("ph", in_ph(*beyond.ph)).with("time", beyond.at));
  }
  if (!day.ph_swing()) return answer.unknown(say_why_water_missing(look, say("why.ph_missing")));
  answer.cite(day.entries);
  if (day.day == look.day) {
    answer.settled_by(Act::water_reading, WindowName::afternoon, look.start_of(look.day.plus(1)));
  }
  const bool calm = at_most(*day.ph_swing(), swing_limit);
  Message why = say(calm ? "why.ph_inside" : "why.ph_swing_large")
                    .with("dawn", in_ph(*day.dawn_ph))
                    .with("afternoon", in_ph(*day.afternoon_ph))
                    .with("swing", in_ph(*day.ph_swing()));
  return calm ? answer.met(std::move(why)) : answer.unmet(std::move(why));
}

// The newest reading with the value asked for, not older than stage.release.reading_age_days.
const WaterReading* recent_reading(const Look& look, std::optional<double> WaterReading::*value) {
  const Instant oldest = look.at.plus_h(-24 * look.number("stage.release.reading_age_days"));
  const std::vector<WaterReading>& water = look.history.water;
  for (auto it = water.rbegin(); it != water.rend() && it->at >= oldest; ++it) {
    if (it->at <= look.at && (*it).*value) return &*it;
  }
  return nullptr;
}

Criterion temperature(const Look& look) {
  Answer answer(look, "release.temperature");
  answer.rests_on({"stage.release.temperature_low_c", "stage.release.temperature_high_c"})
      .settled_by(Act::water_reading);
  const double low_c = look.number("stage.release.temperature_low_c");
  const double high_c = look.number("stage.release.temperature_high_c");
  const auto say = [&](std::string_view message) {
    return Message(message).with("low", Quantity{low_c, 1, "c"}).with("high", Quantity{high_c, 1, "c"});
  };
  const WaterReading* reading = recent_reading(look, &WaterReading::temperature_c);
  if (reading == nullptr) return answer.unknown(say("why.temperature_none"));
  answer.cite(reading->entry);
  const double value_c = *reading->temperature_c;
  const bool inside = value_c >= low_c && value_c <= high_c;
  Message why = say(inside ? "why.temperature_inside" : "why.temperature_outside")
                    .with("temperature", Quantity{value_c, 1, "c"});
  return inside ? answer.met(std::move(why)) : answer.unmet(std::move(why));
}

Criterion salinity(const Look& look) {
  Answer answer(look, "release.salinity");
  answer.rests_on({"stage.release.salinity_low", "stage.release.salinity_high"}).settled_by(Act::water_reading);
  const double low = look.number("stage.release.salinity_low");
  const double high = look.number("stage.release.salinity_high");
  const auto say = [&](std::string_view message) {
    return Message(message).with("low", plain(low, 1)).with("high", plain(high, 1));
  };
  const WaterReading* reading = recent_reading(look, &WaterReading::salinity);
  if (reading == nullptr) return answer.unknown(say("why.salinity_none"));
  answer.cite(reading->entry);
  const bool inside = *reading->salinity >= low && *reading->salinity <= high;
  Message why = say(inside ? "why.salinity_inside" : "why.salinity_outside")
                    .with("salinity", plain(*reading->salinity, 1));
  return inside ? answer.met(std::move(why)) : answer.unmet(std::move(why));
}

// The newest test with the value asked for, not older than stage.release.look_age_days.
const WaterTest* recent_test(const Look& look, std::optional<double> WaterTest::*value) {
  const Instant oldest = look.at.plus_h(-24 * look.number("stage.release.look_age_days"));
  const std::vector<WaterTest>& tests = look.history.tests;
  for (auto it = tests.rbegin(); it != tests.rend() && it->at >= oldest; ++it) {
    if (it->at <= look.at && (*it).*value) return &*it;
  }
  return nullptr;
}

// Un-ionized ammonia is reckoned where it is highest: with the highest pH within a day of the test.
Criterion ammonia(const Look& look) {
  Answer answer(look, "release.ammonia");
  answer.rests_on({"stage.release.ammonia_n_mg_l", "stage.release.look_age_days"}).settled_by(Act::water_test);
  const double limit_mg_l = look.number("stage.release.ammonia_n_mg_l");
  const auto say = [&](std::string_view message) {
    return Message(message).with("limit", in_mg_l(limit_mg_l));
  };
  const WaterTest* test = recent_test(look, &WaterTest::tan_mg_l);
  if (test == nullptr) return answer.unknown(say("why.ammonia_none"));
  answer.cite(test->entry);
  const WaterReading* highest = nullptr;
  const WaterReading* salt = nullptr;
  for (const WaterReading& reading : look.history.water) {
    if (reading.at > look.at) break;
    if (reading.salinity) salt = &reading;
    const double apart_h = hours_between(test->at, reading.at);
    if (apart_h < -24 || apart_h > 24 || !reading.ph || !reading.temperature_c) continue;
    if (!look.usable.possible_ph(reading)) continue;
    if (highest == nullptr || *reading.ph > *highest->ph) highest = &reading;
  }
  if (highest == nullptr || salt == nullptr) {
    return answer.settled_by(Act::water_reading, WindowName::afternoon, look.at)
        .unknown(say("why.ammonia_needs_reading"));
  }
  answer.cite(highest->entry);
  const double salinity_there = highest->salinity.value_or(*salt->salinity);
  const Result<double> value_mg_l =
      un_ionized_ammonia_n_mg_l(*test->tan_mg_l, *highest->ph, *highest->temperature_c, salinity_there);
  if (!value_mg_l) return answer.unknown(say("why.ammonia_needs_reading"));
  const bool fine = *value_mg_l <= limit_mg_l;
  Message why = say(fine ? "why.ammonia_low" : "why.ammonia_high")
                    .with("ammonia", Quantity{*value_mg_l, 3, "mg_l"})
                    .with("ph", in_ph(*highest->ph))
                    .with("temperature", Quantity{*highest->temperature_c, 1, "c"});
  return fine ? answer.met(std::move(why)) : answer.unmet(std::move(why));
}

Criterion alkalinity(const Look& look) {
  Answer answer(look, "release.alkalinity");
  answer.rests_on({"stage.release.alkalinity_mg_l", "stage.release.look_age_days"}).settled_by(Act::water_test);
  const Quantity limit{look.number("stage.release.alkalinity_mg_l"), 0, "mg_l"};
  const WaterTest* test = recent_test(look, &WaterTest::alkalinity_mg_l);
  if (test == nullptr) return answer.unknown(Message("why.alkalinity_none").with("limit", limit));
  answer.cite(test->entry);
  const bool enough = *test->alkalinity_mg_l >= limit.value;
  Message why = Message(enough ? "why.alkalinity_enough" : "why.alkalinity_low")
                    .with("alkalinity", Quantity{*test->alkalinity_mg_l, 0, "mg_l"})
                    .with("limit", limit);
  return enough ? answer.met(std::move(why)) : answer.unmet(std::move(why));
}

Criterion pests(const Look& look) {
  Answer answer(look, "release.pests");
  answer.rests_on({"stage.release.look_age_days"}).settled_by(Act::pest_look);
  const Instant oldest = look.at.plus_h(-24 * look.number("stage.release.look_age_days"));
  const PestLook* last = last_of(look.history.pests, look.at, oldest);
  if (last == nullptr) return answer.unknown(Message("why.pests_none"));
  answer.cite(last->entry);
  if (last->bivalves && last->predators) return answer.unmet(Message("why.pests_both"));
  if (last->bivalves) return answer.unmet(Message("why.bivalves_seen"));
  if (last->predators) return answer.unmet(Message("why.predators_seen"));
  return answer.met(Message("why.no_pests"));
}

// The farm's own stocking level counts where it has one, and so does the protocol's share of the volume.
Criterion level(const Look& look) {
  Answer answer(look, "release.level");
  answer.rests_on({"stage.release.level_share"}).settled_by(Act::level_reading);
  const double share = look.number("stage.release.level_share");
  std::optional<double> needed_cm;
  if (look.history.pond.curve) {
    const Result<double> level_cm = look.history.pond.curve->level_cm_for_share(share);
    if (level_cm) needed_cm = *level_cm;
  }
  const double own_cm = look.history.pond.stocking_level_cm;
  if (own_cm > 0) needed_cm = needed_cm ? std::min(*needed_cm, own_cm) : own_cm;
  if (!needed_cm) return answer.unknown(Message("why.no_curve"));
  // Rounded up, so that a reading of the shown whole centimetre does pass.
  const Quantity needed = in_cm(static_cast<double>(static_cast<int>(*needed_cm + 0.999999)));
  const LevelReading* last = last_of(look.history.levels, look.at);
  if (last == nullptr) return answer.unknown(Message("why.stocking_level_none").with("needed", needed));
  answer.cite(last->entry);
  const bool enough = last->level_cm >= *needed_cm - 1e-6;
  Message why = Message(enough ? "why.stocking_level_enough" : "why.stocking_level_low")
                    .with("level", in_cm(last->level_cm))
                    .with("needed", needed);
  return enough ? answer.met(std::move(why)) : answer.settled_by(Act::fill).unmet(std::move(why));
}

// A signature counts only at an instant at which all else holds: one given too early has to be given again.
Criterion decision(const Look& look) {
  Answer answer(look, "release.decision");
  answer.settled_by(Act::sign_release);
  const ReleaseSigned* last = last_of(look.history.releases, look.at, look.since);
  if (last == nullptr) {
    return answer.unknown(Message(look.others_met ? "why.release_waits" : "why.release_waits_others"));
  }
  answer.cite(last->entry);
  if (last->at == look.at && look.others_met) return answer.met(Message("why.release_signed"));
  return answer.unmet(Message("why.release_signed_early").with("time", last->at));
}

Criterion weeks(const Look& look) {
  Answer answer(look, "early_cycle.weeks");
  answer.rests_on({"stage.early_cycle.weeks"});
  const double needed = look.number("stage.early_cycle.weeks");
  const Instant end = look.since.plus_h(24 * 7 * needed);
  Message why = Message(look.at >= end ? "why.weeks_over" : "why.weeks_running")
                    .with("days", in_days(static_cast<double>(look.day.days - look.day_of(look.since).days)))
                    .with("needed", Quantity{needed, 0, "weeks"})
                    .with("end", look.day_of(end));
  if (look.at >= end) return answer.met(std::move(why));
  return answer.next_chance(end).recheck(end).unmet(std::move(why));
}

constexpr CriterionFunction kRelease[] = {dawn_oxygen, ph,    temperature, salinity, ammonia,
                                          alkalinity,  pests, level,       decision};
constexpr CriterionFunction kEarlyCycle[] = {weeks};

}  // namespace

std::span<const CriterionFunction> release_criteria() { return kRelease; }
std::span<const CriterionFunction> early_cycle_criteria() { return kEarlyCycle; }

}  // namespace tawny
