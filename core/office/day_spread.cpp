#include "office/day_spread.h"

#include <algorithm>
#include <cmath>

namespace tawny {
namespace {

constexpr double kNormal90 = 1.2815515655446004;
constexpr double kCutShare = 1e-6;

double normal_above(double z) { return std::erfc(z / std::sqrt(2.0)) / 2; }

std::size_t steps_of(double days) {
  return static_cast<std::size_t>(std::max(0.0, std::round(days / kQuarterDay)));
}

// P(X > days) of the log-normal law with its floor.
double survives_of(double median_d, double sigma, double least_d, double days) {
  if (days < least_d) return 1;
  if (days <= 0) return 1;
  if (sigma <= 0) return days < std::max(median_d, least_d) ? 1 : 0;
  return normal_above(std::log(days / median_d) / sigma);
}

}  // namespace

double sigma_of(double median_d, double late_d) {
  if (median_d <= 0 || late_d <= median_d) return 0;
  return std::log(late_d / median_d) / kNormal90;
}

template <typename Survives>
DaySpread DaySpread::from_law(Survives survives) {
  DaySpread spread;
  double above = 1;
  for (int step = 0; step <= kMostSteps && above > kCutShare; ++step) {
    const double next = std::min(above, survives((step + 0.5) * kQuarterDay));
    spread.shares_.push_back(above - next);
    above = next;
  }
  spread.beyond_ = above;
  return spread;
}

DaySpread DaySpread::exactly(double days) {
  DaySpread spread;
  spread.shares_.assign(steps_of(days) + 1, 0.0);
  spread.shares_.back() = 1;
  return spread;
}

DaySpread DaySpread::log_normal(double median_d, double sigma, double least_d) {
  if (sigma <= 0) return exactly(std::max(median_d, least_d));
  // The floor is one of the law's own quarter days.
  return from_law([=](double days) { return survives_of(median_d, sigma, 0, days); }).at_least(least_d);
}

DaySpread DaySpread::log_normal_after(double median_d, double sigma, double least_d, double elapsed_d) {
  if (elapsed_d <= 0) return log_normal(median_d, sigma, least_d);
  const double still = survives_of(median_d, sigma, 0, elapsed_d);
  const double least_left_d = std::max(0.0, least_d - elapsed_d);
  if (sigma <= 0) return exactly(std::max(std::max(median_d, least_d) - elapsed_d, 0.0));
  // So late that the law has no numbers for it: it may end any day.
  if (still <= 0) return exactly(std::max(kQuarterDay, least_left_d));
  // While the protocol's least is not over, all of the law is still ahead.
  if (elapsed_d < least_d) {
    return from_law([=](double days) { return survives_of(median_d, sigma, 0, elapsed_d + days); })
        .at_least(least_left_d);
  }
  return from_law([=](double days) { return survives_of(median_d, sigma, 0, elapsed_d + days) / still; });
}

DaySpread DaySpread::plus(const DaySpread& other) const {
  DaySpread sum;
  const std::size_t size =
      std::min(shares_.size() + other.shares_.size() - 1, static_cast<std::size_t>(kMostSteps) + 1);
  sum.shares_.assign(size, 0.0);
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    if (shares_[i] == 0) continue;
    for (std::size_t j = 0; j < other.shares_.size() && i + j < size; ++j) {
      sum.shares_[i + j] += shares_[i] * other.shares_[j];
    }
  }
  double within = 0;
  for (const double share : sum.shares_) within += share;
  const bool whole = beyond_ == 0 && other.beyond_ == 0 && size == shares_.size() + other.shares_.size() - 1;
  sum.beyond_ = whole ? 0 : std::max(0.0, 1 - within);
  while (sum.shares_.size() > 1 && sum.shares_.back() < 1e-12 && sum.beyond_ > 0) {
    sum.beyond_ += sum.shares_.back();
    sum.shares_.pop_back();
  }
  return sum;
}

DaySpread DaySpread::at_least(double days) const {
  // Up to the next quarter day, since a floor is not to be undercut by rounding.
  const auto floor = static_cast<std::size_t>(std::max(0.0, std::ceil(days / kQuarterDay - 1e-9)));
  DaySpread spread = *this;
  if (floor == 0) return spread;
  double under = 0;
  for (std::size_t i = 0; i < std::min(floor, spread.shares_.size()); ++i) {
    under += spread.shares_[i];
    spread.shares_[i] = 0;
  }
  if (spread.shares_.size() <= floor) {
    // All of it, also what was cut off beyond the grid's end, where the floor lies behind it.
    spread.shares_.resize(floor + 1, 0.0);
  }
  spread.shares_[floor] += under;
  return spread;
}

double DaySpread::days_for(double share) const {
  double within = 0;
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    within += shares_[i];
    // A sum of many shares misses its whole by rounding.
    if (within >= share - 1e-12) return static_cast<double>(i) * kQuarterDay;
  }
  return static_cast<double>(shares_.size()) * kQuarterDay;
}

double DaySpread::chance_within(double days) const {
  if (days < 0) return 0;
  if (sure_within(days)) return 1;
  const auto last = static_cast<std::size_t>(std::floor(days / kQuarterDay + 1e-9));
  double within = 0;
  for (std::size_t i = 0; i < shares_.size() && i <= last; ++i) within += shares_[i];
  return std::min(1.0, within);
}

double DaySpread::least_d() const {
  for (std::size_t i = 0; i < shares_.size(); ++i) {
    if (shares_[i] > 0) return static_cast<double>(i) * kQuarterDay;
  }
  return static_cast<double>(shares_.size()) * kQuarterDay;
}

bool DaySpread::sure_within(double days) const {
  return beyond_ == 0 && days + 1e-9 >= static_cast<double>(shares_.size() - 1) * kQuarterDay;
}

}  // namespace tawny
