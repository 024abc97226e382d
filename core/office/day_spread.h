// How many days something may take, as shares on a grid of quarter days: the same on every phone, since nothing
// in it is drawn by lot.
//
// A stage's days follow a log-normal law, never shorter than what the protocol asks for:
//
//   X = max(least, exp(N(ln median, sigma^2)))     days; median > 0, sigma >= 0
//   sigma = ln(late / median) / 1.2816             late: 9 of 10 times it takes no longer (the normal's 90 %)
//
// Its share of a quarter day is the difference of the law at the middles between it and its neighbours; sums
// are convolutions of the shares. The law of log-normal durations is common practice, no source; the error
// function is the language's own. What the grid cuts off (beyond 400 days, or beyond all but a millionth) is
// kept as `beyond`, so that no sum is ever called certain that is not.
//
// What does not hold: stages of one pond that are slow together (a cold month) widen the sum beyond this one,
// which takes them as independent.
#pragma once

#include <vector>

namespace tawny {

inline constexpr double kQuarterDay = 0.25;

// Of a late day (9 of 10 times no longer) against the median; 0 where they are the same.
double sigma_of(double median_d, double late_d);

class DaySpread {
 public:
  // To the nearest quarter day.
  static DaySpread exactly(double days);
  static DaySpread log_normal(double median_d, double sigma, double least_d);
  // What is left of it after `elapsed_d` days that were not enough.
  static DaySpread log_normal_after(double median_d, double sigma, double least_d, double elapsed_d);

  DaySpread plus(const DaySpread& other) const;
  DaySpread at_least(double days) const;

  // The fewest days that are enough in this share of cases; the grid's last where they lie beyond it.
  double days_for(double share) const;
  double chance_within(double days) const;  // 0 .. 1
  double least_d() const;
  // Nothing lies beyond `days`: enough for certain.
  bool sure_within(double days) const;

 private:
  static constexpr int kMostSteps = 1600;
  template <typename Survives>
  static DaySpread from_law(Survives survives);
  std::vector<double> shares_;  // of 0, 1/4, 1/2, ... days
  double beyond_ = 0;
};

}  // namespace tawny
