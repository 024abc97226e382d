#include "pond/filling_flow.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tawny {
namespace {

constexpr Range kEvaporation{0, 50, "mm_d", 1};
constexpr Range kSeepage{0, 500, "mm_d", 1};
constexpr Range kRain{0, 1000, "mm_d", 1};
constexpr Range kStep{1, 900, "s", 0};
constexpr std::size_t kMostInlets = 20;

constexpr double kTaper_m = 0.001;
constexpr double kM_s_per_mm_d = 1e-3 / 86400;

// Of the two stages of a step, at this share of it and at its end.
constexpr double kStage = 0.29289321881345254;  // 1 - 1/sqrt 2

std::optional<Problem> unfit_inlet(const StageCurve& curve, const FillingSetup& setup, const Inlet& inlet) {
  if (auto problem = unfit(inlet)) return problem;
  if (!is_tidal(inlet)) return std::nullopt;
  if (!setup.tide) {
    return Problem{ProblemKind::missing, "tide",
                   Message("problem.inlet_needs_tide").with("inlet", Text{inlet.name})};
  }
  // Whatever happens between lies between these.
  const auto most_in = inlet_flow(inlet, curve.lowest_level_cm(), setup.tide->highest_cm());
  if (!most_in) return most_in.error();
  const auto most_out = inlet_flow(inlet, curve.full_level_cm(), setup.tide->lowest_cm());
  if (!most_out) return most_out.error();
  return std::nullopt;
}

}  // namespace

std::optional<Problem> unfit(const StageCurve& curve, const FillingSetup& setup, double from_level_cm,
                             double to_level_cm) {
  if (setup.inlets.empty()) {
    return Problem{ProblemKind::missing, "inlets", Message("problem.no_inlet")};
  }
  if (setup.inlets.size() > kMostInlets) {
    return Problem{ProblemKind::out_of_range, "inlets",
                   Message("problem.too_many_inlets").with("most", bare(kMostInlets))};
  }
  for (const Inlet& inlet : setup.inlets) {
    if (auto problem = unfit_inlet(curve, setup, inlet)) return problem;
  }
  if (auto problem = outside("evaporation_mm_d", setup.evaporation_mm_d, kEvaporation)) return problem;
  if (auto problem = outside("seepage_mm_d", setup.seepage_mm_d, kSeepage)) return problem;
  if (auto problem = outside("rain_mm_d", setup.rain_mm_d, kRain)) return problem;
  if (auto problem = outside("longest_step_s", setup.longest_step_s, kStep)) return problem;
  const Range levels{curve.lowest_level_cm(), curve.full_level_cm(), "cm", 0};
  if (auto problem = outside("from_level_cm", from_level_cm, levels)) return problem;
  if (auto problem = outside("to_level_cm", to_level_cm, levels)) return problem;
  if (!(*curve.volume_m3(to_level_cm) > *curve.volume_m3(from_level_cm))) {
    return Problem{ProblemKind::conflict, "to_level_cm",
                   Message("problem.filling_not_up")
                       .with("to", Quantity{to_level_cm, 0, "cm"})
                       .with("from", Quantity{from_level_cm, 0, "cm"})};
  }
  return std::nullopt;
}

PondInflow::PondInflow(const StageCurve& curve, const FillingSetup& setup, Instant start)
    : curve_(curve), setup_(setup), start_(start) {
  const auto add = [&](Instant at) { breaks_s_.push_back(static_cast<double>(at.unix_s - start.unix_s)); };
  if (setup.tide) {
    add(setup.tide->from());
    add(setup.tide->until());
  }
  for (const Inlet& inlet : setup.inlets) {
    for (const OpenSpan& span : inlet.open) {
      add(span.from);
      add(span.until);
    }
  }
  std::sort(breaks_s_.begin(), breaks_s_.end());
}

double PondInflow::volume_m3(double level_cm) const {
  const double full_cm = curve_.full_level_cm();
  if (level_cm > full_cm) {
    return curve_.full_volume_m3() + *curve_.area_m2(full_cm) * (level_cm - full_cm) / 100;
  }
  return *curve_.volume_m3(level_cm);
}

std::optional<double> PondInflow::outside_level_cm(double at_s) const {
  return setup_.tide ? setup_.tide->level_cm(start_, at_s) : std::nullopt;
}

bool PondInflow::is_open(const Inlet& inlet, double at_s) const {
  if (inlet.open.empty()) return true;
  return std::any_of(inlet.open.begin(), inlet.open.end(), [&](const OpenSpan& span) {
    return at_s >= static_cast<double>(span.from.unix_s - start_.unix_s) &&
           at_s < static_cast<double>(span.until.unix_s - start_.unix_s);
  });
}

PondInflow::Moment PondInflow::moment(double at_s, double towards_s) const {
  const double middle_s = (at_s + towards_s) / 2;
  Moment moment;
  if (const auto between_cm = outside_level_cm(middle_s)) {
    moment.outside_level_cm = outside_level_cm(at_s);
    if (!moment.outside_level_cm) moment.outside_level_cm = between_cm;
  }
  for (const Inlet& inlet : setup_.inlets) moment.open.push_back(is_open(inlet, middle_s));
  return moment;
}

