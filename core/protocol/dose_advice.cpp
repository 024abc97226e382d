#include "protocol/dose_advice.h"

#include "logbook/kinds.h"
#include "protocol/troubles.h"

namespace tawny {
namespace {

bool takes_doses(Stage stage) {
  return stage == Stage::first_dose || stage == Stage::bloom || stage == Stage::hold_band ||
         stage == Stage::release || stage == Stage::early_cycle;
}

Word stage_word(Stage stage) { return Word{"stage." + std::string(name_of(stage))}; }

// Collects reasons. A hard one asks for the manager's word; a soft one only means that a dose is not advised.
class Reasons {
 public:
  explicit Reasons(DoseAdvice& advice) : advice_(advice) {}
  void hard(Message message) {
    against_ = true;
    advice_.allowed = false;
    advice_.why.push_back(std::move(message));
  }
  void soft(Message message) {
    against_ = true;
    advice_.why.push_back(std::move(message));
  }
  void favours(Message message) { for_.push_back(std::move(message)); }
  void finish(double rate_kg_ha) {
    if (against_) return;
    advice_.advised = true;
    advice_.rate_kg_ha = rate_kg_ha;
    advice_.why = std::move(for_);
  }

 private:
  DoseAdvice& advice_;
  std::vector<Message> for_;
  bool against_ = false;
};

CivilDay set_next_window(const Look& look, DoseAdvice& advice) {
  for (int ahead = 0; ahead < 2; ++ahead) {
    const DayWindows* windows = look.usable.windows(look.day.plus(ahead), look.at);
    if (windows == nullptr || windows->dose.until < look.at) continue;
    advice.window_from = windows->dose.from;
    advice.window_until = windows->dose.until;
    return windows->day;
  }
  return look.day;
}

std::optional<CivilDay> last_dose_day(const Look& look) {
  const std::vector<const DoseRecord*> doses = doses_at(look.history, look.at);
  if (doses.empty()) return std::nullopt;
  return look.day_of(doses.back()->started);
}

void judge_last_dose(const Look& look, CivilDay morning, Reasons& reasons) {
  const std::optional<CivilDay> dosed = last_dose_day(look);
  if (!dosed) return;
  const CivilDay last = *dosed;
  const auto between = static_cast<int>(look.number("dose.days_between"));
  const int ago = morning.days - last.days;
  Message message = Message(ago < between ? "dose.too_soon" : "dose.long_enough")
                        .with("days", in_days(ago))
                        .with("needed", in_days(between))
                        .with("last", last)
                        .with("next", last.plus(between));
  if (ago < between) return reasons.hard(std::move(message));
  reasons.favours(std::move(message));
}

void judge_troubles(const std::vector<Trouble>& troubles, Reasons& reasons) {
  for (const Trouble& trouble : troubles) {
    if (!trouble.forbids_dose) continue;
    reasons.hard(Message("dose.trouble").with("trouble", Word{"trouble." + trouble.id + ".name"}));
  }
}

// The farm has no weather forecast: the latest record of the sky stands for the coming morning.
std::optional<Sky> expected_sky(const Look& look, CivilDay morning) {
  const auto age_days = static_cast<int>(look.number("dose.sky_age_days"));
  const SkyLook* last = last_of(look.history.skies, look.at, look.start_of(morning.plus(-age_days)));
  if (last == nullptr) return std::nullopt;
  return last->sky;
}

// Seen on the bottom at a depth that leaves open on which side of the limit the water is.
bool undecided(const DaySecchi& day, double limit_cm) { return day.more_than && !day.over(limit_cm); }

// The rate asked for; nothing (with the reasons given) where Secchi speaks against a dose.
std::optional<double> judge_secchi(const Look& look, Reasons& reasons, DoseAdvice& advice) {
  const double low_cm = look.number("stage.hold_band.secchi_low_cm");
  const double high_cm = look.number("stage.hold_band.secchi_high_cm");
  const double warn_cm = look.number("dose.secchi_warn_cm");
  const bool after_first = look.stage == Stage::bloom;
  const auto needed =
      after_first ? std::size_t{1} : static_cast<std::size_t>(look.number("dose.days_over_band"));
  const auto age_days = static_cast<int>(look.number("dose.secchi_age_days"));
  const std::optional<CivilDay> dosed = last_dose_day(look);
  const std::vector<DaySecchi> days =
      look.usable.secchi_days(look.day_of(look.history.cycle_start), Instant{INT64_MIN}, look.at, needed, true);
  if (days.empty()) {
    reasons.soft(Message("dose.secchi_none"));
    return std::nullopt;
  }
  const DaySecchi& now = days.front();
  const auto say = [&](std::string_view message) {
    return Message(message)
        .with("secchi", in_cm(now.secchi_cm))
        .with("low", in_cm(low_cm))
        .with("high", in_cm(high_cm))
        .with("day", now.day);
  };
  if (now.under(warn_cm)) {
    reasons.hard(say("dose.too_dense"));
    advice.warnings.push_back(say("dose.warn_too_dense").with("limit", in_cm(warn_cm)));
    return std::nullopt;
  }
  if (now.under(low_cm)) {
    reasons.hard(say("dose.watch"));
    return std::nullopt;
  }
  if (now.inside(low_cm, high_cm)) {
    reasons.hard(say("dose.in_band"));
    return std::nullopt;
  }
  if (look.day.days - now.day.days > age_days) {
    reasons.soft(say("dose.secchi_old"));
    return std::nullopt;
  }
  for (const DaySecchi& day : days) {
    if (day.asks_for_another) {
      reasons.soft(Message("dose.secchi_asks").with("day", day.day).with("spread", in_cm(day.spread_cm)));
      return std::nullopt;
    }
    if (undecided(day, high_cm)) {
      reasons.soft(Message("dose.bottom_seen").with("secchi", in_cm(day.secchi_cm)).with("day", day.day));
      return std::nullopt;
    }
  }
  const bool all_over =
      std::all_of(days.begin(), days.end(), [&](const DaySecchi& day) { return day.over(high_cm); });
  // A day before the last dose was answered by that dose, and days with a gap between them are not running.
  bool running = days.size() == needed && (!dosed || days.back().day > *dosed);
  for (std::size_t i = 1; i < days.size(); ++i) {
    running = running && days[i - 1].day.days - days[i].day.days <= age_days;
  }
  const auto wait_days = static_cast<int>(look.number("stage.bloom.days_normal"));
  if (after_first && dosed && now.day.days - dosed->days < wait_days) {
    reasons.soft(
        say("dose.bloom_wait").with("needed", in_days(wait_days)).with("next", dosed->plus(wait_days)));
    return std::nullopt;
  }
  if (!running || !all_over) {
    reasons.soft(say("dose.over_one_day").with("needed", plain(static_cast<double>(needed))));
    return std::nullopt;
  }
  reasons.favours(say("dose.over_band").with("count", plain(static_cast<double>(needed))));
  return rate_for_secchi_kg_ha(look.protocol, now.secchi_cm);
}

void judge_colour_drift(const Look& look, Reasons& reasons) {
  const GreenDrift drift = green_drift(look);
  if (drift.looks.empty()) {
    if (look.history.colours.empty() || look.history.colours.front().at > look.at) {
      reasons.soft(Message("dose.colour_none"));
    }
    return;
  }
  if (drift.moves == 0) return;
  reasons.hard(Message("dose.colour_drifting")
                   .with("from", Word{"colour." + std::string(name_of(drift.looks.front()->colour))})
                   .with("to", Word{"colour." + std::string(name_of(drift.looks.back()->colour))}));
}

void judge_dose_swing(const Look& look, Reasons& reasons) {
  const auto current_days = static_cast<int>(look.number("trouble.current_days"));
  const std::vector<DayWater> days = look.usable.paired_days(look.day.plus(-current_days), look.at, 1);
  if (days.empty()) return reasons.soft(Message("dose.swing_none"));
  Message message = Message("dose.swing_there")
                        .with("do", in_mg_l(*days.front().do_swing_mg_l()))
                        .with("ph", in_ph(*days.front().ph_swing()))
                        .with("day", days.front().day);
  if (!is_flat(look, days.front())) return reasons.favours(std::move(message));
  message.id = "dose.swing_flat";
  reasons.hard(std::move(message));
}

void judge_sky(const Look& look, CivilDay morning, Reasons& reasons) {
  const std::optional<Sky> sky = expected_sky(look, morning);
  if (!sky) return reasons.soft(Message("dose.sky_unknown"));
  if (*sky == Sky::bright) return reasons.favours(Message("dose.sky_bright"));
  reasons.soft(Message("dose.sky_not_bright").with("sky", Word{"sky." + std::string(name_of(*sky))}));
}

void advise_first(const Look& look, CivilDay morning, Reasons& reasons, DoseAdvice& advice) {
  const double rate_kg_ha = look.number("stage.first_dose.rate_kg_ha");
  const double tolerance = look.number("stage.first_dose.rate_tolerance_share");
  advice.least_kg_ha = rate_kg_ha * (1 - tolerance);
  advice.most_kg_ha = rate_kg_ha * (1 + tolerance);
  reasons.favours(Message("dose.first").with("rate", in_kg_ha(rate_kg_ha)));
  const std::optional<Sky> sky = expected_sky(look, morning);
  if (!sky) {
    advice.warnings.push_back(Message("dose.first_sky_unknown"));
  } else {
    judge_sky(look, morning, reasons);
  }
  reasons.finish(rate_kg_ha);
}

}  // namespace

double rate_for_secchi_kg_ha(const Protocol& protocol, double secchi_cm) {
  if (secchi_cm <= protocol.number("dose.low_up_to_cm")) return protocol.number("dose.low_kg_ha");
  if (secchi_cm <= protocol.number("dose.middle_up_to_cm")) return protocol.number("dose.middle_kg_ha");
  return std::min(protocol.number("dose.high_kg_ha"), protocol.number("dose.most_at_once_kg_ha"));
}

DoseAdvice advise_dose(const Look& look, const std::vector<Trouble>& troubles, bool finished) {
  DoseAdvice advice;
  if (finished || !takes_doses(look.stage)) {
    advice.why.push_back(finished ? Message("dose.finished")
                                  : Message("dose.not_in_stage").with("stage", stage_word(look.stage)));
    return advice;
  }
  advice.allowed = true;
  const CivilDay morning = set_next_window(look, advice);
  Reasons reasons(advice);
  judge_last_dose(look, morning, reasons);
  judge_troubles(troubles, reasons);
  if (look.stage == Stage::first_dose) {
    advise_first(look, morning, reasons, advice);
    return advice;
  }
  advice.least_kg_ha = look.number("dose.low_kg_ha");
  advice.most_kg_ha = look.number("dose.most_at_once_kg_ha");
  if (look.stage == Stage::bloom) {
    for (const DoseRecord* dose : doses_at(look.history, look.at)) {
      if (dose->at <= look.since) continue;
      reasons.hard(Message("dose.bloom_once").with("day", look.day_of(dose->started)));
      break;
    }
  }
  const std::optional<double> rate_kg_ha = judge_secchi(look, reasons, advice);
  judge_colour_drift(look, reasons);
  judge_dose_swing(look, reasons);
  judge_sky(look, morning, reasons);
  reasons.finish(rate_kg_ha.value_or(0));
  return advice;
}

std::vector<Question> double_doses(const Look& look) {
  std::vector<Question> questions;
  const std::vector<const DoseRecord*> doses = doses_at(look.history, look.at);
  const double within_h = look.number("dose.double_within_h");
  // Of what was settled otherwise, one dose is out already; a third record of it is a question of its own.
  const auto both_hold = [&](const DoseRecord& later) {
    const std::string reference = to_reference(later.entry->id);
    return std::any_of(look.history.settled.begin(), look.history.settled.end(), [&](const Entry* entry) {
      const std::string* question = entry->text("question");
      const std::string* keep = entry->text("keep");
      return entry->observed <= look.at && question != nullptr && *question == reference && keep != nullptr &&
             *keep == "both";
    });
  };
  for (std::size_t second = 1; second < doses.size(); ++second) {
    for (std::size_t first = second; first-- > 0;) {
      const DoseRecord& a = *doses[first];
      const DoseRecord& b = *doses[second];
      if (hours_between(a.started, b.started) > within_h) break;
      if (a.product != b.product) continue;
      if (both_hold(b)) break;
      Question question;
      question.id = "double_dose";
      question.what = Message("question.double_dose")
                          .with("first", Quantity{a.product_kg, 1, "kg"})
                          .with("first_time", a.started)
                          .with("first_who", Text{a.entry->who})
                          .with("second", Quantity{b.product_kg, 1, "kg"})
                          .with("second_time", b.started)
                          .with("second_who", Text{b.entry->who})
                          .with("product", Word{"product." + a.product});
      question.evidence = {a.entry->id, b.entry->id};
      question.asks = {b.entry->id};
      questions.push_back(std::move(question));
      break;
    }
  }
  return questions;
}

}  // namespace tawny
