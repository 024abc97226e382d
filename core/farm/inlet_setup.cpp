#include "farm/inlet_setup.h"

#include "farm/set_up_values.h"

namespace tawny {
namespace {

Result<PumpInlet> read_pump(const Entry& entry) {
  const auto rate = needed(entry, "rate_l_s");
  if (!rate) return tl::unexpected<Problem>(rate.error());
  return PumpInlet{*rate};
}

Result<GateInlet> read_gate(const Entry& entry, double coefficient) {
  const auto width = needed(entry, "width_m");
  if (!width) return tl::unexpected<Problem>(width.error());
  const auto opening = needed(entry, "opening_m");
  if (!opening) return tl::unexpected<Problem>(opening.error());
  const auto sill = needed(entry, "sill_level_cm");
  if (!sill) return tl::unexpected<Problem>(sill.error());
  return GateInlet{*width, *opening, *sill, coefficient};
}

Result<PipeInlet> read_pipe(const Entry& entry, double coefficient) {
  const auto diameter = needed(entry, "diameter_m");
  if (!diameter) return tl::unexpected<Problem>(diameter.error());
  const auto invert = needed(entry, "invert_level_cm");
  if (!invert) return tl::unexpected<Problem>(invert.error());
  return PipeInlet{*diameter, *invert, coefficient};
}

}  // namespace

Result<Inlet> read_inlet_setup(const Entry& entry, double discharge_coefficient) {
  if (entry.pond.empty()) return set_up_lacks("pond");
  const std::string* name = entry.text("inlet");
  if (name == nullptr || name->empty()) return set_up_lacks("inlet");
  const std::string* kind = entry.text("kind");
  if (kind == nullptr) return set_up_lacks("kind");
  Inlet inlet;
  inlet.name = *name;
  const double* own = entry.number("discharge_coefficient");
  const double coefficient = own == nullptr ? discharge_coefficient : *own;
  const auto take = [&inlet](const auto& read) -> std::optional<Problem> {
    if (!read) return read.error();
    inlet.kind = *read;
    return std::nullopt;
  };
  std::optional<Problem> problem;
  if (*kind == "pump") {
    problem = take(read_pump(entry));
  } else if (*kind == "gate") {
    problem = take(read_gate(entry, coefficient));
  } else if (*kind == "pipe") {
    problem = take(read_pipe(entry, coefficient));
  } else {
    return refuse(ProblemKind::malformed, "kind", Message("problem.inlet_kind").with("value", Text{*kind}));
  }
  const bool* keeps = entry.flag("keeps_water");
  inlet.keeps_water = keeps == nullptr || *keeps || !is_tidal(inlet);
  if (const std::string* pump = entry.text("pump")) inlet.pump = *pump;
  if (!problem) problem = unfit(inlet);
  if (problem) return tl::unexpected<Problem>(*std::move(problem));
  return inlet;
}

Result<TideTable> read_tide_table(const Entry& entry) {
  const std::vector<std::string>* times = entry.texts("times");
  if (times == nullptr) return set_up_lacks("times");
  const std::vector<double>* levels_cm = entry.numbers("levels_cm");
  if (levels_cm == nullptr || levels_cm->size() != times->size()) return set_up_lacks("levels_cm");
  std::vector<TidePoint> points;
  for (std::size_t i = 0; i < times->size(); ++i) {
    const Result<Instant> at = parse_instant((*times)[i]);
    if (!at) return tl::unexpected<Problem>(at.error());
    points.push_back({*at, (*levels_cm)[i]});
  }
  return TideTable::from_points(points);
}

Values tide_table_values(const std::vector<TidePoint>& points) {
  std::vector<std::string> times;
  std::vector<double> levels_cm;
  for (const TidePoint& point : points) {
    times.push_back(to_iso(point.at));
    levels_cm.push_back(point.level_cm);
  }
  return {{"times", std::move(times)}, {"levels_cm", std::move(levels_cm)}};
}

}  // namespace tawny
