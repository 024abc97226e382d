// The dose walk: one bin a screen, mixed and then spread, each tick an entry of its own, so that a reload, a
// call or a flat battery loses nothing and the walk goes on at the same bin; at the end the dose is put on
// record.
#include <algorithm>
#include <cmath>

#include "farm/walk.h"
#include "logbook/kinds.h"
#include "ui/screens/dose_plan.h"
#include "ui/screens/findings.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

class DoseWalkScreen : public Screen {
 public:
  explicit DoseWalkScreen(std::string pond) : pond_(pond), plan_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    const FarmPond* pond = app.farm().pond(pond_);
    const bool planning = pond != nullptr && !pond->state.open_walk && !walked_;
    app.frame_bars(ui, planning ? words(Message("dose.plan_for").with("pond", Text{pond->history.pond.name}))
                                : words("dose.title"));
    if (pond == nullptr) {
      ui.begin_content("dose_walk");
      ui.text("walk/no_pond", words("pond.unknown"));
      ui.end_content();
      return;
    }
    if (pond->state.open_walk) {
      walked_ = true;
      draw_walk(app, ui, *pond);
    } else if (walked_) {
      draw_done(app, ui, *pond);
    } else {
      plan_.draw(app, ui, *pond);
    }
  }

 private:
  void draw_walk(App& app, Ui& ui, const FarmPond& pond) {
    const DoseWalk& walk = *pond.state.open_walk;
    const WalkStep step = next_step(walk);
    if (findings_.asking()) {
      draw_question(app, ui, pond, walk);
    } else if (stopping_) {
      draw_stop(app, ui, pond, walk);
    } else if (step.what == WalkStep::What::mix) {
      draw_mix(app, ui, pond, walk, step.bin);
    } else if (step.what == WalkStep::What::spread) {
      draw_spread(app, ui, pond, walk, step.bin);
    } else {
      draw_record(app, ui, pond, walk, walk.bins);
    }
  }

  // The dose with which the walk ends, and the stop with it where it is broken off.
  std::vector<Draft> end_drafts(const App& app, const DoseWalk& walk) const {
    const int spread = static_cast<int>(walk.spread.size());
    if (!stopping_) return {dose_draft(app, walk, walk.bins, coverage_)};
    std::vector<Draft> drafts;
    // What was spread is in the water: it goes on record as a dose of a part of the pond, together with the
    // stop.
    if (spread > 0) drafts.push_back(dose_draft(app, walk, spread, "part"));
    Draft stop;
    stop.kind = kind::kDoseWalkStop;
    stop.pond = pond_;
    stop.values = {{"walk", walk.walk}, {"reason", reason_}};
    drafts.push_back(std::move(stop));
    return drafts;
  }

  void end_walk(App& app, const FarmPond& pond, const DoseWalk& walk) {
    std::vector<Draft> drafts = end_drafts(app, walk);
    if (findings_.look(app, pond, drafts) == FindingsPart::Outcome::clear) app.put(std::move(drafts));
  }

  void draw_question(App& app, Ui& ui, const FarmPond& pond, const DoseWalk& walk) {
    const Words& words = ui.words();
    const std::string what = pond.history.pond.name + " \u00b7 " + words("product." + walk.product);
    if (findings_.draw_question(app, ui, what, words("entry.yes_save")).value_or(false)) {
      app.put(end_drafts(app, walk));
    }
  }

  static void draw_head(Ui& ui, const FarmPond& pond, const DoseWalk& walk, int bin) {
    const Words& words = ui.words();
    ui.heading("walk/bin", words(Message("dose.bin_of").with("bin", bare(bin)).with("bins", bare(walk.bins))),
               1);
    ui.text("walk/what", pond.history.pond.name + " \u00b7 " + words("product." + walk.product), TextSize::body,
            Tone::quiet);
  }

  void draw_mix(App& app, Ui& ui, const FarmPond& pond, const DoseWalk& walk, int bin) {
    const Words& words = ui.words();
    begin_form(app, ui, "walk_mix");
    draw_head(ui, pond, walk, bin);
    ui.begin_card("walk/amounts");
    ui.begin_cells(2);
    ui.number("walk/water", words("dose.water"), words.number(std::floor(walk.water_per_bin_l), 0),
              words.unit("l"));
    ui.next_cell();
    ui.number("walk/salt", words("dose.salt"), words.number(walk.salt_per_bin_kg, 1), words.unit("kg"),
              Tone::act);
    ui.end_cells();
    ui.end_card();
    ui.gap(8);
    const double bin_l = app.farm().bin_limits.bin_volume_l;
    const double share = bin_l > 0 ? std::min(1.0, walk.solution_per_bin_l / bin_l) : 0.8;
    ui.begin_cells(3);
    for (int step = 1; step <= 3; ++step) {
      if (step > 1) ui.next_cell();
      const std::string id = "walk/step/" + std::to_string(step);
      draw_bin_step(ui, ui.picture(id, words("dose.step." + std::to_string(step) + ".picture"), 72), step,
                    share);
    }
    ui.end_cells();
    ui.step("walk/say/1", 1,
            words(Message("dose.step.1").with("water", Quantity{std::floor(walk.water_per_bin_l), 0, "l"})),
            false);
    ui.step("walk/say/2", 2,
            words(Message("dose.step.2").with("salt", Quantity{walk.salt_per_bin_kg, 1, "kg"})), false);
    ui.step("walk/say/3", 3, words("dose.step.3"), false);
    ui.gap(8);
    ui.notice("walk/caution", Tone::warn, words("caution.mixing"));
    ui.gap(8);
    ui.notice("walk/lift", Tone::warn,
              words(Message("caution.lift_bin").with("salt", Quantity{walk.salt_per_bin_kg, 1, "kg"})));
    draw_stop_button(ui);
    ui.end_content();
    if (save_footer(app, ui, words(Message("dose.mixed").with("bin", bare(bin)).with("bins", bare(walk.bins))),
                    true)) {
      tick(app, walk, "mixed", bin);
    }
  }

  void draw_spread(App& app, Ui& ui, const FarmPond& pond, const DoseWalk& walk, int bin) {
    const Words& words = ui.words();
    begin_form(app, ui, "walk_spread");
    draw_head(ui, pond, walk, bin);
    const Pond& outline = pond.history.pond;
    const std::vector<Lane> lanes =
        plan_lanes(outline.length_m, outline.width_m, app.farm().lane_spacing_m, walk.bins)
            .value_or(std::vector<Lane>());
    const Message share = Message("dose.share").with("bin", bare(bin)).with("bins", bare(walk.bins));
    if (lanes.empty()) {
      ui.text("walk/share", words(share), TextSize::lead, Tone::ink, true);
    } else {
      const Rect where = ui.picture("walk/lanes", words(share), 240);
      draw_lanes(ui, where, outline.length_m, outline.width_m, lanes, bin);
      ui.text("walk/share", words(share), TextSize::body, Tone::ink, true);
    }
    ui.gap(8);
    ui.text("walk/how", words("dose.spread.how"));
    ui.gap(8);
    ui.notice("walk/caution", Tone::warn, words("caution.boat"));
    draw_stop_button(ui);
    ui.end_content();
    if (save_footer(app, ui, words(Message("dose.spread").with("bin", bare(bin)).with("bins", bare(walk.bins))),
                    true)) {
      tick(app, walk, "spread", bin);
    }
  }

  void draw_stop_button(Ui& ui) {
    ui.gap(16);
    if (ui.button("walk/stop", ui.words()("dose.stop"), ButtonKind::quiet, true, "close")) stopping_ = true;
  }

  void draw_stop(App& app, Ui& ui, const FarmPond& pond, const DoseWalk& walk) {
    const Words& words = ui.words();
    const auto spread = static_cast<double>(walk.spread.size());
    begin_form(app, ui, "walk_stop");
    findings_.draw_refusals(ui);
    ui.heading("stop/title", words("dose.stop.title"), 1);
    ui.text("stop/so_far", words(Message("dose.stop.so_far")
                                     .with("count", bare(spread))
                                     .with("bins", bare(walk.bins))
                                     .with("kg", Quantity{spread * walk.salt_per_bin_kg, 1, "kg"})));
    if (auto typed = ui.text_field("stop/reason", words("form.reason"), reason_, words("form.reason.hint"),
                                   "note", 200)) {
      reason_ = *typed;
    }
    ui.gap(16);
    if (ui.button("stop/back", words("dose.stop.back"), ButtonKind::primary)) stopping_ = false;
    ui.gap(16);
    ui.end_content();
    if (save_footer(app, ui, words(spread > 0 ? "dose.stop.record" : "dose.stop.now"), !reason_.empty())) {
      end_walk(app, pond, walk);
    }
  }

  void draw_record(App& app, Ui& ui, const FarmPond& pond, const DoseWalk& walk, int bins) {
    const Words& words = ui.words();
    begin_form(app, ui, "walk_record");
    findings_.draw_refusals(ui);
    ui.heading("record/title", words("dose.record.title"), 1);
    ui.text("walk/what", pond.history.pond.name + " \u00b7 " + words("product." + walk.product), TextSize::body,
            Tone::quiet);
    ui.number("record/kg", words("dose.kg"), words.number(walk.salt_per_bin_kg * bins, 1), words.unit("kg"));
    ui.fact("record/bins", words("dose.bins"), words.number(bins, 0));
    if (!walk.mixed.empty()) ui.fact("record/started", words("dose.started"), words.time(walk.mixed.front()));
    if (!walk.spread.empty()) ui.fact("record/ended", words("dose.ended"), words.time(walk.spread.back()));
    ui.gap(8);
    const std::vector<Option> coverages = {{"whole", words("coverage.whole"), {}, {}},
                                           {"part", words("coverage.part"), {}, {}}};
    if (auto chosen = ui.choice("record/coverage", words("dose.coverage"), coverages, coverage_))
      coverage_ = *chosen;
    ui.gap(8);
    const std::vector<Option> dissolved = {{"yes", words("dissolved.yes"), {}, {}},
                                           {"no", words("dissolved.no"), {}, {}}};
    if (auto chosen = ui.choice("record/dissolved", words("dose.dissolved"), dissolved, dissolved_))
      dissolved_ = *chosen;
    ui.gap(8);
    if (auto typed = ui.text_field("record/lot", words("dose.lot"), lot_, words("dose.lot.hint"), "name", 40))
      lot_ = *typed;
    ui.gap(16);
    ui.end_content();
    if (save_footer(app, ui, words("dose.record"), true)) end_walk(app, pond, walk);
  }

  void draw_done(App& app, Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    const bool recorded = !pond.history.doses.empty() && !pond.history.walks.empty() &&
                          pond.history.doses.back().walk == pond.history.walks.back().walk;
    ui.begin_content("walk_done", Sizes::kTarget + 2 * Sizes::kGrid);
    ui.gap(16);
    const Rect art = ui.picture("done/art", words("dose.done.picture"), 160);
    draw_water_column(ui, art, water_column_of(app, pond), true);
    ui.heading("done/title", words(recorded ? "dose.done.recorded" : "dose.done.stopped"), 1);
    if (recorded) {
      const DoseRecord& dose = pond.history.doses.back();
      ui.text("done/kg", words(Message("dose.done.kg")
                                   .with("kg", Quantity{dose.product_kg, 1, "kg"})
                                   .with("product", Word{"product." + dose.product})
                                   .with("pond", Text{pond.history.pond.name})
                                   .with("time", dose.ended)));
      ui.gap(8);
      ui.text("done/next", words("dose.done.next"));
      ui.text("done/wash", words("dose.done.wash"), TextSize::body, Tone::quiet);
    }
    if (app.news().state == SaveNews::State::saved) {
      ui.notice("done/saved", Tone::open, words(Message("save.saved").with("time", app.news().at)));
      draw_gate_news(app, ui);
    }
    ui.gap(16);
    ui.end_content();
    ui.begin_footer();
    if (ui.button("done/rounds", words("dose.done.rounds"), ButtonKind::primary)) app.open_tab(Tab::rounds);
    ui.end_footer();
  }

  void tick(App& app, const DoseWalk& walk, std::string_view step, int bin) const {
    Draft draft;
    draft.kind = kind::kDoseStep;
    draft.pond = pond_;
    draft.values = {{"walk", walk.walk}, {"step", std::string(step)}, {"bin", static_cast<double>(bin)}};
    app.put({std::move(draft)});
  }

  Draft dose_draft(const App& app, const DoseWalk& walk, int bins, std::string_view coverage) const {
    const double product_kg = walk.salt_per_bin_kg * bins;
    const Instant started = walk.mixed.empty() ? walk.start->observed : walk.mixed.front();
    const Instant ended = walk.spread.empty() ? app.now() : walk.spread.back();
    Draft draft;
    draft.kind = kind::kDose;
    draft.pond = pond_;
    draft.observed = ended;
    draft.values = {{"walk", walk.walk},
                    {"product", walk.product},
                    {"product_kg", product_kg},
                    {"bins", static_cast<double>(bins)},
                    {"started", to_iso(started)},
                    {"ended", to_iso(ended)},
                    {"coverage", std::string(coverage)},
                    {"dissolved", dissolved_ == "yes"},
                    {"rate_kg_ha", walk.area_ha > 0 ? product_kg / walk.area_ha : walk.rate_kg_ha},
                    {"area_ha", walk.area_ha}};
    if (walk.sky) draft.values.emplace("sky", std::string(name_of(*walk.sky)));
    if (!lot_.empty()) draft.values.emplace("lot", lot_);
    // The manager's word for the walk is the word for the dose that it ends with.
    const bool* override_given = walk.start->flag("manager_override");
    const std::string* reason = walk.start->text("reason");
    if (override_given != nullptr && *override_given && reason != nullptr) {
      draft.values.emplace("manager_override", true);
      draft.values.emplace("reason", *reason);
    }
    return draft;
  }

  std::string pond_;
  DosePlanPart plan_;
  bool walked_ = false;
  bool stopping_ = false;
  std::string reason_;
  FindingsPart findings_;
  std::string coverage_ = "whole";
  std::string dissolved_ = "yes";
  std::string lot_;
};

}  // namespace

std::unique_ptr<Screen> make_dose_walk_screen(const std::string& pond) {
  return std::make_unique<DoseWalkScreen>(pond);
}

}  // namespace tawny::ui
