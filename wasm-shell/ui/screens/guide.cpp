// The guide of a stage, one page: what to do now, why, what will open the gate, and what would be a mistake.
#include <utility>

#include "protocol/protocol_times.h"
#include "ui/drawings/guide_art.h"
#include "ui/screens/due.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

// A text of the guide with the numbers of this pond's protocol; each text names those that it needs.
class Guide {
 public:
  Guide(const App& app, const Words& words, const FarmPond& pond)
      : words_(words),
        pond_(pond),
        prefix_("guide." + std::string(name_of(pond.state.stage)) + "."),
        protocol_(protocol_of(pond, app.protocol(), app.now())),
        level_(level_text(app)) {}

  bool has(const std::string& part) const { return words_.has(prefix_ + part); }
  std::string operator()(const std::string& part) const {
    Message message(prefix_ + part);
    for (const Named& named : kNamed) message.with(named.name, quantity(named));
    message.with("level", Text{level_});
    return words_(message);
  }

 private:
  struct Named {
    std::string_view name, path, unit;
  };
  static constexpr Named kNamed[] = {
      {"dried", "stage.bottom.dried_days", "d"},
      {"broadcast_low", "stage.bottom.broadcast_low_kg_ha", "kg_ha"},
      {"broadcast_high", "stage.bottom.broadcast_high_kg_ha", "kg_ha"},
      {"mesh", "stage.bottom.mesh_high_um", "um"},
      {"rest", "stage.rest.rest_h", "h"},
      {"rate", "stage.first_dose.rate_kg_ha", "kg_ha"},
      {"bloom_days", "stage.bloom.days_normal", "d"},
      {"secchi_low", "stage.bloom.secchi_low_cm", "cm"},
      {"secchi_high", "stage.bloom.secchi_high_cm", "cm"},
      {"aim", "stage.third_fill.level_aim_share", "percent"},
      {"days_between", "dose.days_between", "d"},
      {"weeks", "stage.early_cycle.weeks", "weeks"},
  };

  Quantity quantity(const Named& named) const {
    const double number = protocol_.number(named.path);
    return Quantity{named.unit == "percent" ? 100 * number : number, 0, std::string(named.unit)};
  }

  // The coming level as the gauge shows it, where the pond's shape is known.
  std::string level_text(const App& app) const {
    const WaterColumn column = water_column_of(app, pond_);
    if (!column.coming_low_cm || !column.coming_high_cm) return words_("guide.level.unknown");
    return words_(Message("guide.level")
                      .with("low", Quantity{*column.coming_low_cm, 0, "cm"})
                      .with("high", Quantity{*column.coming_high_cm, 0, "cm"}));
  }

  const Words& words_;
  const FarmPond& pond_;
  std::string prefix_;
  Protocol protocol_;
  std::string level_;
};

class GuideScreen : public Screen {
 public:
  explicit GuideScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, pond_name(app, pond_));
    const FarmPond* pond = app.farm().pond(pond_);
    ui.begin_content("guide");
    if (pond == nullptr || !pond->state.in_cycle || pond->state.finished) {
      ui.notice("guide/none", Tone::quiet, words("gate.no_gate"));
      ui.end_content();
      return;
    }
    const Guide guide(app, words, *pond);
    ui.heading("guide/title", stage_word(words, pond->state.stage), 1);
    const Rect art = ui.picture("guide/art", guide("art"), kGuideArtHeight);
    draw_guide_art(ui, art, pond->state.stage);
    ui.heading("guide/do", words("guide.do"));
    draw_steps(ui, guide);
    draw_due(app, ui);
    ui.heading("guide/why", words("guide.why"));
    ui.text("guide/why/text", guide("why"));
    ui.heading("guide/gate", words("guide.gate"));
    draw_criteria(ui, *pond);
    ui.heading("guide/mistakes", words("guide.mistakes"));
    draw_mistakes(ui, guide);
    if (guide.has("caution")) {
      ui.gap(16);
      ui.notice("guide/caution", Tone::warn, guide("caution"));
    }
    ui.gap(16);
    ui.end_content();
  }

 private:
  static void draw_steps(Ui& ui, const Guide& guide) {
    for (int number = 1; guide.has("do." + std::to_string(number)); ++number) {
      const std::string part = "do." + std::to_string(number);
      ui.step("guide/" + part, number, guide(part), false);
    }
  }

  // What is due at this pond at this hour, each one touch away.
  void draw_due(App& app, Ui& ui) const {
    if (!app.rounds()) return;
    const Words& words = ui.words();
    bool any = false;
    for (const DueItem& item : app.rounds()->items) {
      const bool is_now = item.state == DueState::now || item.state == DueState::overdue;
      if (item.pond != pond_ || !is_now) continue;
      if (!any) ui.begin_card("guide/due");
      any = true;
      Ui::Row row;
      row.icon = act_icon(item.act);
      const std::string title = due_act(words, item);
      const std::string time = due_time(words, item);
      row.title = title;
      row.status = status_of(item.state);
      row.word = time;
      row.enabled = app.can_write();
      if (ui.row("guide/due/" + std::string(name_of(item.act)) + item.detail, row)) open_due(app, item);
    }
    if (any) ui.end_card();
  }

  static void draw_criteria(Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    for (const Criterion& criterion : pond.state.criteria) {
      ui.status("guide/criterion/" + criterion.id, status_of(criterion.verdict),
                words("criterion." + criterion.id), words(criterion.why));
    }
  }

  static void draw_mistakes(Ui& ui, const Guide& guide) {
    for (int number = 1; guide.has("mistake." + std::to_string(number)); ++number) {
      const std::string part = "mistake." + std::to_string(number);
      ui.point("guide/" + part, guide(part));
    }
  }

  std::string pond_;
};

}  // namespace

std::unique_ptr<Screen> make_guide_screen(const std::string& pond) {
  return std::make_unique<GuideScreen>(pond);
}

}  // namespace tawny::ui
