// From a pond's series to the plots of its charts, and to the words that say the same: a summary of each chart,
// what was read on a day, and the rows of the table.
//
// The parts of a chart that are drawn and that are told come from the same series over the same time, so that
// nothing can be seen that cannot be read.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/series.h"
#include "ui/drawings/plot.h"
#include "ui/screens/chart_view.h"

namespace tawny::ui {

enum class ChartOf { oxygen, ph, temperature, secchi, level, salinity, sky };
inline constexpr ChartOf kCharts[] = {ChartOf::oxygen, ChartOf::ph,       ChartOf::temperature, ChartOf::secchi,
                                      ChartOf::level,  ChartOf::salinity, ChartOf::sky};
std::string_view name_of(ChartOf chart);

// Of a chart of dawns and afternoons; null for the others.
const PairedSeries* pairs_of(ChartOf chart, const PondSeries& series);

struct ChartTime {
  Instant from, until;
  UtcOffset offset;
  bool holds(Instant at) const { return at >= from && at <= until; }
  // A day stands at its noon.
  Instant noon(CivilDay day) const { return instant_at(day, 12 * 3600, offset); }
  bool holds(CivilDay day) const { return holds(noon(day)); }
  CivilDay first() const { return civil_day(from, offset); }
  CivilDay last() const { return civil_day(until.plus_s(-1), offset); }
};

Plot plot_of(ChartOf chart, const PondSeries& series, const ChartTime& time, const Theme& theme,
             const Words& words);
std::vector<PlotKey> keys_of(ChartOf chart, const PondSeries& series, const Theme& theme, const Words& words);

// What the picture shows, in sentences.
std::string summary_of(ChartOf chart, const PondSeries& series, const ChartTime& time, const Words& words);
// How the swing goes; empty where there are too few days, and for charts without a swing.
std::string trend_of(ChartOf chart, const PondSeries& series, const ChartTime& time, const Words& words);

// Days on which this chart shows anything, oldest first.
std::vector<CivilDay> days_of(ChartOf chart, const PondSeries& series, const ChartTime& time);
// What was read or given on that day, in one line without times and names; empty where nothing was.
std::string day_in_brief(ChartOf chart, const PondSeries& series, const ChartTime& time, CivilDay day,
                         const Words& words);
// One line for each thing read or given on that day, with its time and who.
std::vector<std::string> day_in_full(ChartOf chart, const PondSeries& series, const ChartTime& time,
                                     CivilDay day, const Words& words);
// The day's line in the table; empty where nothing was read.
std::vector<std::string> day_in_short(ChartOf chart, const PondSeries& series, const ChartTime& time,
                                      CivilDay day, const Words& words);

}  // namespace tawny::ui
