// What the farm's finished cycles teach its forecasts (outlook/farm_priors.h): learned in pieces, anew when the
// logbook or the day changes. A cycle whose record is as it was is not learned from again.
#pragma once

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "outlook/farm_priors.h"

namespace tawny::ui {

class App;

class FarmLessons {
 public:
  void begin(OutlookPriors published);
  const OutlookPriors& published() const { return published_; }

  // Whether priors() is of the logbook and the day as they stand.
  bool is_learned(const App& app) const;
  // One piece of the work: the finished cycles gathered, or a day of one of them learned.
  void step(const App& app);
  const OutlookPriors& priors() const { return priors_; }
  void forget();

 private:
  const CycleLesson* known(const BloomRecord& record) const;
  using Of = std::pair<CivilDay, std::size_t>;  // day and entries
  static Of stand_of(const App& app);
  void gather(const App& app);

  OutlookPriors published_, priors_;
  std::optional<Of> of_;
  std::vector<BloomRecord> records_;  // of the cycles finished then, the one that ended last first
  std::vector<std::pair<BloomRecord, CycleLesson>> lessons_;
  std::optional<LessonRun> run_;
  std::size_t at_ = 0;  // of records_
  bool done_ = false;
};

}  // namespace tawny::ui