PondInflow::Surface PondInflow::surface_at(double level_cm) const {
  Surface surface;
  surface.area_m2 = *curve_.area_m2(std::min(level_cm, curve_.full_level_cm()));
  surface.volume_m3 = volume_m3(level_cm);
  if (surface.area_m2 > 0) {
    surface.wet = std::clamp(surface.volume_m3 / (surface.area_m2 * kTaper_m), 0.0, 1.0);
  }
  return surface;
}

InletFlow PondInflow::flow_at(std::size_t inlet, double level_cm, const Surface& surface,
                              const Moment& moment) const {
  if (!moment.open[inlet]) return {};
  const Result<InletFlow> flow =
      inlet_flow(setup_.inlets[inlet], std::min(level_cm, curve_.full_level_cm()), moment.outside_level_cm);
  if (!flow) return {};  // no set-up that is fit comes here
  InletFlow out = *flow;
  if (out.flow_l_s < 0) out.flow_l_s *= surface.wet;
  return out;
}

double PondInflow::fall_m_s() const { return (setup_.evaporation_mm_d + setup_.seepage_mm_d) * kM_s_per_mm_d; }
double PondInflow::rain_m_s() const { return setup_.rain_mm_d * kM_s_per_mm_d; }

FillingRates PondInflow::rates(double level_cm, const Moment& moment) const {
  const Surface surface = surface_at(level_cm);
  FillingRates rates;
  for (std::size_t i = 0; i < setup_.inlets.size(); ++i) {
    const InletFlow flow = flow_at(i, level_cm, surface, moment);
    rates.inlets_m3_s.push_back(flow.flow_l_s / 1000);
    rates.outside_fit = rates.outside_fit || flow.outside_fit;
  }
  rates.rain_m3_s = surface.area_m2 * rain_m_s();
  rates.lost_m3_s = surface.area_m2 * surface.wet * fall_m_s();
  return rates;
}

double PondInflow::gain_m3_s(double level_cm, const Surface& surface, const Moment& moment) const {
  double gain_m3_s = surface.area_m2 * (rain_m_s() - surface.wet * fall_m_s());
  for (std::size_t i = 0; i < setup_.inlets.size(); ++i) {
    gain_m3_s += flow_at(i, level_cm, surface, moment).flow_l_s / 1000;
  }
  return gain_m3_s;
}

double PondInflow::gain_m3_s(double level_cm, const Moment& moment) const {
  return gain_m3_s(level_cm, surface_at(level_cm), moment);
}

FillingStep PondInflow::step(const PondWater& water, double from_s, double until_s) const {
  const double span_s = until_s - from_s;
  // The level that holds `before_m3` and what `brought_s` of the flow at that level brings.
  const auto level_after_cm = [&](double before_m3, double brought_s, const Moment& at) {
    return root_of(
        [&](double level_cm) {
          const Surface surface = surface_at(level_cm);
          return surface.volume_m3 - before_m3 - brought_s * gain_m3_s(level_cm, surface, at);
        },
        curve_.lowest_level_cm(), water.level_cm, enough_m3());
  };
  FillingStep out;
  out.inlets.resize(setup_.inlets.size());
  double volume_m3 = water.volume_m3;
  const auto take = [&](const FillingRates& rates, double share_s) {
    out.rain_m3 += share_s * rates.rain_m3_s;
    out.lost_m3 += share_s * rates.lost_m3_s;
    volume_m3 += share_s * (rates.rain_m3_s - rates.lost_m3_s);
    for (std::size_t i = 0; i < out.inlets.size(); ++i) {
      const double moved_m3 = share_s * rates.inlets_m3_s[i];
      (moved_m3 < 0 ? out.inlets[i].out_m3 : out.inlets[i].in_m3) += std::fabs(moved_m3);
      volume_m3 += moved_m3;
    }
  };
  const Moment stage = moment(from_s + kStage * span_s, until_s);
  const Moment end = moment(until_s, from_s);
  const double stage_cm = level_after_cm(water.volume_m3, kStage * span_s, stage);
  const double between_m3 = water.volume_m3 + (1 - kStage) * span_s * gain_m3_s(stage_cm, stage);
  if (between_m3 >= 0) {
    take(rates(stage_cm, stage), (1 - kStage) * span_s);
    out.end.level_cm = level_after_cm(between_m3, kStage * span_s, end);
    take(rates(out.end.level_cm, end), kStage * span_s);
  } else {
    // Running dry: one stage at the end of the step cannot take more than there is.
    out.end.level_cm = level_after_cm(water.volume_m3, span_s, end);
    take(rates(out.end.level_cm, end), span_s);
  }
  out.end.volume_m3 = volume_m3;
  return out;
}

bool PondInflow::uncovered(double from_s, double until_s) const {
  const double middle_s = (from_s + until_s) / 2;
  if (outside_level_cm(middle_s)) return false;
  return std::any_of(setup_.inlets.begin(), setup_.inlets.end(),
                     [&](const Inlet& inlet) { return is_tidal(inlet) && is_open(inlet, middle_s); });
}

double PondInflow::next_break_s(double at_s) const {
  const auto next = std::upper_bound(breaks_s_.begin(), breaks_s_.end(), at_s);
  return next == breaks_s_.end() ? std::numeric_limits<double>::infinity() : *next;
}

double PondInflow::last_break_s(double at_s) const {
  const auto next = std::lower_bound(breaks_s_.begin(), breaks_s_.end(), at_s);
  return next == breaks_s_.begin() ? -std::numeric_limits<double>::infinity() : *(next - 1);
}

}  // namespace tawny
