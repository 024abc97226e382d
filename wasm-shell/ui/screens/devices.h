// What concerns trust between the farm's phones, where a person should see it.
#pragma once

#include <string_view>

#include "ui/app.h"

namespace tawny::ui {

// This phone is not admitted, was shut out, or has lost its key; on an office phone, others wait. Nothing where all
// is well. `with_way`: with the button that leads to the phones.
void draw_trust_news(App& app, Ui& ui, std::string_view where, bool with_way);

}  // namespace tawny::ui
