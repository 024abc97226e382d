#include <algorithm>
#include <cmath>
#include <vector>

#include "ui/icons.h"
#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

constexpr float kPi = 3.14159265f;
constexpr float kIconGrid = 24;
constexpr float kIconStroke = 2;
constexpr float kCosineOfCorner = 0.8776f;  // of half a radian

// Round joins and ends: the draw list's own joins are mitred and its ends are cut square.
void paint_stroke(ImDrawList* draw, const std::vector<ImVec2>& points, bool closed, Colour colour,
                  float thickness) {
  const auto count = static_cast<int>(points.size());
  if (count == 0) return;
  if (count > 1) draw->AddPolyline(points.data(), count, colour, closed ? ImDrawFlags_Closed : 0, thickness);
  for (int i = 0; i < count; ++i) {
    const bool end = !closed && (i == 0 || i == count - 1);
    bool corner = end;
    if (!end) {
      const ImVec2 before = points[static_cast<std::size_t>((i + count - 1) % count)];
      const ImVec2 here = points[static_cast<std::size_t>(i)];
      const ImVec2 after = points[static_cast<std::size_t>((i + 1) % count)];
      const ImVec2 in(here.x - before.x, here.y - before.y), out(after.x - here.x, after.y - here.y);
      const float lengths = std::sqrt((in.x * in.x + in.y * in.y) * (out.x * out.x + out.y * out.y));
      corner = in.x * out.x + in.y * out.y < kCosineOfCorner * lengths;
    }
    if (corner) draw->AddCircleFilled(points[static_cast<std::size_t>(i)], thickness / 2, colour);
  }
}

}  // namespace

void paint_ground(UiState& state, Rect where, Colour colour, float corner) {
  if (state.notes) state.notes->grounds.push_back({where, state.clip, colour});
  if (!is_seen(state, where)) return;
  state.draw->AddRectFilled(ImVec2(where.x, where.y), ImVec2(where.x + where.w, where.y + where.h), colour,
                            corner);
}

void paint_outline(UiState& state, Rect where, Colour colour, float thickness, float corner) {
  if (!is_seen(state, where)) return;
  const float half = thickness / 2;
  state.draw->AddRect(ImVec2(where.x + half, where.y + half),
                      ImVec2(where.x + where.w - half, where.y + where.h - half), colour, corner - half, 0,
                      thickness);
}

void paint_icon(UiState& state, std::string_view name, Rect where, Colour colour) {
  const Icon* icon = is_seen(state, where) ? find_icon(name) : nullptr;
  if (!icon) return;
  const float scale = std::min(where.w, where.h) / kIconGrid;
  const ImVec2 origin(where.x + (where.w - kIconGrid * scale) / 2, where.y + (where.h - kIconGrid * scale) / 2);
  std::vector<ImVec2> points;
  for (int i = 0; i < icon->count; ++i) {
    const IconStroke& stroke = icon->strokes[i];
    points.clear();
    for (int p = 0; p < stroke.points; ++p) {
      points.emplace_back(origin.x + stroke.xy[2 * p] * scale, origin.y + stroke.xy[2 * p + 1] * scale);
    }
    if (stroke.filled) {
      state.draw->AddConvexPolyFilled(points.data(), static_cast<int>(points.size()), colour);
    } else {
      paint_stroke(state.draw, points, stroke.closed, colour, kIconStroke * scale);
    }
  }
}

Colour status_colour(const Theme& theme, Status status) {
  switch (status) {
    case Status::open:
    case Status::done:
      return theme.open;
    case Status::waiting:
    case Status::unknown:
      return theme.wait;
    case Status::due:
      return theme.act;
    case Status::overdue:
      return theme.warn;
    case Status::stopped:
      return theme.alarm;
  }
  return theme.ink;
}

