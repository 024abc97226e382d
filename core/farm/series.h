// A pond's cycle as people look at it over time: oxygen, pH and temperature as pairs of dawn and afternoon with
// the day's swing, Secchi depths with the band of their stage and the doses, gauge levels against what each
// stage asks for, salinity, and the sky of each day.
//
// Only readings that count for the protocol stand in the days: inside their window, possible, neither corrected
// nor taken back. What was read outside the windows, or was read again later in the same window, stands apart.
// Nothing here points into the logbook, so a series may be kept after the farm was folded anew.
//
//   swing    afternoon minus dawn of one day, in the unit of the reading
//   trend    of the swing, a day: median of the slopes between all pairs of days with a swing (Theil 1950, Sen
//            1968), so that one wrong reading does not turn it; nothing under three such days. Of
//            more than 180 such days the newest 180 count. It does not say whether the change is more than
//            chance.
//   gap      readings that lie further apart than series.gap.*_days of the protocol are not joined by a line
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/farm.h"

namespace tawny {

struct SeriesReading {
  Instant at;
  double value = 0;  // in the unit of its series
  std::string who;
};

struct PairedDay {
  CivilDay day;
  std::optional<SeriesReading> dawn, afternoon;  // at least one of both

  std::optional<double> swing() const {
    if (!dawn || !afternoon) return std::nullopt;
    return afternoon->value - dawn->value;
  }
};

// mg/L, pH, or degrees Celsius.
struct PairedSeries {
  std::vector<PairedDay> days;       // oldest first
  std::vector<SeriesReading> apart;  // oldest first
  double gap_days = 1;
  // What the gate before release asks of these readings, by the protocol of now.
  std::optional<double> low_limit, high_limit;
};

// Over the days from `first` to `last`, both counted.
std::optional<double> swing_trend_per_day(const PairedSeries& series, CivilDay first, CivilDay last);

struct SecchiDepth {
  CivilDay day;
  Instant at;  // of the day's last pair
  double secchi_cm = 0;
  bool more_than = false;         // seen on the bottom: the truth is more than secchi_cm
  bool asks_for_another = false;  // the pairs spread too far
  std::string who;
};

// Where the stage of that time wants the disc to vanish. Before the first stage with a band there is none;
// stages without one of their own keep the last.
struct SecchiBand {
  Instant from, until;
  double low_cm = 0, high_cm = 0;
};

struct DoseGiven {
  Instant at;
  std::string product;
  double product_kg = 0;
  double rate_kg_ha = 0;
  std::string who;
};

struct SecchiSeries {
  std::vector<SecchiDepth> days;     // oldest first
  std::vector<SeriesReading> apart;  // cm, read outside the window
  std::vector<SecchiBand> bands;
  std::vector<DoseGiven> doses;
  double gap_days = 1;
};

// What the last fill begun asks the gauge to show.
struct PlannedLevel {
  Instant from, until;
  Stage fill = Stage::first_fill;
  double low_cm = 0, high_cm = 0, aim_cm = 0;
};

struct LevelSeries {
  std::vector<SeriesReading> readings;  // cm, oldest first
  std::vector<PlannedLevel> planned;    // from stage to stage, up to now
  std::optional<PlannedLevel> next;     // of the fill to come; nobody knows when: both instants are now
  double gap_days = 1;
};

// Without a window of the day: every possible reading.
struct SalinitySeries {
  std::vector<SeriesReading> readings;  // oldest first
  double gap_days = 1;
  std::optional<double> low_limit, high_limit;  // of the gate before release, by the protocol of now
};

// What was last seen on that day, over the pond or over the whole farm.
struct SkySeen {
  CivilDay day;
  Instant at;
  Sky sky = Sky::mixed;
  std::string who;
};

struct StageBegun {
  Instant at;
  Stage stage = Stage::bottom;
};

struct PondSeries {
  Instant from, until;  // start of the cycle, and now
  PairedSeries oxygen, ph, temperature;
  SalinitySeries salinity;
  std::vector<SkySeen> sky;  // oldest first
  SecchiSeries secchi;
  LevelSeries level;
  std::vector<StageBegun> stages;  // oldest first, the first one at `from`

  bool empty() const;  // nothing was read or given yet; the sky is read of every pond
};

// Of the cycle in the pond's history, up to `now`: the end of a cycle that is over.
PondSeries series_of(const FarmPond& pond, const Protocol& standard, const FarmPlace& place, Instant now);

// Whether a line may join what was read on `a` and on the later `b`.
inline bool joined(CivilDay a, CivilDay b, double gap_days) { return b.days - a.days <= gap_days; }
inline bool joined(Instant a, Instant b, double gap_days) { return hours_between(a, b) <= 24 * gap_days; }

}  // namespace tawny
