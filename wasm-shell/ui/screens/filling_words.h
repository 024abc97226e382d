// A filling plan as it is said and drawn: hours, start and end, the level by the clock, the cloth of each
// screen.
#pragma once

#include <optional>
#include <string>

#include "ui/screens/filling_work.h"

namespace tawny::ui {

// "Gate, 1.2 m wide, 0.4 m open, sill at -15 cm".
std::string inlet_sizes(const Words& words, const Inlet& inlet);

void draw_filling_answer(Ui& ui, UtcOffset offset, const FillingBasis& basis,
                         const std::optional<FillingAnswer>& answer);

}  // namespace tawny::ui
