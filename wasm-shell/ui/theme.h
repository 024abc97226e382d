// Colours by role and sizes on a grid of 8. Day: warm paper and near-black ink; night: near-black, dim amber,
// no white and no blue. Text on its ground is at least 7:1, large numbers and icons at least 4.5:1 (tests/ui).
#pragma once

#include <cstdint>

namespace tawny::ui {

using Colour = std::uint32_t;  // ImU32 order (ABGR), opaque unless said

struct Theme {
  bool night = false;
  Colour ground, raised, sunk;     // page, card, pressed or inset ground
  Colour ink, quiet_ink, line;     // text, secondary text (also >= 7:1 on ground and raised), hairline
  Colour act, on_act;              // the one main action and the text on it
  Colour open, wait, warn, alarm;  // status inks, each >= 4.5:1 on ground and raised
  Colour on_alarm;                 // text on an alarm ground
  // The water column and the sun line: tints, not text.
  Colour sky_dawn, sky_day, sky_night, sun, soil, band;
  Colour water[9];  // by WaterColour
  Colour cycle[4];  // of several cycles in one plot, told apart by dash and shape as well
};

Theme day_theme();
Theme night_theme();

// WCAG 2.1 contrast ratio of two opaque colours, 1..21.
double contrast_ratio(Colour a, Colour b);

struct Sizes {
  static constexpr float kGrid = 8;
  static constexpr float kTarget = 56;  // height of a control; never under 48
  static constexpr float kCorner = 8;
  static constexpr float kMargin = 16;
  static constexpr float kTabBar = 64;
};

}  // namespace tawny::ui
