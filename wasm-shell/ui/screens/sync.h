// The office's folder on the Office screen: how the last sync went, one button, and what leads on.
#pragma once

#include "ui/app.h"

namespace tawny::ui {

void draw_sync(App& app, Ui& ui);

}  // namespace tawny::ui
