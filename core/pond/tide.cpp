#include "pond/tide.h"

#include <algorithm>
#include <cmath>

namespace tawny {
namespace {

constexpr Range kLevel{-1000, 2000, "cm", 0};
constexpr std::size_t kMostPoints = 1000;
constexpr double kPi = 3.14159265358979323846;

bool is_lower(const TidePoint& a, const TidePoint& b) { return a.level_cm < b.level_cm; }

}  // namespace

Result<TideTable> TideTable::from_points(const std::vector<TidePoint>& points) {
  if (points.size() < 2) return refuse(ProblemKind::missing, "tide", Message("problem.tide_too_short"));
  if (points.size() > kMostPoints) {
    return refuse(ProblemKind::out_of_range, "tide",
                  Message("problem.tide_too_long").with("most", bare(kMostPoints)));
  }
  for (std::size_t i = 0; i < points.size(); ++i) {
    TAWNY_REFUSE_OUTSIDE("tide_level_cm", points[i].level_cm, kLevel);
    if (i > 0 && !(points[i - 1].at < points[i].at)) {
      return refuse(ProblemKind::conflict, "tide", Message("problem.tide_not_rising").with("at", points[i].at));
    }
  }
  return TideTable(points);
}

double TideTable::lowest_cm() const {
  return std::min_element(points_.begin(), points_.end(), is_lower)->level_cm;
}

double TideTable::highest_cm() const {
  return std::max_element(points_.begin(), points_.end(), is_lower)->level_cm;
}

std::optional<double> TideTable::level_cm(Instant origin, double seconds) const {
  const auto after_origin = [&](const TidePoint& point) {
    return static_cast<double>(point.at.unix_s - origin.unix_s);
  };
  if (!(seconds >= after_origin(points_.front()) && seconds <= after_origin(points_.back()))) {
    return std::nullopt;
  }
  const auto next =
      std::upper_bound(points_.begin() + 1, points_.end() - 1, seconds,
                       [&](double at, const TidePoint& point) { return at < after_origin(point); });
  const TidePoint& before = *(next - 1);
  const double along = (seconds - after_origin(before)) / (after_origin(*next) - after_origin(before));
  return (before.level_cm + next->level_cm) / 2 +
         (before.level_cm - next->level_cm) / 2 * std::cos(kPi * along);
}

}  // namespace tawny
