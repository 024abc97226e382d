#include "ui/screens/filling_work.h"

#include <utility>

namespace tawny::ui {
namespace {

// "Now" moves in such steps, so that the clock alone seldom asks for a new plan.
constexpr std::int64_t kNowStep_s = 300;

Instant rounded_up(Instant at) { return Instant{(at.unix_s + kNowStep_s - 1) / kNowStep_s * kNowStep_s}; }

double as_number(const std::optional<double>& value) { return value ? *value : -1e9; }
double as_number(const std::optional<Instant>& value) { return value ? static_cast<double>(value->unix_s) : 0; }

}  // namespace

bool FillingWork::update(const App& app, const FarmPond& pond, const FillingChoice& choice) {
  // The farm is folded anew whenever the logbook or the day changes.
  const std::vector<double> basis_rests_on = {static_cast<double>(app.farm().at.unix_s),
                                              static_cast<double>(app.logbook().size()),
                                              choice.fill ? static_cast<double>(*choice.fill) : 0,
                                              as_number(choice.from_cm),
                                              as_number(choice.to_cm),
                                              as_number(choice.evaporation_mm_d),
                                              as_number(choice.seepage_mm_d),
                                              as_number(choice.rain_mm_d)};
  const bool same_basis = basis_ && basis_rests_on == basis_rests_on_;
  if (!same_basis) {
    if (!take_basis(app, pond, choice)) return false;
    basis_rests_on_ = basis_rests_on;
  }
  const Instant now = rounded_up(app.now());
  std::vector<double> answer_rests_on = basis_rests_on;
  answer_rests_on.push_back(static_cast<double>(choice.when));
  answer_rests_on.push_back(as_number(choice.moment));
  if (choice.when != FillingWhen::start_at) answer_rests_on.push_back(static_cast<double>(now.unix_s));
  if (same_basis && answer_rests_on == answer_rests_on_) return true;
  answer_rests_on_ = std::move(answer_rests_on);
  reckon(*pond.history.pond.curve, now, choice);
  return true;
}

bool FillingWork::take_basis(const App& app, const FarmPond& pond, const FillingChoice& choice) {
  basis_.reset();
  answer_.reset();
  if (!pond.history.pond.curve) return false;
  FillingBasis basis;
  basis.protocol = protocol_of(pond, app.protocol(), app.now());
  const Stage fill = choice.fill ? *choice.fill : fill_to_plan(pond, basis.protocol);
  const Result<FillTarget> target = fill_target(pond, basis.protocol, fill);
  if (!target) return false;
  basis.target = *target;
  basis.to_cm = choice.to_cm.value_or(target->aim_cm);
  basis.from_cm = pond.history.pond.curve->lowest_level_cm();
  if (choice.from_cm) {
    basis.from_cm = *choice.from_cm;
  } else if (!pond.history.levels.empty()) {
    basis.read_at = pond.history.levels.back().at;
    basis.from_cm = pond.history.levels.back().level_cm;
  }
  basis.setup = filling_setup_of(pond, basis.protocol);
  if (choice.evaporation_mm_d) basis.setup.evaporation_mm_d = *choice.evaporation_mm_d;
  if (choice.seepage_mm_d) basis.setup.seepage_mm_d = *choice.seepage_mm_d;
  if (choice.rain_mm_d) basis.setup.rain_mm_d = *choice.rain_mm_d;
  basis.screens = screens_due(pond, basis.protocol, app.now());
  basis_ = std::move(basis);
  return true;
}

void FillingWork::reckon(const StageCurve& curve, Instant now, const FillingChoice& choice) {
  answer_.reset();
  if (choice.when != FillingWhen::now && !choice.moment) return;
  const FillingBasis& basis = *basis_;
  FillingAnswer answer;
  if (choice.when == FillingWhen::ready_by) {
    Result<FillingStart> found = start_for(curve, basis.setup, basis.from_cm, basis.to_cm, *choice.moment, now);
    if (found) {
      answer.start = found->start;
      answer.plan = std::move(found->plan);
    } else {
      answer.problem = found.error();
    }
  } else {
    answer.start = choice.when == FillingWhen::start_at ? *choice.moment : now;
    Result<FillingPlan> plan = plan_filling(curve, basis.setup, basis.from_cm, basis.to_cm, answer.start);
    if (plan) {
      answer.plan = *std::move(plan);
    } else {
      answer.problem = plan.error();
    }
  }
  if (answer.plan) {
    for (const InletShare& share : answer.plan->inlets) {
      InletNeed need{share.name, share.largest_flow_l_s, std::nullopt};
      const Result<ScreenArea> area = screen_area(
          share.largest_flow_l_s, basis.protocol.number("screen.approach_velocity_m_s"),
          basis.protocol.number("screen.open_share"), basis.protocol.number("screen.clogging_factor"));
      if (area) need.cloth_m2 = area->gross_m2;
      answer.needs.push_back(std::move(need));
    }
  }
  answer_ = std::move(answer);
}

}  // namespace tawny::ui
