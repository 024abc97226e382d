// What a person must know of the store on this device: that it did not open, that part of it is damaged, that
// room is short, and which tab does the writing. `where` begins the ids of the controls.
#pragma once

#include <string_view>

#include "ui/app.h"

namespace tawny::ui {

void draw_store_state(App& app, Ui& ui, std::string_view where);
// True when there was something to say.
bool draw_damage(App& app, Ui& ui, std::string_view where);
void draw_little_room(App& app, Ui& ui, std::string_view where);
// In the tab that reads along: asking for the pen, and what came of it.
void draw_pen(App& app, Ui& ui);
// In the tab that writes, while it holds something unsaved: another tab wants to write.
void draw_pen_asked(App& app, Ui& ui, std::string_view where);

}  // namespace tawny::ui
