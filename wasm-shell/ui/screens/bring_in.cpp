#include "ui/screens/bring_in.h"

#include <utility>

namespace tawny::ui {
namespace {

constexpr int kMostProblems = 3;  // told one by one; the rest as a count

void draw_report(Ui& ui, const LoadReport& report) {
  const Words& words = ui.words();
  ui.text("incoming/new", words(Message("import.new").with("count", bare(report.added))));
  ui.text("incoming/known", words(Message("import.known").with("count", bare(report.already_there))));
  int shown = 0;
  for (const LineProblem& problem : report.problems) {
    if (++shown > kMostProblems) break;
    ui.notice("incoming/problem/" + std::to_string(shown), Tone::warn,
              words(Message("import.line_problem")
                        .with("line", bare(problem.line))
                        .with("problem", Text{words(problem.message)})));
  }
  const std::size_t problems = report.problems.size() + report.problems_not_listed;
  if (problems > kMostProblems) {
    ui.text("incoming/more", words(Message("import.problems").with("count", bare(problems))));
  }
}

}  // namespace

void draw_incoming(App& app, Ui& ui, std::function<void()> then) {
  const Incoming* incoming = app.incoming();
  if (incoming == nullptr) return;
  const Words& words = ui.words();
  const bool is_read = incoming->is_read();
  const LoadReport& report = incoming->report();
  ui.gap(8);
  ui.begin_card("incoming/card");
  ui.text("incoming/file", incoming->name(), TextSize::body, Tone::ink, true);
  if (is_read) {
    draw_report(ui, report);
  } else {
    ui.progress("incoming/read", words("import.reading"), incoming->share());
  }
  const bool saving = app.news().state == SaveNews::State::saving;
  ui.begin_cells(2);
  const bool dropped =
      ui.button("incoming/drop", words(is_read ? "import.drop" : "import.stop"), ButtonKind::quiet, !saving);
  ui.next_cell();
  const bool may = is_read && report.added > 0 && !saving;
  const bool accepted = ui.button("incoming/accept", words("import.accept"), ButtonKind::primary, may);
  ui.end_cells();
  ui.end_card();
  if (dropped) app.drop_incoming();
  if (accepted) app.bring_in(std::move(then));
}

}  // namespace tawny::ui
