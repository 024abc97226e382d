// Cycles side by side as plots: each measure of up to four cycles in one plot over the days of the cycle, each
// cycle with its own letter, colour, dash and shape of mark; and the same in words.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/series.h"
#include "office/side_by_side.h"
#include "ui/drawings/plot.h"

namespace tawny::ui {

inline constexpr std::size_t kMostSides = 4;

// One of the cycles. Points into nothing, so it may be kept after the farm was folded anew.
struct Side {
  std::string pond;  // id
  std::string name;  // "Old Gate, rainy season, 7 Aug to 26 Sep"
  Instant start;
  std::optional<CivilDay> day_zero;  // none: what the days are counted from has not happened
  CycleFigures figures;
  PondSeries series;
};

enum class Compared { secchi, dawn_oxygen, oxygen_swing, ph_swing, level, doses, temperature, salinity };
inline constexpr Compared kCompared[] = {Compared::secchi,      Compared::dawn_oxygen, Compared::oxygen_swing,
                                         Compared::ph_swing,    Compared::level,       Compared::doses,
                                         Compared::temperature, Compared::salinity};
std::string_view name_of(Compared what);

std::string side_letter(std::size_t at);  // "A"
PlotKey key_of_side(std::size_t at, const Side& side, const Theme& theme);

// Across are days: the noon of day zero is 0, that of the day after 1.
PlotAxis days_axis(double first, double last, const Words& words);
// From the first to the last day that any of them has.
std::pair<double, double> days_of_sides(const std::vector<Side>& sides, UtcOffset offset);

Plot plot_of_sides(Compared what, const std::vector<Side>& sides, const PlotAxis& across, UtcOffset offset,
                   const Theme& theme, const Words& words);
// "A 52 · B 78 cm" on that day; empty where none has a value.
std::string values_on(Compared what, const std::vector<Side>& sides, int day, UtcOffset offset,
                      const Words& words);
// The gates that opened, in sentences; empty where none did.
std::string said_of_gates(const std::vector<Side>& sides, const Words& words);
// What the picture shows, in sentences.
std::string said_of_sides(Compared what, const std::vector<Side>& sides, UtcOffset offset, const Words& words);

}  // namespace tawny::ui
