#include "pond/inlet.h"

#include "science/gates.h"
#include "science/weirs.h"

namespace tawny {
namespace {

constexpr Range kRate{0.1, 20000, "l_s", 1};
constexpr Range kLevel{-1000, 2000, "cm", 0};

Result<InletFlow> in_litres(const Result<OpeningFlow>& flow) {
  if (!flow) return tl::unexpected<Problem>(flow.error());
  return InletFlow{1000 * flow->flow_m3_s, false};
}

Result<InletFlow> in_litres(const Result<WeirFlow>& flow) {
  if (!flow) return tl::unexpected<Problem>(flow.error());
  return InletFlow{1000 * flow->flow_m3_s, flow->outside_fit};
}

Result<InletFlow> flow_between(const PumpInlet& pump, double, double) {
  TAWNY_REFUSE_OUTSIDE("rate_l_s", pump.rate_l_s, kRate);
  return InletFlow{pump.rate_l_s, false};
}

Result<InletFlow> flow_between(const GateInlet& gate, double outside_cm, double pond_cm) {
  TAWNY_REFUSE_OUTSIDE("sill_level_cm", gate.sill_level_cm, kLevel);
  return in_litres(gate_flow(gate.width_m, gate.opening_m, (outside_cm - gate.sill_level_cm) / 100,
                             (pond_cm - gate.sill_level_cm) / 100, gate.discharge_coefficient));
}

Result<InletFlow> flow_between(const PipeInlet& pipe, double outside_cm, double pond_cm) {
  TAWNY_REFUSE_OUTSIDE("invert_level_cm", pipe.invert_level_cm, kLevel);
  return in_litres(pipe_flow(pipe.diameter_m, (outside_cm - pipe.invert_level_cm) / 100,
                             (pond_cm - pipe.invert_level_cm) / 100, pipe.discharge_coefficient));
}

Result<InletFlow> flow_between(const WeirInlet& weir, double outside_cm, double pond_cm) {
  TAWNY_REFUSE_OUTSIDE("crest_level_cm", weir.crest_level_cm, kLevel);
  const double up_m = (outside_cm - weir.crest_level_cm) / 100;
  const double down_m = (pond_cm - weir.crest_level_cm) / 100;
  switch (weir.kind) {
    case WeirKind::v_notch_60:
      return in_litres(v_notch_flow(60, up_m, down_m));
    case WeirKind::v_notch_90:
      return in_litres(v_notch_flow(90, up_m, down_m));
    case WeirKind::rectangular:
      return in_litres(rectangular_weir_flow(weir.width_m, weir.crest_height_m, up_m, down_m));
    case WeirKind::contracted:
      return in_litres(contracted_weir_flow(weir.width_m, 2, up_m, down_m));
    case WeirKind::broad_crested:
      break;
  }
  return in_litres(broad_crested_weir_flow(weir.width_m, weir.crest_coefficient, up_m, down_m));
}

}  // namespace

bool is_tidal(const Inlet& inlet) { return !std::holds_alternative<PumpInlet>(inlet.kind); }

std::optional<Problem> unfit(const Inlet& inlet) {
  for (const OpenSpan& span : inlet.open) {
    if (!(span.from < span.until)) {
      return Problem{ProblemKind::conflict, "open_span", Message("problem.open_span_ends")};
    }
  }
  const auto flow = std::visit([](const auto& kind) { return flow_between(kind, 0, 0); }, inlet.kind);
  if (!flow) return flow.error();
  return std::nullopt;
}

Result<InletFlow> inlet_flow(const Inlet& inlet, double pond_level_cm, std::optional<double> outside_level_cm) {
  TAWNY_REFUSE_OUTSIDE("pond_level_cm", pond_level_cm, kLevel);
  if (is_tidal(inlet)) {
    if (!outside_level_cm) return InletFlow{};
    TAWNY_REFUSE_OUTSIDE("outside_level_cm", *outside_level_cm, kLevel);
    if (inlet.keeps_water && *outside_level_cm <= pond_level_cm) return InletFlow{};
  }
  return std::visit(
      [&](const auto& kind) { return flow_between(kind, outside_level_cm.value_or(0), pond_level_cm); },
      inlet.kind);
}

}  // namespace tawny
