// A curve over time, with the figures of its ends.
#include <algorithm>

#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {

void draw_curve(Ui& ui, Rect where, const Curve& curve) {
  UiState& state = UiParts::of(ui);
  const Theme& theme = *state.theme;
  const Face face = face_of(state, TextSize::body);
  const float left = where.x + std::max(text_width(face, curve.low), text_width(face, curve.high)) + 8;
  const float right = where.x + where.w - 2;
  const float top = where.y + face.size / 2;
  const float bottom = where.y + where.h - face.size - 6;
  // What stays the same is a line in the middle with one figure.
  const bool flat = curve.low == curve.high;
  if (flat) {
    paint_text(state, face, where.x, (top + bottom - face.size) / 2, theme.quiet_ink, curve.low);
  } else {
    paint_text(state, face, where.x, top - face.size / 2, theme.quiet_ink, curve.high);
    paint_text(state, face, where.x, bottom - face.size / 2, theme.quiet_ink, curve.low);
  }
  paint_text(state, face, left, bottom + 4, theme.quiet_ink, curve.from);
  paint_text(state, face, right - text_width(face, curve.until), bottom + 4, theme.quiet_ink, curve.until);
  state.draw->AddLine(ImVec2(left, bottom), ImVec2(right, bottom), theme.line);
  state.draw->AddLine(ImVec2(left, top), ImVec2(right, top), theme.line);
  if (curve.points.size() < 2) return;
  const double from = curve.points.front().first;
  const double span = std::max(curve.points.back().first - from, 1e-9);
  double low = curve.points.front().second;
  double high = low;
  for (const auto& [x, y] : curve.points) {
    low = std::min(low, y);
    high = std::max(high, y);
  }
  const double rise = std::max(high - low, 1e-9);
  std::vector<ImVec2> points;
  points.reserve(curve.points.size());
  for (const auto& [x, y] : curve.points) {
    points.emplace_back(left + static_cast<float>((x - from) / span) * (right - left),
                        bottom - (flat ? 0.5f : static_cast<float>((y - low) / rise)) * (bottom - top));
  }
  state.draw->AddPolyline(points.data(), static_cast<int>(points.size()), theme.open, 0, 2.5f);
}

}  // namespace tawny::ui
