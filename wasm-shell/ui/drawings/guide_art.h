// One small picture for each stage: the pond cut through, with its water, its screen and what is done to it.
//
// Not to scale: it says "shallow", "from the boat", "at the sun's peak". What is true of a pond stands in
// draw_water_column().
#pragma once

#include "protocol/protocol.h"
#include "ui/widgets.h"

namespace tawny::ui {

inline constexpr float kGuideArtHeight = 168;

void draw_guide_art(Ui& ui, Rect where, Stage stage);

}  // namespace tawny::ui
