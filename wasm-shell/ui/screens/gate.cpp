// The gate of a pond's stage: the manager passes it by hand or holds it shut, with a reason on record; at the
// release stage a qualified person signs.
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/criteria.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kReasonLength = 300;

enum class Decision { none, pass, refuse, sign };

class GateScreen : public Screen {
 public:
  explicit GateScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, pond_name(app, pond_));
    const FarmPond* pond = app.farm().pond(pond_);
    if (pond == nullptr || !pond->state.in_cycle) {
      ui.begin_content("gate");
      ui.notice("gate/none", Tone::quiet, words("gate.no_gate"));
      ui.end_content();
      return;
    }
    switch (flow_.poll(app)) {
      case SaveFlow::State::idle:
        if (decision_ == Decision::none) {
          draw_gate(app, ui, *pond);
        } else {
          draw_sure(app, ui);
        }
        return;
      case SaveFlow::State::saving:
      case SaveFlow::State::failed:
        ui.begin_content("gate_waiting");
        ui.heading("gate/title", words(title_of(decision_)));
        ui.gap(16);
        flow_.draw_waiting(app, ui);
        ui.end_content();
        return;
      case SaveFlow::State::saved:
        draw_saved(app, ui, *pond);
        return;
    }
  }

  bool holds_unsaved() const override {
    return flow_.holds_unsaved() || (flow_.ids().empty() && !reason_.empty());
  }

 private:
  static std::string_view title_of(Decision decision) {
    switch (decision) {
      case Decision::pass:
        return "gate.pass";
      case Decision::refuse:
        return "gate.refuse";
      case Decision::sign:
        return "gate.sign";
      case Decision::none:
        break;
    }
    return "gate.open";
  }

  void draw_gate(App& app, Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    stage_ = pond.state.stage;
    const bool release = stage_ == Stage::release;
    const char* const why_not = app.why_no_decision();
    ui.begin_content("gate");
    ui.heading("gate/title", words(Message("gate.of_stage").with("stage", Text{stage_word(words, stage_)})));
    draw_act_left_behind(app, ui);
    if (release) ui.notice("gate/qualified", Tone::warn, words("gate.qualified"));
    if (why_not != nullptr) ui.notice("gate/manager_only", Tone::warn, words(why_not));
    if (pond.state.refused) ui.notice("gate/refused", Tone::warn, words("pond.refused"));
    ui.gap();
    draw_unmet(ui, pond);
    criteria_.draw(app, ui, pond);
    if (why_not == nullptr) draw_ways(app, ui, release);
    ui.gap(16);
    ui.end_content();
  }

  static void draw_unmet(Ui& ui, const FarmPond& pond) {
    int unmet = 0;
    for (const Criterion& criterion : pond.state.criteria) {
      if (criterion.verdict != Verdict::met && criterion.settles != Act::sign_release) ++unmet;
    }
    const Quantity count{static_cast<double>(unmet), 0, ""};
    ui.text("gate/unmet",
            ui.words()(unmet == 0 ? Message("gate.all_met") : Message("gate.unmet").with("count", count)),
            TextSize::lead, unmet == 0 ? Tone::open : Tone::warn, true);
    ui.gap();
  }

  void draw_ways(App& app, Ui& ui, bool release) {
    const Words& words = ui.words();
    ui.gap(16);
    if (auto text = ui.text_field("gate/reason", words("key.reason"), reason_, words("entry.hint.reason"),
                                  "note", kReasonLength)) {
      reason_ = *std::move(text);
    }
    ui.gap();
    const bool with_reason = app.can_write() && !reason_.empty();
    if (!with_reason) ui.text("gate/needs_reason", words("gate.needs_reason"), TextSize::body, Tone::quiet);
    if (release) {
      if (ui.button("gate/sign", words("gate.sign"), ButtonKind::primary, app.can_write()))
        decision_ = Decision::sign;
      ui.gap();
    }
    if (ui.button("gate/pass", words("gate.pass"), release ? ButtonKind::secondary : ButtonKind::primary,
                  with_reason)) {
      decision_ = Decision::pass;
    }
    ui.gap();
    if (ui.button("gate/refuse", words("gate.refuse"), ButtonKind::danger, with_reason))
      decision_ = Decision::refuse;
  }

  void draw_sure(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.begin_content("gate_sure", 2 * Sizes::kTarget + 2 * Sizes::kGrid);
    ui.heading("gate/sure", words(title_of(decision_)));
    ui.text("gate/sure_about", words(std::string(title_of(decision_)) + ".about"), TextSize::lead);
    if (!reason_.empty()) ui.fact("gate/sure_reason", words("key.reason"), reason_);
    ui.fact("gate/sure_by", words("gate.by"), app.person());
    ui.end_content();
    ui.begin_footer();
    if (ui.button("gate/back", words("gate.not_yet"))) decision_ = Decision::none;
    ui.gap();
    if (decision_ != Decision::none && ui.button("save", words(std::string(title_of(decision_)) + ".yes"),
                                                 ButtonKind::primary, app.can_write())) {
      flow_.put(app, draft(app));
    }
    ui.end_footer();
  }

  Draft draft(const App& app) const {
    Draft draft;
    draft.pond = pond_;
    draft.observed = app.now();
    if (decision_ == Decision::sign) {
      draft.kind = kind::kReleaseSigned;
      draft.values.emplace("decision", std::string("release"));
      if (!reason_.empty()) draft.values.emplace("reason", reason_);
      return draft;
    }
    draft.kind = decision_ == Decision::pass ? kind::kGatePassed : kind::kGateRefused;
    draft.values.emplace("stage", static_cast<double>(stage_));
    draft.values.emplace("reason", reason_);
    return draft;
  }

  void draw_saved(App& app, Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    ui.begin_content("gate_saved", Sizes::kTarget + 2 * Sizes::kGrid);
    ui.status("gate/saved_status", Status::done, words(title_of(decision_)));
    ui.text("gate/saved", words(Message("save.saved").with("time", flow_.saved_at())), TextSize::title,
            Tone::open, true);
    ui.text("gate/now_at",
            words(Message("gate.now_at").with("stage", Text{stage_word(words, pond.state.stage)})),
            TextSize::lead);
    ui.end_content();
    ui.begin_footer();
    if (ui.button("gate/done", words("entry.done"), ButtonKind::primary)) app.back();
    ui.end_footer();
  }

  std::string pond_;
  Stage stage_ = Stage::bottom;
  std::string reason_;
  Decision decision_ = Decision::none;
  CriteriaList criteria_;
  SaveFlow flow_;
};

}  // namespace

std::unique_ptr<Screen> make_gate_screen(const std::string& pond) { return std::make_unique<GateScreen>(pond); }

}  // namespace tawny::ui
