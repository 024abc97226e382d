// How the app speaks and how large it writes: on the first screen and in the office.
#pragma once

#include "ui/app.h"

namespace tawny::ui {

// Each language said in its own words.
void draw_language_choice(App& app, Ui& ui);
void draw_text_size_choice(App& app, Ui& ui);

}  // namespace tawny::ui
