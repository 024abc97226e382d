#include "ui/screens/findings.h"

#include <utility>

namespace tawny::ui {

FindingsPart::Outcome FindingsPart::look(App& app, const FarmPond& pond, const std::vector<Draft>& drafts) {
  std::vector<Finding> found;
  for (Draft draft : drafts) {
    if (draft.observed.unix_s == 0) draft.observed = app.now();
    for (Finding& finding :
         check_entry(draft, pond.history, app.protocol(), app.farm().place, app.now(), bag_sizes(app.farm()))) {
      found.push_back(std::move(finding));
    }
  }
  const Outcome outcome = take(found);
  if (outcome == Outcome::refused) app.ui().scroll_to_top();
  return outcome;
}

FindingsPart::Outcome FindingsPart::take(const std::vector<Finding>& found) {
  forget();
  for (const Finding& finding : found) {
    (finding.weight == Finding::Weight::refused ? refusals_ : questions_).push_back(finding.message);
  }
  if (refused()) return Outcome::refused;
  asking_ = !questions_.empty();
  return asking_ ? Outcome::questioned : Outcome::clear;
}

void FindingsPart::forget() {
  refusals_.clear();
  questions_.clear();
  asking_ = false;
}

void FindingsPart::draw_refusals(Ui& ui) const {
  int number = 0;
  for (const Message& refusal : refusals_) {
    ui.notice("findings/refused/" + std::to_string(++number), Tone::alarm, ui.words()(refusal));
    ui.gap();
  }
}

std::optional<bool> FindingsPart::draw_question(const App& app, Ui& ui, const std::string& what,
                                                const std::string& go_on) {
  const Words& words = ui.words();
  ui.begin_content("findings", 2 * Sizes::kTarget + 2 * Sizes::kGrid);
  ui.heading("findings/sure", words("entry.sure"));
  ui.text("findings/what", what, TextSize::title, Tone::ink, true);
  ui.gap(16);
  int number = 0;
  for (const Message& question : questions_) {
    ui.notice("findings/questioned/" + std::to_string(++number), Tone::warn, words(question));
    ui.gap();
  }
  ui.end_content();
  std::optional<bool> answer;
  ui.begin_footer();
  if (ui.button("findings/change", words("entry.change"))) answer = false;
  ui.gap();
  if (ui.button("findings/go_on", go_on, ButtonKind::primary, app.can_write())) answer = true;
  ui.end_footer();
  if (answer) asking_ = false;
  return answer;
}

}  // namespace tawny::ui
