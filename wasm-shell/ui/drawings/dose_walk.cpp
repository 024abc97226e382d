// The small drawings of the dose walk: lanes over the pond, and the three steps of mixing a bin.
#include <algorithm>
#include <cmath>

#include "ui/drawings/drawings.h"
#include "ui/widget_parts.h"

namespace tawny::ui {
namespace {

void dotted(ImDrawList* draw, ImVec2 from, ImVec2 to, Colour colour) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  const int count = std::max(1, static_cast<int>(length / 8));
  for (int i = 0; i <= count; ++i) {
    const float share = static_cast<float>(i) / static_cast<float>(count);
    draw->AddCircleFilled(ImVec2(from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share), 1.3f,
                          colour);
  }
}

void arrow_head(ImDrawList* draw, ImVec2 from, ImVec2 to, Colour colour) {
  const float length = std::hypot(to.x - from.x, to.y - from.y);
  if (length < 24) return;
  const float x = (to.x - from.x) / length;
  const float y = (to.y - from.y) / length;
  const ImVec2 tip((from.x + to.x) / 2 + 7 * x, (from.y + to.y) / 2 + 7 * y);
  const ImVec2 tail(tip.x - 13 * x, tip.y - 13 * y);
  draw->AddTriangleFilled(tip, ImVec2(tail.x - 7 * y, tail.y + 7 * x), ImVec2(tail.x + 7 * y, tail.y - 7 * x),
                          colour);
}

}  // namespace

void draw_lanes(Ui& ui, Rect where, double length_m, double width_m, const std::vector<Lane>& lanes, int bin) {
  UiState& state = UiParts::of(ui);
  const Theme& theme = ui.theme();
  if (length_m <= 0 || width_m <= 0) return;
  const auto scale =
      std::min(static_cast<double>(where.w - 16) / length_m, static_cast<double>(where.h - 16) / width_m);
  const auto w = static_cast<float>(length_m * scale);
  const auto h = static_cast<float>(width_m * scale);
  const Rect pond{where.x + (where.w - w) / 2, where.y + (where.h - h) / 2, w, h};
  const Rect banks{pond.x - 8, pond.y - 8, pond.w + 16, pond.h + 16};
  paint_ground(state, banks, theme.soil, 12);
  paint_ground(state, pond, blend(theme.water[0], theme.raised, theme.night ? 0.6f : 0.35f), 6);
  const auto point = [&](double x, double y) {
    return ImVec2(pond.x + static_cast<float>(x * scale), pond.y + static_cast<float>(y * scale));
  };
  // Lanes that lie closest tell how wide a strip one of them covers.
  float strip = pond.h;
  for (const Lane& a : lanes) {
    for (const Lane& b : lanes) {
      const auto apart = static_cast<float>(std::fabs(a.y0 - b.y0) * scale);
      if (apart > 0.5f) strip = std::min(strip, apart);
    }
  }
  for (const Lane& lane : lanes) {
    const ImVec2 from = point(lane.x0, lane.y0);
    const ImVec2 to = point(lane.x1, lane.y1);
    const ImVec2 low(std::min(from.x, to.x), std::min(from.y, to.y) - strip / 2);
    const ImVec2 high(std::max(from.x, to.x), std::max(from.y, to.y) + strip / 2);
    if (lane.bin < bin) {
      state.draw->AddRectFilled(low, high, blend(theme.raised, theme.water[3], 0.5f));
    } else if (lane.bin == bin) {
      state.draw->AddRectFilled(low, high, blend(theme.raised, theme.sun, 0.38f));
    }
  }
  for (const Lane& lane : lanes) {
    const ImVec2 from = point(lane.x0, lane.y0);
    const ImVec2 to = point(lane.x1, lane.y1);
    if (lane.bin == bin) {
      state.draw->AddLine(from, to, theme.act, 3.5f);
      arrow_head(state.draw, from, to, theme.act);
    } else if (lane.bin < bin) {
      state.draw->AddLine(from, to, with_alpha(theme.ink, 0.45f), 1.5f);
    } else {
      dotted(state.draw, from, to, with_alpha(theme.ink, 0.45f));
    }
  }
  const auto first =
      std::find_if(lanes.begin(), lanes.end(), [&](const Lane& lane) { return lane.bin == bin; });
  if (first != lanes.end()) {
    const ImVec2 start = point(first->x0, first->y0);
    state.draw->AddCircleFilled(start, 8, theme.act);
    state.draw->AddCircleFilled(start, 3.5f, theme.on_act);
  }
  paint_outline(state, pond, with_alpha(theme.ink, 0.7f), 1.5f, 6);
}

