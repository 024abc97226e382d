// What moves a pond's water at a moment, and one step through time: the inner works of pond/filling.h.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "pond/filling.h"

namespace tawny {

// One state, told twice: the volume is what is booked, the level what it stands at.
struct PondWater {
  double volume_m3 = 0;
  double level_cm = 0;
};

struct FillingRates {
  std::vector<double> inlets_m3_s;
  double rain_m3_s = 0;
  double lost_m3_s = 0;
  bool outside_fit = false;
};

struct FillingStep {
  struct Moved {
    double in_m3 = 0;
    double out_m3 = 0;
  };
  PondWater end;
  std::vector<Moved> inlets;
  double rain_m3 = 0;
  double lost_m3 = 0;
};

// Refuses what plan_filling() and start_for() refuse in common.
std::optional<Problem> unfit(const StageCurve& curve, const FillingSetup& setup, double from_level_cm,
                             double to_level_cm);

// The root of a function that rises, not below `lowest`, looked for around `near`; `lowest` where the function
// is not below zero even there. Good to 1e-10 of a level, or to `enough` of the function.
template <typename Rising>
double root_of(const Rising& rising, double lowest, double near, double enough) {
  double reach = 1;
  double low = std::max(lowest, near - reach);
  double at_low = rising(low);
  if (at_low >= 0 && low > lowest) {
    low = lowest;
    at_low = rising(low);
  }
  if (at_low >= 0) return lowest;
  double high = std::max(lowest, near) + reach;
  double at_high = rising(high);
  while (at_high < 0) {
    low = high;
    at_low = at_high;
    reach *= 2;
    high += reach;
    at_high = rising(high);
  }
  // Regula falsi that halves the value of an end which stays twice, and the bracket every third time.
  int stayed = 0;
  for (int i = 0; i < 100 && high - low > 1e-10; ++i) {
    double middle = high - at_high * (high - low) / (at_high - at_low);
    if (i % 3 == 2 || !(middle > low && middle < high)) middle = (low + high) / 2;
    const double at_middle = rising(middle);
    if (std::fabs(at_middle) <= enough) return middle;
    if (at_middle < 0) {
      low = middle;
      at_low = at_middle;
      if (stayed == 1) at_high /= 2;
      stayed = 1;
    } else {
      high = middle;
      at_high = at_middle;
      if (stayed == 2) at_low /= 2;
      stayed = 2;
    }
  }
  return high;
}

// Of a set-up that is fit. Times are seconds after the start, and may lie before it.
class PondInflow {
 public:
  PondInflow(const StageCurve& curve, const FillingSetup& setup, Instant start);

  const FillingSetup& setup() const { return setup_; }
  Instant start() const { return start_; }
  double lowest_level_cm() const { return curve_.lowest_level_cm(); }

  // Above the full level the banks are taken as upright: a step may look a little beyond it before it is cut.
  double volume_m3(double level_cm) const;
  std::optional<double> outside_level_cm(double at_s) const;

  // What does not hang on the pond's own level.
  struct Moment {
    std::optional<double> outside_level_cm;
    std::vector<bool> open;  // by inlet
  };
  // At `at_s`, with what stands open between there and `towards_s`, before or after it.
  Moment moment(double at_s, double towards_s) const;

  FillingRates rates(double level_cm, const Moment& moment) const;
  double gain_m3_s(double level_cm, const Moment& moment) const;
  // Of a volume, what does not count.
  double enough_m3() const { return 1e-14 * curve_.full_volume_m3(); }

  // Nothing opens, closes or ends between `from_s` and `until_s`.
  FillingStep step(const PondWater& water, double from_s, double until_s) const;

  // A tidal inlet stands open and no tide is known.
  bool uncovered(double from_s, double until_s) const;

  // The first opening, closing or end of the tide table after `at_s`, and the last one before it; endlessly far
  // where there is none.
  double next_break_s(double at_s) const;
  double last_break_s(double at_s) const;

 private:
  struct Surface {
    double area_m2 = 0;
    double volume_m3 = 0;
    double wet = 0;  // 1, but falling to 0 over the last millimetre of water
  };
  Surface surface_at(double level_cm) const;
  double gain_m3_s(double level_cm, const Surface& surface, const Moment& moment) const;
  bool is_open(const Inlet& inlet, double at_s) const;
  InletFlow flow_at(std::size_t inlet, double level_cm, const Surface& surface, const Moment& moment) const;
  double fall_m_s() const;  // evaporation and seepage
  double rain_m_s() const;

  const StageCurve& curve_;
  const FillingSetup& setup_;
  Instant start_;
  std::vector<double> breaks_s_;  // rising
};

}  // namespace tawny
