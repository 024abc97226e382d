// What the files of the plot share: its shapes, and the places of its labels. Only plot*.cpp include this.
#pragma once

#include <string>
#include <vector>

#include "ui/drawings/plot.h"
#include "ui/widget_parts.h"

namespace tawny::ui {

constexpr float kMarkRadius = 6;
constexpr float kFanShade = 0.3f;

void paint_shape(UiState& state, PlotShape shape, ImVec2 at, float radius, Colour colour, Colour ground);
// How long a dash and the gap after it are; a dash of 0 is a whole line.
struct Dashes {
  float dash = 5, gap = 5;
};
Dashes dashes_of(PlotStroke stroke);
float thickness_of(PlotStroke stroke);
void paint_dashes(UiState& state, ImVec2 from, ImVec2 to, Colour colour, float thickness, Dashes dashes = {});

// Puts labels where nothing is written yet.
class PlotLabels {
 public:
  PlotLabels(UiState& state, const Face& face, Rect area) : state_(state), face_(face), area_(area) {}

  // Nothing may be written over this.
  void take(Rect rect) { taken_.push_back(rect); }
  // Only where there is no other place may something be written over this.
  void shun(ImVec2 from, ImVec2 to) { lines_.push_back({from, to}); }

  // At the first of `places` (top left corners, moved inside from the sides) that is free; false where none is.
  bool put(const std::string& label, Colour colour, const std::vector<ImVec2>& places);

 private:
  struct Stroke {
    ImVec2 from, to;
  };
  bool crossed(const Rect& rect) const;

  UiState& state_;
  Face face_;
  Rect area_;
  std::vector<Rect> taken_;
  std::vector<Stroke> lines_;
};

}  // namespace tawny::ui
