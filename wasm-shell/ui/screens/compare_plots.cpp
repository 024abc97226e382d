#include "ui/screens/compare_plots.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr int kMostHeights = 5, kMostDays = 14;
constexpr double kDayS = 24 * 3600;

struct Look {
  PlotStroke stroke;
  PlotShape shape;
};
constexpr Look kLooks[kMostSides] = {{PlotStroke::strong, PlotShape::dot},
                                     {PlotStroke::long_dashed, PlotShape::diamond},
                                     {PlotStroke::dotted, PlotShape::square},
                                     {PlotStroke::thin, PlotShape::triangle}};

struct Manner {
  std::string unit;
  int decimals;
  double least;  // that the upright axis spans
};

Manner manner_of(Compared what) {
  switch (what) {
    case Compared::secchi:
    case Compared::level:
      return {"cm", 0, 20};
    case Compared::dawn_oxygen:
    case Compared::oxygen_swing:
      return {"mg_l", 1, 2};
    case Compared::ph_swing:
      return {"", 2, 0.5};
    case Compared::doses:
      return {"kg_ha", 0, 20};
    case Compared::temperature:
      return {"c", 1, 2};
    case Compared::salinity:
      return {"", 1, 2};
  }
  return {"", 0, 1};
}

double place(CivilDay day, CivilDay zero) { return day.days - zero.days; }
double place(Instant at, CivilDay zero, UtcOffset offset) {
  return static_cast<double>(at.unix_s - instant_at(zero, 12 * 3600, offset).unix_s) / kDayS;
}

// What is drawn of one cycle: places across and values, and how far apart two may lie to be joined.
struct Drawn {
  PlotPoints line;
  PlotPoints marks;
  double gap_days = 1;
};

template <typename Value>
Drawn pairs_drawn(const PairedSeries& pairs, CivilDay zero, Value value) {
  Drawn drawn;
  for (const PairedDay& day : pairs.days) {
    if (const std::optional<double> one = value(day)) drawn.line.emplace_back(place(day.day, zero), *one);
  }
  drawn.marks = drawn.line;
  drawn.gap_days = pairs.gap_days;
  return drawn;
}

std::optional<double> dawn_of(const PairedDay& day) {
  return day.dawn ? std::optional(day.dawn->value) : std::nullopt;
}

// Stairs from nothing at the start to all of it at the end.
Drawn doses_drawn(const Side& side, UtcOffset offset) {
  Drawn drawn;
  const CivilDay zero = *side.day_zero;
  double sum_kg_ha = 0;
  drawn.line.emplace_back(place(side.series.from, zero, offset), 0);
  for (const DoseGiven& dose : side.series.secchi.doses) {
    const double across = place(dose.at, zero, offset);
    drawn.line.emplace_back(across, sum_kg_ha);
    sum_kg_ha += dose.rate_kg_ha;
    drawn.line.emplace_back(across, sum_kg_ha);
    drawn.marks.emplace_back(across, sum_kg_ha);
  }
  drawn.line.emplace_back(place(side.series.until, zero, offset), sum_kg_ha);
  drawn.gap_days = 1e9;
  return drawn;
}

Drawn readings_drawn(const std::vector<SeriesReading>& readings, double gap_days, CivilDay zero,
                     UtcOffset offset) {
  Drawn drawn;
  for (const SeriesReading& one : readings) drawn.line.emplace_back(place(one.at, zero, offset), one.value);
  drawn.marks = drawn.line;
  drawn.gap_days = gap_days;
  return drawn;
}

Drawn drawn_of(Compared what, const Side& side, UtcOffset offset) {
  if (!side.day_zero) return {};
  const CivilDay zero = *side.day_zero;
  const PondSeries& series = side.series;
  switch (what) {
    case Compared::secchi: {
      Drawn drawn;
      for (const SecchiDepth& day : series.secchi.days)
        drawn.line.emplace_back(place(day.day, zero), day.secchi_cm);
      drawn.marks = drawn.line;
      drawn.gap_days = series.secchi.gap_days;
      return drawn;
    }
    case Compared::dawn_oxygen:
      return pairs_drawn(series.oxygen, zero, dawn_of);
    case Compared::oxygen_swing:
      return pairs_drawn(series.oxygen, zero, [](const PairedDay& day) { return day.swing(); });
    case Compared::ph_swing:
      return pairs_drawn(series.ph, zero, [](const PairedDay& day) { return day.swing(); });
    case Compared::temperature:
      return pairs_drawn(series.temperature, zero, dawn_of);
    case Compared::level:
      return readings_drawn(series.level.readings, series.level.gap_days, zero, offset);
    case Compared::salinity:
      // Read once a day, at any hour of it.
      return readings_drawn(series.salinity.readings, series.salinity.gap_days + 0.5, zero, offset);
    case Compared::doses:
      return doses_drawn(side, offset);
  }
  return {};
}

