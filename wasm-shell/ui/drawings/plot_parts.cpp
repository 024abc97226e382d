#include "ui/drawings/plot_parts.h"

#include <algorithm>
#include <cmath>

namespace tawny::ui {
namespace {

bool overlap(const Rect& a, const Rect& b) {
  return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

constexpr float kKeyPicture = 28, kKeyGap = 20;

void paint_key(UiState& state, const PlotKey& key, Rect where) {
  const ImVec2 middle(where.x + where.w / 2, where.y + where.h / 2);
  if (key.shape && !key.stroke)
    return paint_shape(state, *key.shape, middle, kMarkRadius, key.colour, state.theme->ground);
  if (key.fan) {
    const Rect fan{where.x, middle.y - 7, where.w, 14};
    paint_ground(state, fan, with_alpha(key.colour, kFanShade), 0);
    for (const float y : {fan.y, fan.y + fan.h}) {
      state.draw->AddLine(ImVec2(fan.x, y), ImVec2(fan.x + fan.w, y), key.colour);
    }
    return;
  }
  const ImVec2 left(where.x, middle.y), right(where.x + where.w, middle.y);
  if (!key.stroke) {
    paint_ground(state, {where.x, middle.y - 7, where.w, 14}, key.colour, 2);
  } else if (const Dashes dashes = dashes_of(*key.stroke); dashes.dash > 0) {
    paint_dashes(state, left, right, key.colour, std::max(2.0f, thickness_of(*key.stroke)), dashes);
  } else {
    state.draw->AddLine(left, right, key.colour, thickness_of(*key.stroke));
  }
  if (key.shape) paint_shape(state, *key.shape, middle, kMarkRadius, key.colour, state.theme->ground);
}

}  // namespace

void paint_shape(UiState& state, PlotShape shape, ImVec2 at, float radius, Colour colour, Colour ground) {
  ImDrawList* draw = state.draw;
  const float r = radius;
  switch (shape) {
    case PlotShape::dot:
      draw->AddCircleFilled(at, r + 1.5f, ground);
      draw->AddCircleFilled(at, r, colour);
      break;
    case PlotShape::ring:
      draw->AddCircleFilled(at, r + 1.5f, ground);
      draw->AddCircle(at, r - 1, colour, 0, std::min(2.5f, r * 0.6f));
      break;
    case PlotShape::diamond: {
      const float d = r * 1.25f;
      const ImVec2 corners[] = {{at.x, at.y - d}, {at.x + d, at.y}, {at.x, at.y + d}, {at.x - d, at.y}};
      draw->AddConvexPolyFilled(corners, 4, ground);
      draw->AddPolyline(corners, 4, colour, ImDrawFlags_Closed, std::min(2.5f, r * 0.6f));
      break;
    }
    case PlotShape::cross: {
      const float d = r * 0.75f;
      draw->AddLine(ImVec2(at.x - d, at.y - d), ImVec2(at.x + d, at.y + d), colour, 2);
      draw->AddLine(ImVec2(at.x - d, at.y + d), ImVec2(at.x + d, at.y - d), colour, 2);
      break;
    }
    case PlotShape::deeper: {
      draw->AddLine(ImVec2(at.x - r, at.y), ImVec2(at.x + r, at.y), colour, 3);
      draw->AddLine(at, ImVec2(at.x, at.y + 1.2f * r), colour, 2);
      draw->AddTriangleFilled(ImVec2(at.x - 0.8f * r, at.y + r), ImVec2(at.x, at.y + 2.1f * r),
                              ImVec2(at.x + 0.8f * r, at.y + r), colour);
      break;
    }
    case PlotShape::square: {
      const float d = r * 0.9f;
      draw->AddRectFilled(ImVec2(at.x - d - 1.5f, at.y - d - 1.5f), ImVec2(at.x + d + 1.5f, at.y + d + 1.5f),
                          ground);
      draw->AddRectFilled(ImVec2(at.x - d, at.y - d), ImVec2(at.x + d, at.y + d), colour);
      break;
    }
    case PlotShape::triangle: {
      const float d = r * 1.25f;
      const ImVec2 corners[] = {{at.x, at.y - d}, {at.x + d, at.y + 0.7f * d}, {at.x - d, at.y + 0.7f * d}};
      draw->AddConvexPolyFilled(corners, 3, ground);
      draw->AddPolyline(corners, 3, colour, ImDrawFlags_Closed, std::min(2.5f, r * 0.6f));
      break;
    }
    case PlotShape::drop:
      draw->AddTriangleFilled(ImVec2(at.x, at.y - 1.7f * r), ImVec2(at.x + 0.85f * r, at.y - 0.2f * r),
                              ImVec2(at.x - 0.85f * r, at.y - 0.2f * r), colour);
      draw->AddCircleFilled(at, 0.9f * r, colour);
      break;
  }
}

Dashes dashes_of(PlotStroke stroke) {
  switch (stroke) {
    case PlotStroke::strong:
    case PlotStroke::thin:
      return {0, 0};
    case PlotStroke::dashed:
      return {5, 5};
    case PlotStroke::dotted:
      return {2.5f, 4};
    case PlotStroke::long_dashed:
      return {12, 4};
  }
  return {0, 0};
}

float thickness_of(PlotStroke stroke) {
  if (stroke == PlotStroke::strong) return 3;
  return stroke == PlotStroke::dotted || stroke == PlotStroke::long_dashed ? 2.5f : 1.5f;
}

void paint_dashes(UiState& state, ImVec2 from, ImVec2 to, Colour colour, float thickness, Dashes dashes) {
  const float dx = to.x - from.x, dy = to.y - from.y;
  const float length = std::sqrt(dx * dx + dy * dy);
  for (float at = 0; at < length; at += dashes.dash + dashes.gap) {
    const float a = at / length, b = std::min(1.0f, (at + dashes.dash) / length);
    state.draw->AddLine(ImVec2(from.x + a * dx, from.y + a * dy), ImVec2(from.x + b * dx, from.y + b * dy),
                        colour, thickness);
  }
}

bool PlotLabels::put(const std::string& label, Colour colour, const std::vector<ImVec2>& places) {
  const float width = text_width(face_, label);
  if (label.empty() || width + 4 > area_.w) return false;
  const Rect* found = nullptr;
  std::vector<Rect> free;
  for (const ImVec2& place : places) {
    const float x = std::clamp(place.x, area_.x + 2, area_.x + area_.w - width - 2);
    const Rect rect{x - 2, place.y, width + 4, face_.size};
    if (rect.y < area_.y || rect.y + rect.h > area_.y + area_.h) continue;
    const auto over = [&](const Rect& one) { return overlap(one, rect); };
    if (std::none_of(taken_.begin(), taken_.end(), over)) free.push_back(rect);
  }
  for (const Rect& rect : free) {
    if (found == nullptr && !crossed(rect)) found = &rect;
  }
  if (found == nullptr && !free.empty()) found = &free.front();
  if (found == nullptr) return false;
  paint_ground(state_, *found, with_alpha(state_.theme->raised, 0.8f), 3);
  paint_text(state_, face_, found->x + 2, found->y, colour, label);
  taken_.push_back(*found);
  return true;
}

// By any line, looked at every few pixels.
bool PlotLabels::crossed(const Rect& rect) const {
  constexpr float kStep = 4;
  for (const auto& [from, to] : lines_) {
    const float length = std::max(std::abs(to.x - from.x), std::abs(to.y - from.y));
    for (float at = 0; at <= length; at += kStep) {
      const float along = length > 0 ? at / length : 0;
      if (contains(rect, ImVec2(from.x + along * (to.x - from.x), from.y + along * (to.y - from.y))))
        return true;
    }
  }
  return false;
}

void draw_plot_keys(Ui& ui, std::string_view id, const std::vector<PlotKey>& keys) {
  UiState& state = UiParts::of(ui);
  const Face face = picture_face(state);
  const float width = ui.width();
  const float words_width = width - kKeyPicture - 8;
  struct Placed {
    const PlotKey* key;
    float x, y;
    Lines lines;
  };
  std::vector<Placed> placed;
  std::string name;
  float x = 0, y = 0, row = 0;
  for (const PlotKey& key : keys) {
    Lines lines = break_lines(face, key.word, words_width);
    const float needed = kKeyPicture + 8 + lines.width;
    if (x > 0 && x + needed > width) {
      x = 0;
      y += row + 4;
      row = 0;
    }
    row = std::max(row, lines.height);
    name += (name.empty() ? "" : ", ") + key.word;
    const float next = x + needed + kKeyGap;
    placed.push_back({&key, x, y, std::move(lines)});
    x = next;
  }
  const Rect where = ui.picture(id, name, y + row);
  for (const Placed& one : placed) {
    const float left = where.x + one.x, top = where.y + one.y;
    paint_key(state, *one.key, {left, top, kKeyPicture, one.lines.line_height});
    paint_lines(state, face, one.lines, left + kKeyPicture + 8, top, one.lines.width, state.theme->quiet_ink);
  }
}

}  // namespace tawny::ui
