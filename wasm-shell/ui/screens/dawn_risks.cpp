#include "ui/screens/dawn_risks.h"

#include <algorithm>

#include "base/sort_stably.h"
#include "outlook/outlook_says.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr std::size_t kShownAtFirst = 6;

}  // namespace

void DawnRisks::renew(App& app) {
  if (folds_ == app.folds()) return;
  folds_ = app.folds();
  risks_.clear();
  const auto& dawns = app.outlooks().dawns(app);
  for (const FarmPond& pond : app.farm().ponds) {
    const auto dawn = dawns.find(pond.history.pond.id);
    if (dawn != dawns.end() && is_dawn_at_risk(dawn->second, app.outlooks().priors()))
      risks_.push_back({&pond, &dawn->second});
  }
  sort_stably(risks_, [](const Risk& one, const Risk& other) {
    return one.dawn->under_floor > other.dawn->under_floor;
  });
}

void DawnRisks::draw(App& app, Ui& ui) {
  const Words& words = ui.words();
  renew(app);
  const std::vector<Risk>& risks = risks_;
  if (risks.empty()) return;
  ui.heading("rounds/dawn", words("outlook.dawn.at_risk"));
  ui.begin_card("rounds/dawn/card");
  const std::size_t shown = all_ ? risks.size() : std::min(risks.size(), kShownAtFirst);
  for (std::size_t i = 0; i < shown; ++i) {
    const Risk& risk = risks[i];
    const std::string& pond = risk.pond->history.pond.id;
    Ui::Row row;
    row.title = pond_name(app, pond);
    row.status = Status::due;
    row.word = words(dawn_risk_message(*risk.dawn));
    row.remark = words(dawn_message(*risk.dawn));
    row.name = row.title + ", " + row.word + " " + row.remark;
    row.large = true;
    if (ui.row("rounds/dawn/" + pond, row)) app.open(make_pond_screen(pond));
  }
  if (shown < risks.size()) {
    Ui::Row more;
    more.title = words(Message("outlook.dawn.more").with("count", bare(risks.size() - shown)));
    more.unfolds = true;
    if (ui.row("rounds/dawn/more", more)) all_ = true;
  }
  ui.gap();
  // The pair after sunset is asked for as long as one of the ponds lacks it.
  const auto lacking = std::find_if(risks.begin(), risks.end(),
                                    [](const Risk& risk) { return risk.dawn->way != DawnWay::two_dusk; });
  const Risk& asked = lacking == risks.end() ? risks.front() : *lacking;
  int number = 0;
  for (const Message& check : dawn_checks(*asked.dawn)) {
    ui.point("rounds/dawn/check/" + std::to_string(++number), words(check));
  }
  ui.end_card();
  ui.gap(16);
}

}  // namespace tawny::ui
