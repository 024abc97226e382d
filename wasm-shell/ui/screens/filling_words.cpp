#include "ui/screens/filling_words.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "ui/drawings/plot.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr int kMostRows = 8;
constexpr int kMostLevels = 6, kMostClocks = 5;

// Straight between two points of the series, which stand some minutes apart.
FillingPoint point_at(const FillingPlan& plan, Instant at) {
  const auto after = std::lower_bound(plan.series.begin(), plan.series.end(), at,
                                      [](const FillingPoint& point, Instant when) { return point.at < when; });
  if (after == plan.series.end()) return plan.series.back();
  if (after == plan.series.begin() || after->at == at) return *after;
  const FillingPoint& before = *std::prev(after);
  const double along = hours_between(before.at, at) / hours_between(before.at, after->at);
  FillingPoint point = before;
  point.at = at;
  point.level_cm += along * (after->level_cm - before.level_cm);
  if (before.outside_level_cm && after->outside_level_cm) {
    *point.outside_level_cm += along * (*after->outside_level_cm - *before.outside_level_cm);
  }
  return point;
}

Quantity in_whole_cm(double level_cm) { return {level_cm, 0, "cm"}; }

class AnswerPainter {
 public:
  AnswerPainter(Ui& ui, UtcOffset offset, const FillingBasis& basis, const FillingAnswer& answer)
      : ui_(ui), words_(ui.words()), offset_(offset), basis_(basis), answer_(answer) {}

  void draw() {
    if (!answer_.plan) {
      ui_.status("filling/answer", Status::stopped, words_("filling.no_plan"));
      if (answer_.problem) ui_.text("filling/answer/why", words_(answer_.problem->message));
      return;
    }
    const FillingPlan& plan = *answer_.plan;
    if (plan.reached) {
      ui_.number("filling/hours", words_("filling.hours"), words_.number(plan.hours, 1), words_.unit("h"));
      ui_.fact("filling/start", words_("filling.start"), words_.time(answer_.start));
      ui_.fact("filling/end", words_(Message("filling.end").with("level", in_whole_cm(plan.end_level_cm))),
               words_.time(plan.ended_at));
    } else {
      ui_.status("filling/answer", Status::stopped,
                 words_(plan.uncovered_from ? "filling.not_known" : "filling.not_reached"));
      ui_.text("filling/answer/why", words_(never()));
    }
    draw_course(plan);
    draw_series(plan);
    draw_flows(plan);
    draw_screens();
  }

 private:
  Message never() const {
    if (answer_.plan->uncovered_from) {
      return Message("filling.never_by_tide")
          .with("to", in_whole_cm(basis_.to_cm))
          .with("at", *answer_.plan->uncovered_from)
          .with("highest", in_whole_cm(answer_.plan->highest_level_cm));
    }
    return Message("filling.never")
        .with("to", in_whole_cm(basis_.to_cm))
        .with("start", answer_.start)
        .with("highest", in_whole_cm(answer_.plan->highest_level_cm));
  }

  // Where nothing more happens there is nothing to see: of a plan that gives up, the way to its highest level.
  Instant shown_until(const FillingPlan& plan) const {
    if (plan.reached) return plan.ended_at;
    const auto highest = std::find_if(plan.series.begin(), plan.series.end(), [&](const FillingPoint& point) {
      return point.level_cm >= plan.highest_level_cm - 0.5;
    });
    const Instant at = highest == plan.series.end() ? plan.ended_at : highest->at;
    const double hours = std::max(24.0, 1.25 * hours_between(answer_.start, at));
    return std::min(plan.ended_at, answer_.start.plus_h(hours));
  }

  void draw_course(const FillingPlan& plan) {
    const Theme& theme = ui_.theme();
    const Instant until = shown_until(plan);
    Plot plot;
    PlotLine level{{}, theme.open, PlotStroke::strong, {}};
    double low = std::min({basis_.from_cm, basis_.target.low_cm, basis_.to_cm});
    double high = std::max({basis_.from_cm, basis_.target.high_cm, basis_.to_cm});
    for (const FillingPoint& point : plan.series) {
      if (point.at > until) break;
      const auto at = static_cast<double>(point.at.unix_s);
      level.points.emplace_back(at, point.level_cm);
      low = std::min(low, point.level_cm);
      high = std::max(high, point.level_cm);
      if (!point.outside_level_cm) continue;
      // The tide's table may leave off and begin again only once: it is one line.
      if (plot.lines.empty()) {
        plot.lines.push_back({{}, theme.quiet_ink, PlotStroke::thin, words_("filling.plot.tide")});
      }
      plot.lines.back().points.emplace_back(at, *point.outside_level_cm);
      low = std::min(low, *point.outside_level_cm);
      high = std::max(high, *point.outside_level_cm);
    }
    plot.across = clock_axis(answer_.start, until, kMostClocks, words_, offset_);
    plot.up = round_axis(low, high, kMostLevels, words_, "cm");
    plot.bands.push_back(
        {basis_.target.low_cm, basis_.target.high_cm, theme.band, words_("filling.plot.target"), {}, {}});
    plot.lines.push_back({{{plot.across.low, basis_.from_cm}, {plot.across.high, basis_.from_cm}},
                          theme.quiet_ink,
                          PlotStroke::dashed,
                          words_("filling.plot.now")});
    plot.lines.push_back(std::move(level));
    plot.marks.push_back({plot.across.low, basis_.from_cm, theme.ink, PlotShape::ring, {}});
    if (plan.reached) {
      plot.marks.push_back({static_cast<double>(plan.ended_at.unix_s), plan.end_level_cm, theme.act,
                            PlotShape::dot, words_.quantity(in_whole_cm(plan.end_level_cm))});
    }
    const Message name = plan.reached ? Message("filling.plot")
                                            .with("from", in_whole_cm(basis_.from_cm))
                                            .with("start", answer_.start)
                                            .with("to", in_whole_cm(plan.end_level_cm))
                                            .with("end", plan.ended_at)
                                            .with("hours", Quantity{plan.hours, 1, "h"})
                                      : never();
    draw_plot(ui_, ui_.picture("filling/plot", words_(name), plot_height(ui_)), plot);
  }

