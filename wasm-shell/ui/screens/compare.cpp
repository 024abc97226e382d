// Side by side: up to four cycles of any ponds over the days of the cycle, with their gates and doses in
// figures.
#include <algorithm>
#include <cmath>
#include <utility>

#include "office/side_by_side.h"
#include "ui/drawings/plot_stack.h"
#include "ui/screens/chart_view.h"
#include "ui/screens/compare_pick.h"
#include "ui/screens/compare_plots.h"
#include "ui/screens/parts.h"
#include "ui/screens/pond_cycles.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr double kDayS = 24 * 3600, kStep = 0.5, kZoomStep = 2;
constexpr float kRoomBeside = 1100, kFiguresWidth = 384, kBesidesCharts = 230;
constexpr CountFrom kCountFrom[] = {CountFrom::start, CountFrom::first_fill, CountFrom::first_dose};

class CompareScreen : public Screen {
 public:
  explicit CompareScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("compare.title"));
    renew(app, ui);
    const bool beside = ui.wide() && screen_shape().width >= kRoomBeside * ui.text_scale();
    ui.begin_whole_content("compare", Sizes::kTarget + 2 * Sizes::kGrid);
    if (beside) {
      ui.begin_split(kFiguresWidth * ui.text_scale(), 24);
      draw_choice(app, ui);
      draw_figures(ui);
      ui.next_cell();
      draw_charts(ui);
      ui.end_cells();
    } else {
      draw_choice(app, ui);
      draw_charts(ui);
      draw_figures(ui);
    }
    ui.gap(16);
    ui.end_content();
    draw_footer(ui);
  }

 private:
  // The pond's own last cycles, the running one first, until the person chooses.
  void renew(const App& app, const Ui& ui) {
    const std::pair<Instant, std::size_t> stand(app.farm().at, app.logbook().size());
    if (stand_ == stand && loaded_ == std::pair(*chosen_, from_)) return;
    if (!stand_) {
      for (const CycleName& name : cycle_names(app.logbook(), app.farm(), app.now())) {
        if (name.pond == pond_ && chosen_->size() < 2) chosen_->push_back({name.pond, name.start});
      }
    }
    stand_ = stand;
    loaded_ = {*chosen_, from_};
    offset_ = app.farm().place.offset;
    sides_.clear();
    for (const CycleChosen& chosen : *chosen_) add_side(app, ui, chosen);
    const auto [first, last] = days_of_sides(sides_, offset_);
    view_.set_limits(instant_of(first), instant_of(last));
    view_.show_all();
    day_ = last_shared_day();
  }

  void add_side(const App& app, const Ui& ui, const CycleChosen& chosen) {
    for (const Cycle& cycle : cycles_of(app.logbook(), app.farm(), chosen.pond, app.protocol(), app.now())) {
      if (cycle.start != chosen.start) continue;
      Side side;
      side.pond = chosen.pond;
      side.start = chosen.start;
      side.name = pond_name(app, chosen.pond) + ", " +
                  cycle_word(ui.words(), cycle.label, cycle.start, cycle.end, offset_);
      side.series = series_of(cycle.pond, app.protocol(), app.farm().place, cycle.until(app.now()));
      side.day_zero = day_zero_of(cycle, from_, offset_, app.now());
      side.figures =
          figures_of(cycle, side.day_zero.value_or(civil_day(cycle.start, offset_)), offset_, app.now());
      sides_.push_back(std::move(side));
      return;
    }
  }

  // The last one that each of the cycles has.
  int last_shared_day() const {
    std::optional<int> day;
    for (const Side& side : sides_) {
      if (!side.day_zero) continue;
      const int last = civil_day(side.series.until, offset_).days - side.day_zero->days;
      day = day ? std::min(*day, last) : last;
    }
    return day.value_or(0);
  }

  // The view moves over instants; here a day is a day of the cycle.
  static Instant instant_of(double day) { return Instant{static_cast<std::int64_t>(day * kDayS)}; }
  static double day_of(Instant at) { return static_cast<double>(at.unix_s) / kDayS; }

  void draw_choice(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("compare/cycles", words("compare.cycles"));
    for (std::size_t at = 0; at < sides_.size(); ++at) draw_side(ui, at);
    ui.gap();
    if (sides_.size() >= kMostSides) {
      ui.text("compare/full", words("compare.full"), TextSize::body, Tone::quiet);
    } else if (ui.button("compare/add", words("compare.add"), ButtonKind::secondary, true, "plus")) {
      app.open(make_compare_pick_screen(pond_, chosen_));
    }
    ui.gap();
    std::vector<Option> options;
    for (const CountFrom from : kCountFrom) {
      const std::string name(name_of(from));
      options.push_back({name, words("compare.from." + name), {}, {}});
    }
    if (const auto pressed = ui.choice("compare/from", words("compare.from"), options, name_of(from_))) {
      for (const CountFrom from : kCountFrom) {
        if (name_of(from) == *pressed) from_ = from;
      }
      ui.want_frames(2);
    }
    for (std::size_t at = 0; at < sides_.size(); ++at) {
      if (sides_[at].day_zero) continue;
      ui.gap();
      ui.notice(
          "compare/not_drawn/" + side_letter(at), Tone::quiet,
          words(Message("compare.no_" + std::string(name_of(from_))).with("name", Text{side_letter(at)})));
    }
  }

  void draw_side(Ui& ui, std::size_t at) {
    const Side& side = sides_[at];
    const std::string id = "compare/side/" + side_letter(at);
    ui.gap();
    ui.begin_split(ui.width() - Sizes::kTarget - 8, 8);
    draw_plot_keys(ui, id, {key_of_side(at, side, ui.theme())});
    ui.next_cell();
    if (ui.icon_button(
            id + "/take_out", "close",
            ui.words()(Message("compare.take_out").with("name", Text{side_letter(at) + ", " + side.name})))) {
      chosen_->erase(chosen_->begin() + static_cast<std::ptrdiff_t>(at));
      ui.want_frames(2);
    }
    ui.end_cells();
  }

  void draw_charts(Ui& ui) {
    const Words& words = ui.words();
    if (sides_.empty()) {
      ui.gap();
      ui.notice("compare/none", Tone::quiet, words("compare.none"));
      return;
    }
    const double first = day_of(view_.from()), last = day_of(view_.until());
    const PlotAxis across = days_axis(first, last, words);
    const std::string gates = said_of_gates(sides_, words);
    PlotStack stack;
    for (const Compared what : kCompared) {
      StackRow row;
      row.id = "compare/charts/" + std::string(name_of(what));
      row.title = words("compare." + std::string(name_of(what)));
      row.plot = plot_of_sides(what, sides_, across, offset_, ui.theme(), words);
      if (!row.plot.up.unit.empty()) row.title += ", " + row.plot.up.unit;
      row.plot.up.unit.clear();
      row.name = said_of_sides(what, sides_, offset_, words);
      // Drawn in every chart, told once.
      if (what == kCompared[0] && !gates.empty()) row.name += " " + gates;
      row.share = what == Compared::secchi || what == Compared::dawn_oxygen ? 1.3f : 1;
      row.value = values_on(what, sides_, day_, offset_, words);
      stack.rows.push_back(std::move(row));
    }
    stack.picked = day_;
    // Lines that lie over each other need height and small marks to be told apart.
    stack.least_area = 72;
    stack.mark_radius = 4;
    stack.picked_word = words(Message("compare.of_day").with("day", bare(day_)));
    ui.gap();
    const float height = std::max(least_stack_height(ui, stack), screen_shape().height - kBesidesCharts);
    follow(ui, draw_plot_stack(ui, "compare/charts", stack, height));
    ui.text("compare/axis", words("compare.axis." + std::string(name_of(from_))), TextSize::body, Tone::quiet);
    if (!gates.empty()) ui.text("compare/gates", words("compare.gates"), TextSize::body, Tone::quiet);
  }

  void follow(Ui& ui, const StackTouch& touched) {
    if (touched.pan_share != 0) view_.move(-touched.pan_share);
    if (touched.zoom != 1) view_.widen(1 / touched.zoom, touched.centre_share);
    if (touched.pan_share != 0 || touched.zoom != 1) ui.want_frames(1);
    if (!touched.picked_share || *touched.picked_share < 0 || *touched.picked_share > 1) return;
    const double first = day_of(view_.from()), last = day_of(view_.until());
    const int day = static_cast<int>(std::lround(first + *touched.picked_share * (last - first)));
    if (day != day_) ui.want_frames(1);
    day_ = day;
  }

  // A line of the table: what it is called, and the value of each cycle behind its letter.
  template <typename Value>
  void draw_line(Ui& ui, const std::string& id, const std::string& label, Value value) const {
    std::string text;
    for (std::size_t at = 0; at < sides_.size(); ++at) {
      text += (text.empty() ? "" : " \u00b7 ") + side_letter(at) + "\u00a0" + value(sides_[at]);
    }
    ui.fact("compare/figures/" + id, label, text);
  }

  void draw_figures(Ui& ui) const {
    if (sides_.empty()) return;
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("compare/figures", words("compare.figures"));
    for (int number = static_cast<int>(Stage::bottom); number <= static_cast<int>(Stage::early_cycle);
         ++number) {
      const Stage stage = static_cast<Stage>(number);
      const auto opened = [&](const Side& side) {
        for (const GateDay& gate : side.figures.gates) {
          if (gate.stage != stage) continue;
          return words(
              Message(gate.by_hand ? "compare.gate_by_hand" : "compare.gate_day").with("day", bare(gate.day)));
        }
        return words("compare.not_opened");
      };
      const auto has = [&](const Side& side) {
        return std::any_of(side.figures.gates.begin(), side.figures.gates.end(),
                           [&](const GateDay& gate) { return gate.stage == stage; });
      };
      if (std::none_of(sides_.begin(), sides_.end(), has)) continue;
      draw_line(ui, std::string(name_of(stage)), stage_word(words, stage), opened);
    }
    draw_line(ui, "doses", words("compare.dose_total"), [&](const Side& side) {
      const CycleFigures& figures = side.figures;
      if (figures.doses == 0) return words("compare.dose_none");
      return words(Message("compare.dose_sum")
                       .with("count", bare(figures.doses))
                       .with("kg", Quantity{figures.dose_kg, 1, "kg"})
                       .with("rate", Quantity{figures.dose_kg_ha.value_or(0), 0, "kg_ha"}));
    });
    draw_line(ui, "broadcast", words("kind.soil_broadcast"), [&](const Side& side) {
      return words.quantity(Quantity{side.figures.broadcast_kg, 0, "kg"});
    });
    draw_line(ui, "length", words("compare.length"), [&](const Side& side) {
      return words.quantity(Quantity{static_cast<double>(side.figures.days), 0, "days"});
    });
  }

  // What fingers do in the charts, for keyboard and screen reader.
  void draw_footer(Ui& ui) {
    const Words& words = ui.words();
    ui.begin_footer();
    ui.begin_cells(4, 8, Ui::CellsHold::pictures);
    const auto key = [&](std::string_view id, std::string_view icon, std::string_view word, auto act) {
      if (!ui.icon_button(id, icon, words(word))) return;
      act();
      ui.want_frames(1);
    };
    key("compare/day_before", "earlier", "charts.day_before", [&] { step_day(-1); });
    ui.next_cell();
    key("compare/day_after", "next", "charts.day_after", [&] { step_day(1); });
    ui.next_cell();
    key("compare/closer", "plus", "charts.closer", [&] { view_.widen(1 / kZoomStep, share_of_day()); });
    ui.next_cell();
    key("compare/wider", "minus", "charts.wider", [&] { view_.widen(kZoomStep, share_of_day()); });
    ui.end_cells();
    ui.end_footer();
  }

  // Where the day leaves what is shown, what is shown goes along.
  void step_day(int days) {
    const auto [first, last] = days_of_sides(sides_, offset_);
    const int next = day_ + days;
    if (next < first || next > last) return;
    day_ = next;
    if (next < day_of(view_.from())) view_.move(-kStep);
    if (next > day_of(view_.until())) view_.move(kStep);
  }

  double share_of_day() const {
    const double first = day_of(view_.from()), last = day_of(view_.until());
    return std::clamp((day_ - first) / (last - first), 0.0, 1.0);
  }

  std::string pond_;
  std::shared_ptr<std::vector<CycleChosen>> chosen_ = std::make_shared<std::vector<CycleChosen>>();
  std::optional<std::pair<Instant, std::size_t>> stand_;  // of farm and logbook when the cycles were read
  std::pair<std::vector<CycleChosen>, CountFrom> loaded_{{}, CountFrom::start};
  std::vector<Side> sides_;
  CountFrom from_ = CountFrom::start;
  UtcOffset offset_;
  ChartView view_;
  int day_ = 0;
};

}  // namespace

std::unique_ptr<Screen> make_compare_screen(const std::string& pond) {
  return std::make_unique<CompareScreen>(pond);
}

}  // namespace tawny::ui
