#include "ui/theme.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace tawny::ui {
namespace {

constexpr Colour rgb(std::uint32_t hex) {
  return 0xFF000000u | ((hex & 0xFFu) << 16) | (hex & 0xFF00u) | ((hex >> 16) & 0xFFu);
}

// WCAG 2.1, "relative luminance": the sRGB curve undone, then weighed as the eye does. 0 black .. 1 white.
double luminance(Colour colour) {
  const auto linear = [](std::uint32_t channel) {
    const double share = static_cast<double>(channel & 0xFFu) / 255.0;
    return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(colour) + 0.7152 * linear(colour >> 8) + 0.0722 * linear(colour >> 16);
}

}  // namespace

double contrast_ratio(Colour a, Colour b) {
  const double first = luminance(a);
  const double second = luminance(b);
  return (std::max(first, second) + 0.05) / (std::min(first, second) + 0.05);
}

Theme day_theme() {
  Theme theme{};
  theme.ground = rgb(0xF5EFE3);
  theme.raised = rgb(0xFFFCF6);
  theme.sunk = rgb(0xE9E0CE);
  theme.ink = rgb(0x1D1810);
  theme.quiet_ink = rgb(0x4E4435);
  theme.line = rgb(0xD3C7B0);
  theme.act = rgb(0x7A3E08);
  theme.on_act = rgb(0xFFF8EC);
  theme.open = rgb(0x0A5754);
  theme.wait = rgb(0x5A4E3A);
  theme.warn = rgb(0x6F4700);
  theme.alarm = rgb(0x951717);
  theme.on_alarm = rgb(0xFFF6F2);
  theme.sky_dawn = rgb(0xF2BE85);
  theme.sky_day = rgb(0xFBEBC8);
  theme.sky_night = rgb(0xB9AFA6);
  theme.sun = rgb(0xDB7A12);
  theme.soil = rgb(0xA98A64);
  theme.band = rgb(0xD9A54A);
  const Colour water[9] = {rgb(0xC4DDD9), rgb(0xB8A283), rgb(0xE2CF93), rgb(0xCFA645), rgb(0xA9762D),
                           rgb(0xB1C98A), rgb(0x7FA55C), rgb(0x41703F), rgb(0x9A4B35)};
  std::copy(std::begin(water), std::end(water), std::begin(theme.water));
  const Colour cycle[4] = {rgb(0x0A5754), rgb(0xA93A08), rgb(0x5E2A80), rgb(0x1D1810)};
  std::copy(std::begin(cycle), std::end(cycle), std::begin(theme.cycle));
  return theme;
}

Theme night_theme() {
  Theme theme{};
  theme.night = true;
  theme.ground = rgb(0x0C0906);
  theme.raised = rgb(0x1F160C);
  theme.sunk = rgb(0x271B0E);
  theme.ink = rgb(0xEBB069);
  theme.quiet_ink = rgb(0xD59E5C);
  theme.line = rgb(0x4A3720);
  theme.act = rgb(0xE5963A);
  theme.on_act = rgb(0x140C04);
  theme.open = rgb(0xA5B052);
  theme.wait = rgb(0xC8A268);
  theme.warn = rgb(0xE8A72C);
  theme.alarm = rgb(0xFF8460);
  theme.on_alarm = rgb(0x1A0702);
  theme.sky_dawn = rgb(0x5A3212);
  theme.sky_day = rgb(0x3D2A12);
  theme.sky_night = rgb(0x120C06);
  theme.sun = rgb(0xE8902C);
  theme.soil = rgb(0x3A2A18);
  theme.band = rgb(0x9A6A22);
  const Colour water[9] = {rgb(0x5A5A48), rgb(0x5C4A30), rgb(0x8A7338), rgb(0x8C6420), rgb(0x6E4416),
                           rgb(0x66703A), rgb(0x4C602C), rgb(0x2C4420), rgb(0x6E2C18)};
  std::copy(std::begin(water), std::end(water), std::begin(theme.water));
  const Colour cycle[4] = {rgb(0xA5B052), rgb(0xF0902C), rgb(0xE07862), rgb(0xF2D060)};
  std::copy(std::begin(cycle), std::end(cycle), std::begin(theme.cycle));
  return theme;
}

}  // namespace tawny::ui
