// The filling plan of a pond: how long its next fill takes, when to start it, and what it rests on.
#include <algorithm>
#include <cmath>
#include <utility>

#include "ui/drawings/plot.h"
#include "ui/screens/filling_words.h"
#include "ui/screens/filling_work.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kColumnGap = 24;

class FillingScreen : public Screen {
 public:
  explicit FillingScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words(Message("filling.title").with("pond", Text{pond_name(app, pond_)})));
    ui.begin_content("filling", 0, true);
    draw_act_left_behind(app, ui);
    const FarmPond* pond = app.farm().pond(pond_);
    if (pond == nullptr || !work_.update(app, *pond, choice_)) {
      ui.notice("filling/no_curve", Tone::warn, words(pond == nullptr ? "pond.unknown" : "filling.no_curve"));
      ui.end_content();
      return;
    }
    const bool beside = ui.columns() > 1;
    ui.begin_cells(beside ? 2 : 1, kColumnGap);
    draw_filling_answer(ui, app.farm().place.offset, work_.basis(), work_.answer());
    if (beside) ui.next_cell();
    draw_when(app, ui);
    draw_water(app, ui, *pond);
    draw_inlets(app, ui, *pond);
    draw_tide(app, ui, *pond);
    draw_losses(app, ui);
    ui.end_cells();
    ui.gap();
    ui.notice("filling/suction", Tone::warn, words("entry.caution.suction"));
    ui.gap(16);
    ui.end_content();
  }

 private:
  const Problem* problem(std::string_view of) const {
    const std::optional<FillingAnswer>& answer = work_.answer();
    return answer && answer->problem && answer->problem->parameter == of ? &*answer->problem : nullptr;
  }

  void draw_problem(Ui& ui, std::string_view of) const {
    if (const Problem* found = problem(of)) {
      ui.notice("filling/problem/" + std::string(of), Tone::warn, ui.words()(found->message));
    }
  }

  // --- when --------------------------------------------------------------------------------------------------

  void draw_when(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("filling/when", words("filling.when"));
    constexpr std::pair<FillingWhen, const char*> kWhens[] = {
        {FillingWhen::now, "now"}, {FillingWhen::start_at, "start_at"}, {FillingWhen::ready_by, "ready_by"}};
    std::vector<Option> options;
    std::string selected;
    for (const auto& [when, id] : kWhens) {
      options.push_back({id, words("filling.when." + std::string(id)), {}, {}});
      if (choice_.when == when) selected = id;
    }
    if (auto chosen = ui.choice("filling/when/choice", words("filling.plan_from"), options, selected)) {
      for (const auto& [when, id] : kWhens) {
        if (*chosen == id) choice_.when = when;
      }
      if (choice_.when != FillingWhen::now && !choice_.moment) ask_moment(app);
    }
    if (choice_.when != FillingWhen::now) {
      ui.gap();
      const std::string shown = choice_.moment ? capitalised(words.time(*choice_.moment)) : std::string();
      const std::string id = "filling.when." + selected;
      if (ui.value_field("filling/moment", words(id), shown, "",
                         choice_.moment ? "" : words("filling.choose"))) {
        ask_moment(app);
      }
    }
    draw_problem(ui, "wanted_by");
  }

  void ask_moment(App& app) {
    const Words& words = app.ui().words();
    MomentAsk ask;
    ask.about =
        words(choice_.when == FillingWhen::ready_by ? "filling.when.ready_by" : "filling.when.start_at");
    ask.title = words(Message("filling.title").with("pond", Text{pond_name(app, pond_)}));
    ask.present = choice_.moment;
    app.open(make_moment_screen(std::move(ask), [this](App&, Instant at) { choice_.moment = at; }));
  }

  // --- water -------------------------------------------------------------------------------------------------

  void draw_water(App& app, Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    const FillingBasis& basis = work_.basis();
    const StageCurve& curve = *pond.history.pond.curve;
    ui.gap(16);
    ui.heading("filling/water", words("filling.water"));
    const std::string from_hint =
        basis.read_at     ? words(Message("filling.read")
                                      .with("share", share_of(curve, basis.from_cm))
                                      .with("age", Text{words.age(*basis.read_at)}))
        : choice_.from_cm ? words(Message("filling.share").with("share", share_of(curve, basis.from_cm)))
                          : words("filling.no_level_read");
    number(app, ui, "from_cm", "cm", 0, basis.from_cm, choice_.from_cm, from_hint, curve.lowest_level_cm(),
           curve.full_level_cm());
    ui.gap();
    std::vector<Option> fills;
    for (const Stage fill : kFills) {
      const std::string id(name_of(fill));
      fills.push_back({id, words("filling.fill." + id), {}, {}});
    }
    const std::string selected(name_of(basis.target.stage));
    if (auto chosen = ui.choice("filling/fill", words("filling.fill"), fills, selected)) {
      for (const Stage fill : kFills) {
        if (*chosen != name_of(fill)) continue;
        choice_.fill = fill;
        choice_.to_cm.reset();
      }
    }
    ui.gap();
    const std::string to_hint = words(Message("filling.range")
                                          .with("low", Quantity{std::ceil(basis.target.low_cm), 0, ""})
                                          .with("high", Quantity{std::floor(basis.target.high_cm), 0, "cm"})
                                          .with("low_share", percent(basis.target.low_share, ""))
                                          .with("high_share", percent(basis.target.high_share, "percent")));
    number(app, ui, "to_cm", "cm", 0, basis.to_cm, choice_.to_cm, to_hint, curve.lowest_level_cm(),
           curve.full_level_cm());
    const bool outside =
        basis.to_cm < std::floor(basis.target.low_cm) || basis.to_cm > std::ceil(basis.target.high_cm);
    if (outside) ui.notice("filling/outside", Tone::quiet, words("filling.outside_range"));
    draw_problem(ui, "to_level_cm");
    draw_problem(ui, "from_level_cm");
  }

  static Quantity percent(double share, std::string_view unit) { return {100 * share, 0, std::string(unit)}; }

  static Quantity share_of(const StageCurve& curve, double level_cm) {
    const Result<double> volume_m3 = curve.volume_m3(level_cm);
    return percent(volume_m3 ? *volume_m3 / curve.full_volume_m3() : 0, "percent");
  }

  // --- inlets and tide ---------------------------------------------------------------------------------------

  void draw_inlets(App& app, Ui& ui, const FarmPond& pond) const {
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("filling/inlets", words("pond.inlets"));
    const std::vector<std::string>& names = pond.history.pond.inlets;
    if (names.empty()) {
      ui.text("filling/inlets/none", words("filling.no_inlet_names"), TextSize::body, Tone::quiet);
      return;
    }
    std::string pressed;
    ui.begin_card("filling/inlets/card");
    for (const std::string& name : names) {
      const auto found = std::find_if(pond.inlets.begin(), pond.inlets.end(),
                                      [&](const Inlet& inlet) { return inlet.name == name; });
      const std::string sizes =
          found == pond.inlets.end() ? words("filling.inlet_unknown") : inlet_sizes(words, *found);
      const std::string spoken =
          words(Message("filling.inlet_row").with("inlet", Text{name}).with("sizes", Text{sizes}));
      Ui::Row row;
      row.icon = "gate";
      row.title = name;
      row.name = spoken;
      row.remark = sizes;
      if (ui.row("filling/inlet/" + name, row)) pressed = name;
    }
    ui.end_card();
    draw_problem(ui, "inlets");
    if (!pressed.empty()) app.open(make_inlet_setup_screen(pond_, pressed));
  }

  void draw_tide(App& app, Ui& ui, const FarmPond& pond) const {
    const bool tidal = std::any_of(pond.inlets.begin(), pond.inlets.end(), is_tidal);
    if (!tidal && !pond.tide) return;
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("filling/tide", words("tide.title"));
    ui.begin_card("filling/tide/card");
    Ui::Row row;
    row.icon = "level";
    const std::string title = words(pond.tide ? "tide.edit" : "tide.enter");
    const std::string until = pond.tide ? words(Message("tide.reaches")
                                                    .with("from", pond.tide->from())
                                                    .with("until", pond.tide->until())
                                                    .with("low", Quantity{pond.tide->lowest_cm(), 0, ""})
                                                    .with("high", Quantity{pond.tide->highest_cm(), 0, "cm"}))
                                        : std::string();
    row.title = title;
    row.remark = until;
    const bool pressed = ui.row("filling/tide/row", row);
    ui.end_card();
    draw_problem(ui, "tide");
    const std::optional<FillingAnswer>& answer = work_.answer();
    if (answer && answer->plan && answer->plan->uncovered_from) {
      ui.notice("filling/tide/ends", Tone::warn,
                words(Message("filling.tide_ends").with("at", *answer->plan->uncovered_from)));
    }
    if (pressed) app.open(make_tide_screen(pond_));
  }

  // --- losses ------------------------------------------------------------------------------------------------

  void draw_losses(App& app, Ui& ui) {
    const FillingSetup& setup = work_.basis().setup;
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("filling/losses", words("filling.losses"));
    const std::string from = words("filling.of_protocol");
    number(app, ui, "evaporation_mm_d", "mm_d", 1, setup.evaporation_mm_d, choice_.evaporation_mm_d, from, 0,
           50);
    ui.gap();
    number(app, ui, "seepage_mm_d", "mm_d", 1, setup.seepage_mm_d, choice_.seepage_mm_d, from, 0, 500);
    ui.gap();
    number(app, ui, "rain_mm_d", "mm_d", 1, setup.rain_mm_d, choice_.rain_mm_d, "", 0, 1000);
    for (const std::string_view key : {"evaporation_mm_d", "seepage_mm_d", "rain_mm_d"}) draw_problem(ui, key);
  }

  // A number that stands here for this plan only; left empty again, the farm's own counts.
  void number(App& app, Ui& ui, const std::string& key, const std::string& unit, int decimals, double value,
              std::optional<double>& chosen, std::string_view hint, double low, double high) {
    const Words& words = ui.words();
    const std::string label = words("filling." + key);
    if (!ui.value_field("filling/" + key, label, words.number(value, decimals), words.unit(unit),
                        chosen ? words("filling.changed") : std::string(hint), !chosen)) {
      return;
    }
    NumberAsk ask;
    ask.title = label;
    ask.unit = unit;
    ask.decimals = decimals;
    ask.present = value;
    ask.low = low;
    ask.high = high;
    ask.sign = low < 0;
    if (chosen) {
      ask.clear = words("filling.unchange");
      ask.on_clear = [&chosen](App&) { chosen.reset(); };
    }
    app.open(make_number_screen(std::move(ask), [&chosen](App&, double typed) { chosen = typed; }));
  }

  std::string pond_;
  FillingChoice choice_;
  FillingWork work_;
};

}  // namespace

std::unique_ptr<Screen> make_filling_screen(const std::string& pond) {
  return std::make_unique<FillingScreen>(pond);
}

}  // namespace tawny::ui
