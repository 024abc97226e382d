#include "ui/screens/chart_plots.h"

#include <algorithm>
#include <limits>

#include "ui/screens/parts.h"

namespace tawny::ui {
namespace {

constexpr int kMostHeights = 6;
constexpr double kRoomShare = 0.06, kFootShare = 0.15;

double seconds(Instant at) { return static_cast<double>(at.unix_s); }

// What the upright axis must reach.
struct Extent {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  void take(double value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
  void take(const std::optional<double>& value) {
    if (value) take(*value);
  }
  void take(const std::vector<SeriesReading>& readings) {
    for (const SeriesReading& reading : readings) take(reading.value);
  }
  // Never so narrow that noise looks like news, and with some room around what is shown.
  PlotAxis axis(double least, const Words& words, std::string_view unit) const {
    if (low > high) return round_axis(0, least, kMostHeights, words, unit);
    const double span = high - low;
    const double more = std::max(kRoomShare * span, (least - span) / 2);
    return round_axis(low - std::min(more, std::max(low, 0.0)), high + more, kMostHeights, words, unit);
  }
};

// Lines between what may be joined; a gap stays a gap.
template <typename Place>
class Joiner {
 public:
  Joiner(double gap_days, Colour colour, PlotStroke stroke)
      : gap_days_(gap_days), colour_(colour), stroke_(stroke) {}
  void add(Place place, double across, double up) {
    if (lines_.empty() || !joined(last_, place, gap_days_)) lines_.push_back({{}, colour_, stroke_, {}});
    lines_.back().points.emplace_back(across, up);
    last_ = place;
  }
  void give(Plot& plot) {
    for (PlotLine& line : lines_) {
      if (line.points.size() > 1) plot.lines.push_back(std::move(line));
    }
  }

