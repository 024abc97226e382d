// Stages 2, 4 and 7: the three fills.
#include "protocol/criteria.h"

namespace tawny {
namespace {

Criterion first_level(const Look& look) { return judge_level_range(look, "first_fill.level"); }
Criterion second_level(const Look& look) { return judge_level_range(look, "second_fill.level"); }
Criterion third_level(const Look& look) { return judge_level_range(look, "third_fill.level"); }

// When the level of the third fill was reached; the stage's start where the water stood that high already.
std::optional<Instant> reached_at(const Look& look) {
  const double share = look.number("stage.third_fill.level_low_share");
  const LevelReading* before = last_of(look.history.levels, look.since);
  if (before != nullptr && first_reaching(look, share, before->at) == before) return look.since;
  const LevelReading* reached = first_reaching(look, share, look.since);
  if (reached == nullptr) return std::nullopt;
  return reached->at;
}

// New water thins the bloom: only what the disc shows after the level was reached counts.
Criterion secchi_after_fill(const Look& look) {
  Answer answer(look, "third_fill.secchi");
  const std::optional<Instant> reached = reached_at(look);
  if (!reached) {
    return answer.rests_on_stage({"secchi_low_cm", "secchi_high_cm"})
        .settled_by(Act::secchi_reading)
        .unknown(Message("why.secchi_after_fill"));
  }
  const std::vector<DaySecchi> days =
      look.usable.secchi_days(look.day_of(*reached), *reached, look.at, 1, true);
  if (days.empty()) {
    return answer.rests_on_stage({"secchi_low_cm", "secchi_high_cm"})
        .settled_by(Act::secchi_reading, WindowName::peak, look.at)
        .unknown(say_why_secchi_missing(look, Message("why.secchi_none")));
  }
  return judge_band(look, answer, days.front());
}

constexpr CriterionFunction kFirst[] = {first_level};
constexpr CriterionFunction kSecond[] = {second_level};
constexpr CriterionFunction kThird[] = {third_level, secchi_after_fill};

}  // namespace

std::span<const CriterionFunction> first_fill_criteria() { return kFirst; }
std::span<const CriterionFunction> second_fill_criteria() { return kSecond; }
std::span<const CriterionFunction> third_fill_criteria() { return kThird; }

}  // namespace tawny
