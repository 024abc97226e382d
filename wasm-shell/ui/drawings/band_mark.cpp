// Where a Secchi depth stands against its band: the band as a block on a line, the depth as the disc itself.
// What lies far outside stands at the line's end.
#include <algorithm>

#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {

void draw_band_mark(Ui& ui, Rect where, double low_cm, double high_cm, double secchi_cm) {
  constexpr double kBeside = 2;  // band widths shown on either side of the band
  UiState& state = UiParts::of(ui);
  const Theme& theme = *state.theme;
  const double span_cm = std::max(1.0, high_cm - low_cm);
  const double from_cm = low_cm - kBeside * span_cm;
  const double whole_cm = (1 + 2 * kBeside) * span_cm;
  const float radius = where.h / 2;
  const auto at = [&](double cm) {
    const double share = std::clamp((cm - from_cm) / whole_cm, 0.0, 1.0);
    return where.x + radius + static_cast<float>(share) * (where.w - 2 * radius);
  };
  const float middle = where.y + where.h / 2;
  paint_ground(state, {where.x, middle - 1, where.w, 2}, theme.line, 1);
  paint_ground(state, {at(low_cm), middle - where.h * 0.35f, at(high_cm) - at(low_cm), where.h * 0.7f},
               theme.open, 2);
  // A disc in quarters, as it is lowered into the water.
  const ImVec2 centre(at(secchi_cm), middle);
  state.draw->AddCircleFilled(centre, radius, theme.ink, 24);
  for (const float start : {0.0f, 3.14159265f}) {
    state.draw->PathLineTo(centre);
    state.draw->PathArcTo(centre, radius - 1.5f, start, start + 1.57079633f, 12);
    state.draw->PathFillConvex(theme.raised);
  }
}

}  // namespace tawny::ui