  // The same by the clock, a row every so many minutes or hours.
  void draw_series(const FillingPlan& plan) {
    const Instant until = shown_until(plan);
    const double minutes = 60 * hours_between(answer_.start, until);
    std::int64_t step_min = 15;
    for (const std::int64_t step : {15, 30, 60, 120, 180, 240, 360, 720, 1440, 2880, 4320, 5760}) {
      step_min = step;
      if (minutes / static_cast<double>(step) < kMostRows) break;
    }
    ui_.heading("filling/series", words_("filling.series"), 3);
    const std::int64_t step_s = step_min * 60;
    const std::int64_t midnight = instant_at(civil_day(answer_.start, offset_), 0, offset_).unix_s;
    std::int64_t at = midnight + ((answer_.start.unix_s - midnight) / step_s + 1) * step_s;
    int row = 0;
    const auto tell = [&](const FillingPoint& point) {
      const std::string level = words_.quantity(in_whole_cm(point.level_cm));
      const std::string said = point.outside_level_cm
                                   ? words_(Message("filling.series.with_tide")
                                                .with("level", Text{level})
                                                .with("tide", in_whole_cm(*point.outside_level_cm)))
                                   : level;
      ui_.fact("filling/series/" + std::to_string(row++), capitalised(words_.time(point.at)), said);
    };
    tell(plan.series.front());
    for (; at < until.unix_s; at += step_s) tell(point_at(plan, Instant{at}));
    tell(point_at(plan, until));
  }

  void draw_flows(const FillingPlan& plan) {
    ui_.gap();
    ui_.heading("filling/flows", words_("filling.flows"), 3);
    ui_.fact("filling/inflow", words_("filling.inflow"), words_.quantity({plan.inflow_m3, 0, "m3"}));
    if (plan.ran_out_m3 >= 0.5) {
      ui_.fact("filling/ran_out", words_("filling.ran_out"), words_.quantity({plan.ran_out_m3, 0, "m3"}));
    }
    ui_.fact("filling/lost", words_("filling.lost"), words_.quantity({plan.lost_m3, 0, "m3"}));
    if (plan.rain_m3 > 0) {
      ui_.fact("filling/rain", words_("filling.rain"), words_.quantity({plan.rain_m3, 0, "m3"}));
    }
    ui_.fact("filling/largest", words_("filling.largest"),
             words_.quantity({plan.largest_inflow_l_s, 0, "l_s"}));
  }

  // The cloth that each inlet's largest flow asks for, and when it is next looked at.
  void draw_screens() {
    ui_.gap();
    ui_.heading("filling/screens", words_("filling.screens"), 3);
    for (const InletNeed& need : answer_.needs) {
      const std::string cloth = need.cloth_m2
                                    ? words_(Message("filling.cloth")
                                                 .with("area", Quantity{*need.cloth_m2, 1, "m2"})
                                                 .with("flow", Quantity{need.largest_flow_l_s, 0, "l_s"}))
                                    : words_("filling.no_flow");
      ui_.fact("filling/cloth/" + need.inlet, need.inlet, cloth);
    }
    for (const ScreenDue& due : basis_.screens) {
      const Message when = due.due    ? Message("filling.screen_due").with("at", *due.due)
                           : due.last ? Message("filling.screen_torn")
                                      : Message("filling.screen_unseen");
      const bool late = !due.due || *due.due <= answer_.start;
      ui_.status("filling/screen/" + due.inlet, late ? Status::due : Status::waiting, due.inlet, words_(when));
    }
  }

  Ui& ui_;
  const Words& words_;
  UtcOffset offset_;
  const FillingBasis& basis_;
  const FillingAnswer& answer_;
};

}  // namespace

std::string inlet_sizes(const Words& words, const Inlet& inlet) {
  if (const auto* pump = std::get_if<PumpInlet>(&inlet.kind)) {
    return words(Message("inlet.pump").with("rate", Quantity{pump->rate_l_s, 0, "l_s"}));
  }
  if (const auto* gate = std::get_if<GateInlet>(&inlet.kind)) {
    return words(Message("inlet.gate")
                     .with("width", Quantity{gate->width_m, 2, "m"})
                     .with("opening", Quantity{gate->opening_m, 2, "m"})
                     .with("sill", in_whole_cm(gate->sill_level_cm)));
  }
  if (const auto* pipe = std::get_if<PipeInlet>(&inlet.kind)) {
    return words(Message("inlet.pipe")
                     .with("diameter", Quantity{pipe->diameter_m, 2, "m"})
                     .with("invert", in_whole_cm(pipe->invert_level_cm)));
  }
  return {};
}

void draw_filling_answer(Ui& ui, UtcOffset offset, const FillingBasis& basis,
                         const std::optional<FillingAnswer>& answer) {
  if (!answer) {
    ui.status("filling/answer", Status::unknown, ui.words()("filling.no_plan"), ui.words()("filling.choose"));
    return;
  }
  AnswerPainter(ui, offset, basis, *answer).draw();
}

}  // namespace tawny::ui
