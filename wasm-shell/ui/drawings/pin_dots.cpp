// A PIN that is being typed: a dot for each digit, hollow ones for those that are needed still.
#include <algorithm>

#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {

void draw_pin_dots(Ui& ui, Rect where, std::size_t typed, std::size_t needed) {
  constexpr float kRadius = 9, kStep = 32;
  UiState& state = UiParts::of(ui);
  const Theme& theme = *state.theme;
  const std::size_t count = std::max(typed, needed);
  const float step = std::min(kStep, where.w / static_cast<float>(count));
  const float y = where.y + where.h / 2;
  float x = where.x + (where.w - step * static_cast<float>(count - 1)) / 2;
  for (std::size_t i = 0; i < count; ++i, x += step) {
    if (i < typed) {
      state.draw->AddCircleFilled(ImVec2(x, y), kRadius, theme.ink, 24);
    } else {
      state.draw->AddCircle(ImVec2(x, y), kRadius, theme.quiet_ink, 24, 2);
    }
  }
}

}  // namespace tawny::ui
