#include "ui/screens/dose_plan.h"

#include <algorithm>
#include <cmath>

#include "dose/cautions.h"
#include "logbook/kinds.h"
#include "outlook/outlook_says.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {

void DosePlanPart::begin(const App& app, const FarmPond& pond) {
  begun_ = true;
  const DoseAdvice& advice = pond.state.dose;
  rate_kg_ha_ = advice.advised ? advice.rate_kg_ha : advice.least_kg_ha.value_or(0);
  for (const FarmProduct& product : app.farm().products) {
    if (product.in_use && product_.empty()) product_ = product.product;
  }
  if (product_.empty()) {
    for (const Product& product : app.products()) {
      if (product.allowed && product_.empty()) product_ = product.id;
    }
  }
}

void DosePlanPart::draw(App& app, Ui& ui, const FarmPond& pond) {
  const Words& words = ui.words();
  if (!begun_) begin(app, pond);
  if (findings_.asking()) {
    draw_question(app, ui, pond);
    return;
  }
  begin_form(app, ui, "dose_plan");
  findings_.draw_refusals(ui);
  const Result<WalkPlan> plan =
      plan_walk(app.farm(), app.protocol(), app.products(), pond_, product_, rate_kg_ha_);
  bool free_to_go = false;
  if (plan) {
    draw_plan(app, ui, *plan);
  } else {
    ui.notice("plan/problem", Tone::alarm, words(plan.error().message));
  }
  draw_choices(app, ui, pond);
  if (plan) {
    free_to_go = draw_checks(app, ui);
    draw_expected(app, ui, pond);
    draw_details(ui, *plan);
    cautions_.draw(ui, "plan", "dose.cautions", cautions(app));
  }
  ui.gap(16);
  ui.end_content();
  const bool confirmed = cautions_.confirmed(cautions(app));
  const bool ready = plan && free_to_go && confirmed && sky_;
  std::string label = words("dose.start");
  if (plan && !sky_) label = words("dose.start.sky_first");
  if (plan && sky_ && free_to_go && !confirmed) label = words("dose.start.confirm_first");
  if (plan && !free_to_go) label = words("dose.start.stopped");
  if (save_footer(app, ui, label, ready)) start_walk(app, *plan, pond);
}

void DosePlanPart::draw_question(App& app, Ui& ui, const FarmPond& pond) {
  const Words& words = ui.words();
  const Result<WalkPlan> plan =
      plan_walk(app.farm(), app.protocol(), app.products(), pond_, product_, rate_kg_ha_);
  if (!plan) {
    findings_.forget();
    return;
  }
  const std::string what = words.quantity({plan->product_kg, 1, "kg"}) + " " + words("product." + product_);
  if (findings_.draw_question(app, ui, what, words("dose.yes_start")).value_or(false)) {
    app.put({start_draft(app, *plan, pond)});
  }
}

void DosePlanPart::draw_choices(App& app, Ui& ui, const FarmPond& pond) {
  const Words& words = ui.words();
  const DoseAdvice& advice = pond.state.dose;
  std::vector<Option> products;
  for (const FarmProduct& mine : app.farm().products) {
    const Product* product = app.product(mine.product);
    if (product != nullptr && mine.in_use)
      products.push_back({product->id, words("product." + product->id), {}, {}});
  }
  if (products.empty()) {
    for (const Product& product : app.products()) {
      if (product.allowed) products.push_back({product.id, words("product." + product.id), {}, {}});
    }
  }
  if (auto chosen = ui.choice("plan/product", words("dose.product"), products, product_)) {
    product_ = *chosen;
    findings_.forget();
  }
  ui.gap(8);
  const std::string hint = advice.least_kg_ha && advice.most_kg_ha
                               ? words(Message("dose.rate.range")
                                           .with("least", Quantity{*advice.least_kg_ha, 1, "kg_ha"})
                                           .with("most", Quantity{*advice.most_kg_ha, 1, "kg_ha"}))
                               : std::string();
  if (ui.value_field("plan/rate", words("dose.rate.label"), words.number(rate_kg_ha_, 1), words.unit("kg_ha"),
                     hint)) {
    NumberAsk ask;
    ask.title = words("dose.rate.label");
    ask.unit = "kg_ha";
    ask.present = rate_kg_ha_;
    app.open(make_number_screen(std::move(ask), [this](App&, double value) {
      rate_kg_ha_ = value;
      findings_.forget();
    }));
  }
  ui.gap(8);
  std::vector<Option> skies;
  for (const Sky sky : {Sky::bright, Sky::mixed, Sky::dull}) {
    const std::string name(name_of(sky));
    skies.push_back({name, capitalised(words("sky." + name)), "sky-" + name, {}});
  }
  const std::string chosen_sky = sky_ ? std::string(name_of(*sky_)) : std::string();
  if (auto chosen = ui.choice("plan/sky", words("dose.sky"), skies, chosen_sky)) sky_ = sky_of(*chosen);
}