void paint_status(UiState& state, Status status, Rect where, Colour colour) {
  if (!is_seen(state, where)) return;
  ImDrawList* draw = state.draw;
  const float size = std::min(where.w, where.h);
  const ImVec2 centre(where.x + where.w / 2, where.y + where.h / 2);
  const float radius = size * 0.4f;
  const float stroke = size * 0.13f;
  switch (status) {
    case Status::open: {  // a ring with a gap to the upper right, where the way leads out
      draw->PathArcTo(centre, radius, -kPi * 0.05f, kPi * 1.55f, 32);
      draw->PathStroke(colour, 0, stroke);
      draw->AddCircleFilled(
          ImVec2(centre.x + radius * std::cos(-kPi * 0.05f), centre.y + radius * std::sin(-kPi * 0.05f)),
          stroke / 2, colour);
      draw->AddCircleFilled(
          ImVec2(centre.x + radius * std::cos(kPi * 1.55f), centre.y + radius * std::sin(kPi * 1.55f)),
          stroke / 2, colour);
      break;
    }
    case Status::waiting: {  // an hourglass of two triangles
      const float half = radius * 0.85f;
      draw->AddTriangleFilled(ImVec2(centre.x - half, centre.y - radius),
                              ImVec2(centre.x + half, centre.y - radius), centre, colour);
      draw->AddTriangleFilled(ImVec2(centre.x - half, centre.y + radius), centre,
                              ImVec2(centre.x + half, centre.y + radius), colour);
      break;
    }
    case Status::due:
      draw->AddCircleFilled(centre, radius * 0.85f, colour);
      break;
    case Status::overdue: {  // a dot with a tail that trails behind it
      const ImVec2 head(centre.x + radius * 0.35f, centre.y);
      draw->AddCircleFilled(head, radius * 0.62f, colour);
      draw->AddTriangleFilled(ImVec2(head.x, head.y - radius * 0.6f), ImVec2(head.x, head.y + radius * 0.6f),
                              ImVec2(centre.x - radius * 1.1f, centre.y), colour);
      break;
    }
    case Status::stopped:
      draw->AddRectFilled(ImVec2(centre.x - radius, centre.y - radius * 0.34f),
                          ImVec2(centre.x + radius, centre.y + radius * 0.34f), colour, radius * 0.15f);
      break;
    case Status::unknown: {
      constexpr int kDots = 8;
      for (int i = 0; i < kDots; ++i) {
        const float angle = 2 * kPi * static_cast<float>(i) / kDots;
        draw->AddCircleFilled(ImVec2(centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)),
                              stroke * 0.55f, colour);
      }
      break;
    }
    case Status::done:
      paint_stroke(draw,
                   {ImVec2(centre.x - radius * 0.9f, centre.y + radius * 0.05f),
                    ImVec2(centre.x - radius * 0.25f, centre.y + radius * 0.7f),
                    ImVec2(centre.x + radius * 0.95f, centre.y - radius * 0.65f)},
                   false, colour, stroke * 1.15f);
      break;
  }
}

Colour with_alpha(Colour colour, float share) {
  const auto alpha = static_cast<Colour>(std::clamp(share, 0.0f, 1.0f) * 255.0f + 0.5f);
  return (colour & 0x00FFFFFFu) | (alpha << 24);
}

Colour blend(Colour under, Colour over, float share) {
  Colour mixed = 0xFF000000u;
  for (int shift = 0; shift < 24; shift += 8) {
    const auto a = static_cast<float>((under >> shift) & 0xFFu);
    const auto b = static_cast<float>((over >> shift) & 0xFFu);
    mixed |= static_cast<Colour>(a + (b - a) * share + 0.5f) << shift;
  }
  return mixed;
}

void shade_down(ImDrawList* draw, int first_vertex, float top_y, float bottom_y, Colour top, Colour bottom) {
  for (int i = first_vertex; i < draw->VtxBuffer.Size; ++i) {
    ImDrawVert& vertex = draw->VtxBuffer[i];
    const float share = std::clamp((vertex.pos.y - top_y) / std::max(1.0f, bottom_y - top_y), 0.0f, 1.0f);
    vertex.col = (blend(top, bottom, share) & 0x00FFFFFFu) | (vertex.col & 0xFF000000u);
  }
}

}  // namespace tawny::ui
