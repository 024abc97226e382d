// Which stretch of time the charts of a pond show: it moves and widens, but never away from what there is to
// see.
#pragma once

#include "base/time.h"

namespace tawny::ui {

class ChartView {
 public:
  static constexpr double kNarrowestDays = 2;

  // All there is, from `first` to `last`; at least the narrowest view long. What was shown stays where it can.
  void set_limits(Instant first, Instant last);
  void show_last(double days);
  void show_all();
  // Later by `share` of what is shown; earlier where negative.
  void move(double share);
  // `times` as much time in the same width, around the place at `share` of the width.
  void widen(double times, double share = 0.5);

  Instant from() const { return Instant{static_cast<std::int64_t>(from_s_)}; }
  Instant until() const { return Instant{static_cast<std::int64_t>(until_s_)}; }
  bool at_first() const { return from_s_ <= first_s_ + 1; }
  bool at_last() const { return until_s_ >= last_s_ - 1; }
  bool narrowest() const;
  Instant at(double share) const {
    return Instant{static_cast<std::int64_t>(from_s_ + share * (until_s_ - from_s_))};
  }

 private:
  void show(double from_s, double span_s);

  double first_s_ = 0, last_s_ = 0;
  double from_s_ = 0, until_s_ = 0;
};

}  // namespace tawny::ui