 private:
  double gap_days_;
  Colour colour_;
  PlotStroke stroke_;
  Place last_{};
  std::vector<PlotLine> lines_;
};

void add_limit(Plot& plot, double value, std::string label, Colour colour) {
  plot.lines.push_back(
      {{{plot.across.low, value}, {plot.across.high, value}}, colour, PlotStroke::dashed, std::move(label)});
}

// Only those that the axis reaches: a farm's wide range must not flatten what was read.
void add_limits(Plot& plot, const std::optional<double>& low, std::string_view low_word,
                const std::optional<double>& high, int decimals, std::string_view unit, const Theme& theme,
                const Words& words) {
  const auto limit = [&](const std::optional<double>& value, std::string_view id) {
    if (!value || *value < plot.up.low || *value > plot.up.high) return;
    add_limit(plot, *value, words(Message(id).with("value", Quantity{*value, decimals, std::string(unit)})),
              theme.warn);
  };
  limit(low, low_word);
  limit(high, "charts.limit.most");
}

PlotMarks marks_of(const std::vector<SeriesReading>& readings, Colour colour, PlotShape shape) {
  PlotMarks marks{{}, colour, shape};
  for (const SeriesReading& reading : readings) marks.points.emplace_back(seconds(reading.at), reading.value);
  return marks;
}

void add_stages(Plot& plot, const PondSeries& series, const Words& words) {
  for (const StageBegun& begun : series.stages) {
    plot.uprights.push_back({seconds(begun.at), stage_word(words, begun.stage),
                             words.number(static_cast<double>(static_cast<int>(begun.stage)), 0)});
  }
}

// How a chart of pairs is scaled, and what its limits are called.
struct PairsManner {
  double least;  // that the upright axis spans
  std::string_view unit;
  int decimals;
  std::string_view low_limit;
  bool reaches_limits;  // else they are shown only where they lie near what was read
};

void draw_pairs(Plot& plot, const PairedSeries& pairs, const PairsManner& manner, const ChartTime& time,
                const Theme& theme, const Words& words) {
  Extent extent;
  if (manner.reaches_limits) {
    extent.take(pairs.low_limit);
    extent.take(pairs.high_limit);
  }
  extent.take(pairs.apart);
  Joiner<CivilDay> dawns(pairs.gap_days, theme.open, PlotStroke::thin);
  Joiner<CivilDay> afternoons(pairs.gap_days, theme.act, PlotStroke::thin);
  PlotMarks dawn{{}, theme.open, PlotShape::dot}, afternoon{{}, theme.act, PlotShape::diamond};
  for (const PairedDay& day : pairs.days) {
    const double across = seconds(time.noon(day.day));
    if (day.dawn) {
      extent.take(day.dawn->value);
      dawn.points.emplace_back(across, day.dawn->value);
      dawns.add(day.day, across, day.dawn->value);
    }
    if (day.afternoon) {
      extent.take(day.afternoon->value);
      afternoon.points.emplace_back(across, day.afternoon->value);
      afternoons.add(day.day, across, day.afternoon->value);
    }
    if (day.swing()) plot.bars.push_back({across, day.dawn->value, day.afternoon->value});
  }
  plot.bar_colour = theme.quiet_ink;
  dawns.give(plot);
  afternoons.give(plot);
  plot.many = {marks_of(pairs.apart, theme.quiet_ink, PlotShape::cross), std::move(dawn), std::move(afternoon)};
  plot.up = extent.axis(manner.least, words, manner.unit);
  add_limits(plot, pairs.low_limit, manner.low_limit, pairs.high_limit, manner.decimals, manner.unit, theme,
             words);
}

void draw_salinity(Plot& plot, const SalinitySeries& salinity, const ChartTime& time, const Theme& theme,
                   const Words& words) {
  Extent extent;
  extent.take(salinity.readings);
  Joiner<CivilDay> line(salinity.gap_days, theme.open, PlotStroke::thin);
  for (const SeriesReading& reading : salinity.readings)
    line.add(civil_day(reading.at, time.offset), seconds(reading.at), reading.value);
  line.give(plot);
  plot.many = {marks_of(salinity.readings, theme.open, PlotShape::dot)};
  plot.up = extent.axis(4, words, "");
  add_limits(plot, salinity.low_limit, "charts.limit.least", salinity.high_limit, 0, "", theme, words);
}

// Each kind of sky has its height and its shape.
void draw_sky(Plot& plot, const PondSeries& series, const ChartTime& time, const Theme& theme,
              const Words& words) {
  struct {
    Sky sky;
    PlotShape shape;
  } constexpr kRows[] = {
      {Sky::dull, PlotShape::square}, {Sky::mixed, PlotShape::ring}, {Sky::bright, PlotShape::dot}};
  plot.up.low = -0.5;
  plot.up.high = 2.5;
  for (std::size_t height = 0; height < std::size(kRows); ++height) {
    const auto& [sky, shape] = kRows[height];
    const double up = static_cast<double>(height);
    plot.up.ticks.push_back({up, words("sky." + std::string(name_of(sky)))});
    PlotMarks marks{{}, sky == Sky::bright ? theme.act : theme.quiet_ink, shape};
    for (const SkySeen& seen : series.sky) {
      if (seen.sky == sky) marks.points.emplace_back(seconds(time.noon(seen.day)), up);
    }
    plot.many.push_back(std::move(marks));
  }
}

void draw_secchi(Plot& plot, const SecchiSeries& secchi, const ChartTime& time, const Theme& theme,
                 const Words& words) {
  Extent extent;
  extent.take(secchi.apart);
  bool told = false;
  for (auto band = secchi.bands.rbegin(); band != secchi.bands.rend(); ++band) {
    extent.take(band->low_cm);
    extent.take(band->high_cm);
    PlotBand one{band->low_cm, band->high_cm, theme.band, {}, seconds(band->from), seconds(band->until)};
    if (!told && band->until >= time.from && band->from <= time.until) {
      one.label = words("charts.band");
      told = true;
    }
    plot.bands.push_back(std::move(one));
  }
  Joiner<CivilDay> line(secchi.gap_days, theme.open, PlotStroke::thin);
  PlotMarks measured{{}, theme.open, PlotShape::dot}, deeper{{}, theme.open, PlotShape::deeper};
  for (const SecchiDepth& day : secchi.days) {
    extent.take(day.secchi_cm);
    const double across = seconds(time.noon(day.day));
    (day.more_than ? deeper : measured).points.emplace_back(across, day.secchi_cm);
    line.add(day.day, across, day.secchi_cm);
  }
  line.give(plot);
  plot.many = {marks_of(secchi.apart, theme.quiet_ink, PlotShape::cross), std::move(measured),
               std::move(deeper)};
  // The doses stand at the foot, under all depths.
  if (!secchi.doses.empty() && extent.low < extent.high) {
    extent.take(extent.high + kFootShare * (extent.high - extent.low));
  }
  plot.up = extent.axis(20, words, "cm");
  plot.up.downwards = true;
  const double foot = plot.up.high - 0.05 * (plot.up.high - plot.up.low);
  for (const DoseGiven& dose : secchi.doses) {
    plot.marks.push_back({seconds(dose.at), foot, theme.act, PlotShape::drop,
                          words.quantity(Quantity{dose.product_kg, 0, "kg"})});
  }
}

void draw_levels(Plot& plot, const LevelSeries& level, const Theme& theme, const Words& words) {
  Extent extent;
  extent.take(level.readings);
  PlotLine steps{{}, theme.act, PlotStroke::thin, words("charts.plan")};
  for (const PlannedLevel& planned : level.planned) {
    extent.take(planned.low_cm);
    extent.take(planned.high_cm);
    plot.bands.push_back(
        {planned.low_cm, planned.high_cm, theme.band, {}, seconds(planned.from), seconds(planned.until)});
    steps.points.emplace_back(seconds(planned.from), planned.aim_cm);
    steps.points.emplace_back(seconds(planned.until), planned.aim_cm);
  }
  Joiner<Instant> line(level.gap_days, theme.open, PlotStroke::strong);
  for (const SeriesReading& reading : level.readings) line.add(reading.at, seconds(reading.at), reading.value);
  line.give(plot);
  if (steps.points.size() > 1) plot.lines.push_back(std::move(steps));
  if (level.next) {
    extent.take(level.next->aim_cm);
    add_limit(plot, level.next->aim_cm,
              words(Message("charts.next")
                        .with("stage", Text{stage_word(words, level.next->fill)})
                        .with("level", Quantity{level.next->aim_cm, 0, "cm"})),
              theme.quiet_ink);
  }
  plot.many = {marks_of(level.readings, theme.open, PlotShape::dot)};
  plot.up = extent.axis(20, words, "cm");
}

}  // namespace

std::string_view name_of(ChartOf chart) {
  constexpr std::string_view kNames[] = {"oxygen", "ph", "temperature", "secchi", "level", "salinity", "sky"};
  return kNames[static_cast<std::size_t>(chart)];
}

const PairedSeries* pairs_of(ChartOf chart, const PondSeries& series) {
  if (chart == ChartOf::oxygen) return &series.oxygen;
  if (chart == ChartOf::ph) return &series.ph;
  return chart == ChartOf::temperature ? &series.temperature : nullptr;
}

Plot plot_of(ChartOf chart, const PondSeries& series, const ChartTime& time, const Theme& theme,
             const Words& words) {
  Plot plot;
  plot.across = day_axis(time.from, time.until, words, time.offset);
  add_stages(plot, series, words);
  switch (chart) {
    case ChartOf::oxygen:
      draw_pairs(plot, series.oxygen, {4, "mg_l", 0, "charts.limit.dawn", true}, time, theme, words);
      break;
    case ChartOf::ph:
      draw_pairs(plot, series.ph, {1, "", 1, "charts.limit.least", true}, time, theme, words);
      break;
    case ChartOf::temperature:
      draw_pairs(plot, series.temperature, {4, "c", 0, "charts.limit.least", false}, time, theme, words);
      break;
    case ChartOf::secchi:
      draw_secchi(plot, series.secchi, time, theme, words);
      break;
    case ChartOf::level:
      draw_levels(plot, series.level, theme, words);
      break;
    case ChartOf::salinity:
      draw_salinity(plot, series.salinity, time, theme, words);
      break;
    case ChartOf::sky:
      draw_sky(plot, series, time, theme, words);
      break;
  }
  if (days_of(chart, series, time).empty()) plot.nothing = words("charts.nothing");
  return plot;
}

std::vector<PlotKey> keys_of(ChartOf chart, const PondSeries& series, const Theme& theme, const Words& words) {
  const auto shape = [&](std::string_view word, Colour colour, PlotShape one) {
    return PlotKey{words(word), colour, one, {}};
  };
  const auto stroke = [&](std::string_view word, Colour colour, PlotStroke one) {
    return PlotKey{words(word), colour, {}, one};
  };
  std::vector<PlotKey> keys;
  if (const PairedSeries* pairs = pairs_of(chart, series)) {
    keys = {shape("window.dawn", theme.open, PlotShape::dot),
            shape("window.afternoon", theme.act, PlotShape::diamond),
            stroke("charts.key.limit", theme.warn, PlotStroke::dashed)};
    if (!pairs->apart.empty()) {
      keys.push_back(shape("charts.key.apart", theme.quiet_ink, PlotShape::cross));
    }
  } else if (chart == ChartOf::secchi) {
    keys.push_back(shape("charts.key.secchi", theme.open, PlotShape::dot));
    const auto deeper = [](const SecchiDepth& day) { return day.more_than; };
    if (std::any_of(series.secchi.days.begin(), series.secchi.days.end(), deeper)) {
      keys.push_back(shape("charts.key.deeper", theme.open, PlotShape::deeper));
    }
    if (!series.secchi.apart.empty()) {
      keys.push_back(shape("charts.key.apart", theme.quiet_ink, PlotShape::cross));
    }
    if (!series.secchi.bands.empty()) keys.push_back({words("charts.key.band"), theme.band, {}, {}});
    if (!series.secchi.doses.empty()) keys.push_back(shape("charts.key.dose", theme.act, PlotShape::drop));
  } else if (chart == ChartOf::salinity) {
    keys = {shape("charts.key.salinity", theme.open, PlotShape::dot),
            stroke("charts.key.limit", theme.warn, PlotStroke::dashed)};
  } else if (chart == ChartOf::level) {
    keys.push_back(shape("charts.key.level", theme.open, PlotShape::dot));
    if (!series.level.planned.empty()) {
      keys.push_back(stroke("charts.key.plan", theme.act, PlotStroke::thin));
      keys.push_back({words("charts.key.range"), theme.band, {}, {}});
    }
  }
  return keys;
}

}  // namespace tawny::ui
