// What can be entered at a pond, by what it is about; opened from the pond's page.
#pragma once

#include <memory>
#include <string>

#include "ui/app.h"

namespace tawny::ui {

std::unique_ptr<Screen> make_pond_acts_screen(const std::string& pond);

}  // namespace tawny::ui
