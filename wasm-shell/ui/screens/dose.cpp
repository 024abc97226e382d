// The area "Dose bin": the walk that is under way, the ponds that are due a dose, and any other pond.
#include <string>

#include "farm/walk.h"
#include "ui/screens/parts.h"
#include "ui/screens/row_heights.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

class DoseScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("dose.title"));
    ui.begin_content("dose");
    draw_app_notices(app, ui);
    bool any = false;
    for (const FarmPond& pond : app.farm().ponds) {
      if (pond.state.open_walk) any = draw_open_walk(app, ui, pond) || any;
    }
    if (any) ui.gap(16);
    heights_.begin(ui);
    draw_group(app, ui, "advised", [](const FarmPond& pond) { return advised(pond); });
    draw_group(app, ui, "others", [](const FarmPond& pond) { return !advised(pond) && can_be_dosed(pond); });
    draw_group(app, ui, "not_now", [](const FarmPond& pond) { return !advised(pond) && !can_be_dosed(pond); });
    ui.gap(16);
    ui.end_content();
  }

 private:
  static bool can_be_dosed(const FarmPond& pond) {
    return pond.state.in_cycle && !pond.state.finished && !pond.state.unsupported &&
           pond.state.stage >= Stage::first_dose;
  }
  static bool advised(const FarmPond& pond) { return pond.state.dose.advised && !pond.state.open_walk; }

  static bool draw_open_walk(App& app, Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    const DoseWalk& walk = *pond.state.open_walk;
    const WalkStep step = next_step(walk);
    const std::string id = "walk/" + walk.walk;
    const std::string name = pond.history.pond.name;
    ui.begin_card(id, words(Message("dose.go_on").with("pond", Text{name})));
    ui.status(id + "/state", Status::due, words("dose.under_way"));
    ui.text(id + "/pond", name, TextSize::lead, Tone::ink, true);
    ui.text(id + "/step", words(Message(step.what == WalkStep::What::record ? "dose.at_end" : "dose.at_bin")
                                    .with("bin", bare(step.bin))
                                    .with("bins", bare(walk.bins))));
    if (ui.end_card()) app.open(make_dose_walk_screen(pond.history.pond.id));
    ui.gap(8);
    return true;
  }

  template <typename Wanted>
  void draw_group(App& app, Ui& ui, std::string_view group, Wanted wanted) {
    const Words& words = ui.words();
    const bool is_long = app.farm().ponds.size() > RowHeights::kWholeList;
    bool headed = false;
    for (const FarmPond& pond : app.farm().ponds) {
      if (pond.state.open_walk || !wanted(pond)) continue;
      if (!headed) ui.heading("dose/group/" + std::string(group), words("dose.group." + std::string(group)));
      headed = true;
      float& height = heights_.of(pond.history.pond.id);
      if (is_long && ui.skip_unseen(height)) continue;
      draw_pond(app, ui, pond, height);
    }
    if (headed) ui.gap(8);
  }

  // What asks for the dose where one is advised, else the first thing that speaks against it.
  static std::string why(const Words& words, const FarmPond& pond) {
    const std::vector<Message>& reasons = pond.state.dose.why;
    if (reasons.empty()) return stage_word(words, pond.state.stage);
    if (pond.state.dose.advised) {
      for (const Message& reason : reasons) {
        if (reason.id == "dose.over_band" || reason.id == "dose.first") return words(reason);
      }
    }
    return words(reasons.front());
  }

  static void draw_pond(App& app, Ui& ui, const FarmPond& pond, float& height) {
    const Words& words = ui.words();
    const std::string id = "dose/pond/" + pond.history.pond.id;
    const std::string name = pond.history.pond.name;
    const DoseAdvice& advice = pond.state.dose;
    ui.begin_card(id, words(Message("dose.plan_for").with("pond", Text{name})));
    const Rect art = ui.begin_beside(72, 56);
    draw_water_column(ui, art, water_column_of(app, pond), false);
    ui.text(id + "/name", name, TextSize::lead, Tone::ink, true);
    if (advice.advised) {
      ui.text(id + "/rate", words(Message("dose.rate").with("rate", Quantity{advice.rate_kg_ha, 0, "kg_ha"})),
              TextSize::body, Tone::act, true);
    }
    ui.text(id + "/why", why(words, pond), TextSize::body, Tone::quiet);
    ui.end_beside();
    if (ui.end_card(&height)) app.open(make_dose_walk_screen(pond.history.pond.id));
  }

  RowHeights heights_;
};

}  // namespace

std::unique_ptr<Screen> make_dose_screen() { return std::make_unique<DoseScreen>(); }

}  // namespace tawny::ui
