#include "ui/screens/plan_conflicts.h"

#include <algorithm>
#include <set>
#include <utility>

namespace tawny::ui {

void ConflictList::renew(const Words& words, const std::vector<Conflict>& at_rest,
                         const std::vector<Conflict>& now) {
  lines_.clear();
  std::set<std::string> before, after;
  for (const Conflict& one : at_rest) before.insert(words(one.what));
  for (const Conflict& one : now) {
    Line line;
    line.text = words(one.what);
    after.insert(line.text);
    line.is_new = before.count(line.text) == 0;
    if (line.is_new) line.text = words(Message("plan.conflict.new").with("what", Text{line.text}));
    lines_.push_back(std::move(line));
  }
  for (const std::string& text : before) {
    if (after.count(text) > 0) continue;
    Line line;
    line.text = words(Message("plan.conflict.gone").with("what", Text{text}));
    line.is_gone = true;
    lines_.push_back(std::move(line));
  }
}

void ConflictList::draw(Ui& ui, const Of& of, const std::vector<Conflict>& at_rest,
                        const std::vector<Conflict>& now) {
  const Words& words = ui.words();
  if (of_ != of) {
    of_ = of;
    renew(words, at_rest, now);
  }
  ui.heading("plan/conflicts", words("plan.conflicts"));
  if (std::all_of(lines_.begin(), lines_.end(), [](const Line& one) { return one.is_gone; })) {
    ui.status("plan/conflict/none", Status::done, words("plan.conflicts.none"));
  }
  int number = 0;
  for (Line& one : lines_) {
    ++number;
    ui.gap(8);
    if (ui.skip_unseen(one.height)) continue;
    // A cell tells where it begins.
    ui.begin_cells(1);
    const float top = ui.down();
    if (one.is_gone) {
      ui.text("plan/conflict/gone/" + std::to_string(number), one.text, TextSize::body, Tone::quiet);
    } else {
      ui.notice("plan/conflict/" + std::to_string(number), one.is_new ? Tone::alarm : Tone::warn, one.text);
    }
    ui.end_cells();
    one.height = ui.down() - top;
  }
}

void ConflictList::forget_heights() {
  for (Line& one : lines_) one.height = 0;
}

}  // namespace tawny::ui
