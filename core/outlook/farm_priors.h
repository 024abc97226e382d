// What a farm's finished cycles say of its next one: its water, mud and people are not the median's.
//
//   lesson    of one finished cycle, from the filter run over its whole record: the posterior median of each
//             trait on the logarithm, and i, the share of the prior's variance that the readings took away
//   shift     of the prior's median, for each trait, from all lessons together, with r = farm_share, the share
//             of a trait's variance that lies between farms (the rest lies between cycles of one farm):
//
//               sum (median - prior's) / (1 - r i)  over  (1 / r + sum i / (1 - r i))
//
//             which is the posterior mean of the farm's own offset, for normal offsets and cycles, when a
//             lesson's median is taken for prior + i (truth - prior). One cycle shifts by r at most; a lesson
//             that learned nothing, not at all
//   bounds    the shifted median stays within the prior's; spread and bounds stay as they were
//
// Sources: normal means with known variances, Gelman et al. 2013, Bayesian Data Analysis, ch. 5 (from memory).
//
// What does not hold: that farms and cycles differ normally; a lesson of one trait owes something to the
// others, which is why farm_share is small.
#pragma once

#include <vector>

#include "outlook/bloom_record.h"

namespace tawny {

struct CycleLesson {
  std::array<double, kTraits> log_median = {};
  std::array<double, kTraits> learned = {};  // i, 0 .. 1
};

// A lesson in slices: step() until it says that it is done. A record without a day is a mistake of the caller.
class LessonRun {
 public:
  LessonRun(BloomRecord finished, const OutlookPriors& published);
  // One day of the record, or the lesson from all; true when all is done.
  bool step();
  // Complete once step() was true.
  const CycleLesson& lesson() const { return lesson_; }

 private:
  void conclude();

  BloomRecord record_;
  OutlookPriors published_;
  BloomFilter filter_;
  std::size_t at_ = 0;  // of record_.days
  bool done_ = false;
  CycleLesson lesson_;
};

// All at once.
CycleLesson lesson_of(const BloomRecord& finished, const OutlookPriors& published);

// `published` with the medians shifted by the lessons; without lessons as it is.
OutlookPriors priors_of_farm(const OutlookPriors& published, const std::vector<CycleLesson>& lessons);

}  // namespace tawny
