#include "farm/walk.h"

#include <algorithm>
#include <utility>

#include "protocol/protocol_times.h"

namespace tawny {
namespace {

constexpr double kM2PerHa = 10000;

using Verdict = WalkCheck::Verdict;

tl::unexpected<Problem> pass_on(const Problem& problem) { return tl::unexpected<Problem>(problem); }

const FarmProduct* farm_product(const Farm& farm, std::string_view id) {
  for (const FarmProduct& one : farm.products) {
    if (one.product == id) return &one;
  }
  return nullptr;
}

std::string area_counted(const Protocol& protocol) {
  const ProtocolValue* value = protocol.find(kAreaCountedPath);
  const auto* text = value == nullptr ? nullptr : std::get_if<std::string>(&value->value);
  return text == nullptr ? std::string("nominal") : *text;
}

// The water that the bins are filled with.
void set_water(const FarmPond& pond, const Farm& farm, const Protocol& protocol, WalkPlan& plan) {
  std::optional<double> coldest_c;
  std::optional<double> salinity;
  std::optional<CivilDay> newest;
  for (auto one = pond.history.water.rbegin(); one != pond.history.water.rend(); ++one) {
    if (!salinity && one->salinity) salinity = one->salinity;
    if (!one->temperature_c) continue;
    const CivilDay day = civil_day(one->at, farm.place.offset);
    if (!newest) newest = day;
    if (day >= newest->plus(-1))
      coldest_c = std::min(coldest_c.value_or(*one->temperature_c), *one->temperature_c);
  }
  plan.water_assumed = !coldest_c || !salinity;
  plan.water_temperature_c = coldest_c.value_or(protocol.number("stage.release.temperature_low_c"));
  plan.water_salinity = salinity.value_or(protocol.number("stage.release.salinity_high"));
}

Quantity kg_ha(double rate) { return Quantity{rate, 1, "kg_ha"}; }

WalkCheck check(std::string_view id, Verdict verdict, Message what) {
  return WalkCheck{std::string(id), verdict, std::move(what)};
}

WalkCheck check_product(const std::vector<Product>& products, const Protocol& protocol, std::string_view id) {
  const Product* product = find_product(products, id);
  const Word name{"product." + std::string(id)};
  if (product == nullptr) {
    return check("product", Verdict::stop,
                 Message("check.product.unknown").with("product", Text{std::string(id)}));
  }
  const std::vector<std::string>& allowed = protocol.list("dose.products_allowed");
  const bool listed = std::find(allowed.begin(), allowed.end(), product->id) != allowed.end();
  if (!product->allowed || !listed) {
    Message what("check.product.not_allowed");
    what.with("product", name)
        .with("reason", Word{product->reason_id.empty() ? "check.product.farm" : product->reason_id});
    return check("product", Verdict::stop, std::move(what));
  }
  if (!product->reason_id.empty()) {
    return check("product", Verdict::warn,
                 Message("check.product.know").with("product", name).with("reason", Word{product->reason_id}));
  }
  return check("product", Verdict::ok, Message("check.product.ok").with("product", name));
}

WalkCheck check_stage(const PondState& state) {
  if (state.unsupported) return check("stage", Verdict::stop, Message("check.stage.lined"));
  if (!state.in_cycle) return check("stage", Verdict::stop, Message("check.stage.no_cycle"));
  const Word stage{"stage." + std::string(name_of(state.stage))};
  if (state.finished || state.stage < Stage::first_dose) {
    return check("stage", Verdict::stop, Message("check.stage.no_dose").with("stage", stage));
  }
  if (state.stage == Stage::first_dose) {
    return check("stage", Verdict::ok, Message("check.stage.first_dose").with("stage", stage));
  }
  if (state.dose.advised) {
    return check(
        "stage", Verdict::ok,
        Message("check.stage.advised").with("stage", stage).with("rate", kg_ha(state.dose.rate_kg_ha)));
  }
  return check("stage", state.dose.allowed ? Verdict::warn : Verdict::stop,
               Message("check.stage.not_advised").with("stage", stage));
}

WalkCheck check_troubles(const PondState& state) {
  for (const Trouble& trouble : state.troubles) {
    if (!trouble.forbids_dose) continue;
    return check("troubles", Verdict::stop,
                 Message("check.troubles.forbid").with("trouble", Word{"trouble." + trouble.id + ".name"}));
  }
  if (!state.troubles.empty()) {
    return check(
        "troubles", Verdict::warn,
        Message("check.troubles.look").with("trouble", Word{"trouble." + state.troubles.front().id + ".name"}));
  }
  return check("troubles", Verdict::ok, Message("check.troubles.none"));
}

WalkCheck check_rate(const PondState& state, double rate_kg_ha, double area_ha) {
  const auto& least = state.dose.least_kg_ha;
  const auto& most = state.dose.most_kg_ha;
  if (most && rate_kg_ha > *most) {
    // Kilograms for the whole pond, typed where those for each hectare are asked for.
    const double likely_kg_ha = area_ha > 0 ? rate_kg_ha / area_ha : 0;
    if (least && likely_kg_ha >= *least && likely_kg_ha <= *most) {
      return check("rate", Verdict::stop,
                   Message("check.rate.whole")
                       .with("rate", kg_ha(rate_kg_ha))
                       .with("most", kg_ha(*most))
                       .with("likely", kg_ha(likely_kg_ha)));
    }
    return check("rate", Verdict::stop,
                 Message("check.rate.over").with("rate", kg_ha(rate_kg_ha)).with("most", kg_ha(*most)));
  }
  if (least && rate_kg_ha < *least) {
    return check("rate", Verdict::warn,
                 Message("check.rate.under").with("rate", kg_ha(rate_kg_ha)).with("least", kg_ha(*least)));
  }
  return check("rate", Verdict::ok, Message("check.rate.ok").with("rate", kg_ha(rate_kg_ha)));
}

// Counted in days of the farm, as the dose advice counts them: a dose at 07:00 is three days old at sunrise.
WalkCheck check_last_dose(const PondHistory& history, const Protocol& protocol, UtcOffset offset, Instant now) {
  const DoseRecord* last = nullptr;
  for (const DoseRecord& one : history.doses) {
    if (one.at <= now) last = &one;
  }
  if (last == nullptr) return check("last_dose", Verdict::ok, Message("check.last_dose.none"));
  const CivilDay day = civil_day(last->started, offset);
  const CivilDay free_on = day.plus(static_cast<int>(protocol.number("dose.days_between")));
  const bool too_soon = civil_day(now, offset) < free_on;
  return check("last_dose", too_soon ? Verdict::stop : Verdict::ok,
               Message(too_soon ? "check.last_dose.too_soon" : "check.last_dose.ok")
                   .with("last", day)
                   .with("next", free_on));
}

WalkCheck check_sky(const FarmPond& pond, const Protocol& protocol, std::optional<Sky> seen, UtcOffset offset,
                    Instant now) {
  // Until somebody looks up, the last record of the sky stands for it, and says that it does.
  const bool recorded = !seen;
  if (recorded) {
    const CivilDay oldest =
        civil_day(now, offset).plus(-static_cast<int>(protocol.number("dose.sky_age_days")));
    for (const SkyLook& one : pond.history.skies) {
      if (one.at <= now && civil_day(one.at, offset) >= oldest) seen = one.sky;
    }
  }
  if (!seen) return check("sky", Verdict::warn, Message("check.sky.unknown"));
  const bool first = pond.state.stage == Stage::first_dose;
  const auto last_recorded = [&] {
    return Message("dose.sky_not_bright").with("sky", Word{"sky." + std::string(name_of(*seen))});
  };
  switch (*seen) {
    case Sky::bright:
      return check("sky", Verdict::ok, Message(recorded ? "dose.sky_bright" : "check.sky.bright"));
    case Sky::mixed:
      return check("sky", Verdict::warn, recorded ? last_recorded() : Message("check.sky.mixed"));
    case Sky::dull:
      break;
  }
  return check("sky", first ? Verdict::stop : Verdict::warn,
               recorded ? last_recorded() : Message("check.sky.dull"));
}

WalkCheck check_time(const FarmPond& pond, const Farm& farm, const Protocol& protocol, Instant now) {
  const auto windows = windows_of(civil_day(now, farm.place.offset), farm.place, protocol);
  if (!windows) return check("time", Verdict::warn, windows.error().message);
  const Window& dose = windows->dose;
  if (now < dose.from) {
    return check("time", Verdict::warn,
                 Message("check.time.early").with("from", dose.from).with("until", dose.until));
  }
  if (now > dose.until) {
    return check("time", pond.state.stage == Stage::first_dose ? Verdict::stop : Verdict::warn,
                 Message("check.time.late").with("until", dose.until));
  }
  return check("time", Verdict::ok, Message("check.time.ok").with("until", dose.until));
}

WalkCheck check_level(const FarmPond& pond, const Protocol& protocol) {
  if (pond.state.level_cm) {
    return check("level", Verdict::ok,
                 Message("check.level.ok").with("level", Quantity{*pond.state.level_cm, 0, "cm"}));
  }
  return check("level", area_counted(protocol) == "surface" ? Verdict::stop : Verdict::warn,
               Message("check.level.unknown"));
}

}  // namespace

Result<double> counted_area_ha(const FarmPond& pond, const Protocol& protocol) {
  if (area_counted(protocol) != "surface") return pond.history.pond.nominal_area_ha;
  if (!pond.state.level_cm) {
    return refuse(ProblemKind::missing, "level_cm", Message("problem.walk_needs_level"));
  }
  if (!pond.history.pond.curve) {
    return refuse(ProblemKind::missing, "curve", Message("problem.walk_needs_shape"));
  }
  auto area_m2 = pond.history.pond.curve->area_m2(*pond.state.level_cm);
  if (!area_m2) return pass_on(area_m2.error());
  return *area_m2 / kM2PerHa;
}

Result<WalkPlan> plan_walk(const Farm& farm, const Protocol& standard, const std::vector<Product>& products,
                           std::string_view pond_id, std::string_view product_id, double rate_kg_ha) {
  const FarmPond* pond = farm.pond(pond_id);
  if (pond == nullptr) {
    return refuse(ProblemKind::missing, "pond",
                  Message("problem.walk_pond").with("pond", Text{std::string(pond_id)}));
  }
  const Product* product = find_product(products, product_id);
  if (product == nullptr) {
    return refuse(ProblemKind::missing, "product",
                  Message("check.product.unknown").with("product", Text{std::string(product_id)}));
  }
  const ProtocolTimes times(standard, pond->history.protocol_changes);
  const Protocol& protocol = times.at(farm.at);
  WalkPlan plan;
  plan.pond = pond->history.pond.id;
  plan.product = product->id;
  plan.rate_kg_ha = rate_kg_ha;
  plan.area_counted = area_counted(protocol);
  auto area_ha = counted_area_ha(*pond, protocol);
  if (!area_ha) return pass_on(area_ha.error());
  plan.area_ha = *area_ha;
  auto product_kg = product_for_pond_kg(rate_kg_ha, plan.area_ha);
  if (!product_kg) return pass_on(product_kg.error());
  plan.product_kg = *product_kg;
  auto nitrogen_kg = nitrogen_in_product_kg(*product, plan.product_kg);
  if (!nitrogen_kg) return pass_on(nitrogen_kg.error());
  plan.nitrogen_kg = *nitrogen_kg;

  plan.level_cm = pond->state.level_cm;
  const std::optional<StageCurve>& curve = pond->history.pond.curve;
  if (plan.level_cm && curve) {
    // A level off the curve, or a pond almost dry, has no concentration to tell; the dose itself stands.
    if (auto volume_m3 = curve->volume_m3(*plan.level_cm)) {
      if (auto added = nitrate_n_added_mg_l(*product, plan.product_kg, *volume_m3))
        plan.nitrate_n_mg_l = *added;
    }
  }

  const FarmProduct* own = farm_product(farm, product_id);
  plan.bag_kg = own == nullptr ? FarmProduct{}.bag_kg : own->bag_kg;
  auto bags = bags_for(plan.product_kg, plan.bag_kg);
  if (!bags) return pass_on(bags.error());
  plan.bags = *bags;
  if (own != nullptr && own->price_per_kg) {
    auto cost = dose_cost(plan.product_kg, *own->price_per_kg);
    if (!cost) return pass_on(cost.error());
    plan.cost = *cost;
  }

  set_water(*pond, farm, protocol, plan);
  BinLimits limits = farm.bin_limits;
  limits.water_temperature_c = plan.water_temperature_c;
  limits.water_salinity = plan.water_salinity;
  auto bins = plan_bins(*product, plan.product_kg, limits);
  if (!bins) return pass_on(bins.error());
  plan.bins = *std::move(bins);

  const Pond& outline = pond->history.pond;
  if (outline.length_m > 0 && outline.width_m > 0) {
    auto lanes = plan_lanes(outline.length_m, outline.width_m, farm.lane_spacing_m, plan.bins.bins);
    if (!lanes) return pass_on(lanes.error());
    plan.lanes = *std::move(lanes);
  }
  return plan;
}

std::vector<WalkCheck> walk_checks(const Farm& farm, const Protocol& standard,
                                   const std::vector<Product>& products, std::string_view pond_id,
                                   std::string_view product, double rate_kg_ha, std::optional<Sky> sky,
                                   Instant now) {
  const FarmPond* pond = farm.pond(pond_id);
  if (pond == nullptr) return {};
  const ProtocolTimes times(standard, pond->history.protocol_changes);
  const Protocol& protocol = times.at(now);
  std::vector<WalkCheck> checks;
  checks.push_back(check_product(products, protocol, product));
  checks.push_back(check_stage(pond->state));
  checks.push_back(check_troubles(pond->state));
  checks.push_back(check_rate(pond->state, rate_kg_ha, counted_area_ha(*pond, protocol).value_or(0)));
  checks.push_back(check_last_dose(pond->history, protocol, farm.place.offset, now));
  checks.push_back(check_sky(*pond, protocol, sky, farm.place.offset, now));
  checks.push_back(check_time(*pond, farm, protocol, now));
  checks.push_back(check_level(*pond, protocol));
  return checks;
}

WalkStep next_step(const DoseWalk& walk) {
  const int spread = static_cast<int>(walk.spread.size());
  const int mixed = static_cast<int>(walk.mixed.size());
  if (spread >= walk.bins) return WalkStep{WalkStep::What::record, 0};
  return WalkStep{mixed > spread ? WalkStep::What::spread : WalkStep::What::mix, spread + 1};
}

}  // namespace tawny
