// The readings of a cycle that count for a rule, found once and then asked for any day as of any instant.
//
//   dawn, afternoon   the last possible oxygen and pH reading inside the day's dawn and afternoon window
//   pair              mean of the depths at which the disc vanishes and comes back, taken inside the peak
//                     window
//   Secchi of a day   median of its pairs; a spread over max(spread_cm, spread_share of the median) asks for
//                     one more pair, until pairs_enough are there
//   seen on the bottom  more than the depth at the disc. A day of such pairs and measured ones is a number only
//                     where the median is the same however much deeper the disc would have been seen.
//
// A reading is judged by the windows and limits of the protocol that stood when it was taken.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "protocol/assess.h"
#include "protocol/history.h"
#include "protocol/protocol_times.h"
#include "protocol/windows.h"

namespace tawny {

struct DaySecchi {
  CivilDay day;
  double secchi_cm = 0;
  bool more_than = false;  // the truth is more than secchi_cm
  bool asks_for_another = false;
  double spread_cm = 0;
  std::vector<const Entry*> entries;

  // Certainly over, certainly under, certainly inside: a disc seen on the bottom is never under and never
  // inside.
  bool over(double limit_cm) const { return secchi_cm > limit_cm; }
  bool under(double limit_cm) const { return !more_than && secchi_cm < limit_cm; }
  bool inside(double low_cm, double high_cm) const {
    return !more_than && secchi_cm >= low_cm && secchi_cm <= high_cm;
  }
};

struct DayWater {
  CivilDay day;
  std::optional<double> dawn_do_mg_l, afternoon_do_mg_l, dawn_ph, afternoon_ph;
  // The readings that these come from; null where there is none.
  const WaterReading *dawn_do = nullptr, *dawn_ph_reading = nullptr;
  const WaterReading *afternoon_do = nullptr, *afternoon_ph_reading = nullptr;
  std::vector<const Entry*> entries;

  std::optional<double> do_swing_mg_l() const;
  std::optional<double> ph_swing() const;
  bool paired() const { return do_swing_mg_l().has_value() && ph_swing().has_value(); }
  bool empty() const { return entries.empty(); }
};

class Usable {
 public:
  Usable(const PondHistory& history, const ProtocolTimes& times, const FarmPlace& place);

  // Nothing where the sun neither rises nor sets. By the protocol that stood at `by`.
  const DayWindows* windows(CivilDay day, Instant by) const;
  // The windows of the day of `at`, by the protocol of that instant.
  const DayWindows* windows_at(Instant at) const;

  // With the entries up to `until` only.
  DayWater water(CivilDay day, Instant until) const;
  // Pairs after `after` and up to `until`; nothing without a pair.
  std::optional<DaySecchi> secchi(CivilDay day, Instant after, Instant until) const;

  // Days with a usable pair from `first` on, newest first, at most `most` of them; days that ask for another
  // pair are left out unless `asking_too`.
  std::vector<DaySecchi> secchi_days(CivilDay first, Instant after, Instant until, std::size_t most,
                                     bool asking_too = false) const;
  // Days with both swings from `first` on, newest first.
  std::vector<DayWater> paired_days(CivilDay first, Instant until, std::size_t most) const;

  // Every day with anything usable, oldest first.
  std::vector<DaySecchi> all_secchi_days(Instant until) const;
  std::vector<DayWater> all_water_days(Instant until) const;

  // A reading that can be, whatever its window.
  bool possible_do(const WaterReading& reading) const;
  bool possible_ph(const WaterReading& reading) const;

 private:
  struct Water {
    CivilDay day;
    bool dawn = false;
    bool has_do = false, has_ph = false;
    const WaterReading* reading = nullptr;
  };
  struct Pair {
    CivilDay day;
    double cm = 0;
    bool bottom = false;
    const SecchiPair* pair = nullptr;
  };
  std::vector<Water> waters_;  // in order of time, and so of day
  std::vector<Pair> pairs_;
  const ProtocolTimes* times_;
  FarmPlace place_;
  mutable std::map<std::pair<std::size_t, CivilDay>, std::optional<DayWindows>> windows_;  // reckoned once each
};

}  // namespace tawny
