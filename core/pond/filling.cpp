#include "pond/filling.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "pond/filling_flow.h"

namespace tawny {
namespace {

constexpr double kMost_s = 30 * 86400;
constexpr double kSeriesEvery_s = 600;
constexpr double kShareOfFillPerStep = 0.02;  // with steps of 300 s; in proportion with others

class Filling {
 public:
  Filling(const PondInflow& inflow, double from_level_cm, double to_level_cm)
      : inflow_(inflow),
        fill_m3_(inflow.volume_m3(to_level_cm) - inflow.volume_m3(from_level_cm)),
        to_level_cm_(to_level_cm),
        to_m3_(inflow.volume_m3(to_level_cm)),
        here_{inflow.volume_m3(from_level_cm), from_level_cm} {
    for (const Inlet& inlet : inflow.setup().inlets) plan_.inlets.push_back({inlet.name, 0, 0, 0});
    plan_.start_volume_m3 = here_.volume_m3;
    plan_.highest_level_cm = from_level_cm;
  }

  FillingPlan run() {
    record();
    while (!plan_.reached && now_s_ < kMost_s) {
      double end_s = std::min(kMost_s, now_s_ + next_step_s());
      FillingStep step = inflow_.step(here_, now_s_, end_s);
      plan_.reached = step.end.volume_m3 >= to_m3_;
      if (plan_.reached) {
        end_s = arrival_s(end_s);
        step = inflow_.step(here_, now_s_, end_s);
      }
      book(step, end_s);
      // A step's length may end a hair before the ten minutes.
      if (now_s_ - recorded_s_ > kSeriesEvery_s - 1) record();
    }
    if (plan_.reached) here_.level_cm = to_level_cm_;
    if (recorded_s_ < now_s_) record();
    plan_.series.back().level_cm = here_.level_cm;
    plan_.ended_at = inflow_.start().plus_h(now_s_ / 3600);
    plan_.hours = now_s_ / 3600;
    plan_.end_level_cm = here_.level_cm;
    plan_.end_volume_m3 = here_.volume_m3;
    return std::move(plan_);
  }

 private:
  // To the next opening, closing or end of the tide table, in steps that neither take too long nor move too
  // much.
  double next_step_s() const {
    const double longest_s = inflow_.setup().longest_step_s;
    const double rate_m3_s = std::fabs(inflow_.gain_m3_s(here_.level_cm, inflow_.moment(now_s_, now_s_ + 1)));
    const double most_m3 = kShareOfFillPerStep * longest_s / 300 * fill_m3_;
    double step_s = longest_s;
    if (rate_m3_s * step_s > most_m3) step_s = std::max(1.0, most_m3 / rate_m3_s);
    return std::min(step_s, inflow_.next_break_s(now_s_) - now_s_);
  }

  // When the level is just reached, in a step that would pass it.
  double arrival_s(double end_s) const {
    double before_s = now_s_;
    for (int i = 0; i < 50; ++i) {
      const double middle_s = (before_s + end_s) / 2;
      (inflow_.step(here_, now_s_, middle_s).end.volume_m3 < to_m3_ ? before_s : end_s) = middle_s;
    }
    return end_s;
  }

  void book(const FillingStep& step, double end_s) {
    if (!plan_.uncovered_from && inflow_.uncovered(now_s_, end_s)) {
      plan_.uncovered_from = inflow_.start().plus_h(now_s_ / 3600);
    }
    plan_.lost_m3 += step.lost_m3;
    plan_.rain_m3 += step.rain_m3;
    for (std::size_t i = 0; i < plan_.inlets.size(); ++i) {
      plan_.inlets[i].in_m3 += step.inlets[i].in_m3;
      plan_.inlets[i].ran_out_m3 += step.inlets[i].out_m3;
      plan_.inflow_m3 += step.inlets[i].in_m3;
      plan_.ran_out_m3 += step.inlets[i].out_m3;
    }
    note_largest(inflow_.rates(here_.level_cm, inflow_.moment(now_s_, end_s)));
    note_largest(inflow_.rates(step.end.level_cm, inflow_.moment(end_s, now_s_)));
    here_ = step.end;
    now_s_ = end_s;
    plan_.highest_level_cm = std::max(plan_.highest_level_cm, here_.level_cm);
  }

  void note_largest(const FillingRates& rates) {
    double all_l_s = 0;
    for (std::size_t i = 0; i < plan_.inlets.size(); ++i) {
      const double in_l_s = 1000 * std::max(0.0, rates.inlets_m3_s[i]);
      plan_.inlets[i].largest_flow_l_s = std::max(plan_.inlets[i].largest_flow_l_s, in_l_s);
      all_l_s += in_l_s;
    }
    plan_.largest_inflow_l_s = std::max(plan_.largest_inflow_l_s, all_l_s);
    plan_.outside_fit = plan_.outside_fit || rates.outside_fit;
  }

  void record() {
    const FillingRates now = inflow_.rates(here_.level_cm, inflow_.moment(now_s_, now_s_ + 1));
    double flow_m3_s = 0;
    for (const double m3_s : now.inlets_m3_s) flow_m3_s += m3_s;
    plan_.series.push_back({inflow_.start().plus_h(now_s_ / 3600), here_.level_cm, 1000 * flow_m3_s,
                            inflow_.outside_level_cm(now_s_)});
    recorded_s_ = now_s_;
  }

  const PondInflow& inflow_;
  const double fill_m3_;
  const double to_level_cm_;
  const double to_m3_;
  PondWater here_;
  double now_s_ = 0;
  double recorded_s_ = 0;
  FillingPlan plan_;
};

}  // namespace

Result<FillingPlan> plan_filling(const StageCurve& curve, const FillingSetup& setup, double from_level_cm,
                                 double to_level_cm, Instant start) {
  if (auto problem = unfit(curve, setup, from_level_cm, to_level_cm)) {
    return tl::unexpected<Problem>(*std::move(problem));
  }
  const PondInflow inflow(curve, setup, start);
  return Filling(inflow, from_level_cm, to_level_cm).run();
}

}  // namespace tawny
