#include "ui/screens/rounds_shown.h"

#include <algorithm>

#include "farm/own_ponds.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {

bool all_work(const App& app) {
  return app.setting("rounds.whose", app.role() == Role::manager ? "all" : "mine") == "all";
}

void draw_whose(App& app, Ui& ui) {
  ui.gap(24);
  setting_choice(app, ui, "rounds/whose", ui.words()("rounds.whose"), "rounds.whose",
                 {"mine", "rounds.my_work"}, {"all", "rounds.all_work"}, all_work(app));
}

// The person's own ponds only, as long as they have any.
bool own_ponds(const App& app) {
  return has_ponds(app.farm(), app.person()) && app.setting("rounds.ponds", "mine") == "mine";
}

void draw_whose_ponds(App& app, Ui& ui) {
  if (!has_ponds(app.farm(), app.person())) return;
  ui.gap();
  setting_choice(app, ui, "rounds/ponds", ui.words()("rounds.ponds"), "rounds.ponds",
                 {"mine", "rounds.ponds.mine"}, {"all", "rounds.ponds.all"}, !own_ponds(app));
}

// The person's own ponds and those in danger before the others.
ShownRounds shown_rounds(const App& app, const Rounds& rounds) {
  ShownRounds shown;
  const bool all = all_work(app);
  const bool own = own_ponds(app);
  for (const DueItem& item : rounds.items) {
    if (!all && item.role != app.role()) continue;
    if (!own || is_for(app.farm(), item, app.person())) {
      shown.items.push_back(&item);
    } else if (item.state == DueState::now || item.state == DueState::overdue) {
      ++shown.others;
    }
  }
  if (!has_ponds(app.farm(), app.person())) return shown;
  std::stable_partition(shown.items.begin(), shown.items.end(), [&](const DueItem* item) {
    const FarmPond* pond = app.farm().pond(item->pond);
    return pond == nullptr || in_danger(*pond) || has_pond(*pond, app.person());
  });
  return shown;
}

// Whoever has the pond: danger is everybody's.
void draw_danger(App& app, Ui& ui) {
  const Words& words = ui.words();
  if (!has_ponds(app.farm(), app.person())) return;
  bool any = false;
  std::string opened;
  for (const FarmPond& pond : app.farm().ponds) {
    if (has_pond(pond, app.person()) || !in_danger(pond)) continue;
    if (!any) {
      ui.heading("rounds/danger", words("rounds.danger"));
      ui.begin_card("rounds/danger/card");
    }
    any = true;
    Ui::Row row;
    row.title = pond.history.pond.name;
    row.status = Status::stopped;
    for (const Trouble& trouble : pond.state.troubles) {
      if (trouble.severity != Trouble::Severity::alarm) continue;
      row.word += (row.word.empty() ? "" : ", ") + words("trouble." + trouble.id);
    }
    row.name = row.title + ", " + row.word;
    if (ui.row("rounds/danger/" + pond.history.pond.id, row)) opened = pond.history.pond.id;
  }
  if (any) ui.end_card();
  if (!opened.empty()) app.open(make_pond_screen(opened));
}

}  // namespace tawny::ui
