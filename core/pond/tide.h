// The water outside the bank over time, from a table of high and low waters entered by hand.
//
// Levels are readings of the POND's own gauge in cm, as everything about a pond is; a tide table's own datum
// must be moved to it first. Between two entries the level swings by half a cosine, the custom of tide tables
// (common practice, no source): h = (h1 + h2)/2 + (h1 - h2)/2 cos(pi (t - t1)/(t2 - t1)). Two entries of one
// level: a canal that stands still.
//
// What does not hold: shallow estuaries, where the flood is shorter and steeper than a cosine; wind, floods,
// bores. Outside its first and last entry the table says nothing, and nothing is extended.
#pragma once

#include <optional>
#include <vector>

#include "base/problem.h"
#include "base/time.h"

namespace tawny {

struct TidePoint {
  Instant at;
  double level_cm = 0;
};

class TideTable {
 public:
  // Two to 1000 entries, times rising, levels -1000 .. 2000 cm.
  static Result<TideTable> from_points(const std::vector<TidePoint>& points);

  const std::vector<TidePoint>& points() const { return points_; }
  Instant from() const { return points_.front().at; }
  Instant until() const { return points_.back().at; }
  double lowest_cm() const;
  double highest_cm() const;

  // `seconds` after `origin`; nothing outside the table.
  std::optional<double> level_cm(Instant origin, double seconds) const;
  std::optional<double> level_cm(Instant at) const { return level_cm(at, 0); }

 private:
  explicit TideTable(std::vector<TidePoint> points) : points_(std::move(points)) {}
  std::vector<TidePoint> points_;  // never fewer than two
};

}  // namespace tawny