// The band of the newest stage of the first cycle that has one.
const SecchiBand* band_of(const std::vector<Side>& sides) {
  for (const Side& side : sides) {
    if (!side.series.secchi.bands.empty()) return &side.series.secchi.bands.back();
  }
  return nullptr;
}

void add_lines(Plot& plot, const Drawn& drawn, std::size_t at, Colour colour) {
  PlotLine line{{}, colour, kLooks[at].stroke, {}};
  const auto give = [&] {
    if (line.points.size() > 1) plot.lines.push_back(line);
    line.points.clear();
  };
  for (const auto& point : drawn.line) {
    if (!line.points.empty() && point.first - line.points.back().first > drawn.gap_days) give();
    line.points.push_back(point);
  }
  give();
  if (!plot.lines.empty() && plot.lines.back().colour == colour) plot.lines.back().label = side_letter(at);
}

// Each cycle's gates in a lane of its own; those of one day share a stroke and a label, "4, 5".
void add_gates(Plot& plot, const std::vector<Side>& sides, bool labelled, const Theme& theme,
               const Words& words) {
  for (std::size_t at = 0; at < sides.size() && at < kMostSides; ++at) {
    if (!sides[at].day_zero) continue;
    std::map<int, std::string> days;
    for (const GateDay& gate : sides[at].figures.gates) {
      std::string& label = days[gate.day];
      label += (label.empty() ? "" : ", ") + words.number(static_cast<int>(gate.stage), 0);
    }
    for (const auto& [day, label] : days) {
      plot.notches.push_back(
          {static_cast<double>(day), static_cast<int>(at), theme.cycle[at], labelled ? label : std::string()});
    }
  }
}

}  // namespace

std::string_view name_of(Compared what) {
  constexpr std::string_view kNames[] = {"secchi", "dawn_oxygen", "oxygen_swing", "ph_swing",
                                         "level",  "doses",       "temperature",  "salinity"};
  return kNames[static_cast<std::size_t>(what)];
}

std::string side_letter(std::size_t at) { return std::string(1, static_cast<char>('A' + at)); }

PlotKey key_of_side(std::size_t at, const Side& side, const Theme& theme) {
  return {side_letter(at) + "  " + side.name, theme.cycle[at], kLooks[at].shape, kLooks[at].stroke};
}

PlotAxis days_axis(double first, double last, const Words& words) {
  PlotAxis axis;
  axis.low = first;
  axis.high = std::max(last, first + 1);
  int step = 1;
  for (const int each : {1, 2, 5, 10, 20, 50, 100, 200, 500}) {
    step = each;
    if ((axis.high - axis.low) / step <= kMostDays) break;
  }
  for (int day = static_cast<int>(std::ceil(axis.low / step)) * step; day <= axis.high; day += step) {
    axis.ticks.push_back({static_cast<double>(day), words.number(day, 0)});
  }
  return axis;
}

std::pair<double, double> days_of_sides(const std::vector<Side>& sides, UtcOffset offset) {
  std::optional<std::pair<double, double>> days;
  for (const Side& side : sides) {
    if (!side.day_zero) continue;
    const double first = place(civil_day(side.series.from, offset), *side.day_zero) - 0.5;
    const double last = place(civil_day(side.series.until, offset), *side.day_zero) + 0.5;
    if (!days) days = {first, last};
    days->first = std::min(days->first, first);
    days->second = std::max(days->second, last);
  }
  return days.value_or(std::pair(-0.5, 0.5));
}

