// Stage 5: the first dose, by its amount and by its moment.
#include "protocol/criteria.h"

namespace tawny {
namespace {

bool product_allowed(const Look& look, const std::string& product) {
  const std::vector<std::string>& allowed = look.protocol.list("dose.products_allowed");
  return std::find(allowed.begin(), allowed.end(), product) != allowed.end();
}

struct RateRange {
  double low_kg_ha, high_kg_ha;
};

RateRange first_rate(const Look& look) {
  const double rate_kg_ha = look.number("stage.first_dose.rate_kg_ha");
  const double tolerance = look.number("stage.first_dose.rate_tolerance_share");
  return {rate_kg_ha * (1 - tolerance), rate_kg_ha * (1 + tolerance)};
}

bool fits(const Look& look, const DoseRecord& dose) {
  const RateRange range = first_rate(look);
  return product_allowed(look, dose.product) && dose.dissolved && dose.whole_surface &&
         at_least(dose.rate_kg_ha, range.low_kg_ha) && at_most(dose.rate_kg_ha, range.high_kg_ha);
}

// The last dose of this stage that is as the protocol asks; without one, the last dose of this stage.
const DoseRecord* judged_dose(const Look& look) {
  const DoseRecord* last = nullptr;
  const DoseRecord* fitting = nullptr;
  for (const DoseRecord* dose : doses_at(look.history, look.at)) {
    if (dose->at < look.since) continue;
    last = dose;
    if (fits(look, *dose)) fitting = dose;
  }
  return fitting != nullptr ? fitting : last;
}

Criterion dose_given(const Look& look) {
  Answer answer(look, "first_dose.dose");
  answer
      .rests_on({"dose.products_allowed", "stage.first_dose.rate_kg_ha",
                 "stage.first_dose.rate_tolerance_share", "dose.area_counted"})
      .settled_by(Act::dose, WindowName::dose, look.at);
  const RateRange range = first_rate(look);
  const DoseRecord* dose = judged_dose(look);
  const auto say = [&](std::string_view message) {
    return Message(message).with("low", in_kg_ha(range.low_kg_ha)).with("high", in_kg_ha(range.high_kg_ha));
  };
  if (dose == nullptr) {
    return answer.unknown(
        say("why.dose_none").with("rate", in_kg_ha(look.number("stage.first_dose.rate_kg_ha"))));
  }
  answer.cite(dose->entry);
  if (!product_allowed(look, dose->product)) {
    return answer.unmet(Message("why.product_not_allowed").with("product", Word{"product." + dose->product}));
  }
  Message rated = say("why.dose_right").with("rate", in_kg_ha(dose->rate_kg_ha));
  if (!at_least(dose->rate_kg_ha, range.low_kg_ha)) {
    rated.id = "why.dose_low";
  } else if (!at_most(dose->rate_kg_ha, range.high_kg_ha)) {
    rated.id = "why.dose_high";
  } else if (!dose->dissolved) {
    return answer.unmet(Message("why.dose_not_dissolved"));
  } else if (!dose->whole_surface) {
    return answer.unmet(Message("why.dose_part"));
  } else {
    return answer.met(std::move(rated));
  }
  return answer.unmet(std::move(rated));
}

// The day's last word on its sky: a look at the sky, or what was written down with the dose.
std::optional<Sky> sky_of_day(const Look& look, const DoseRecord& dose, Answer& answer) {
  const CivilDay day = look.day_of(dose.started);
  const Instant end = std::min(look.at, look.start_of(day.plus(1)).plus_s(-1));
  if (const SkyLook* last = last_of(look.history.skies, end, look.start_of(day))) {
    if (!dose.sky || last->at >= dose.at) {
      answer.cite(last->entry);
      return last->sky;
    }
  }
  return dose.sky;
}

Criterion moment(const Look& look) {
  Answer answer(look, "first_dose.moment");
  answer.rests_on({"windows.dose.from_min", "windows.dose.until_min"});
  const DoseRecord* dose = judged_dose(look);
  if (dose == nullptr) {
    return answer.settled_by(Act::dose, WindowName::dose, look.at).unknown(Message("why.moment_none"));
  }
  answer.cite(dose->entry);
  const DayWindows* windows = look.usable.windows_at(dose->started);
  if (windows == nullptr) return answer.unknown(Message("why.no_sun"));
  const auto say = [&](std::string_view message) {
    return Message(message)
        .with("started", dose->started)
        .with("ended", dose->ended)
        .with("from", windows->dose.from)
        .with("until", windows->dose.until);
  };
  if (!windows->dose.contains(dose->started) || !windows->dose.contains(dose->ended)) {
    return answer.settled_by(Act::decide_gate).unmet(say("why.moment_outside"));
  }
  const std::optional<Sky> sky = sky_of_day(look, *dose, answer);
  if (!sky) return answer.settled_by(Act::sky).unknown(Message("why.sky_none").with("day", windows->day));
  if (*sky != Sky::bright) {
    return answer.settled_by(Act::decide_gate)
        .unmet(Message("why.sky_not_bright").with("sky", Word{"sky." + std::string(name_of(*sky))}));
  }
  return answer.met(say("why.moment_right"));
}

constexpr CriterionFunction kCriteria[] = {dose_given, moment};

}  // namespace

std::span<const CriterionFunction> first_dose_criteria() { return kCriteria; }

}  // namespace tawny
