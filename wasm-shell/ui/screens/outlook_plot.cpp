#include "ui/screens/outlook_plot.h"

#include <algorithm>
#include <cmath>

#include "outlook/outlook_says.h"
#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr int kDaysBack = 8;
constexpr int kNoonS = 12 * 3600;
constexpr double kRoomCm = 4;
constexpr int kMostHeights = 6;

double seconds_of_noon(CivilDay day, UtcOffset offset) {
  return static_cast<double>(instant_at(day, kNoonS, offset).unix_s);
}

// Of all doses: a choice moves the fan, never the axis under it.
PlotAxis depth_axis(const OutlookDesk::Look& look, const std::vector<const BloomDay*>& read,
                    const Words& words) {
  double low = std::min(look.rules.floor_cm, look.rules.band_low_cm), high = look.rules.band_high_cm;
  const auto take = [&](double depth) {
    low = std::min(low, depth);
    high = std::max(high, depth);
  };
  for (const BloomDay* day : read) take(day->secchi->secchi_cm);
  for (const DoseOutlook& dose : look.outlook->doses) {
    for (const SecchiForecast& day : dose.days) {
      take(day.low_cm);
      take(day.high_cm);
    }
  }
  PlotAxis axis = round_axis(std::max(0.0, low - kRoomCm), high + kRoomCm, kMostHeights, words, "cm");
  axis.downwards = true;
  return axis;
}

std::vector<const BloomDay*> read_days(const OutlookDesk::Look& look) {
  std::vector<const BloomDay*> days;
  for (const BloomDay& day : look.days) {
    if (day.secchi && day.day > look.outlook->from.plus(-kDaysBack)) days.push_back(&day);
  }
  return days;
}

}  // namespace

Plot outlook_plot(const OutlookDesk::Look& look, const DoseOutlook& dose, UtcOffset offset, const Theme& theme,
                  const Words& words) {
  const CivilDay from = look.outlook->from;
  const std::vector<const BloomDay*> read = read_days(look);
  Plot plot;
  plot.across = day_axis(instant_at(from.plus(1 - kDaysBack), 0, offset),
                         instant_at(from.plus(kOutlookDays + 1), 0, offset), words, offset);
  plot.up = depth_axis(look, read, words);
  plot.bands.push_back(
      {look.rules.band_low_cm, look.rules.band_high_cm, theme.band, words("charts.band"), {}, {}});
  plot.lines.push_back({{{plot.across.low, look.rules.floor_cm}, {plot.across.high, look.rules.floor_cm}},
                        theme.warn,
                        PlotStroke::dashed,
                        words("outlook.floor")});
  plot.uprights.push_back({seconds_of_noon(from, offset), words.day(from), {}});
  PlotMarks measured{{}, theme.open, PlotShape::dot}, deeper{{}, theme.open, PlotShape::deeper};
  for (const BloomDay* day : read) {
    (day->secchi->more_than ? deeper : measured)
        .points.emplace_back(seconds_of_noon(day->day, offset), day->secchi->secchi_cm);
  }
  plot.many = {std::move(measured), std::move(deeper)};
  PlotFan fan{{}, theme.act};
  PlotLine middle{{}, theme.act, PlotStroke::strong, {}};
  for (const SecchiForecast& day : dose.days) {
    const double across = seconds_of_noon(day.day, offset);
    fan.slices.push_back({across, day.low_cm, day.high_cm});
    middle.points.emplace_back(across, day.median_cm);
  }
  plot.fans.push_back(std::move(fan));
  plot.lines.push_back(std::move(middle));
  return plot;
}

std::vector<PlotKey> outlook_keys(const OutlookDesk::Look& look, const Theme& theme, const Words& words) {
  std::vector<PlotKey> keys = {{words("charts.key.secchi"), theme.open, PlotShape::dot, {}}};
  const std::vector<const BloomDay*> read = read_days(look);
  if (std::any_of(read.begin(), read.end(), [](const BloomDay* day) { return day->secchi->more_than; }))
    keys.push_back({words("charts.key.deeper"), theme.open, PlotShape::deeper, {}});
  keys.push_back({words("outlook.key.middle"), theme.act, {}, PlotStroke::strong});
  keys.push_back({words("outlook.key.range"), theme.act, {}, {}, true});
  keys.push_back({words("charts.key.band"), theme.band, {}, {}});
  return keys;
}

std::string dose_word(const Words& words, const DoseOutlook& dose) {
  if (dose.rate_kg_ha <= 0) return words("outlook.dose.none");
  const int decimals = dose.rate_kg_ha == std::floor(dose.rate_kg_ha) ? 0 : 1;
  return words.quantity({dose.rate_kg_ha, decimals, "kg_ha"});
}

std::string outlook_summary(const OutlookDesk::Look& look, const DoseOutlook& dose, const Words& words) {
  std::string said = words(Message("outlook.said").with("dose", Text{dose_word(words, dose)}));
  for (const SecchiForecast& day : dose.days) {
    said += " " + capitalised(words.day(day.day)) + ": " + words(day_message(day)) + ".";
  }
  return said + " " +
         words(Message("charts.said.band")
                   .with("low", Quantity{look.rules.band_low_cm, 0, "cm"})
                   .with("high", Quantity{look.rules.band_high_cm, 0, "cm"}));
}

}  // namespace tawny::ui
