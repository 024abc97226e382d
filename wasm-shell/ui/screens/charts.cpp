// The charts of a pond: oxygen and pH, Secchi with the doses, level against the plan, all over one stretch of
// time; or the same as a table.
#include <algorithm>
#include <utility>

#include "ui/screens/chart_plots.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kWeekDays = 7, kMonthDays = 30;
constexpr double kStep = 0.5, kZoomStep = 2;
constexpr std::size_t kRowsAtFirst = 14, kRowsMore = 30;

class ChartsScreen : public Screen {
 public:
  explicit ChartsScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words(Message("charts.of").with("pond", Text{pond_name(app, pond_)})));
    const FarmPond* pond = app.farm().pond(pond_);
    if (pond == nullptr) {
      ui.begin_content("charts");
      ui.notice("charts/gone", Tone::warn, words("pond.unknown"));
      ui.end_content();
      return;
    }
    renew(app, *pond);
    if (series_.empty()) {
      draw_empty(app, ui, *pond);
      return;
    }
    ui.begin_content("charts", Sizes::kTarget + 2 * Sizes::kGrid, true);
    draw_spans(ui);
    if (as_table_) {
      draw_table(ui);
    } else {
      draw_charts(ui);
    }
    ui.gap(16);
    ui.end_content();
    draw_footer(ui);
  }

 private:
  // Read anew only when the farm was folded anew: a cycle may hold thousands of readings.
  void renew(const App& app, const FarmPond& pond) {
    const std::pair<Instant, std::size_t> stand(app.farm().at, app.logbook().size());
    if (stand_ == stand) return;
    const bool first = !stand_;
    stand_ = stand;
    offset_ = app.farm().place.offset;
    series_ = series_of(pond, app.protocol(), app.farm().place, app.now());
    const CivilDay today = civil_day(app.now(), offset_);
    // A week can be shown of a younger cycle, too.
    const CivilDay begun = std::min(civil_day(series_.from, offset_), today.plus(1 - kWeekDays));
    view_.set_limits(instant_at(begun, 0, offset_), instant_at(today.plus(1), 0, offset_));
    if (first) show(span_);
  }

  void show(const std::string& span) {
    span_ = span;
    if (span == "week") view_.show_last(kWeekDays);
    if (span == "month") view_.show_last(kMonthDays);
    if (span == "cycle") view_.show_all();
  }

  ChartTime time() const { return {view_.from(), view_.until(), offset_}; }
  // What is told of the last week stays as it is while a finger moves the charts under it.
  ChartTime last_week() const {
    const CivilDay today = civil_day(series_.until, offset_);
    return {instant_at(today.plus(1 - kWeekDays), 0, offset_), instant_at(today.plus(1), 0, offset_), offset_};
  }

  static void draw_empty(App& app, Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    ui.begin_content("charts");
    ui.notice("charts/empty", Tone::quiet, words(pond.state.in_cycle ? "charts.empty" : "charts.no_cycle"));
    ui.gap(16);
    const Act first = pond.state.in_cycle ? Act::water_reading : Act::start_cycle;
    if (ui.button("charts/enter", act_word(words, first), ButtonKind::primary, app.can_write(),
                  act_icon(first))) {
      app.open(make_entry_screen(first, pond.history.pond.id));
    }
    ui.end_content();
  }

  void draw_spans(Ui& ui) {
    const Words& words = ui.words();
    const std::vector<Option> spans = {{"week", words("charts.week"), {}, {}},
                                       {"month", words("charts.month"), {}, {}},
                                       {"cycle", words("charts.cycle"), {}, {}}};
    if (const auto span = ui.choice("charts/span", {}, spans, span_)) show(*span);
    ui.text("charts/shown",
            words(Message("charts.shown").with("from", time().first()).with("until", time().last())),
            TextSize::body, Tone::quiet);
    ui.gap();
    if (ui.button("charts/table", words(as_table_ ? "charts.as_charts" : "charts.as_table"),
                  ButtonKind::secondary, true, as_table_ ? "chart" : "logbook")) {
      as_table_ = !as_table_;
      rows_ = kRowsAtFirst;
    }
  }

  void draw_charts(Ui& ui) {
    const bool beside = ui.columns() > 1;
    ui.gap(16);
    ui.begin_cells(beside ? 2 : 1, 24);
    for (const ChartOf chart : kCharts) {
      draw_chart(ui, chart);
      if (beside && chart == ChartOf::temperature) ui.next_cell();
    }
    ui.end_cells();
  }

  void draw_chart(Ui& ui, ChartOf chart) {
    const Words& words = ui.words();
    const std::string id = "charts/" + std::string(name_of(chart));
    const ChartTime shown = time();
    ui.heading(id + "/title", words("charts." + std::string(name_of(chart))));
    const std::string trend = trend_of(chart, series_, last_week(), words);
    if (!trend.empty()) ui.text(id + "/trend", trend, TextSize::body, Tone::quiet);
    Plot plot = plot_of(chart, series_, shown, ui.theme(), words);
    if (picked_) plot.picked = static_cast<double>(shown.noon(*picked_).unix_s);
    const Rect where = ui.picture(id, summary_of(chart, series_, shown, words), plot_height(ui));
    const Rect area = draw_plot(ui, where, plot);
    follow_finger(ui, chart, id + "/touch", where, area);
    const std::vector<PlotKey> keys = keys_of(chart, series_, ui.theme(), words);
    if (!keys.empty()) draw_plot_keys(ui, id + "/keys", keys);
    draw_picked(ui, chart, id);
  }

  void follow_finger(Ui& ui, ChartOf chart, const std::string& id, Rect where, Rect area) {
    const PlotTouch touched = ui.plot_touch(id, where);
    const float width = std::max(1.0f, area.w);
    const auto share_at = [&](float px) { return static_cast<double>((where.x + px - area.x) / width); };
    if (touched.pan_px != 0) {
      view_.move(-static_cast<double>(touched.pan_px / width));
      span_.clear();
      ui.want_frames(1);
    }
    if (touched.zoom > 0 && touched.zoom != 1) {
      view_.widen(1 / static_cast<double>(touched.zoom), share_at(touched.centre_px));
      span_.clear();
      ui.want_frames(1);
    }
    if (touched.tapped_px) {
      pick(chart, view_.at(share_at(*touched.tapped_px)));
      ui.want_frames(1);
    }
  }

  // The nearest day of this chart; the same day again lets it go.
  void pick(ChartOf chart, Instant at) {
    std::optional<CivilDay> nearest;
    std::int64_t least_s = 0;
    for (const CivilDay day : days_of(chart, series_, time())) {
      const std::int64_t away_s = std::abs(time().noon(day).unix_s - at.unix_s);
      if (nearest && away_s >= least_s) continue;
      nearest = day;
      least_s = away_s;
    }
    picked_ = nearest == picked_ ? std::nullopt : nearest;
  }

  void draw_picked(Ui& ui, ChartOf chart, const std::string& id) const {
    if (!picked_) return;
    const Words& words = ui.words();
    ui.gap();
    ui.text(id + "/picked", capitalised(words.day(*picked_)), TextSize::body, Tone::ink, true);
    const std::vector<std::string> lines = day_in_full(chart, series_, time(), *picked_, words);
    if (lines.empty())
      ui.text(id + "/picked/none", words("charts.nothing_that_day"), TextSize::body, Tone::quiet);
    for (std::size_t i = 0; i < lines.size(); ++i) ui.text(id + "/picked/" + std::to_string(i + 1), lines[i]);
  }

  // Newest first.
  void draw_table(Ui& ui) {
    const Words& words = ui.words();
    const ChartTime shown = time();
    std::vector<CivilDay> days;
    for (const ChartOf chart : kCharts) {
      const std::vector<CivilDay> more = days_of(chart, series_, shown);
      days.insert(days.end(), more.begin(), more.end());
    }
    for (const StageBegun& begun : series_.stages) {
      if (shown.holds(begun.at)) days.push_back(civil_day(begun.at, offset_));
    }
    std::sort(days.begin(), days.end());
    days.erase(std::unique(days.begin(), days.end()), days.end());
    std::reverse(days.begin(), days.end());
    ui.heading("charts/rows", words("charts.table"));
    if (days.empty()) ui.text("charts/rows/none", words("charts.nothing"));
    const std::size_t count = std::min(days.size(), rows_);
    for (std::size_t i = 0; i < count; ++i) draw_row(ui, days[i]);
    ui.gap();
    if (count < days.size() && ui.button("charts/rows/more", words("charts.more"), ButtonKind::quiet)) {
      rows_ += kRowsMore;
    }
  }

  void draw_row(Ui& ui, CivilDay day) const {
    const Words& words = ui.words();
    const std::string id = "charts/row/" + to_iso(day);
    ui.gap();
    ui.begin_card(id);
    ui.heading(id + "/day", capitalised(words.day(day)), 3);
    for (const StageBegun& begun : series_.stages) {
      if (civil_day(begun.at, offset_) != day) continue;
      ui.text(id + "/stage/" + std::string(name_of(begun.stage)),
              words(Message("charts.row.stage").with("stage", Text{stage_word(words, begun.stage)})));
    }
    for (const ChartOf chart : kCharts) {
      int number = 0;
      for (const std::string& line : day_in_short(chart, series_, time(), day, words)) {
        ui.text(id + "/" + std::string(name_of(chart)) + "/" + std::to_string(++number), line);
      }
    }
    ui.end_card();
  }

  // What fingers do in the charts, for keyboard and screen reader.
  void draw_footer(Ui& ui) {
    const Words& words = ui.words();
    ui.begin_footer();
    ui.begin_cells(4, 8, Ui::CellsHold::pictures);
    if (ui.icon_button("charts/earlier", "earlier", words("charts.earlier")))
      change(ui, [&] { view_.move(-kStep); });
    ui.next_cell();
    if (ui.icon_button("charts/later", "next", words("charts.later"))) change(ui, [&] { view_.move(kStep); });
    ui.next_cell();
    if (ui.icon_button("charts/closer", "plus", words("charts.closer"))) {
      change(ui, [&] { view_.widen(1 / kZoomStep); });
    }
    ui.next_cell();
    if (ui.icon_button("charts/wider", "minus", words("charts.wider"))) {
      change(ui, [&] { view_.widen(kZoomStep); });
    }
    ui.end_cells();
    ui.end_footer();
  }

  template <typename Change>
  void change(Ui& ui, Change how) {
    how();
    span_.clear();
    ui.want_frames(1);
  }

  std::string pond_;
  std::optional<std::pair<Instant, std::size_t>> stand_;  // of farm and logbook when the series was read
  PondSeries series_;
  UtcOffset offset_;
  ChartView view_;
  std::string span_ = "month";  // empty: moved by hand
  bool as_table_ = false;
  std::size_t rows_ = kRowsAtFirst;
  std::optional<CivilDay> picked_;
};

}  // namespace

std::unique_ptr<Screen> make_charts_screen(const std::string& pond) {
  return std::make_unique<ChartsScreen>(pond);
}

}  // namespace tawny::ui
