// When to start filling: start_for() of pond/filling.h.
//
// Backward from the wanted time, the lowest level from which the pond still comes in time is followed step by
// step. A higher level never comes later than a lower one, since two courses of the same pond cannot cross; so
// a start is in time exactly when that level does not stand above the one to start from.
#include <algorithm>
#include <cmath>

#include "pond/filling_flow.h"

namespace tawny {
namespace {

constexpr double kResolution_s = 300;
constexpr double kMostDays = 30;

class StartSearch {
 public:
  StartSearch(const StageCurve& curve, const FillingSetup& setup, double from_level_cm, double to_level_cm,
              Instant wanted_by, Instant earliest)
      : curve_(curve),
        setup_(setup),
        from_level_cm_(from_level_cm),
        to_level_cm_(to_level_cm),
        wanted_by_(wanted_by),
        earliest_(earliest),
        inflow_(curve, setup, wanted_by) {}

  Result<FillingStart> run() const {
    const double earliest_s = static_cast<double>(earliest_.unix_s - wanted_by_.unix_s);
    double needed_cm = to_level_cm_;
    double next_s = 0;
    while (next_s > earliest_s) {
      const double now_s = std::max({earliest_s, next_s - kResolution_s, inflow_.last_break_s(next_s)});
      needed_cm = needed_before(needed_cm, now_s, next_s);
      if (needed_cm <= from_level_cm_) {
        // Plans take finer steps than this search: the next later start may do after all, this one may not.
        for (const double start_s : {next_s, now_s}) {
          if (start_s >= 0) continue;
          FillingStart found{wanted_by_.plus_s(std::llround(start_s)), {}, kResolution_s};
          found.plan = *plan_filling(curve_, setup_, from_level_cm_, to_level_cm_, found.start);
          if (found.plan.reached && found.plan.hours * 3600 <= -start_s) return found;
        }
      }
      next_s = now_s;
    }
    return tl::unexpected<Problem>(why_none());
  }

 private:
  // The lowest level at `now_s` from which the pond stands at `needed_cm` or higher at `next_s`, or is full
  // enough already.
  double needed_before(double needed_cm, double now_s, double next_s) const {
    const double needed_m3 = inflow_.volume_m3(needed_cm);
    const auto above_m3 = [&](double level_cm) {
      const PondWater water{inflow_.volume_m3(level_cm), level_cm};
      return inflow_.step(water, now_s, next_s).end.volume_m3 - needed_m3;
    };
    if (above_m3(to_level_cm_) < 0) return to_level_cm_;
    return std::min(to_level_cm_, root_of(above_m3, inflow_.lowest_level_cm(), needed_cm, inflow_.enough_m3()));
  }

  Problem why_none() const {
    const FillingPlan plan = *plan_filling(curve_, setup_, from_level_cm_, to_level_cm_, earliest_);
    const Quantity to{to_level_cm_, 0, "cm"};
    if (plan.reached) {
      return {ProblemKind::impossible, "wanted_by",
              Message("problem.filling_too_late")
                  .with("earliest", earliest_)
                  .with("to", to)
                  .with("at", plan.ended_at)};
    }
    if (setup_.tide && plan.uncovered_from && setup_.tide->until() < wanted_by_) {
      return {ProblemKind::impossible, "tide",
              Message("problem.filling_tide_ends").with("at", setup_.tide->until()).with("to", to)};
    }
    return {ProblemKind::impossible, "to_level_cm",
            Message("problem.filling_never")
                .with("to", to)
                .with("earliest", earliest_)
                .with("highest", Quantity{plan.highest_level_cm, 0, "cm"})};
  }

  const StageCurve& curve_;
  const FillingSetup& setup_;
  const double from_level_cm_;
  const double to_level_cm_;
  const Instant wanted_by_;
  const Instant earliest_;
  const PondInflow inflow_;
};

}  // namespace

Result<FillingStart> start_for(const StageCurve& curve, const FillingSetup& setup, double from_level_cm,
                               double to_level_cm, Instant wanted_by, Instant earliest) {
  if (auto problem = unfit(curve, setup, from_level_cm, to_level_cm)) {
    return tl::unexpected<Problem>(*std::move(problem));
  }
  if (!(earliest < wanted_by)) {
    return refuse(ProblemKind::conflict, "wanted_by",
                  Message("problem.filling_no_time").with("wanted", wanted_by).with("earliest", earliest));
  }
  if (hours_between(earliest, wanted_by) > 24 * kMostDays) {
    return refuse(ProblemKind::conflict, "wanted_by",
                  Message("problem.filling_horizon").with("most", Quantity{kMostDays, 0, "days"}));
  }
  return StartSearch(curve, setup, from_level_cm, to_level_cm, wanted_by, earliest).run();
}

}  // namespace tawny
