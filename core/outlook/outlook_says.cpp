#include "outlook/outlook_says.h"

#include <algorithm>
#include <cmath>

namespace tawny {
namespace {

Quantity in_cm(double depth) { return {depth, 0, "cm"}; }
Quantity in_mg_l(double oxygen) { return {oxygen, 1, "mg_l"}; }
Quantity in_kg_ha(double rate) { return {rate, rate == std::floor(rate) ? 0 : 1, "kg_ha"}; }

}  // namespace

ChanceClass class_of(double chance, const OutlookPriors& priors) {
  if (chance >= priors.words.very_likely) return ChanceClass::very_likely;
  if (chance >= priors.words.likely) return ChanceClass::likely;
  return chance >= priors.words.unlikely ? ChanceClass::even : ChanceClass::unlikely;
}

RiskClass risk_of(double chance, const OutlookPriors& priors) {
  if (chance < priors.words.very_unlikely) return RiskClass::small;
  return chance < priors.words.unlikely ? RiskClass::some : RiskClass::high;
}

Quantity chance_percent(double chance) {
  return {std::min(99.0, std::max(1.0, std::round(100 * chance))), 0, "percent"};
}

const SecchiForecast& best_day(const DoseOutlook& dose, const OutlookPriors& priors) {
  const SecchiForecast* best = &dose.days.front();
  for (const SecchiForecast& day : dose.days) {
    if (class_of(day.in_band, priors) > class_of(best->in_band, priors)) best = &day;
  }
  return *best;
}

Message band_message(const DoseOutlook& dose, const OutlookRules& rules, const OutlookPriors& priors) {
  const SecchiForecast& best = best_day(dose, priors);
  const auto say = [&](std::string_view id) {
    return Message(id).with("day", best.day).with("chance", chance_percent(best.in_band));
  };
  switch (class_of(best.in_band, priors)) {
    case ChanceClass::very_likely:
      return say("outlook.band.very_likely");
    case ChanceClass::likely:
      return say("outlook.band.likely");
    case ChanceClass::even:
      return say("outlook.band.even");
    case ChanceClass::unlikely:
      break;
  }
  const double middle_cm = (rules.band_low_cm + rules.band_high_cm) / 2;
  const SecchiForecast& last = dose.days.back();
  return Message(last.median_cm > middle_cm ? "outlook.band.clearer" : "outlook.band.denser")
      .with("day", last.day)
      .with("secchi", in_cm(last.median_cm))
      .with("chance", chance_percent(best.in_band));
}

Message risk_message(const DoseOutlook& dose, const OutlookRules& rules, const OutlookPriors& priors) {
  const RiskClass risk = risk_of(dose.most_under_floor, priors);
  return Message(risk == RiskClass::small  ? "outlook.risk.small"
                 : risk == RiskClass::some ? "outlook.risk.some"
                                           : "outlook.risk.high")
      .with("floor", in_cm(rules.floor_cm))
      .with("chance", chance_percent(dose.most_under_floor));
}

Message day_message(const SecchiForecast& day) {
  return Message("outlook.day")
      .with("secchi", in_cm(day.median_cm))
      .with("low", bare(std::round(day.low_cm)))
      .with("high", bare(std::round(day.high_cm)))
      .with("chance", chance_percent(day.in_band));
}

Message effect_message(const DoseOutlook& dose, const DoseOutlook& without) {
  const SecchiForecast& last = dose.days.back();
  return Message("outlook.effect")
      .with("rate", in_kg_ha(dose.rate_kg_ha))
      .with("day", last.day)
      .with("secchi", in_cm(last.median_cm))
      .with("without", in_cm(without.days.back().median_cm));
}

std::optional<Message> booked_day_message(const Outlook& outlook, CivilDay day) {
  if (!outlook.advice) return std::nullopt;
  for (const SecchiForecast& one : outlook.doses.front().days) {
    if (one.day == day)
      return Message("outlook.booked").with("day", day).with("chance", chance_percent(one.in_band));
  }
  return std::nullopt;
}

Message protocol_message(const DoseAdvice& advice) {
  if (advice.advised) return Message("outlook.protocol.advised").with("rate", in_kg_ha(advice.rate_kg_ha));
  if (!advice.allowed || !advice.least_kg_ha || !advice.most_kg_ha) return Message("outlook.protocol.none");
  return Message("outlook.protocol.allowed")
      .with("least", in_kg_ha(*advice.least_kg_ha))
      .with("most", in_kg_ha(*advice.most_kg_ha));
}

std::optional<Message> suggestion_message(const Outlook& outlook) {
  if (!outlook.suggested) return std::nullopt;
  const double rate = outlook.doses[*outlook.suggested].rate_kg_ha;
  if (rate <= 0) return Message("outlook.suggest.none");
  return Message("outlook.suggest.dose").with("rate", in_kg_ha(rate));
}

std::optional<Message> no_advice_message(const Outlook& outlook, std::size_t readings,
                                         const OutlookPriors& priors) {
  if (outlook.advice) return std::nullopt;
  if (outlook.enough_readings) return Message("outlook.no_advice.wide");
  return Message("outlook.no_advice.few")
      .with("count", bare(readings))
      .with("needed", bare(priors.readings_enough));
}

std::optional<Message> helps_message(const Outlook& outlook) {
  if (!outlook.helps_most) return std::nullopt;
  return Message(*outlook.helps_most == HelpfulReading::secchi ? "outlook.helps.secchi"
                                                               : "outlook.helps.oxygen");
}

Message tally_message(const OutlookScore& score) {
  const std::optional<double> skill = score.skill();
  if (!skill) return Message("outlook.tally.none");
  return Message(*skill >= 0 ? "outlook.tally.better" : "outlook.tally.worse")
      .with("count", bare(score.judged))
      .with("covered", Quantity{100 * score.covered, 0, "percent"})
      .with("skill", Quantity{100 * std::fabs(*skill), 0, "percent"});
}

Message dawn_message(const DawnOutlook& dawn) {
  return Message("outlook.dawn")
      .with("oxygen", in_mg_l(dawn.middle_mg_l))
      .with("low", Quantity{dawn.low_mg_l, 1, {}})
      .with("high", in_mg_l(dawn.high_mg_l))
      .with("sunrise", dawn.dawn);
}

Message dawn_risk_message(const DawnOutlook& dawn) {
  return Message("outlook.dawn.risk")
      .with("chance", chance_percent(dawn.under_floor))
      .with("floor", in_mg_l(dawn.floor_mg_l));
}

bool is_dawn_at_risk(const DawnOutlook& dawn, const OutlookPriors& priors) {
  return dawn.under_floor > priors.dawn.risk_high;
}

std::vector<Message> dawn_checks(const DawnOutlook& dawn) {
  std::vector<Message> checks;
  if (dawn.way != DawnWay::two_dusk) checks.emplace_back("trouble.crash.check.dusk_pair");
  checks.emplace_back("trouble.crash.check.aeration");
  return checks;
}

}  // namespace tawny
