#include "ui/screens/pond_cycles.h"

#include <algorithm>

#include "ui/drawings/plot_stack.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kMonthDays = 30, kWeekDays = 7;
constexpr double kStep = 0.5, kZoomStep = 2;
// What stands over and under the charts on the screen: bars, choices, footer.
constexpr float kBesidesCharts = 330;

// From what is seen most to what is seen least, and how high each is.
constexpr std::pair<ChartOf, float> kRows[] = {
    {ChartOf::secchi, 1.5f},      {ChartOf::oxygen, 1.3f},   {ChartOf::ph, 1.1f}, {ChartOf::level, 1.1f},
    {ChartOf::temperature, 0.9f}, {ChartOf::salinity, 0.8f}, {ChartOf::sky, 0.8f}};

}  // namespace

std::string cycle_word(const Words& words, const std::string& label, Instant start, std::optional<Instant> end,
                       UtcOffset offset) {
  Message message(end ? "cycle.over" : "cycle.running");
  message.with("cycle", Text{label}).with("from", civil_day(start, offset));
  if (end) message.with("until", civil_day(*end, offset));
  return words(message);
}

void draw_gates_opened(Ui& ui, const FarmPond& pond) {
  const Words& words = ui.words();
  if (pond.state.gates.empty()) return;
  ui.gap(16);
  ui.heading("pond/gates", words("pond.gates_opened"));
  for (const GateOpened& gate : pond.state.gates) {
    const std::string id = "pond/gates/" + std::string(name_of(gate.stage));
    ui.fact(id, stage_word(words, gate.stage), words.time(gate.at));
    if (!gate.by_hand) continue;
    std::string unmet;
    for (const Criterion& criterion : gate.unmet_then) {
      if (!unmet.empty()) unmet += ", ";
      unmet += words("criterion." + criterion.id);
    }
    std::string text = words(Message("pond.by_hand").with("reason", Text{gate.reason}));
    if (!unmet.empty()) text += " " + words(Message("pond.unmet_then").with("criteria", Text{unmet}));
    ui.text(id + "/by_hand", text, TextSize::body, Tone::quiet);
  }
}

void EntryList::draw(App& app, Ui& ui, const FarmPond& pond) {
  const Words& words = ui.words();
  const std::vector<const Entry*>& entries = pond.history.entries;
  if (entries.empty()) return;
  ui.gap(16);
  ui.heading("pond/history", words("pond.history"));
  const std::size_t shown = std::min(entries.size(), shown_);
  ui.begin_card("pond/history/card");
  for (std::size_t i = 0; i < shown; ++i) {
    const Entry& entry = *entries[entries.size() - 1 - i];
    const std::string reference = to_reference(entry.id);
    const std::string kind = words("kind." + entry.kind);
    const std::string value = brief_of(words, entry);
    const std::string name = words(Message("pond.history.line")
                                       .with("kind", Text{kind})
                                       .with("value", Text{value})
                                       .with("at", entry.observed));
    const std::string remark = words.time(entry.observed) + (value.empty() ? "" : " \u00b7 " + value);
    Ui::Row row;
    row.title = kind;
    row.name = name;
    row.remark = remark;
    if (ui.row("pond/history/" + reference, row)) app.open(make_logbook_entry_screen(reference));
  }
  ui.end_card();
  if (shown < entries.size() && ui.button("pond/history_more", words("pond.history.more"), ButtonKind::quiet)) {
    shown_ += kMore;
  }
}

void PondCycles::draw(App& app, Ui& ui) {
  renew(app);
  if (cycles_.empty()) {
    ui.notice("pond/cycles/none", Tone::quiet, ui.words()("charts.no_cycle"));
    return;
  }
  draw_choice(app, ui);
  if (series_.empty()) {
    ui.gap();
    ui.notice("pond/cycles/empty", Tone::quiet, ui.words()("charts.empty"));
  } else {
    draw_spans(ui);
    draw_charts(ui);
  }
  const FarmPond& shown = cycles_[chosen_].pond;
  if (cycles_[chosen_].end) {
    ui.gap();
    ui.text("pond/cycle_over", ui.words()("pond.cycle_over"), TextSize::body, Tone::quiet);
  }
  ui.begin_cells(ui.columns(), 24);
  draw_gates_opened(ui, shown);
  if (ui.columns() > 1 || !shown.state.gates.empty()) ui.next_cell();
  entries_.draw(app, ui, shown);
  ui.end_cells();
}

