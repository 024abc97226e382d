#include "ui/farm_lessons.h"

#include <algorithm>

#include "office/finished_blooms.h"
#include "ui/app.h"

namespace tawny::ui {

void FarmLessons::begin(OutlookPriors published) {
  published_ = std::move(published);
  forget();
}

void FarmLessons::forget() {
  priors_ = published_;
  of_.reset();
  records_.clear();
  lessons_.clear();
  run_.reset();
  at_ = 0;
  done_ = false;
}

const CycleLesson* FarmLessons::known(const BloomRecord& record) const {
  const auto found = std::find_if(lessons_.begin(), lessons_.end(),
                                  [&](const auto& lesson) { return lesson.first == record; });
  return found == lessons_.end() ? nullptr : &found->second;
}

void FarmLessons::gather(const App& app) {
  records_ = finished_blooms(all_cycles(app.logbook(), app.farm(), app.protocol(), app.now()), app.farm().place,
                             app.products(), published_);
  lessons_.erase(std::remove_if(lessons_.begin(), lessons_.end(),
                                [&](const auto& lesson) {
                                  return std::find(records_.begin(), records_.end(), lesson.first) ==
                                         records_.end();
                                }),
                 lessons_.end());
  run_.reset();
  at_ = 0;
  done_ = false;
}

FarmLessons::Of FarmLessons::stand_of(const App& app) {
  return {civil_day(app.now(), app.farm().place.offset), app.logbook().size()};
}

bool FarmLessons::is_learned(const App& app) const { return done_ && of_ == stand_of(app); }

void FarmLessons::step(const App& app) {
  if (of_ != stand_of(app)) {
    of_ = stand_of(app);
    gather(app);
    return;
  }
  while (!run_ && at_ < records_.size() && known(records_[at_]) != nullptr) ++at_;
  if (at_ < records_.size()) {
    if (!run_) run_.emplace(records_[at_], published_);
    if (!run_->step()) return;
    lessons_.emplace_back(records_[at_], run_->lesson());
    run_.reset();
    return;
  }
  std::vector<CycleLesson> lessons;
  for (const BloomRecord& record : records_) lessons.push_back(*known(record));
  priors_ = priors_of_farm(published_, lessons);
  done_ = true;
}

}  // namespace tawny::ui
