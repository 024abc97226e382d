// The icons of assets/icons/*.svg as polylines, made by the build (tools/icons.py), so that a font or a picture
// library need not be there to draw them at any size.
//
// Coordinates are in pixels of the 24 x 24 drawing, y down. A stroke is drawn 2 wide there with round joins; a
// filled one is convex and is filled instead. The last point of a closed stroke does not repeat the first.
#pragma once

#include <span>
#include <string_view>

namespace tawny::ui {

struct IconStroke {
  const float* xy;  // x0, y0, x1, y1, ...
  int points;
  bool closed;
  bool filled;
};

struct Icon {
  const char* name;  // file name without ".svg"
  const IconStroke* strokes;
  int count;
};

// Null when no drawing has that name.
const Icon* find_icon(std::string_view name);

// All of them, by name.
std::span<const Icon> all_icons();

}  // namespace tawny::ui