// Read anew only when the farm was folded anew; the cycle that was looked at stays.
void PondCycles::renew(const App& app) {
  const std::pair<Instant, std::size_t> stand(app.farm().at, app.logbook().size());
  if (stand_ == stand) return;
  const bool first = !stand_;
  const std::optional<Instant> was = cycles_.empty() ? std::nullopt : std::optional(cycles_[chosen_].start);
  stand_ = stand;
  offset_ = app.farm().place.offset;
  cycles_ = cycles_of(app.logbook(), app.farm(), pond_, app.protocol(), app.now());
  if (cycles_.empty()) return;
  std::size_t at = cycles_.size() - 1;
  for (std::size_t i = 0; i < cycles_.size(); ++i) {
    if (was == cycles_[i].start) at = i;
  }
  chosen_ = at;
  series_ = series_of(cycles_[at].pond, app.protocol(), app.farm().place, cycles_[at].until(app.now()));
  view_.set_limits(instant_at(civil_day(series_.from, offset_), 0, offset_),
                   instant_at(civil_day(series_.until, offset_).plus(1), 0, offset_));
  if (first) choose(app, at);
}

void PondCycles::choose(const App& app, std::size_t at) {
  chosen_ = at;
  const Cycle& cycle = cycles_[at];
  series_ = series_of(cycle.pond, app.protocol(), app.farm().place, cycle.until(app.now()));
  view_.set_limits(instant_at(civil_day(series_.from, offset_), 0, offset_),
                   instant_at(civil_day(series_.until, offset_).plus(1), 0, offset_));
  show("cycle");
  entries_ = EntryList();
  day_ = last_read();
}

// The last day on which anything was read or given here; the sky is seen every day.
CivilDay PondCycles::last_read() const {
  std::optional<CivilDay> last;
  for (const ChartOf chart : kCharts) {
    const std::vector<CivilDay> days = days_of(chart, series_, time());
    if (chart == ChartOf::sky || days.empty()) continue;
    last = last ? std::max(*last, days.back()) : days.back();
  }
  return last.value_or(civil_day(series_.until, offset_));
}

void PondCycles::show(const std::string& span) {
  span_ = span;
  if (span == "week") view_.show_last(kWeekDays);
  if (span == "month") view_.show_last(kMonthDays);
  if (span == "cycle") view_.show_all();
}

void PondCycles::draw_choice(App& app, Ui& ui) {
  const Words& words = ui.words();
  const auto named = [&](const Cycle& one) {
    return cycle_word(words, one.label, one.start, one.end, offset_);
  };
  if (cycles_.size() == 1) {
    ui.heading("pond/cycle", named(cycles_.front()));
  } else {
    std::vector<Option> options;
    for (std::size_t i = cycles_.size(); i-- > 0;)
      options.push_back({std::to_string(i), named(cycles_[i]), {}, {}});
    if (const auto pressed = ui.choice("pond/cycle", {}, options, std::to_string(chosen_))) {
      for (std::size_t i = 0; i < cycles_.size(); ++i) {
        if (*pressed == std::to_string(i)) choose(app, i);
      }
    }
  }
}

