// Work that is due, worded, and the screen on which it is done.
#pragma once

#include <string>

#include "farm/rounds.h"
#include "ui/app.h"

namespace tawny::ui {

void open_due(App& app, const DueItem& item);
// "Read Secchi", "Inspect the screen, east gate".
std::string due_act(const Words& words, const DueItem& item);
// "until 07:10", "15:10 to 17:20", "today": only a window is worth a time.
std::string due_time(const Words& words, const DueItem& item);

}  // namespace tawny::ui
