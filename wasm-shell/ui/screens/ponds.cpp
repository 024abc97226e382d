// Ponds: one row a pond, with its stage and the one criterion that holds it.
#include <algorithm>
#include <utility>

#include "base/sort_stably.h"
#include "office/board.h"
#include "ui/screens/parts.h"
#include "ui/screens/row_heights.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kColumnWidth = 88;
constexpr float kColumnHeight = 64;

class PondsScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("ponds.title"));
    ui.begin_content("ponds", 0, true);
    draw_app_notices(app, ui);
    if (app.farm().ponds.empty()) {
      ui.text("ponds/none", words("ponds.none"), TextSize::lead);
      ui.gap();
      if (ui.button("ponds/add", words("ponds.add"), ButtonKind::primary)) app.open(make_pond_setup_screen({}));
      ui.end_content();
      return;
    }
    const bool by_decision = app.setting("ponds.sort", "walk") == "decision";
    draw_sort(app, ui, by_decision);
    std::vector<const FarmPond*> rows;
    for (const FarmPond& pond : app.farm().ponds) rows.push_back(&pond);
    if (by_decision) {
      sort_stably(rows,
                  [](const FarmPond* a, const FarmPond* b) { return decision_need(*a) < decision_need(*b); });
    }
    const bool is_long = rows.size() > RowHeights::kWholeList;
    ui.begin_cells(ui.columns());
    heights_.begin(ui);
    for (std::size_t i = 0; i < rows.size(); ++i) {
      if (i > 0) ui.next_cell();
      float& height = heights_.of(rows[i]->history.pond.id);
      if (is_long && ui.skip_unseen(height)) continue;
      draw_row(app, ui, *rows[i], height);
    }
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
  }

 private:
  static void draw_sort(App& app, Ui& ui, bool by_decision) {
    setting_choice(app, ui, "ponds/sort", "", "ponds.sort", {"walk", "ponds.sort.walk"},
                   {"decision", "ponds.sort.decision"}, by_decision);
    ui.gap();
  }

  static void draw_row(App& app, Ui& ui, const FarmPond& pond, float& height) {
    const Words& words = ui.words();
    const std::string id = "pond/" + pond.history.pond.id;
    const std::string stage = stage_line(words, pond);
    ui.begin_card(id, pond.history.pond.name + ", " + stage);
    const Rect picture = ui.begin_beside(kColumnWidth, kColumnHeight);
    draw_water_column(ui, picture, water_column_of(app, pond), false);
    ui.text(id + "/name", pond.history.pond.name, TextSize::lead, Tone::ink, true);
    ui.text(id + "/stage", stage);
    if (!pond.state.troubles.empty()) {
      const Trouble& worst = pond.state.troubles.front();
      ui.text(id + "/trouble", words("trouble." + worst.id), TextSize::body, tone_of(worst.severity), true);
    }
    if (const Criterion* holds = holding(pond)) {
      ui.status(id + "/holds", status_of(holds->verdict), words("criterion." + holds->id));
    } else if (pond.state.dose.advised) {
      ui.status(id + "/dose", Status::due, words("ponds.dose_advised"));
    }
    draw_readings(ui, id, pond);
    ui.end_beside();
    if (ui.end_card(&height)) app.open(make_pond_screen(pond.history.pond.id));
  }

  static std::string stage_line(const Words& words, const FarmPond& pond) {
    if (pond.state.unsupported) return words("pond.unsupported.short");
    if (!pond.state.in_cycle) return words("pond.no_cycle");
    if (pond.state.finished) return words("pond.finished");
    return stage_word(words, pond.state.stage);
  }

  static void draw_readings(Ui& ui, const std::string& id, const FarmPond& pond) {
    const Words& words = ui.words();
    if (const std::string secchi = secchi_line(words, pond); !secchi.empty()) {
      ui.text(id + "/secchi", words(Message("ponds.secchi").with("secchi", Text{secchi})), TextSize::body,
              Tone::quiet);
    }
    if (const std::string oxygen = oxygen_line(words, pond); !oxygen.empty()) {
      ui.text(id + "/oxygen", words(Message("ponds.oxygen").with("oxygen", Text{oxygen})), TextSize::body,
              Tone::quiet);
    }
  }

  RowHeights heights_;
};

}  // namespace

std::unique_ptr<Screen> make_ponds_screen() { return std::make_unique<PondsScreen>(); }

}  // namespace tawny::ui
