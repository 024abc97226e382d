// One decision about the gates of several ponds: each is named with what does not hold there, one reason goes
// on record for all, and all are saved together or none.
#include <algorithm>
#include <map>
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr int kReasonLength = 300;
constexpr float kUnknownCard = 180;

enum class Decision { none, pass, refuse, take_back };

bool has_gate(const FarmPond& pond) {
  return pond.state.in_cycle && !pond.state.finished && !pond.state.unsupported;
}

class DecideScreen : public Screen {
 public:
  explicit DecideScreen(std::vector<std::string> ponds) : ponds_(std::move(ponds)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("decide.title"));
    switch (flow_.poll(app)) {
      case SaveFlow::State::idle:
        if (decision_ == Decision::none) {
          draw_ponds(app, ui);
        } else {
          draw_sure(app, ui);
        }
        return;
      case SaveFlow::State::saving:
      case SaveFlow::State::failed:
        ui.begin_content("decide_waiting");
        flow_.draw_waiting(app, ui);
        ui.end_content();
        return;
      case SaveFlow::State::saved:
        draw_saved(app, ui);
        return;
    }
  }

  bool holds_unsaved() const override {
    return flow_.holds_unsaved() || (flow_.ids().empty() && !reason_.empty());
  }

 private:
  static std::string_view title_of(Decision decision) {
    return decision == Decision::refuse ? "gate.refuse"
           : decision == Decision::pass ? "gate.pass"
                                        : "decide.back";
  }

  std::vector<const FarmPond*> with_gates(const App& app) const {
    std::vector<const FarmPond*> ponds;
    for (const std::string& id : ponds_) {
      const FarmPond* pond = app.farm().pond(id);
      if (pond != nullptr && has_gate(*pond)) ponds.push_back(pond);
    }
    return ponds;
  }

  void draw_ponds(App& app, Ui& ui) {
    const Words& words = ui.words();
    const char* const why_not = app.why_no_decision();
    const bool manager = why_not == nullptr;
    ui.begin_content("decide", manager ? 2 * Sizes::kTarget : 0);
    draw_act_left_behind(app, ui);
    if (!manager) ui.notice("decide/manager_only", Tone::warn, words(why_not));
    const std::vector<const FarmPond*> ponds = with_gates(app);
    ui.text("decide/about", words(Message("decide.about").with("count", bare(ponds.size()))), TextSize::lead);
    if (ponds.size() < ponds_.size()) {
      ui.notice("decide/left_out", Tone::quiet,
                words(Message("decide.without_gate").with("count", bare(ponds_.size() - ponds.size()))));
    }
    ui.gap();
    for (const FarmPond* pond : ponds) draw_pond(ui, *pond);
    ui.gap(16);
    if (manager) {
      if (auto text = ui.text_field("decide/reason", words("key.reason"), reason_, words("entry.hint.reason"),
                                    "note", kReasonLength)) {
        reason_ = *std::move(text);
      }
      if (reason_.empty())
        ui.text("decide/needs_reason", words("gate.needs_reason"), TextSize::body, Tone::quiet);
    }
    ui.end_content();
    if (!manager) return;
    const bool ready = app.can_write() && !reason_.empty() && !ponds.empty();
    ui.begin_footer();
    ui.begin_cells(2);
    if (ui.button("decide/refuse", words("gate.refuse"), ButtonKind::danger, ready))
      decision_ = Decision::refuse;
    ui.next_cell();
    if (ui.button("decide/pass", words("gate.pass"), ButtonKind::secondary, ready)) decision_ = Decision::pass;
    ui.end_cells();
    ui.end_footer();
  }

  void draw_pond(Ui& ui, const FarmPond& pond) {
    const Words& words = ui.words();
    const std::string id = "decide/pond/" + pond.history.pond.id;
    float& height = heights_.try_emplace(pond.history.pond.id, kUnknownCard).first->second;
    if (ui.skip_unseen(height)) return;
    ui.begin_card(id);
    ui.text(id + "/name", pond.history.pond.name, TextSize::lead, Tone::ink, true);
    ui.text(id + "/stage",
            words(Message("gate.of_stage").with("stage", Text{stage_word(words, pond.state.stage)})));
    if (pond.state.refused) ui.status(id + "/refused", Status::stopped, words("board.refused"));
    bool all_met = true;
    for (const Criterion& criterion : pond.state.criteria) {
      if (criterion.verdict == Verdict::met) continue;
      all_met = false;
      ui.status(id + "/" + criterion.id, status_of(criterion.verdict), words("criterion." + criterion.id),
                words(criterion.why));
    }
    if (all_met) ui.status(id + "/met", Status::open, words("decide.all_met"));
    ui.end_card(&height);
  }

  void draw_sure(App& app, Ui& ui) {
    const Words& words = ui.words();
    const std::vector<const FarmPond*> ponds = with_gates(app);
    ui.begin_content("decide_sure", 2 * Sizes::kTarget + 2 * Sizes::kGrid);
    ui.heading("decide/sure", words(title_of(decision_)));
    ui.text("decide/sure_about", words(std::string(title_of(decision_)) + ".about"), TextSize::lead);
    for (const FarmPond* pond : ponds) {
      ui.point("decide/sure/" + pond->history.pond.id,
               words(Message("decide.pond")
                         .with("pond", Text{pond->history.pond.name})
                         .with("stage", Text{stage_word(words, pond->state.stage)})));
    }
    ui.fact("decide/sure_reason", words("key.reason"), reason_);
    ui.fact("decide/sure_by", words("gate.by"), app.person());
    ui.end_content();
    ui.begin_footer();
    if (ui.button("decide/not_yet", words("gate.not_yet"))) decision_ = Decision::none;
    ui.gap();
    if (decision_ != Decision::none &&
        ui.button("save", words("decide.yes"), ButtonKind::primary, app.can_write())) {
      flow_.put(app, drafts(app, ponds));
    }
    ui.end_footer();
  }

  std::vector<Draft> drafts(const App& app, const std::vector<const FarmPond*>& ponds) const {
    std::vector<Draft> drafts;
    for (const FarmPond* pond : ponds) {
      Draft draft;
      draft.kind = decision_ == Decision::pass ? kind::kGatePassed : kind::kGateRefused;
      draft.pond = pond->history.pond.id;
      draft.observed = app.now();
      draft.values.emplace("stage", static_cast<double>(pond->state.stage));
      draft.values.emplace("reason", reason_);
      drafts.push_back(std::move(draft));
    }
    return drafts;
  }

  void draw_saved(App& app, Ui& ui) {
    const Words& words = ui.words();
    const bool back = decision_ == Decision::take_back;
    if (!back) decided_ = flow_.ids();
    ui.begin_content("decide_saved", 2 * Sizes::kTarget + 2 * Sizes::kGrid);
    ui.status("decide/saved_status", Status::done, words(back ? "decide.taken_back" : title_of(decision_)));
    ui.text("decide/saved", words(Message("save.saved").with("time", flow_.saved_at())), TextSize::title,
            Tone::open, true);
    for (const FarmPond* pond : with_gates(app)) {
      ui.point("decide/now/" + pond->history.pond.id,
               words(Message("decide.pond")
                         .with("pond", Text{pond->history.pond.name})
                         .with("stage", Text{stage_word(words, pond->state.stage)})));
    }
    ui.end_content();
    ui.begin_footer();
    if (!back && ui.button("decide/take_back", words("decide.back"), ButtonKind::secondary, app.can_write())) {
      std::vector<Draft> voids;
      for (const EntryId& id : decided_) voids.push_back(app.take_back(id, words("entry.take_back.reason")));
      decision_ = Decision::take_back;
      flow_.reset();
      flow_.put(app, std::move(voids));
    }
    ui.gap();
    if (ui.button("decide/done", words("entry.done"), ButtonKind::primary)) app.back();
    ui.end_footer();
  }

  std::vector<std::string> ponds_;
  std::string reason_;
  Decision decision_ = Decision::none;
  std::vector<EntryId> decided_;
  std::map<std::string, float> heights_;
  SaveFlow flow_;
};

}  // namespace

std::unique_ptr<Screen> make_decide_screen(std::vector<std::string> ponds) {
  return std::make_unique<DecideScreen>(std::move(ponds));
}

}  // namespace tawny::ui