// What has to be carried to the bank, and how it is shared out.
void DosePlanPart::draw_plan(App&, Ui& ui, const WalkPlan& plan) {
  const Words& words = ui.words();
  ui.begin_card("plan/card");
  ui.begin_cells(2);
  ui.number("plan/kg", words("dose.kg"), words.number(plan.product_kg, 1), words.unit("kg"), Tone::act);
  ui.next_cell();
  ui.number("plan/bins", words("dose.bins"), words.number(plan.bins.bins, 0), "");
  ui.end_cells();
  ui.text("plan/per_bin",
          words(Message("dose.bins.value")
                    .with("count", bare(plan.bins.bins))
                    .with("salt", Quantity{plan.bins.salt_per_bin_kg, 1, "kg"})
                    .with("water", Quantity{std::floor(plan.bins.water_per_bin_l), 0, "l"})),
          TextSize::lead, Tone::ink, true);
  ui.text("plan/bags", words(Message(plan.bags.part_kg <= 0 ? "dose.bags.whole"
                                     : plan.bags.whole > 0  ? "dose.bags.part"
                                                            : "dose.bags.only_part")
                                 .with("count", bare(plan.bags.whole))
                                 .with("bag", Quantity{plan.bag_kg, 0, "kg"})
                                 .with("part", Quantity{plan.bags.part_kg, 1, "kg"})));
  ui.text("plan/area",
          words(Message("dose.area." + plan.area_counted).with("area", Quantity{plan.area_ha, 2, "ha"})),
          TextSize::body, Tone::quiet);
  ui.end_card();
  ui.gap(16);
}

// What the forecast makes of this dose. It never stands in the way: the checks over it rule, and where there is
// nothing to forecast from, as before every first dose, nothing is said (the pond's page says why).
void DosePlanPart::draw_expected(App& app, Ui& ui, const FarmPond& pond) const {
  const Words& words = ui.words();
  const OutlookPriors& priors = app.outlooks().priors();
  const OutlookDesk::Look& look = app.outlooks().look(app, pond, DoseInMind{product_, rate_kg_ha_});
  if (look.problem || look.readings < priors.readings_enough) return;
  ui.heading("plan/outlook", words("outlook.walk"));
  ui.begin_card("plan/outlook/card");
  if (!look.rules.least_kg_ha) {
    ui.text("plan/outlook/none", words("outlook.walk.none"));
  } else if (!look.outlook) {
    ui.text("plan/outlook/working", words("outlook.working"), TextSize::body, Tone::quiet);
  } else if (const auto why = no_advice_message(*look.outlook, look.readings, priors)) {
    ui.text("plan/outlook/no_advice", words("outlook.no_advice"), TextSize::body, Tone::ink, true);
    ui.text("plan/outlook/why", words(*why));
  } else {
    const DoseOutlook& dose = look.outlook->doses.back();
    ui.text("plan/outlook/effect", words(effect_message(dose, look.outlook->doses.front())));
    const Message risk = risk_message(dose, look.rules, priors);
    if (risk_of(dose.most_under_floor, priors) == RiskClass::small) {
      ui.text("plan/outlook/risk", words(risk));
    } else {
      ui.notice("plan/outlook/risk", Tone::warn, words(risk));
    }
  }
  ui.text("plan/outlook/protocol", words(protocol_message(pond.state.dose)), TextSize::body, Tone::ink, true);
  ui.end_card();
}

