// Stage 6: does the bloom stand in the band, and does it breathe.
#include "protocol/criteria.h"

namespace tawny {
namespace {

struct AfterDose {
  const DoseRecord* dose = nullptr;
  CivilDay first;                   // first day on which Secchi counts
  std::optional<DaySecchi> secchi;  // of the latest usable day from then on
};

AfterDose after_dose(const Look& look) {
  AfterDose result;
  const std::vector<const DoseRecord*> doses = doses_at(look.history, look.at);
  const auto wait_days = static_cast<int>(look.number("stage.bloom.days_after_dose"));
  if (doses.empty()) {
    result.first = look.day_of(look.since);
  } else {
    result.dose = doses.back();
    result.first = look.day_of(result.dose->started).plus(wait_days);
  }
  std::vector<DaySecchi> days = look.usable.secchi_days(result.first, Instant{INT64_MIN}, look.at, 1, true);
  if (!days.empty()) result.secchi = std::move(days.front());
  return result;
}

Criterion secchi(const Look& look) {
  Answer answer(look, "bloom.secchi");
  answer.rests_on({"stage.bloom.days_after_dose", "stage.bloom.days_normal"});
  const AfterDose after = after_dose(look);
  if (after.dose != nullptr) answer.cite(after.dose->entry);
  if (!after.secchi) {
    answer.rests_on_stage({"secchi_low_cm", "secchi_high_cm"})
        .settled_by(Act::secchi_reading, WindowName::peak, look.start_of(after.first));
    if (after.first > look.day) {
      return answer.unknown(Message("why.secchi_too_early").with("day", after.first));
    }
    return answer.unknown(say_why_secchi_missing(look, Message("why.secchi_none")));
  }
  Criterion judged = judge_band(look, answer, *after.secchi);
  if (after.dose != nullptr) {
    const int days = after.secchi->day.days - look.day_of(after.dose->started).days;
    if (judged.verdict == Verdict::unmet && days > look.number("stage.bloom.days_normal")) {
      judged.why.id += "_late";
      judged.why.with("count", plain(days)).with("normal", in_days(look.number("stage.bloom.days_normal")));
    }
  }
  return judged;
}

Criterion swing(const Look& look) {
  Answer answer(look, "bloom.swing");
  const double do_mg_l = look.number("stage.bloom.do_swing_mg_l");
  const double ph = look.number("stage.bloom.ph_swing");
  answer.rests_on({"stage.bloom.do_swing_mg_l", "stage.bloom.ph_swing"});
  const AfterDose after = after_dose(look);
  const Message none = Message("why.swing_none").with("do_limit", in_mg_l(do_mg_l)).with("ph_limit", in_ph(ph));
  if (!after.secchi) {
    return answer.settled_by(Act::secchi_reading, WindowName::peak, look.start_of(after.first))
        .unknown(Message("why.swing_waits_secchi"));
  }
  const DayWater that_day = look.usable.water(after.secchi->day, look.at);
  const DayWater before = look.usable.water(after.secchi->day.plus(-1), look.at);
  const auto enough = [&](const DayWater& day) {
    return day.paired() && at_least(*day.do_swing_mg_l(), do_mg_l) && at_least(*day.ph_swing(), ph);
  };
  if (enough(that_day)) return judge_swing(look, answer, that_day, do_mg_l, ph);
  if (enough(before)) return judge_swing(look, answer, before, do_mg_l, ph);
  const DayWindows* windows = look.usable.windows(that_day.day, look.at);
  const bool still_open = windows != nullptr && look.at <= windows->afternoon.until && !that_day.paired() &&
                          (that_day.dawn_do_mg_l || look.at <= windows->dawn.until);
  if (that_day.paired()) return judge_swing(look, answer, that_day, do_mg_l, ph);
  if (!still_open && before.paired()) return judge_swing(look, answer, before, do_mg_l, ph);
  return answer.cite(that_day.entries)
      .settled_by(Act::water_reading, WindowName::afternoon, look.at)
      .unknown(say_why_water_missing(look, none));
}

Criterion colour(const Look& look) { return judge_colour(look, "bloom.colour"); }

constexpr CriterionFunction kCriteria[] = {secchi, swing, colour};

}  // namespace

std::span<const CriterionFunction> bloom_criteria() { return kCriteria; }

}  // namespace tawny
