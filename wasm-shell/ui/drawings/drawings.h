// Our two signature drawings and the small ones of the dose walk, on ImDrawList inside a rectangle from
// Ui::picture(). They show numbers that the core gave; they reckon nothing themselves.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dose/lanes.h"
#include "farm/rounds.h"
#include "protocol/protocol.h"
#include "protocol/windows.h"
#include "ui/widgets.h"

namespace tawny::ui {

// Heights in CSS px at which the drawings look right; more is possible.
// At a larger text size they are made higher by picture_scale(): figures in a picture grow less than what is
// read, since all that they say stands in words beside it or in the mirror.
float picture_scale(const Ui& ui);
inline constexpr float kSunLineHeight = 176;
inline constexpr float kWaterColumnHeight = 232;

// The day as one low arc from before sunrise to after sunset; the windows as bands under it, `now` as a mark on
// the arc, work as ticks: filled due, hollow done, barred missed.
struct SunLineTick {
  Instant at;
  DueState state = DueState::now;
};
void draw_sun_line(Ui& ui, Rect where, const DayWindows& day, Instant now,
                   const std::vector<SunLineTick>& ticks);

// A pond's cross-section with its own banks. Levels in cm on the gauge between `lowest_cm` and `full_cm`.
struct WaterColumn {
  double lowest_cm = 0, full_cm = 100;
  double bank_slope = 2;
  std::optional<double> level_cm;                       // no reading yet: an empty, dotted outline
  std::optional<double> coming_low_cm, coming_high_cm;  // the level that the next stage asks for
  std::optional<WaterColour> colour;
  std::optional<double> secchi_cm;  // the disc hangs this deep under the surface
  bool secchi_on_bottom = false;
  std::optional<double> band_low_cm, band_high_cm;  // drawn beside the disc
};
// `large`: with gauge figures and labels; else a small picture for a list row.
void draw_water_column(Ui& ui, Rect where, const WaterColumn& column, bool large);

// A Secchi depth against the band of its stage, as a slim line of about 12 px height.
void draw_band_mark(Ui& ui, Rect where, double low_cm, double high_cm, double secchi_cm);

// The pond from above with its lanes; lanes of `bin` are strong, of earlier bins spread, later ones faint.
void draw_lanes(Ui& ui, Rect where, double length_m, double width_m, const std::vector<Lane>& lanes, int bin);

// A code for cameras: a row of 0 and 1 for each line of it.
void draw_code(Ui& ui, Rect where, std::string_view rows);

// A PIN that is being typed, in the middle of an area about 40 px high.
void draw_pin_dots(Ui& ui, Rect where, std::size_t typed, std::size_t needed);

// A bin filled to `share` of its height, step 1..3: water in, salt added to water, stirred clear.
void draw_bin_step(Ui& ui, Rect where, int step, double share);

}  // namespace tawny::ui