void DosePlanPart::draw_details(Ui& ui, const WalkPlan& plan) {
  const Words& words = ui.words();
  ui.heading("plan/details", words("dose.details"));
  ui.begin_card("plan/details/card");
  ui.fact("plan/cooling", words("dose.cooling"),
          words(Message("dose.cooling.value")
                    .with("from", Quantity{plan.bins.start_temperature_c, 0, "c"})
                    .with("to", Quantity{plan.bins.final_temperature_c, 0, "c"})));
  ui.fact("plan/saturation", words("dose.saturation"),
          words.quantity({plan.bins.share_of_saturation * 100.0, 0, "percent"}));
  ui.fact("plan/nitrogen", words("dose.nitrogen"), words.quantity({plan.nitrogen_kg, 2, "kg"}));
  ui.fact("plan/nitrate", words("dose.nitrate"),
          plan.nitrate_n_mg_l ? words.quantity({*plan.nitrate_n_mg_l, 2, "mg_l_n"})
                              : words("dose.nitrate.no_level"));
  if (plan.cost) ui.fact("plan/cost", words("dose.cost"), words.number(*plan.cost, 2));
  ui.text("plan/bound", words("bin_bound." + plan.bins.bound_by), TextSize::body, Tone::quiet);
  if (plan.water_assumed) ui.text("plan/assumed", words("dose.water_assumed"), TextSize::body, Tone::quiet);
  ui.end_card();
}

bool DosePlanPart::draw_checks(App& app, Ui& ui) {
  const Words& words = ui.words();
  ui.heading("plan/checks", words("dose.checks"));
  bool stopped = false;
  for (const WalkCheck& check :
       walk_checks(app.farm(), app.protocol(), app.products(), pond_, product_, rate_kg_ha_, sky_, app.now())) {
    const Status status = check.verdict == WalkCheck::Verdict::ok     ? Status::done
                          : check.verdict == WalkCheck::Verdict::warn ? Status::waiting
                                                                      : Status::stopped;
    ui.status("plan/check/" + check.id, status, words(check.what));
    stopped = stopped || check.verdict == WalkCheck::Verdict::stop;
  }
  stopped_ = stopped || findings_.refused();
  if (!stopped_) return true;
  ui.gap(8);
  if (app.role() != Role::manager) {
    ui.notice("plan/stop", Tone::warn, words("dose.ask_manager"));
    return false;
  }
  ui.notice("plan/stop", Tone::warn, words("dose.manager_may"));
  if (auto typed =
          ui.text_field("plan/reason", words("form.reason"), reason_, words("form.reason.hint"), "note", 200)) {
    reason_ = *typed;
  }
  return overrides(app);
}

bool DosePlanPart::overrides(const App& app) const {
  return stopped_ && app.role() == Role::manager && reason_.find_first_not_of(" \t\n") != std::string::npos;
}

std::vector<std::string> DosePlanPart::cautions(const App& app) const {
  const Product* product = app.product(product_);
  return product == nullptr ? std::vector<std::string>() : dose_cautions(*product);
}

Draft DosePlanPart::start_draft(const App& app, const WalkPlan& plan, const FarmPond& pond) const {
  Draft draft;
  draft.kind = kind::kDoseWalkStart;
  draft.pond = pond_;
  draft.values = {{"walk", walk_},
                  {"product", product_},
                  {"rate_kg_ha", rate_kg_ha_},
                  {"area_ha", plan.area_ha},
                  {"area_counted", plan.area_counted},
                  {"product_kg", plan.product_kg},
                  {"bins", static_cast<double>(plan.bins.bins)},
                  {"salt_per_bin_kg", plan.bins.salt_per_bin_kg},
                  {"water_per_bin_l", plan.bins.water_per_bin_l},
                  {"solution_per_bin_l", plan.bins.solution_per_bin_l},
                  {"sky", std::string(name_of(*sky_))},
                  {"cautions", cautions(app)}};
  if (pond.state.level_cm) draft.values.emplace("level_cm", *pond.state.level_cm);
  if (overrides(app)) {
    draft.values.emplace("manager_override", true);
    draft.values.emplace("reason", reason_);
  }
  return draft;
}

void DosePlanPart::start_walk(App& app, const WalkPlan& plan, const FarmPond& pond) {
  if (walk_.empty()) walk_ = app.platform().random_hex(8);
  Draft draft = start_draft(app, plan, pond);
  if (findings_.look(app, pond, {draft}) == FindingsPart::Outcome::clear) app.put({std::move(draft)});
}

}  // namespace tawny::ui