Plot plot_of_sides(Compared what, const std::vector<Side>& sides, const PlotAxis& across, UtcOffset offset,
                   const Theme& theme, const Words& words) {
  Plot plot;
  plot.across = across;
  const Manner manner = manner_of(what);
  double low = 1e300, high = -1e300;
  for (std::size_t at = 0; at < sides.size() && at < kMostSides; ++at) {
    const Drawn drawn = drawn_of(what, sides[at], offset);
    for (const auto& [where, value] : drawn.line) {
      low = std::min(low, value);
      high = std::max(high, value);
    }
    add_lines(plot, drawn, at, theme.cycle[at]);
    plot.many.push_back({drawn.marks, theme.cycle[at], kLooks[at].shape});
  }
  add_gates(plot, sides, what == kCompared[0], theme, words);
  const bool any = low <= high;
  if (what == Compared::secchi) {
    if (const SecchiBand* band = band_of(sides)) {
      low = std::min(low, band->low_cm);
      high = std::max(high, band->high_cm);
      plot.bands.push_back({band->low_cm, band->high_cm, theme.band, words("charts.band"), {}, {}});
    }
  }
  if (!any) {
    plot.nothing = words("compare.nothing");
    low = std::min(low, 0.0);
    high = std::max(high, low + manner.least);
  }
  const double more = std::max(0.0, (manner.least - (high - low)) / 2);
  plot.up = round_axis(low - std::min(more, std::max(low, 0.0)), high + more, kMostHeights, words, manner.unit);
  plot.up.downwards = what == Compared::secchi;
  return plot;
}

std::string values_on(Compared what, const std::vector<Side>& sides, int day, UtcOffset offset,
                      const Words& words) {
  const Manner manner = manner_of(what);
  std::string text;
  bool any = false;
  for (std::size_t at = 0; at < sides.size(); ++at) {
    std::optional<double> value;
    for (const auto& [where, one] : drawn_of(what, sides[at], offset).line) {
      // Doses add up: what was given last still stands.
      const bool stands = what == Compared::doses ? where < day + 0.5 : std::abs(where - day) <= 0.5;
      if (stands) value = one;
    }
    if (what == Compared::doses && sides[at].day_zero &&
        day > place(civil_day(sides[at].series.until, offset), *sides[at].day_zero)) {
      value.reset();
    }
    any = any || value;
    const std::string shown = value ? words.number(*value, manner.decimals) : std::string("\u2013");
    text += (text.empty() ? "" : " \u00b7 ") + side_letter(at) + "\u00a0" + shown;
  }
  return any ? text : std::string();
}

std::string said_of_gates(const std::vector<Side>& sides, const Words& words) {
  std::string text;
  for (std::size_t at = 0; at < sides.size(); ++at) {
    if (!sides[at].day_zero || sides[at].figures.gates.empty()) continue;
    std::string gates;
    for (const GateDay& gate : sides[at].figures.gates) {
      gates += (gates.empty() ? "" : ", ") + words(Message("compare.said_gate")
                                                       .with("stage", Text{stage_word(words, gate.stage)})
                                                       .with("day", bare(gate.day)));
    }
    if (!text.empty()) text += " ";
    text += words(Message("compare.said_gates")
                      .with("name", Text{side_letter(at) + ", " + sides[at].name})
                      .with("gates", Text{gates}));
  }
  return text;
}

std::string said_of_sides(Compared what, const std::vector<Side>& sides, UtcOffset offset, const Words& words) {
  const Manner manner = manner_of(what);
  std::string text;
  for (std::size_t at = 0; at < sides.size(); ++at) {
    const PlotPoints points = drawn_of(what, sides[at], offset).marks;
    if (points.empty()) continue;
    const auto lower = [](const auto& a, const auto& b) { return a.second < b.second; };
    const auto [low, high] = std::minmax_element(points.begin(), points.end(), lower);
    if (!text.empty()) text += " ";
    text += words(Message("compare.said")
                      .with("name", Text{side_letter(at) + ", " + sides[at].name})
                      .with("count", bare(points.size()))
                      .with("low", Quantity{low->second, manner.decimals, manner.unit})
                      .with("high", Quantity{high->second, manner.decimals, manner.unit}));
  }
  return text.empty() ? words("compare.nothing") : text;
}

}  // namespace tawny::ui
