#include "protocol/check_dose.h"

#include <algorithm>

#include "logbook/kinds.h"
#include "protocol/look.h"

namespace tawny {
namespace {

const std::string* text_in(const Draft& draft, std::string_view key) {
  const auto found = draft.values.find(key);
  return found == draft.values.end() ? nullptr : std::get_if<std::string>(&found->second);
}

std::optional<double> number_in(const Draft& draft, std::string_view key) {
  const auto found = draft.values.find(key);
  const auto* value = found == draft.values.end() ? nullptr : std::get_if<double>(&found->second);
  return value == nullptr ? std::nullopt : std::optional(*value);
}

bool by_manager(const Draft& draft) {
  const auto found = draft.values.find("manager_override");
  const auto* override_given = found == draft.values.end() ? nullptr : std::get_if<bool>(&found->second);
  const std::string* reason = text_in(draft, "reason");
  return override_given != nullptr && *override_given && reason != nullptr &&
         reason->find_first_not_of(" \t\n") != std::string::npos;
}

// The dose is what an open walk came to.
bool ends_a_walk(const Draft& draft, const PondHistory& history) {
  const std::string* walk = text_in(draft, "walk");
  if (walk == nullptr) return false;
  return std::any_of(history.walks.begin(), history.walks.end(),
                     [&](const DoseWalk& one) { return one.walk == *walk && !one.recorded; });
}

void check_product(const Draft& draft, const Protocol& protocol, std::vector<Finding>& findings) {
  const std::string* product = text_in(draft, "product");
  if (product == nullptr) return;
  const std::vector<std::string>& allowed = protocol.list("dose.products_allowed");
  if (std::find(allowed.begin(), allowed.end(), *product) != allowed.end()) return;
  const bool manager = by_manager(draft);
  findings.push_back({manager ? Finding::Weight::questioned : Finding::Weight::refused, "product",
                      Message(manager ? "finding.product_by_manager" : "finding.product_forbidden")
                          .with("product", Word{"product." + *product})});
}

void check_times(const Draft& draft, Instant now, std::vector<Finding>& findings) {
  const std::string* started_text = text_in(draft, "started");
  const std::string* ended_text = text_in(draft, "ended");
  if (started_text == nullptr || ended_text == nullptr) return;
  const Result<Instant> started = parse_instant(*started_text);
  const Result<Instant> ended = parse_instant(*ended_text);
  if (!started || !ended) return;
  if (*ended < *started) {
    findings.push_back(
        {Finding::Weight::refused, "ended",
         Message("finding.ended_before_started").with("started", *started).with("ended", *ended)});
  } else if (*ended > now) {
    findings.push_back({Finding::Weight::refused, "ended", Message("finding.future").with("time", *ended)});
  }
}

// Until the first dose counts as given, a dose is the first one.
bool is_first(const Draft& draft, const PondHistory& history, const Protocol& standard,
              const FarmPlace& place) {
  if (doses_at(history, draft.observed).empty()) return true;
  return assess(history, standard, place, draft.observed).stage == Stage::first_dose;
}

void check_amount(const Draft& draft, const PondHistory& history, const Protocol& protocol, bool first,
                  Finding::Weight weight, std::vector<Finding>& findings) {
  const auto product_kg = number_in(draft, "product_kg");
  if (product_kg && *product_kg == 0) {
    findings.push_back({Finding::Weight::refused, "product_kg", Message("finding.dose_of_nothing")});
    return;
  }
  const auto area_ha = number_in(draft, "area_ha");
  const double area_counted_ha = area_ha && *area_ha > 0 ? *area_ha : history.pond.nominal_area_ha;
  std::optional<double> rate_kg_ha = number_in(draft, "rate_kg_ha");
  if (product_kg && area_counted_ha > 0) rate_kg_ha = *product_kg / area_counted_ha;
  if (!rate_kg_ha) return;
  const double most_kg_ha = first ? protocol.number("stage.first_dose.rate_kg_ha") *
                                        (1 + protocol.number("stage.first_dose.rate_tolerance_share"))
                                  : protocol.number("dose.most_at_once_kg_ha");
  if (at_most(*rate_kg_ha, most_kg_ha)) return;
  findings.push_back({weight, "product_kg",
                      Message("finding.dose_too_large")
                          .with("rate", in_kg_ha(*rate_kg_ha))
                          .with("limit", in_kg_ha(most_kg_ha))});
}

void check_days(const Draft& draft, const PondHistory& history, const Protocol& protocol,
                const FarmPlace& place, Finding::Weight weight, std::vector<Finding>& findings) {
  const std::vector<const DoseRecord*> doses = doses_at(history, draft.observed);
  if (doses.empty()) return;
  const auto between = static_cast<int>(protocol.number("dose.days_between"));
  const CivilDay last = civil_day(doses.back()->started, place.offset);
  const int ago = civil_day(draft.observed, place.offset).days - last.days;
  if (ago >= between) return;
  findings.push_back({weight, "observed",
                      Message("finding.dose_too_soon")
                          .with("last", last)
                          .with("days", in_days(ago))
                          .with("needed", in_days(between))
                          .with("next", last.plus(between))});
}

}  // namespace

void check_dose(const Draft& draft, const PondHistory& history, const Protocol& standard,
                const Protocol& protocol, const FarmPlace& place, Instant now, std::vector<Finding>& findings) {
  const bool dose = draft.kind == kind::kDose;
  const bool walk = draft.kind == kind::kDoseWalkStart;
  if (!dose && !walk && draft.kind != kind::kSoilBroadcast) return;
  check_product(draft, protocol, findings);
  if (!dose && !walk) return;
  check_times(draft, now, findings);
  const bool spread = dose && (!draft.corrects.empty() || ends_a_walk(draft, history));
  const auto weight = spread || by_manager(draft) ? Finding::Weight::questioned : Finding::Weight::refused;
  check_amount(draft, history, protocol, is_first(draft, history, standard, place), weight, findings);
  check_days(draft, history, protocol, place, weight, findings);
}

}  // namespace tawny
