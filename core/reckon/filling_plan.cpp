// By hand: the filling of a basin over time, by a pump, a gate against the tide, or both.
#include "pond/filling.h"

#include <algorithm>
#include <iterator>

#include "base/decimal.h"
#include "reckon/given.h"
#include "science/screens.h"

namespace tawny {
namespace {

using Kind = ReckonInput::Kind;

// Clock times are taken as they are typed; whose clock it is does not matter to a filling.
Result<Instant> clock_time(std::string_view key, const std::string& text) {
  const Result<Instant> instant = parse_instant(text + ":00Z");
  if (instant) return *instant;
  return refuse(ProblemKind::malformed, key, Message("problem.not_a_clock_time").with("text", Text{text}));
}

std::string to_clock_time(Instant instant) { return to_iso(instant).substr(0, 16); }

// "2026-11-25T05:10/1.6,2026-11-25T11:20/0.3": a level in metres above the bottom at each high and low water.
Result<TideTable> tide_of(const std::string& text) {
  std::vector<TidePoint> points;
  std::size_t at = 0;
  while (at <= text.size()) {
    const std::size_t end = std::min(text.find(',', at), text.size());
    const std::string item = text.substr(at, end - at);
    const std::size_t slash = item.find('/');
    if (slash == std::string::npos) {
      return refuse(ProblemKind::malformed, "tide", Message("problem.not_a_tide").with("text", Text{item}));
    }
    TAWNY_RECKON_TAKE(instant, clock_time("tide", item.substr(0, slash)));
    const Result<double> level_m = parse_decimal(item.substr(slash + 1));
    if (!level_m) return refuse(ProblemKind::malformed, "tide", level_m.error().message);
    points.push_back({instant, 100 * *level_m});
    at = end + 1;
  }
  return TideTable::from_points(points);
}

Result<FillingSetup> setup_of(const ReckonGiven& given) {
  FillingSetup setup;
  setup.evaporation_mm_d = given.number("evaporation_mm_d");
  setup.seepage_mm_d = given.number("seepage_mm_d");
  setup.rain_mm_d = given.number("rain_mm_d");
  if (const auto pump_l_s = given.maybe("pump_l_s")) {
    setup.inlets.push_back({"pump", PumpInlet{*pump_l_s}, {}, true});
  }
  const std::string_view gate_keys[] = {"gate_width_m", "gate_opening_m", "gate_sill_m"};
  const auto given_of_gate = std::count_if(std::begin(gate_keys), std::end(gate_keys),
                                           [&](std::string_view key) { return given.has(key); });
  if (given_of_gate > 0) {
    for (const std::string_view key : gate_keys) {
      if (given.has(key)) continue;
      return refuse(ProblemKind::missing, key,
                    Message("problem.input_missing").with("parameter", Word{"parameter." + std::string(key)}));
    }
    const GateInlet gate{given.number("gate_width_m"), given.number("gate_opening_m"),
                         100 * given.number("gate_sill_m"), given.number("discharge_coefficient")};
    setup.inlets.push_back({"gate", gate, {}, given.text("ebb") == "shut_on_ebb"});
  }
  if (const std::string tide = given.text("tide"); !tide.empty()) {
    TAWNY_RECKON_TAKE(table, tide_of(tide));
    setup.tide = table;
  }
  return setup;
}

constexpr std::int64_t kLookBack_s = 30 * 86400;

Result<FillingPlan> plan_of(const ReckonGiven& given, const StageCurve& curve, double from_cm, double to_cm,
                            Instant& start) {
  TAWNY_RECKON_TAKE(setup, setup_of(given));
  if (given.has("start")) {
    TAWNY_RECKON_TAKE(from, clock_time("start", given.text("start")));
    start = from;
    return plan_filling(curve, setup, from_cm, to_cm, start);
  }
  TAWNY_RECKON_TAKE(ready_by, clock_time("ready_by", given.text("ready_by")));
  Instant earliest = ready_by.plus_s(-kLookBack_s);
  if (setup.tide && setup.tide->from() > earliest) earliest = setup.tide->from();
  TAWNY_RECKON_TAKE(found, start_for(curve, setup, from_cm, to_cm, ready_by, earliest));
  start = found.start;
  return found.plan;
}

Result<ReckonAnswer> reckon_filling(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(curve,
                    StageCurve::from_basin(given.number("bottom_length_m"), given.number("bottom_width_m"),
                                           given.number("depth_m"), given.number("bank_slope")));
  double to_cm = 100 * given.number("to_level_m");
  if (const auto share = given.maybe("to_share")) {
    TAWNY_RECKON_TAKE(level_cm, curve.level_cm_for_share(*share));
    to_cm = level_cm;
  }
  Instant start;
  TAWNY_RECKON_TAKE(plan, plan_of(given, curve, 100 * given.number("from_level_m"), to_cm, start));
  ReckonResults results(given);
  results.put("hours", plan.hours)
      .put("reached", plan.reached)
      .put("start_at", to_clock_time(start))
      .put("ended_at", to_clock_time(plan.ended_at))
      .put("end_level_m", plan.end_level_cm / 100)
      .put("inflow_m3", plan.inflow_m3)
      .put("ran_out_m3", plan.ran_out_m3)
      .put("lost_m3", plan.lost_m3)
      .put("rain_m3", plan.rain_m3)
      .put("largest_inflow_l_s", plan.largest_inflow_l_s);
  if (plan.largest_inflow_l_s > 0) {
    TAWNY_RECKON_TAKE(
        screen, screen_area(plan.largest_inflow_l_s, given.protocol().number("screen.approach_velocity_m_s"),
                            given.protocol().number("screen.open_share"),
                            given.protocol().number("screen.clogging_factor")));
    results.put("gross_area_m2", screen.gross_m2);
  }
  ReckonSeries series{{"hours", "level_m", "inflow_l_s"}, {}};
  for (const FillingPoint& point : plan.series) {
    series.rows.push_back({hours_between(start, point.at), point.level_cm / 100, point.inflow_l_s});
  }
  results.put("series", std::move(series));
  if (plan.uncovered_from) {
    results.note(Message("reckon.note.tide_ends").with("at", Text{to_clock_time(*plan.uncovered_from)}));
  }
  if (plan.outside_fit) results.note(Message("reckon.note.outside_fit"));
  return results.done_with_suction();
}

constexpr ReckonInput optional_text(std::string_view key) {
  ReckonInput input = plain_input(key, Kind::text);
  input.required = false;
  return input;
}

constexpr std::string_view kEbb[] = {"shut_on_ebb", "open_on_ebb"};

constexpr ReckonInput kInputs[] = {
    number_input("bottom_length_m", {1, 5000, "m", 1}),
    number_input("bottom_width_m", {1, 5000, "m", 1}),
    number_input("depth_m", {0.2, 10, "m", 2}),
    number_input("bank_slope", {0, 10, "", 1}),
    number_or("from_level_m", {0, 10, "m", 2}, 0),
    either_number("to_share", {0, 1, "share", 2}, "to", true),
    either_number("to_level_m", {0, 10, "m", 2}, "to", true),
    either_input("start", Kind::text, "when"),
    either_input("ready_by", Kind::text, "when"),
    optional_number("pump_l_s", {0.1, 20000, "l_s", 1}),
    optional_number("gate_width_m", {0.05, 50, "m", 2}),
    optional_number("gate_opening_m", {0.01, 10, "m", 2}),
    optional_number("gate_sill_m", {-10, 10, "m", 2}),
    protocol_number("discharge_coefficient", kDischargeCoefficient, "filling.gate_coefficient"),
    choice_input("ebb", kEbb),
    optional_text("tide"),
    protocol_number("evaporation_mm_d", kEvaporation_mm_d, "filling.evaporation_mm_d"),
    protocol_number("seepage_mm_d", {0, 500, "mm_d", 1}, "filling.seepage_mm_d"),
    number_or("rain_mm_d", {0, 1000, "mm_d", 1}, 0),
};
constexpr ReckonResult kResults[] = {
    {"hours", "h", 1},
    {"reached", "", 0, ReckonResult::Kind::flag},
    {"start_at", "", 0, ReckonResult::Kind::text},
    {"ended_at", "", 0, ReckonResult::Kind::text},
    {"end_level_m", "m", 2},
    {"inflow_m3", "m3", 0},
    {"ran_out_m3", "m3", 0},
    {"lost_m3", "m3", 0},
    {"rain_m3", "m3", 0},
    {"largest_inflow_l_s", "l_s", 0},
    {"gross_area_m2", "m2", 2},
    {"series", "", 0, ReckonResult::Kind::series},
};

constexpr Reckoning kRows[] = {
    {"filling", ReckonGroup::filling, kInputs, kResults,
     "balance of water over the basin's curve; gate: hydraulics handbooks (from memory); tide: half a cosine "
     "between "
     "high and low water, common practice",
     "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 to_share=0.25 pump_l_s=60 "
     "ready_by=2026-11-26T06:00",
     reckon_filling},
};

}  // namespace

std::span<const Reckoning> filling_plan_reckonings() { return kRows; }

}  // namespace tawny
