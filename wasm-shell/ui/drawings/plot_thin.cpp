#include "ui/drawings/plot_thin.h"

#include <algorithm>

namespace tawny::ui {
namespace {

int column_of(double across, double low, double high, int columns) {
  const double share = (across - low) / std::max(high - low, 1e-9);
  return std::clamp(static_cast<int>(share * columns), 0, columns - 1);
}

// The part of `points` that lies inside, one behind the other.
std::pair<std::size_t, std::size_t> inside(const PlotPoints& points, double low, double high) {
  const auto before = [](const std::pair<double, double>& point, double at) { return point.first < at; };
  const auto after = [](double at, const std::pair<double, double>& point) { return at < point.first; };
  const auto first = std::lower_bound(points.begin(), points.end(), low, before);
  const auto last = std::upper_bound(first, points.end(), high, after);
  return {static_cast<std::size_t>(first - points.begin()), static_cast<std::size_t>(last - points.begin())};
}

// Calls `take` with the first, the lowest, the highest and the last place of each column.
template <typename Take>
void each_column(const PlotPoints& points, double low, double high, int columns, Take take) {
  const auto [begin, end] = inside(points, low, high);
  for (std::size_t i = begin; i < end;) {
    const int column = column_of(points[i].first, low, high, columns);
    std::size_t lowest = i, highest = i, next = i;
    for (; next < end && column_of(points[next].first, low, high, columns) == column; ++next) {
      if (points[next].second < points[lowest].second) lowest = next;
      if (points[next].second > points[highest].second) highest = next;
    }
    take(i, lowest, highest, next - 1);
    i = next;
  }
}

}  // namespace

PlotPoints thin_line(const PlotPoints& points, double low, double high, int columns) {
  PlotPoints kept;
  if (points.empty() || columns < 1) return kept;
  const auto [begin, end] = inside(points, low, high);
  if (begin > 0) kept.push_back(points[begin - 1]);
  each_column(
      points, low, high, columns,
      [&](std::size_t first, std::size_t lowest, std::size_t highest, std::size_t last) {
        const std::size_t ordered[] = {first, std::min(lowest, highest), std::max(lowest, highest), last};
        std::size_t before = points.size();
        for (const std::size_t at : ordered) {
          if (at != before) kept.push_back(points[at]);
          before = at;
        }
      });
  if (end < points.size()) kept.push_back(points[end]);
  return kept;
}

std::vector<std::size_t> thin_points(const PlotPoints& points, double low, double high, int columns) {
  std::vector<std::size_t> kept;
  if (columns < 1) return kept;
  each_column(points, low, high, columns,
              [&](std::size_t, std::size_t lowest, std::size_t highest, std::size_t) {
                kept.push_back(std::min(lowest, highest));
                if (lowest != highest) kept.push_back(std::max(lowest, highest));
              });
  return kept;
}

}  // namespace tawny::ui
