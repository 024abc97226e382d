#include "farm/pond_filling.h"

#include <cmath>

#include "protocol/protocol_times.h"

namespace tawny {
namespace {

Result<double> level_of(const StageCurve& curve, double share) { return curve.level_cm_for_share(share); }

double middle_of(const FillTarget& target) { return (target.low_cm + target.high_cm) / 2; }

std::optional<double> number_at(const Protocol& protocol, const std::string& path) {
  const ProtocolValue* found = protocol.find(path);
  const double* number = found == nullptr ? nullptr : std::get_if<double>(&found->value);
  if (number == nullptr) return std::nullopt;
  return *number;
}

}  // namespace

Result<FillTarget> fill_target(const FarmPond& pond, const Protocol& protocol, Stage fill) {
  if (!pond.history.pond.curve) return refuse(ProblemKind::missing, "curve", Message("why.no_curve"));
  const StageCurve& curve = *pond.history.pond.curve;
  const std::string stage = "stage." + std::string(name_of(fill));
  FillTarget target;
  target.stage = fill;
  const bool top_up = fill == Stage::release;
  const auto low = number_at(protocol, stage + (top_up ? ".level_share" : ".level_low_share"));
  const auto high = top_up ? std::optional<double>(1) : number_at(protocol, stage + ".level_high_share");
  if (!low || !high) return refuse(ProblemKind::missing, "stage", Message("filling.no_level"));
  target.low_share = *low;
  target.high_share = *high;
  const auto low_cm = level_of(curve, *low);
  if (!low_cm) return tl::unexpected<Problem>(low_cm.error());
  const auto high_cm = level_of(curve, *high);
  if (!high_cm) return tl::unexpected<Problem>(high_cm.error());
  target.low_cm = *low_cm;
  target.high_cm = *high_cm;
  double aim_cm = middle_of(target);
  if (const auto aim = number_at(protocol, stage + ".level_aim_share")) {
    const auto told = level_of(curve, *aim);
    if (told) aim_cm = *told;
  }
  if (top_up && pond.history.pond.stocking_level_cm > 0) aim_cm = pond.history.pond.stocking_level_cm;
  target.aim_cm = std::round(aim_cm);
  return target;
}

Stage fill_to_plan(const FarmPond& pond, const Protocol& protocol) {
  const Stage now = pond.state.in_cycle ? pond.state.stage : Stage::first_fill;
  for (const Stage fill : kFills) {
    if (fill < now) continue;
    const auto target = fill_target(pond, protocol, fill);
    if (target && pond.state.level_cm && *pond.state.level_cm >= target->aim_cm) continue;
    return fill;
  }
  return Stage::release;
}

FillingSetup filling_setup_of(const FarmPond& pond, const Protocol& protocol) {
  FillingSetup setup;
  setup.inlets = pond.inlets;
  setup.tide = pond.tide;
  setup.evaporation_mm_d = protocol.number("filling.evaporation_mm_d");
  setup.seepage_mm_d = protocol.number("filling.seepage_mm_d");
  return setup;
}

std::vector<ScreenDue> screens_due(const FarmPond& pond, const Protocol& protocol, Instant now) {
  const double every_days = protocol.number("rounds.screens_every_days");
  std::vector<ScreenDue> all;
  for (const std::string& inlet : pond.history.pond.inlets) {
    ScreenDue one;
    one.inlet = inlet;
    for (const ScreenCheck& check : pond.history.screens) {
      if (check.inlet != inlet || check.at > now) continue;
      one.last = check.at;
      one.whole = check.whole;
    }
    if (one.last && one.whole) one.due = one.last->plus_h(24 * every_days);
    all.push_back(std::move(one));
  }
  return all;
}

}  // namespace tawny
