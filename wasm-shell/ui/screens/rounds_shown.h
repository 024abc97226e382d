// Whose work the rounds show: the person's own part or all of it, at their own ponds or at all.
#pragma once

#include <vector>

#include "ui/app.h"

namespace tawny::ui {

// As the person chose; the manager sees all work unless he says otherwise.
bool all_work(const App& app);
void draw_whose(App& app, Ui& ui);

// The person's own ponds only, as long as they have any and did not ask for all.
bool own_ponds(const App& app);
// Nothing is drawn for a person who has none.
void draw_whose_ponds(App& app, Ui& ui);

struct ShownRounds {
  std::vector<const DueItem*> items;
  int others = 0;  // due now at ponds that others have, and left out for that
};
// The person's own ponds and those in danger before the others.
ShownRounds shown_rounds(const App& app, const Rounds& rounds);

// Danger at ponds that others have: it is everybody's, whoever has the pond.
void draw_danger(App& app, Ui& ui);

}  // namespace tawny::ui
