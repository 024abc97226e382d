// By hand: the pond and its filling. Volume, flow through gates and weirs, screens, hours.
#include <cmath>

#include "pond/curve.h"
#include "reckon/given.h"
#include "science/fill_time.h"
#include "science/gates.h"
#include "science/screens.h"
#include "science/weirs.h"

namespace tawny {
namespace {

Result<ReckonAnswer> reckon_pond(const ReckonGiven& given) {
  const double depth_m = given.number("depth_m");
  TAWNY_RECKON_TAKE(
      curve, StageCurve::from_basin(given.number("bottom_length_m"), given.number("bottom_width_m"), depth_m,
                                    given.number("bank_slope")));
  TAWNY_RECKON_TAKE(area_m2, curve.area_m2(100 * depth_m));
  ReckonResults results(given);
  results.put("area_m2", area_m2)
      .put("volume_m3", curve.full_volume_m3())
      .put("mean_depth_m", curve.full_volume_m3() / area_m2);
  if (const auto share = given.maybe("share")) {
    TAWNY_RECKON_TAKE(level_cm, curve.level_cm_for_share(*share));
    results.put("level_for_share_m", level_cm / 100);
  }
  return results.done();
}

Result<ReckonAnswer> reckon_fill_time(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(hours, fill_time_h(given.number("volume_m3"), given.number("inflow_l_s"),
                                       given.number("area_m2"), given.number("loss_mm_d")));
  return ReckonResults(given).put("hours", hours).done();
}

Result<ReckonAnswer> answer_of(const ReckonGiven& given, const OpeningFlow& flow) {
  ReckonResults results(given);
  results.put("flow_l_s", 1000 * flow.flow_m3_s)
      .put("flow_m3_s", flow.flow_m3_s)
      .put("regime", name_of(flow.regime))
      .put("drowned", flow.drowned);
  return results.done_with_suction();
}

Result<ReckonAnswer> reckon_gate(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(flow,
                    gate_flow(given.number("width_m"), given.number("opening_m"), given.number("head_up_m"),
                              given.number("head_down_m"), given.number("discharge_coefficient")));
  return answer_of(given, flow);
}

Result<ReckonAnswer> reckon_pipe(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(flow, pipe_flow(given.number("diameter_m"), given.number("head_up_m"),
                                    given.number("head_down_m"), given.number("discharge_coefficient")));
  return answer_of(given, flow);
}

constexpr std::string_view kWeirShapes[] = {"v_notch_90", "v_notch_60",  "rectangular",
                                            "contracted", "broad_crest", "open_flume"};

// An input that only some shapes ask for.
Result<double> asked_of_shape(const ReckonGiven& given, std::string_view key) {
  if (const auto value = given.maybe(key)) return *value;
  return refuse(ProblemKind::missing, key,
                Message("problem.shape_asks_for")
                    .with("shape", Word{"reckon.choice." + given.text("shape")})
                    .with("parameter", Word{"parameter." + std::string(key)}));
}

Result<WeirFlow> weir_flow_of(const ReckonGiven& given) {
  const std::string shape = given.text("shape");
  const double up_m = given.number("head_up_m");
  const double down_m = given.number("head_down_m");
  if (shape == "v_notch_90") return v_notch_flow(90, up_m, down_m);
  if (shape == "v_notch_60") return v_notch_flow(60, up_m, down_m);
  TAWNY_RECKON_TAKE(width_m, asked_of_shape(given, "width_m"));
  if (shape == "rectangular") {
    TAWNY_RECKON_TAKE(crest_height_m, asked_of_shape(given, "crest_height_m"));
    return rectangular_weir_flow(width_m, crest_height_m, up_m, down_m);
  }
  if (shape == "contracted") {
    TAWNY_RECKON_TAKE(contractions, asked_of_shape(given, "end_contractions"));
    if (contractions != std::floor(contractions)) {
      return refuse(ProblemKind::malformed, "end_contractions",
                    Message("problem.not_whole").with("parameter", Word{"parameter.end_contractions"}));
    }
    return contracted_weir_flow(width_m, static_cast<int>(contractions), up_m, down_m);
  }
  if (shape == "broad_crest") {
    TAWNY_RECKON_TAKE(coefficient, asked_of_shape(given, "discharge_coefficient"));
    return broad_crested_weir_flow(width_m, coefficient, up_m, down_m);
  }
  return open_flume_flow(width_m, up_m, down_m);
}

Result<ReckonAnswer> reckon_weir(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(flow, weir_flow_of(given));
  ReckonResults results(given);
  results.put("flow_l_s", 1000 * flow.flow_m3_s)
      .put("flow_m3_s", flow.flow_m3_s)
      .put("drowned", flow.drowned)
      .put("drowned_share", flow.drowned_share);
  if (flow.outside_fit) results.note(Message("reckon.note.outside_fit"));
  return results.done_with_suction();
}

Result<ReckonAnswer> reckon_screen_area(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(area, screen_area(given.number("flow_l_s"), given.number("approach_velocity_m_s"),
                                      given.number("open_share"), given.number("clogging_factor")));
  ReckonResults results(given);
  results.put("gross_area_m2", area.gross_m2)
      .put("effective_area_m2", area.effective_m2)
      .put("slot_velocity_m_s", area.slot_velocity_m_s)
      .put("slot_velocity_clean_m_s", area.slot_velocity_clean_m_s);
  return results.done_with_suction();
}

Result<ReckonAnswer> reckon_mesh(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(open_share, mesh_open_share(given.number("mesh_um"), given.number("wire_um")));
  return ReckonResults(given).put("open_share", open_share).done();
}

constexpr Range kHead_m{-30, 30, "m", 3};

constexpr ReckonInput kFillTimeInputs[] = {
    number_input("volume_m3", {0, 1e7, "m3", 0}),
    number_input("inflow_l_s", {0.01, 100000, "l_s", 2}),
    number_input("area_m2", {0, 1e7, "m2", 0}),
    number_input("loss_mm_d", {-500, 500, "mm_d", 1}),
};
constexpr ReckonResult kFillTimeResults[] = {{"hours", "h", 2}};

constexpr ReckonInput kGateInputs[] = {
    number_input("width_m", {0.05, 50, "m", 2}),
    number_input("opening_m", {0.01, 10, "m", 2}),
    number_input("head_up_m", kHead_m),
    number_input("head_down_m", kHead_m),
    protocol_number("discharge_coefficient", kDischargeCoefficient, "filling.gate_coefficient"),
};
constexpr ReckonInput kPipeInputs[] = {
    number_input("diameter_m", {0.02, 5, "m", 3}),
    number_input("head_up_m", kHead_m),
    number_input("head_down_m", kHead_m),
    protocol_number("discharge_coefficient", kDischargeCoefficient, "filling.gate_coefficient"),
};
constexpr ReckonResult kOpeningResults[] = {
    {"flow_l_s", "l_s", 1},
    {"flow_m3_s", "m3_s", 4},
    {"regime", "", 0, ReckonResult::Kind::choice},
    {"drowned", "", 0, ReckonResult::Kind::flag},
};

constexpr ReckonInput kWeirInputs[] = {
    choice_input("shape", kWeirShapes),
    number_input("head_up_m", kHead_m),
    number_or("head_down_m", kHead_m, 0),
    optional_number("width_m", {0.05, 50, "m", 2}),
    optional_number("crest_height_m", {0.05, 10, "m", 2}),
    optional_number("end_contractions", {0, 2, "", 0}),
    optional_number("discharge_coefficient", {0.5, 1.2, "", 2}),
};
constexpr ReckonResult kWeirResults[] = {
    {"flow_l_s", "l_s", 2},
    {"flow_m3_s", "m3_s", 5},
    {"drowned", "", 0, ReckonResult::Kind::flag},
    {"drowned_share", "share", 3},
};

constexpr ReckonInput kScreenInputs[] = {
    number_input("flow_l_s", {0.1, 20000, "l_s", 1}),
    protocol_number("approach_velocity_m_s", {0.01, 1, "m_s", 2}, "screen.approach_velocity_m_s"),
    protocol_number("open_share", {0.05, 0.95, "share", 2}, "screen.open_share"),
    protocol_number("clogging_factor", {1, 10, "", 1}, "screen.clogging_factor"),
};
constexpr ReckonResult kScreenResults[] = {
    {"gross_area_m2", "m2", 2},
    {"effective_area_m2", "m2", 2},
    {"slot_velocity_m_s", "m_s", 2},
    {"slot_velocity_clean_m_s", "m_s", 2},
};

constexpr ReckonInput kMeshInputs[] = {
    number_input("mesh_um", {20, 10000, "um", 0}),
    number_input("wire_um", {10, 5000, "um", 0}),
};
constexpr ReckonResult kMeshResults[] = {{"open_share", "share", 3}};

constexpr ReckonInput kPondInputs[] = {
    number_input("bottom_length_m", {1, 5000, "m", 1}), number_input("bottom_width_m", {1, 5000, "m", 1}),
    number_input("depth_m", {0.2, 10, "m", 2}),         number_input("bank_slope", {0, 10, "", 1}),
    optional_number("share", {0, 1, "share", 2}),
};
constexpr ReckonResult kPondResults[] = {
    {"area_m2", "m2", 0},
    {"volume_m3", "m3", 0},
    {"mean_depth_m", "m", 2},
    {"level_for_share_m", "m", 3},
};

constexpr Reckoning kRows[] = {
    {"pond", ReckonGroup::filling, kPondInputs, kPondResults,
     "prismoidal formula, exact for straight banks; the share is of the volume, not of the depth",
     "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 share=0.25", reckon_pond},
    {"fill-time", ReckonGroup::filling, kFillTimeInputs, kFillTimeResults,
     "balance of water; the surface is taken as steady, so the answer is late, never early",
     "volume_m3=5000 inflow_l_s=100 area_m2=5000 loss_mm_d=10", reckon_fill_time},
    {"gate-flow", ReckonGroup::filling, kGateInputs, kOpeningResults,
     "Q = Cd A sqrt(2 g h) and broad-crest flow, hydraulics handbooks (from memory); heads above the sill",
     "width_m=1 opening_m=0.3 head_up_m=0.9 head_down_m=0.4", reckon_gate},
    {"pipe-flow", ReckonGroup::filling, kPipeInputs, kOpeningResults,
     "Q = Cd A sqrt(2 g h), hydraulics handbooks (from memory); heads above the invert; a short pipe",
     "diameter_m=0.4 head_up_m=0.9 head_down_m=0.2", reckon_pipe},
    {"weir-flow", ReckonGroup::filling, kWeirInputs, kWeirResults,
     "ISO 1438, Kindsvater & Carter, Francis, Villemonte (from memory); open flume: Kövári, FAO "
     "ADCP/REP/84/21, "
     "ch. 8; heads above the crest",
     "shape=v_notch_90 head_up_m=0.2", reckon_weir},
    {"screen-area", ReckonGroup::filling, kScreenInputs, kScreenResults,
     "A = Q/v, as in the California DFG screening criteria 2000; for pond inlets no velocity is published",
     "flow_l_s=100", reckon_screen_area},
    {"screen-mesh", ReckonGroup::filling, kMeshInputs, kMeshResults, "square weave: (w / (w + d))^2",
     "mesh_um=200 wire_um=125", reckon_mesh},
};

}  // namespace

std::span<const Reckoning> filling_reckonings() { return kRows; }

}  // namespace tawny