void PondCycles::draw_spans(Ui& ui) {
  const Words& words = ui.words();
  ui.gap();
  ui.begin_cells(2, 16);
  const std::vector<Option> spans = {{"week", words("charts.week"), {}, {}},
                                     {"month", words("charts.month"), {}, {}},
                                     {"cycle", words("charts.cycle"), {}, {}}};
  if (const auto span = ui.choice("pond/span", {}, spans, span_)) show(*span);
  ui.next_cell();
  ui.begin_cells(4, 8, Ui::CellsHold::pictures);
  const auto key = [&](std::string_view id, std::string_view icon, std::string_view word, auto act) {
    if (ui.icon_button(id, icon, words(word))) {
      act();
      ui.want_frames(1);
    }
  };
  key("pond/day_before", "earlier", "charts.day_before", [&] { step_day(-1); });
  ui.next_cell();
  key("pond/day_after", "next", "charts.day_after", [&] { step_day(1); });
  ui.next_cell();
  key("pond/closer", "plus", "charts.closer", [&] { widen(1 / kZoomStep); });
  ui.next_cell();
  key("pond/wider", "minus", "charts.wider", [&] { widen(kZoomStep); });
  ui.end_cells();
  ui.end_cells();
}

// Around the day that is looked at.
void PondCycles::widen(double times) {
  const double span_s = static_cast<double>(view_.until().unix_s - view_.from().unix_s);
  const double share =
      day_ ? static_cast<double>(time().noon(*day_).unix_s - view_.from().unix_s) / span_s : 0.5;
  view_.widen(times, std::clamp(share, 0.0, 1.0));
  span_.clear();
}

// Where the day leaves what is shown, what is shown goes along.
void PondCycles::step_day(int days) {
  if (!day_) return;
  const CivilDay next = day_->plus(days);
  if (next < civil_day(series_.from, offset_) || next > civil_day(series_.until, offset_)) return;
  day_ = next;
  const Instant noon = time().noon(next);
  if (noon < view_.from()) view_.move(-kStep);
  if (noon > view_.until()) view_.move(kStep);
}

void PondCycles::draw_charts(Ui& ui) {
  const Words& words = ui.words();
  const ChartTime shown = time();
  PlotStack stack;
  std::vector<PlotKey> keys;
  for (const auto& [chart, share] : kRows) {
    StackRow row;
    row.id = "pond/stack/" + std::string(name_of(chart));
    row.title = words("charts." + std::string(name_of(chart)));
    row.plot = plot_of(chart, series_, shown, ui.theme(), words);
    if (!row.plot.up.unit.empty()) row.title += ", " + row.plot.up.unit;
    row.plot.up.unit.clear();
    row.plot.uprights.clear();
    row.share = share;
    row.name = summary_of(chart, series_, shown, words);
    if (day_) row.value = day_in_brief(chart, series_, shown, *day_, words);
    stack.rows.push_back(std::move(row));
    for (PlotKey& key : keys_of(chart, series_, ui.theme(), words)) {
      // What a chart shows one of only is said by its title.
      if (key.shape == PlotShape::dot && pairs_of(chart, series_) == nullptr) continue;
      const auto same = [&](const PlotKey& one) { return one.word == key.word; };
      if (std::none_of(keys.begin(), keys.end(), same)) keys.push_back(std::move(key));
    }
  }
  for (const StageBegun& begun : series_.stages) {
    stack.uprights.push_back({static_cast<double>(begun.at.unix_s), stage_word(words, begun.stage),
                              words.number(static_cast<double>(static_cast<int>(begun.stage)), 0)});
  }
  if (day_) {
    stack.picked = static_cast<double>(shown.noon(*day_).unix_s);
    stack.picked_word = capitalised(words.day(*day_));
  }
  ui.gap();
  const float height = std::max(least_stack_height(ui, stack), screen_shape().height - kBesidesCharts);
  const StackTouch touched = draw_plot_stack(ui, "pond/stack", stack, height);
  if (touched.pan_share != 0) {
    view_.move(-touched.pan_share);
    span_.clear();
    ui.want_frames(1);
  }
  if (touched.zoom != 1) {
    view_.widen(1 / touched.zoom, touched.centre_share);
    span_.clear();
    ui.want_frames(1);
  }
  if (touched.picked_share && *touched.picked_share >= 0 && *touched.picked_share <= 1) {
    const CivilDay day = civil_day(view_.at(*touched.picked_share), offset_);
    if (day != day_) ui.want_frames(1);
    day_ = day;
  }
  draw_plot_keys(ui, "pond/stack/keys", keys);
}

}  // namespace tawny::ui
