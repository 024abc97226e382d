#include <array>
#include <cmath>

#include "protocol/criteria.h"

namespace tawny {
namespace {

// Gauge readings are compared with levels reckoned from a share of the volume: exact to far below a millimetre.
constexpr double kLevelRoundingCm = 1e-6;

std::optional<double> level_for(const Look& look, double share) {
  if (!look.history.pond.curve) return std::nullopt;
  const Result<double> level_cm = look.history.pond.curve->level_cm_for_share(share);
  if (!level_cm) return std::nullopt;
  return *level_cm;
}

}  // namespace

std::span<const CriterionFunction> criteria_of(Stage stage) {
  static constexpr std::array kTables = {
      bottom_criteria, first_fill_criteria, rest_criteria,      second_fill_criteria, first_dose_criteria,
      bloom_criteria,  third_fill_criteria, hold_band_criteria, release_criteria,     early_cycle_criteria};
  return kTables[static_cast<std::size_t>(stage) - 1]();
}

Criterion judge_level_range(const Look& look, std::string_view id) {
  Answer answer(look, id);
  answer.rests_on_stage({"level_low_share", "level_high_share"});
  const double low_share = look.of_stage("level_low_share");
  const double high_share = look.of_stage("level_high_share");
  const auto low_cm = level_for(look, low_share);
  const auto high_cm = level_for(look, high_share);
  if (!low_cm || !high_cm) return answer.unknown(Message("why.no_curve"));
  // Rounded inwards, so that a reading of the shown whole centimetre does pass.
  const auto say = [&](std::string_view message) {
    return Message(message)
        .with("low", in_cm(std::ceil(*low_cm - kLevelRoundingCm)))
        .with("high", in_cm(std::floor(*high_cm + kLevelRoundingCm)))
        .with("low_share", in_percent_of_one(low_share))
        .with("high_share", in_percent_of_one(high_share));
  };
  const LevelReading* reading = last_of(look.history.levels, look.at);
  if (reading == nullptr) return answer.settled_by(Act::level_reading).unknown(say("why.level_none"));
  answer.cite(reading->entry);
  const Result<double> volume_m3 = look.history.pond.curve->volume_m3(reading->level_cm);
  if (!volume_m3) {
    return answer.settled_by(Act::level_reading)
        .unknown(say("why.level_off_gauge").with("level", in_cm(reading->level_cm)));
  }
  const auto with_value = [&](std::string_view message) {
    Message said = say(message);
    said.with("level", in_cm(reading->level_cm))
        .with("share", in_percent_of_one(*volume_m3 / look.history.pond.curve->full_volume_m3()));
    return said;
  };
  if (reading->level_cm < *low_cm - kLevelRoundingCm) {
    return answer.settled_by(Act::fill).unmet(with_value("why.level_low"));
  }
  if (reading->level_cm > *high_cm + kLevelRoundingCm) {
    return answer.settled_by(Act::level_reading).unmet(with_value("why.level_high"));
  }
  return answer.settled_by(Act::level_reading).met(with_value("why.level_inside"));
}

const LevelReading* first_reaching(const Look& look, double share, Instant since) {
  const auto level_cm = level_for(look, share);
  if (!level_cm) return nullptr;
  for (const LevelReading& reading : look.history.levels) {
    if (reading.at > look.at) break;
    if (reading.at >= since && reading.level_cm >= *level_cm - kLevelRoundingCm) return &reading;
  }
  return nullptr;
}

Criterion judge_colour(const Look& look, std::string_view id) {
  Answer answer(look, id);
  answer.rests_on_stage({"colours"}).settled_by(Act::water_colour);
  const ColourLook* last = last_of(look.history.colours, look.at, look.since);
  if (last == nullptr) return answer.unknown(Message("why.colour_none"));
  answer.cite(last->entry);
  const std::vector<std::string>& wanted = look.protocol.list(look.stage_path("colours"));
  const std::string_view name = name_of(last->colour);
  const bool fits = std::find(wanted.begin(), wanted.end(), name) != wanted.end();
  std::string word = "colour.";
  word.append(name);
  Message why = Message(fits ? "why.colour_right" : "why.colour_wrong").with("colour", Word{std::move(word)});
  if (!wanted.empty()) {
    why.with("first", Word{"colour." + wanted.front()}).with("last", Word{"colour." + wanted.back()});
  }
  return fits ? answer.met(std::move(why)) : answer.unmet(std::move(why));
}

Criterion judge_band(const Look& look, Answer& answer, const DaySecchi& secchi) {
  const double low_cm = look.of_stage("secchi_low_cm");
  const double high_cm = look.of_stage("secchi_high_cm");
  answer.rests_on_stage({"secchi_low_cm", "secchi_high_cm"}).cite(secchi.entries);
  const auto say = [&](std::string_view message) {
    return Message(message)
        .with("secchi", in_cm(secchi.secchi_cm))
        .with("low", in_cm(low_cm))
        .with("high", in_cm(high_cm))
        .with("day", secchi.day);
  };
  if (secchi.asks_for_another) {
    const Instant next = look.day > secchi.day ? look.at : look.start_of(secchi.day);
    return answer.settled_by(Act::secchi_reading, WindowName::peak, next)
        .unknown(say("why.secchi_spread").with("spread", in_cm(secchi.spread_cm)));
  }
  if (secchi.inside(low_cm, high_cm)) {
    return answer.settled_by(Act::secchi_reading, WindowName::peak, look.at).met(say("why.secchi_inside"));
  }
  answer.settled_by(Act::secchi_reading, WindowName::peak, look.start_of(secchi.day.plus(1)));
  if (secchi.over(high_cm))
    return answer.unmet(say(secchi.more_than ? "why.secchi_bottom_over" : "why.secchi_over"));
  if (secchi.more_than) return answer.unknown(say("why.secchi_bottom"));
  return answer.unmet(say("why.secchi_under"));
}

Criterion judge_swing(const Look& look, Answer& answer, const DayWater& day, double do_mg_l, double ph) {
  const double do_swing_mg_l = *day.do_swing_mg_l();
  const double ph_swing = *day.ph_swing();
  const bool enough = at_least(do_swing_mg_l, do_mg_l) && at_least(ph_swing, ph);
  Message why = Message(enough ? "why.swing_enough" : "why.swing_small")
                    .with("do", in_mg_l(do_swing_mg_l))
                    .with("do_limit", in_mg_l(do_mg_l))
                    .with("ph", in_ph(ph_swing))
                    .with("ph_limit", in_ph(ph))
                    .with("day", day.day);
  answer.cite(day.entries)
      .settled_by(Act::water_reading, WindowName::afternoon, look.start_of(day.day.plus(1)));
  return enough ? answer.met(std::move(why)) : answer.unmet(std::move(why));
}

Message say_why_water_missing(const Look& look, Message missing) {
  const WaterReading* last = last_of(look.history.water, look.at, look.start_of(look.day));
  const DayWindows* windows = look.usable.windows(look.day, look.at);
  if (last == nullptr || windows == nullptr) return missing;
  if (windows->dawn.contains(last->at) || windows->afternoon.contains(last->at)) return missing;
  const bool nearer_dawn = last->at < windows->sun.solar_noon;
  const Window& window = nearer_dawn ? windows->dawn : windows->afternoon;
  return Message(nearer_dawn ? "why.outside_dawn" : "why.outside_afternoon")
      .with("time", last->at)
      .with("from", window.from)
      .with("until", window.until);
}

Message say_why_secchi_missing(const Look& look, Message missing) {
  const SecchiPair* last = last_of(look.history.secchi, look.at, look.start_of(look.day));
  const DayWindows* windows = look.usable.windows(look.day, look.at);
  if (last == nullptr || windows == nullptr || windows->peak.contains(last->at)) return missing;
  return Message("why.outside_peak")
      .with("time", last->at)
      .with("from", windows->peak.from)
      .with("until", windows->peak.until);
}

}  // namespace tawny
