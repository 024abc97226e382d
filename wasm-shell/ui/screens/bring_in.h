// A file of entries on its way in: how far it is read, what it would add, and the two ways on.
#pragma once

#include <functional>

#include "ui/app.h"

namespace tawny::ui {

// Draws nothing where no file was handed over. `then` is run once everything is saved; it must not point into a
// screen.
void draw_incoming(App& app, Ui& ui, std::function<void()> then = {});

}  // namespace tawny::ui
