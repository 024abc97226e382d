// The logbook handed to the person as a file: whole, as a table, as JSON lines; or one cycle of it.
#pragma once

#include "ui/app.h"

namespace tawny::ui {

// A bundle, which another phone takes in. It ends in .txt, because share sheets take few endings.
void take_out_bundle(App& app);
// For a spreadsheet.
void take_out_table(App& app);
// The logbook's own lines, for other programs.
void take_out_lines(App& app);
// A cycle's record, shown as a page that can be printed or kept; and its entries as a table. Several cycles may
// share a label: the start tells them apart.
void take_out_report(App& app, std::string_view pond, std::string_view cycle, Instant start);
void take_out_report_table(App& app, std::string_view pond, std::string_view cycle, Instant start);

}  // namespace tawny::ui
