#include "ui/theme.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

namespace tawny::ui {
namespace {

struct Pair {
  std::string name;
  Colour on, ink;
};

// What is written on what.
std::vector<Pair> texts(const Theme& t) {
  return {{"ink on ground", t.ground, t.ink},
          {"ink on raised", t.raised, t.ink},
          {"ink on sunk", t.sunk, t.ink},
          {"quiet on ground", t.ground, t.quiet_ink},
          {"quiet on raised", t.raised, t.quiet_ink},
          {"quiet on sunk", t.sunk, t.quiet_ink},
          {"act as text on ground", t.ground, t.act},
          {"act as text on raised", t.raised, t.act},
          {"text on act", t.act, t.on_act},
          {"text on alarm", t.alarm, t.on_alarm},
          {"pressed: ground on ink", t.ink, t.ground}};
}

std::vector<Pair> statuses(const Theme& t) {
  std::vector<Pair> pairs;
  for (const auto& [name, ink] : {std::pair<std::string, Colour>{"open", t.open},
                                  {"wait", t.wait},
                                  {"warn", t.warn},
                                  {"alarm", t.alarm},
                                  {"act", t.act}}) {
    pairs.push_back({name + " on ground", t.ground, ink});
    pairs.push_back({name + " on raised", t.raised, ink});
  }
  return pairs;
}

// WCAG 2.1, definition of contrast ratio.
TEST(Contrast, IsThatOfWcag) {
  EXPECT_NEAR(contrast_ratio(0xFF000000u, 0xFFFFFFFFu), 21.0, 1e-9);
  EXPECT_NEAR(contrast_ratio(0xFFFFFFFFu, 0xFFFFFFFFu), 1.0, 1e-9);
  // #777777 on white: 4.48, the well-known grey that just fails 4.5 (from memory).
  EXPECT_NEAR(contrast_ratio(0xFF777777u, 0xFFFFFFFFu), 4.48, 0.005);
}

TEST(Theme, TextIsAtLeastSevenToOne) {
  for (const Theme& theme : {day_theme(), night_theme()}) {
    for (const Pair& pair : texts(theme)) {
      EXPECT_GE(contrast_ratio(pair.on, pair.ink), 7.0) << (theme.night ? "night: " : "day: ") << pair.name;
    }
  }
}

// The word beside a status shape has the shape's colour, so it counts as text too.
TEST(Theme, StatusInksAreAsGoodAsText) {
  for (const Theme& theme : {day_theme(), night_theme()}) {
    for (const Pair& pair : statuses(theme)) {
      EXPECT_GE(contrast_ratio(pair.on, pair.ink), 7.0) << (theme.night ? "night: " : "day: ") << pair.name;
    }
  }
}

// Lines and marks are drawings: WCAG 2.1 asks 3:1 of them, the letters beside them 4.5:1.
TEST(Theme, CyclesInOnePlotCanBeSeen) {
  for (const Theme& theme : {day_theme(), night_theme()}) {
    for (const Colour colour : theme.cycle) EXPECT_GE(contrast_ratio(theme.raised, colour), 4.5);
  }
}

TEST(Theme, NightHasNoWhiteAndNoBlue) {
  const Theme t = night_theme();
  std::vector<Colour> all = {t.ground,  t.raised,    t.sunk, t.ink,  t.quiet_ink, t.line,     t.act,
                             t.on_act,  t.open,      t.wait, t.warn, t.alarm,     t.on_alarm, t.sky_dawn,
                             t.sky_day, t.sky_night, t.sun,  t.soil, t.band};
  all.insert(all.end(), std::begin(t.water), std::end(t.water));
  all.insert(all.end(), std::begin(t.cycle), std::end(t.cycle));
  for (const Colour colour : all) {
    const unsigned red = colour & 0xFFu;
    const unsigned green = (colour >> 8) & 0xFFu;
    const unsigned blue = (colour >> 16) & 0xFFu;
    EXPECT_LE(blue, std::max(red, green)) << std::hex << colour;
    EXPECT_LT(blue, 0x70u) << std::hex << colour;
  }
}

}  // namespace
}  // namespace tawny::ui
