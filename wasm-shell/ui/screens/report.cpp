// The record of a cycle, to print or file: a pond's cycles, newest first, each as a page and as a table.
#include "report/report.h"
#include "office/cycles.h"
#include "ui/screens/form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"
#include "ui/screens/take_out.h"

namespace tawny::ui {
namespace {

class ReportScreen : public Screen {
 public:
  explicit ReportScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, pond_.empty() ? words("report.title") : pond_name(app, pond_));
    ui.begin_content("report");
    if (!pond_.empty()) ui.heading("report/title", words("report.title"), 1);
    ui.text("report/about", words("report.about"), TextSize::body, Tone::quiet);
    ui.gap();
    if (pond_.empty()) {
      draw_ponds(app, ui);
    } else {
      draw_cycles(app, ui);
    }
    ui.gap(16);
    ui.end_content();
  }

 private:
  static void draw_ponds(App& app, Ui& ui) {
    std::string chosen;
    for (const FarmPond& pond : app.farm().ponds) {
      if (ui.button("report/pond/" + pond.history.pond.id, pond.history.pond.name)) {
        chosen = pond.history.pond.id;
      }
      ui.gap(8);
    }
    if (!chosen.empty()) app.open(make_report_screen(chosen));
  }

  struct Told {
    std::string label, span;
    Instant start;
  };

  void draw_cycles(App& app, Ui& ui) {
    const Words& words = ui.words();
    read_cycles(app, words);
    if (cycles_.empty()) {
      ui.text("report/none", words("pond.no_cycle"), TextSize::lead);
      ui.text("report/none/about", words("pond.no_cycle.about"));
    }
    for (std::size_t i = 0; i < cycles_.size(); ++i) {
      const Told& cycle = cycles_[i];
      const std::string id = "report/cycle/" + std::to_string(i);
      ui.gap(8);
      ui.heading(id, cycle.label);
      ui.text(id + "/span", cycle.span);
      ui.gap(8);
      ui.begin_cells(2);
      if (ui.button(id + "/page", words("report.page"), ButtonKind::secondary, true, "logbook")) {
        take_out_report(app, pond_, cycle.label, cycle.start);
      }
      ui.next_cell();
      if (ui.button(id + "/table", words("report.table"), ButtonKind::secondary, true, "share")) {
        take_out_report_table(app, pond_, cycle.label, cycle.start);
      }
      ui.end_cells();
    }
  }

  void read_cycles(const App& app, const Words& words) {
    if (read_at_ == app.farm().at && read_size_ == app.logbook().size() && read_language_ == app.language()) {
      return;
    }
    read_at_ = app.farm().at;
    read_size_ = app.logbook().size();
    read_language_ = app.language();
    cycles_.clear();
    std::vector<Cycle> all = cycles_of(app.logbook(), app.farm(), pond_, app.protocol(), app.now());
    for (auto cycle = all.rbegin(); cycle != all.rend(); ++cycle) {
      Message span = Message(cycle->end ? "report.span" : "report.since").with("from", cycle->start);
      if (cycle->end) span.with("until", *cycle->end);
      cycles_.push_back({cycle->label, words(span), cycle->start});
    }
  }

  std::string pond_;  // empty: asks which
  std::vector<Told> cycles_;
  Instant read_at_{-1};
  std::size_t read_size_ = 0;
  std::string read_language_;
};

}  // namespace

std::unique_ptr<Screen> make_report_screen(const std::string& pond) {
  return std::make_unique<ReportScreen>(pond);
}

}  // namespace tawny::ui
