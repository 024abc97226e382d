// The choice of the language, each said in its own words: on the first screen and in the office.
#pragma once

#include "ui/app.h"

namespace tawny::ui {

void draw_language_choice(App& app, Ui& ui);

}  // namespace tawny::ui
