// The logbook handed to the person as a file: whole, as a table, as JSON lines.
#pragma once

#include "ui/app.h"

namespace tawny::ui {

// A bundle, which another phone takes in. It ends in .txt, because share sheets take few endings.
void take_out_bundle(App& app);
// For a spreadsheet.
void take_out_table(App& app);
// The logbook's own lines, for other programs.
void take_out_lines(App& app);

}  // namespace tawny::ui
