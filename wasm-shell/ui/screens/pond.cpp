// A pond: its water column, what opens the next gate and why, what is going wrong, and what can be done here.
#include <algorithm>
#include <utility>

#include "ui/screens/criteria.h"
#include "ui/screens/outlook_card.h"
#include "ui/screens/parts.h"
#include "ui/screens/pond_acts.h"
#include "ui/screens/pond_cycles.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kColumnHeight = 208, kColumnGap = 24;
// On a laptop with a window this wide all charts of the cycle stand beside the state, which is kStateWidth
// wide.
constexpr float kRoomForCharts = 1200, kStateWidth = 384;

class PondScreen : public Screen {
 public:
  explicit PondScreen(std::string pond) : pond_(std::move(pond)), cycles_(pond_) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, pond_name(app, pond_));
    const FarmPond* pond = app.farm().pond(pond_);
    if (pond == nullptr) {
      ui.begin_content("pond");
      ui.notice("pond/gone", Tone::warn, words("pond.unknown"));
      ui.end_content();
      return;
    }
    if (pond->state.unsupported) {
      ui.begin_content("pond");
      ui.notice("pond/unsupported", Tone::warn, words("pond.lined"));
      ui.end_content();
      return;
    }
    const bool whole = ui.wide() && screen_shape().width >= kRoomForCharts * ui.text_scale();
    if (whole) {
      draw_whole(app, ui, *pond);
      return;
    }
    ui.begin_content("pond", Sizes::kTarget + 2 * Sizes::kGrid, true);
    draw_act_left_behind(app, ui);
    // With room for two columns the state stands beside the reasons.
    const bool beside = ui.columns() > 1;
    ui.begin_cells(beside ? 2 : 1, kColumnGap);
    draw_state(app, ui, *pond);
    if (beside) draw_readings(app, ui, *pond);
    if (beside) ui.next_cell();
    draw_ways_on(app, ui, *pond);
    if (!beside) draw_readings(app, ui, *pond);
    draw_gates_opened(ui, *pond);
    entries_.draw(app, ui, *pond);
    ui.end_cells();
    draw_last_ways(app, ui, *pond);
    ui.gap(16);
    ui.end_content();
    draw_footer(app, ui, *pond);
  }

 private:
  // The state in a column of its own, and beside it the cycle over time.
  void draw_whole(App& app, Ui& ui, const FarmPond& pond) {
    ui.begin_whole_content("pond", Sizes::kTarget + 2 * Sizes::kGrid);
    draw_act_left_behind(app, ui);
    ui.begin_split(kStateWidth * ui.text_scale(), kColumnGap);
    draw_state(app, ui, pond);
    draw_ways_on(app, ui, pond);
    draw_readings(app, ui, pond);
    draw_last_ways(app, ui, pond);
    ui.next_cell();
    cycles_.draw(app, ui);
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
    draw_footer(app, ui, pond);
  }

  void draw_state(App& app, Ui& ui, const FarmPond& pond) const {
    const Rect where =
        ui.picture("pond/column", water_column_name(ui.words(), pond), picture_scale(ui) * kColumnHeight);
    draw_water_column(ui, where, water_column_of(app, pond), true);
    draw_stage(app, ui, pond);
    draw_questions(app, ui, pond);
    draw_troubles(ui, pond);
  }

  void draw_ways_on(App& app, Ui& ui, const FarmPond& pond) {
    if (pond.state.in_cycle && !pond.state.finished) draw_gate(app, ui, pond);
    if (is_fill_stage(pond)) draw_filling(app, ui);
    if (pond.state.in_cycle) draw_dose(app, ui, pond);
    outlook_.draw(app, ui, pond);
  }

  void draw_last_ways(App& app, Ui& ui, const FarmPond& pond) const {
    if (!is_fill_stage(pond)) draw_filling(app, ui);
    if (!pond.history.cycle.empty() &&
        ui.button("pond/report", ui.words()("report.title"), ButtonKind::quiet, true, "logbook")) {
      app.open(make_report_screen(pond_));
    }
    if (app.role() == Role::manager && ui.button("pond/set_up", ui.words()("pond.edit"), ButtonKind::quiet)) {
      app.open(make_pond_setup_screen(pond_));
    }
  }

  void draw_stage(App& app, Ui& ui, const FarmPond& pond) const {
    const Words& words = ui.words();
    if (!pond.state.in_cycle) {
      ui.heading("pond/stage", words("pond.no_cycle"));
      ui.text("pond/stage_about", words("pond.no_cycle.about"));
      return;
    }
    if (pond.state.finished) {
      ui.heading("pond/stage", words("pond.finished"));
      ui.text("pond/stage_about", words("pond.finished.about"));
      return;
    }
    ui.heading("pond/stage", stage_word(words, pond.state.stage));
    ui.text("pond/since",
            words(Message("pond.since")
                      .with("since", pond.state.stage_since)
                      .with("cycle", Text{pond.history.cycle})),
            TextSize::body, Tone::quiet);
    const std::string about = "stage." + std::string(name_of(pond.state.stage)) + ".about";
    if (words.has(about)) ui.text("pond/stage_about", words(about));
    ui.gap();
    if (ui.button("pond/guide", words("guide.open"), ButtonKind::secondary, true, "guide")) {
      app.open(make_guide_screen(pond_));
    }
  }

  void draw_questions(App& app, Ui& ui, const FarmPond& pond) const {
    for (std::size_t i = 0; i < pond.state.questions.size(); ++i) {
      const std::string id = "pond/question/" + std::to_string(i);
      ui.gap();
      ui.notice(id, Tone::warn, ui.words()(pond.state.questions[i].what));
      if (i > 0 || app.role() != Role::manager) continue;
      ui.gap();
      if (ui.button(id + "/settle", act_word(ui.words(), Act::settle_question))) {
        app.open(make_questions_screen(pond_));
      }
    }
  }

  static void draw_troubles(Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    for (const Trouble& trouble : pond.state.troubles) {
      const std::string id = "trouble/" + trouble.id;
      ui.gap(16);
      ui.heading(id + "/title", words("trouble." + trouble.id), 3);
      ui.notice(id, tone_of(trouble.severity), words(trouble.what));
      if (trouble.check_next.empty()) continue;
      ui.gap();
      ui.text(id + "/check", words("pond.check_next"), TextSize::body, Tone::ink, true);
      int number = 0;
      for (const Message& check : trouble.check_next) {
        ++number;
        ui.step(id + "/check/" + std::to_string(number), number, words(check), false);
      }
    }
  }

  void draw_gate(App& app, Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("pond/gate", words("pond.gate"));
    if (pond.state.refused) {
      ui.notice("pond/refused", Tone::warn, words("pond.refused"));
      ui.gap();
    }
    criteria_.draw(app, ui, pond);
    if (app.role() == Role::manager) {
      const bool release = pond.state.stage == Stage::release;
      if (ui.button("pond/decide", words(release ? "gate.open_release" : "gate.open"), ButtonKind::secondary,
                    true, "check")) {
        app.open(make_gate_screen(pond_));
      }
    }
  }

  static bool is_fill_stage(const FarmPond& pond) {
    const Stage stage = pond.state.stage;
    return pond.state.in_cycle && !pond.state.finished &&
           (stage == Stage::first_fill || stage == Stage::second_fill || stage == Stage::third_fill);
  }

  void draw_filling(App& app, Ui& ui) const {
    ui.gap();
    if (ui.button("pond/filling", ui.words()("filling.plan"), ButtonKind::secondary, true, "level")) {
      app.open(make_filling_screen(pond_));
    }
  }

  void draw_dose(App& app, Ui& ui, const FarmPond& pond) const {
    const Words& words = ui.words();
    const DoseAdvice& dose = pond.state.dose;
    ui.gap(16);
    ui.heading("pond/dose", words("pond.dose"));
    if (pond.state.open_walk) {
      if (ui.button("pond/dose_go_on", words("pond.dose.go_on"), ButtonKind::secondary, true, "bin")) {
        app.open(make_dose_walk_screen(pond_));
      }
      return;
    }
    if (dose.advised) {
      ui.number("pond/dose_rate", words("pond.dose.advised"), words.number(dose.rate_kg_ha, 0),
                words.unit("kg_ha"));
      if (dose.window_from && dose.window_until) {
        ui.text("pond/dose_when", words(Message("pond.dose.when")
                                            .with("from", *dose.window_from)
                                            .with("until", Text{words.clock(*dose.window_until)})));
      }
    } else {
      ui.text("pond/dose_none", words("pond.dose.none"), TextSize::lead);
    }
    int number = 0;
    for (const Message& why : dose.why) {
      ui.text("pond/dose_why/" + std::to_string(++number), words(why), TextSize::body, Tone::quiet);
    }
    for (const Message& warning : dose.warnings) {
      ui.notice("pond/dose_warning/" + std::to_string(++number), Tone::warn, words(warning));
    }
    const bool may = dose.advised || dose.allowed || app.role() == Role::manager;
    if (!may) return;
    ui.gap();
    if (ui.button("pond/dose_plan", words("pond.dose.plan"), ButtonKind::secondary, true, "bin")) {
      app.open(make_dose_walk_screen(pond_));
    }
  }

  void draw_readings(App& app, Ui& ui, const FarmPond& pond) const {
    const Words& words = ui.words();
    ui.gap(16);
    ui.heading("pond/readings", words("pond.readings"));
    bool any = false;
    const auto fact = [&](const std::string& id, std::string_view label, const std::string& value) {
      if (value.empty()) return;
      any = true;
      ui.fact("pond/reading/" + id, words(label), value);
    };
    fact("secchi", "pond.secchi", secchi_line(words, pond));
    for (const std::string_view key : {"do_mg_l", "ph", "temperature_c", "salinity"}) {
      fact(std::string(key), "key." + std::string(key), last_of(words, pond, "water_reading", key));
    }
    fact("level", "key.level_cm", last_of(words, pond, "level_reading", "level_cm"));
    if (!pond.history.colours.empty()) {
      const ColourLook& last = pond.history.colours.back();
      fact("colour", "key.colour",
           words(Message("screen.value_age")
                     .with("value", Word{"colour." + std::string(name_of(last.colour))})
                     .with("age", Text{words.age(last.at)})));
    }
    if (!pond.state.day_pairs.empty()) {
      const DayPair& pair = pond.state.day_pairs.back();
      if (const auto swing = pair.do_swing_mg_l()) {
        fact("swing", "pond.swing",
             words(
                 Message("pond.swing.value").with("swing", Quantity{*swing, 1, "mg_l"}).with("day", pair.day)));
      }
    }
    if (!any) ui.text("pond/no_readings", words("pond.no_readings"), TextSize::body, Tone::quiet);
    ui.gap();
    if (ui.button("pond/charts", words("charts.title"), ButtonKind::secondary, true, "chart")) {
      app.open(make_charts_screen(pond_));
    }
    ui.gap();
    if (ui.button("pond/compare", words("compare.title"), ButtonKind::secondary, true, "chart")) {
      app.open(make_compare_screen(pond_));
    }
    ui.gap();
    if (ui.button("pond/reckon", words("reckon.title"), ButtonKind::secondary, true, "reckon")) {
      app.open(make_reckon_list_screen(pond_));
    }
  }

  static std::string last_of(const Words& words, const FarmPond& pond, std::string_view kind,
                             std::string_view key) {
    const std::optional<LastValue> last = last_value(pond.history, kind, key);
    if (!last) return {};
    return words(Message("screen.value_age")
                     .with("value", Text{measured(words, key, last->value)})
                     .with("age", Text{words.age(last->at)}));
  }

  void draw_footer(App& app, Ui& ui, const FarmPond& pond) const {
    const Words& words = ui.words();
    ui.begin_footer();
    if (!pond.state.in_cycle) {
      if (ui.button("pond/start", act_word(words, Act::start_cycle), ButtonKind::primary, app.can_write())) {
        app.open(make_entry_screen(Act::start_cycle, pond_));
      }
    } else if (ui.button("pond/enter", words("pond.enter"), ButtonKind::primary, app.can_write())) {
      app.open(make_pond_acts_screen(pond_));
    }
    ui.end_footer();
  }

  std::string pond_;
  CriteriaList criteria_;
  OutlookCard outlook_;
  EntryList entries_;
  PondCycles cycles_;
};

}  // namespace

std::unique_ptr<Screen> make_pond_screen(const std::string& pond) { return std::make_unique<PondScreen>(pond); }

}  // namespace tawny::ui
