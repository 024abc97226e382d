#include "office/stage_days.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "farm/pond_filling.h"

namespace tawny {
namespace {

constexpr double kHoursOfDay = 24;

// Nothing where no inlet is known, or the tide is not.
std::optional<double> fill_days(const FarmPond& pond, const Protocol& protocol, Stage fill,
                                std::optional<double> from_level_cm, Instant start) {
  if (pond.inlets.empty()) return std::nullopt;
  const auto target = fill_target(pond, protocol, fill);
  if (!target) return std::nullopt;
  const double lowest_cm = pond.history.pond.curve->lowest_level_cm();
  const double from_cm = std::max(lowest_cm, from_level_cm.value_or(lowest_cm));
  if (from_cm >= target->aim_cm) return 0;
  const auto plan =
      plan_filling(*pond.history.pond.curve, filling_setup_of(pond, protocol), from_cm, target->aim_cm, start);
  if (!plan || !plan->reached || plan->uncovered_from) return std::nullopt;
  return plan->hours / kHoursOfDay;
}

// The level that the fill before this one aims at.
std::optional<double> level_before(const FarmPond& pond, const Protocol& protocol, Stage fill) {
  std::optional<double> level_cm;
  for (const Stage one : kFills) {
    if (one >= fill) break;
    if (const auto target = fill_target(pond, protocol, one)) level_cm = target->aim_cm;
  }
  return level_cm;
}

// What the criteria of the protocol ask for at least, water apart.
double least_days(const Protocol& protocol, Stage stage) {
  switch (stage) {
    case Stage::bottom:
      return protocol.number("stage.bottom.dried_days");
    case Stage::first_fill:
    case Stage::second_fill:
    case Stage::third_fill:
      return protocol.number("plan.fill.least_d");
    case Stage::rest:
      return std::max(protocol.number("stage.rest.rest_h") / kHoursOfDay,
                      protocol.number("stage.rest.paired_days"));
    case Stage::bloom:
      return protocol.number("stage.bloom.days_after_dose");
    case Stage::hold_band:
      return protocol.number("stage.hold_band.band_days");
    case Stage::first_dose:
    case Stage::release:
    case Stage::early_cycle:
      break;
  }
  return 0;
}

// The law of a stage, before it is put on the grid.
struct Law {
  double median_d = 0, sigma = 0, least_d = 0;
};

void shrink(Law& law, const std::vector<double>& own, double weight) {
  if (own.empty()) return;
  const auto count = static_cast<double>(own.size());
  double sum = 0;
  for (const double days : own) sum += std::log(days);
  const double mean = sum / count;
  double squares = 0;
  for (const double days : own) squares += (std::log(days) - mean) * (std::log(days) - mean);
  const double prior = std::log(law.median_d);
  const double all = weight + count;
  const double between = weight * count / all * (mean - prior) * (mean - prior);
  law.median_d = std::exp((weight * prior + sum) / all);
  law.sigma = std::sqrt((weight * law.sigma * law.sigma + squares + between) / all * (1 + 1 / all));
}

StageDays make(Stage stage, DaySpread spread, double least_d) {
  StageDays days;
  days.stage = stage;
  days.least_d = least_d;
  days.median_d = spread.days_for(0.5);
  days.early_d = spread.days_for(0.1);
  days.late_d = spread.days_for(0.9);
  days.spread = std::move(spread);
  return days;
}

Law law_of(const Protocol& protocol, const OwnDays& own, Stage stage, std::optional<double> filling_d) {
  const std::string path = "plan." + std::string(name_of(stage));
  Law law;
  // A zero or a late day before the median, as a farm may set them, would be no law.
  law.median_d = std::max(kQuarterDay, protocol.number(path + ".median_d"));
  law.sigma = sigma_of(law.median_d, protocol.number(path + ".late_d"));
  law.least_d = least_days(protocol, stage);
  if (filling_d && is_fill(stage)) {
    law.least_d = *filling_d;
    law.median_d = std::max(kQuarterDay, *filling_d + protocol.number("plan.fill.extra_d"));
  } else if (filling_d) {
    law.least_d = std::max(law.least_d, *filling_d);
  }
  shrink(law, own.of(stage), std::max(1.0, protocol.number("plan.own_weight")));
  return law;
}

}  // namespace

bool is_fill(Stage stage) {
  return stage == Stage::first_fill || stage == Stage::second_fill || stage == Stage::third_fill;
}

void add_cycle(OwnDays& own, Instant start, const std::vector<GateOpened>& gates) {
  std::array<std::optional<Instant>, kPlannedStages + 1> opened;
  for (const GateOpened& gate : gates) {
    const int stage = static_cast<int>(gate.stage);
    if (stage >= 1 && stage <= kPlannedStages) opened[static_cast<std::size_t>(stage)] = gate.at;
  }
  if (!opened[kPlannedStages]) return;
  std::optional<Instant> before = start;
  for (std::size_t stage = 1; stage <= kPlannedStages; ++stage) {
    if (before && opened[stage]) {
      const double days = hours_between(*before, *opened[stage]) / kHoursOfDay;
      own.days[stage].push_back(std::max(kQuarterDay, days));
    }
    before = opened[stage];
  }
}

OwnDays own_days_of(const std::map<std::string, std::vector<Cycle>>& cycles) {
  OwnDays own;
  for (const auto& [pond, all] : cycles) {
    for (const Cycle& cycle : all) add_cycle(own, cycle.start, cycle.pond.state.gates);
  }
  return own;
}

std::vector<StageDays> stage_days(const FarmPond& pond, const Protocol& protocol, const OwnDays& own,
                                  Instant now) {
  std::vector<StageDays> all;
  for (int number = 1; number <= kPlannedStages; ++number) {
    const auto stage = static_cast<Stage>(number);
    std::optional<double> filling_d;
    if (is_fill(stage) || stage == Stage::release) {
      filling_d = fill_days(pond, protocol, stage, level_before(pond, protocol, stage), now);
    }
    const Law law = law_of(protocol, own, stage, filling_d);
    StageDays days = make(stage, DaySpread::log_normal(law.median_d, law.sigma, law.least_d), law.least_d);
    days.own = static_cast<int>(own.of(stage).size());
    days.by_inlets = filling_d.has_value() && is_fill(stage);
    all.push_back(std::move(days));
  }
  return all;
}

std::vector<StageDays> stage_days_left(const FarmPond& pond, const Protocol& protocol, const OwnDays& own,
                                       Instant from) {
  const PondState& state = pond.state;
  std::vector<StageDays> left;
  if (!state.in_cycle || state.stage > Stage::release) return left;
  const double elapsed_d = std::max(0.0, hours_between(state.stage_since, from) / kHoursOfDay);
  for (StageDays& days : stage_days(pond, protocol, own, from)) {
    if (days.stage < state.stage) continue;
    if (days.stage > state.stage) {
      left.push_back(std::move(days));
      continue;
    }
    std::optional<double> whole_d, rest_d;
    if (is_fill(days.stage) || days.stage == Stage::release) {
      whole_d = fill_days(pond, protocol, days.stage, level_before(pond, protocol, days.stage), from);
      rest_d = fill_days(pond, protocol, days.stage, state.level_cm, from);
    }
    const Law law = law_of(protocol, own, days.stage, whole_d);
    // Of a fill, what is left is known by the water that is there, not by the days that it has been filling.
    const double least_d = is_fill(days.stage) ? rest_d.value_or(law.least_d) : law.least_d;
    DaySpread spread = DaySpread::log_normal_after(law.median_d, law.sigma,
                                                   rest_d && is_fill(days.stage) ? 0 : least_d, elapsed_d);
    if (rest_d) spread = spread.at_least(*rest_d);
    const double least_left_d = rest_d.value_or(std::max(0.0, least_d - elapsed_d));
    StageDays present = make(days.stage, std::move(spread), least_left_d);
    present.own = days.own;
    present.by_inlets = days.by_inlets;
    left.push_back(std::move(present));
  }
  return left;
}

}  // namespace tawny