void draw_bin_step(Ui& ui, Rect where, int step, double share) {
  UiState& state = UiParts::of(ui);
  const Theme& theme = ui.theme();
  ImDrawList* draw = state.draw;
  const float size = std::min(where.w, where.h);
  const float unit = size / 96;  // the drawing's own grid is 96 x 96
  const float ox = where.x + (where.w - size) / 2;
  const float oy = where.y + (where.h - size) / 2;
  const auto at = [&](float x, float y) { return ImVec2(ox + x * unit, oy + y * unit); };
  const float stroke = 3 * unit;
  constexpr float kTop = 30, kFoot = 90, kLeftTop = 14, kLeftFoot = 22;
  const auto left_at = [&](float y) { return kLeftTop + (kLeftFoot - kLeftTop) * (y - kTop) / (kFoot - kTop); };
  const float level = kFoot - static_cast<float>(std::clamp(share, 0.0, 1.0)) * (kFoot - kTop - 4);
  const Colour clear = theme.water[0];
  const Colour salted = theme.water[3];
  const Colour water = step <= 1 ? clear : step == 2 ? blend(clear, salted, 0.35f) : salted;
  const ImVec2 body[] = {at(left_at(level), level), at(96 - left_at(level), level),
                         at(96 - left_at(kFoot), kFoot), at(left_at(kFoot), kFoot)};
  const int first = draw->VtxBuffer.Size;
  draw->AddConvexPolyFilled(body, 4, water);
  shade_down(draw, first, body[0].y, body[3].y, blend(water, theme.raised, 0.2f),
             blend(water, theme.soil, 0.35f));
  draw->AddLine(body[0], body[1], theme.ink, stroke * 0.6f);
  const ImVec2 wall[] = {at(kLeftTop, kTop), at(kLeftFoot, kFoot), at(96 - kLeftFoot, kFoot),
                         at(96 - kLeftTop, kTop)};
  draw->AddPolyline(wall, 4, theme.ink, 0, stroke);
  draw->AddLine(at(kLeftTop - 4, kTop), at(kLeftTop + 6, kTop), theme.ink, stroke);
  draw->AddLine(at(96 - kLeftTop - 6, kTop), at(96 - kLeftTop + 4, kTop), theme.ink, stroke);
  if (step <= 1) {  // water runs in
    draw->AddLine(at(48, 4), at(48, level - 3), blend(clear, theme.ink, 0.35f), 6 * unit);
    draw->AddTriangleFilled(at(38, level - 12), at(58, level - 12), at(48, level - 1),
                            blend(clear, theme.ink, 0.35f));
  } else if (step == 2) {  // salt falls from a scoop
    const ImVec2 scoop[] = {at(50, 6), at(78, 2), at(84, 16), at(62, 24)};
    draw->AddConvexPolyFilled(scoop, 4, theme.act);
    draw->AddLine(at(80, 8), at(94, 2), theme.act, stroke * 1.2f);
    const float grains[][2] = {{52, 22}, {44, 30}, {50, 38}, {40, 44}, {47, 52}, {54, 46}, {42, 60}, {51, 66}};
    for (const auto& grain : grains) draw->AddCircleFilled(at(grain[0], grain[1]), 2.4f * unit, theme.ink);
  } else {  // a paddle turns
    draw->AddLine(at(66, 2), at(50, 70), theme.act, stroke * 1.3f);
    const ImVec2 blade[] = {at(45, 64), at(56, 67), at(53, 82), at(42, 79)};
    draw->AddConvexPolyFilled(blade, 4, theme.act);
    draw->PathEllipticalArcTo(at(48, level + 12), 20 * unit, 7 * unit, 0, 0.5f, 5.2f, 24);
    draw->PathStroke(theme.ink, 0, stroke * 0.7f);
    draw->AddTriangleFilled(at(53, level + 3), at(63, level + 2), at(58, level + 11), theme.ink);
  }
}

}  // namespace tawny::ui
