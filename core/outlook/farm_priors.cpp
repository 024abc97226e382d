#include "outlook/farm_priors.h"

#include <algorithm>
#include <cmath>

#include "outlook/quick_math.h"

namespace tawny {
namespace {

constexpr std::size_t kParticles = 1000;
constexpr double kJustInside = 1e-6;  // of the logarithm: a median lies between its bounds, not on them

}  // namespace

LessonRun::LessonRun(BloomRecord finished, const OutlookPriors& published)
    : record_(std::move(finished)),
      published_(published),
      filter_(published, kParticles, seed_of(record_.pond, record_.days.front().day.days)) {}

bool LessonRun::step() {
  if (at_ < record_.days.size()) {
    const BloomDay& day = record_.days[at_];
    if (at_ == 0) {
      filter_.begin(day.water);
    } else {
      filter_.to_noon(day.water, day.sky);
    }
    if (day.secchi) filter_.see(*day.secchi);
    filter_.to_evening(day.water, day.sky);
    if (day.do_swing_mg_l) filter_.see_swing(*day.do_swing_mg_l);
    ++at_;
    return false;
  }
  if (!done_) conclude();
  done_ = true;
  return true;
}

CycleLesson lesson_of(const BloomRecord& finished, const OutlookPriors& published) {
  LessonRun run(finished, published);
  while (!run.step()) continue;
  return run.lesson();
}

void LessonRun::conclude() {
  const std::vector<Particle> believed = filter_.drawn(kParticles, 0.5);
  std::vector<double> logs(believed.size());
  for (std::size_t t = 0; t < kTraits; ++t) {
    double sum = 0, squares = 0;
    for (std::size_t i = 0; i < logs.size(); ++i) {
      logs[i] = quick_log(believed[i].traits[t]);
      sum += logs[i];
      squares += logs[i] * logs[i];
    }
    const double n = static_cast<double>(logs.size());
    const double share =
        (squares - sum * sum / n) / n / (published_.traits[t].log_sd * published_.traits[t].log_sd);
    const auto middle = logs.begin() + static_cast<std::ptrdiff_t>(logs.size() / 2);
    std::nth_element(logs.begin(), middle, logs.end());
    lesson_.log_median[t] = *middle;
    lesson_.learned[t] = std::clamp(1 - share, 0.0, 1.0);
  }
}

OutlookPriors priors_of_farm(const OutlookPriors& published, const std::vector<CycleLesson>& lessons) {
  OutlookPriors shifted = published;
  const double r = published.farm_share;
  for (std::size_t t = 0; t < kTraits; ++t) {
    TraitPrior& prior = shifted.traits[t];
    double offsets = 0, weights = 1 / r;
    for (const CycleLesson& lesson : lessons) {
      // What nothing was learned of lies off by the dice alone.
      const double i = lesson.learned[t];
      if (!(i > 0)) continue;
      offsets += (lesson.log_median[t] - prior.log_median) / (1 - r * i);
      weights += i / (1 - r * i);
    }
    prior.log_median = std::clamp(prior.log_median + offsets / weights, prior.log_low + kJustInside,
                                  prior.log_high - kJustInside);
  }
  return shifted;
}

}  // namespace tawny
