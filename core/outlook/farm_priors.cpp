#include "outlook/farm_priors.h"

#include <algorithm>
#include <cmath>

#include "outlook/quick_math.h"

namespace tawny {
namespace {

constexpr std::size_t kParticles = 1000;
constexpr double kJustInside = 1e-6;  // of the logarithm: a median lies between its bounds, not on them

}  // namespace

CycleLesson lesson_of(const BloomRecord& finished, const OutlookPriors& published) {
  BloomFilter filter(published, kParticles, seed_of(finished.pond, finished.days.front().day.days));
  for (std::size_t i = 0; i < finished.days.size(); ++i) {
    const BloomDay& day = finished.days[i];
    if (i == 0) {
      filter.begin(day.water);
    } else {
      filter.to_noon(day.water, day.sky);
    }
    if (day.secchi) filter.see(*day.secchi);
    filter.to_evening(day.water, day.sky);
    if (day.do_swing_mg_l) filter.see_swing(*day.do_swing_mg_l);
  }
  const std::vector<Particle> believed = filter.drawn(kParticles, 0.5);
  CycleLesson lesson;
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
        (squares - sum * sum / n) / n / (published.traits[t].log_sd * published.traits[t].log_sd);
    const auto middle = logs.begin() + static_cast<std::ptrdiff_t>(logs.size() / 2);
    std::nth_element(logs.begin(), middle, logs.end());
    lesson.log_median[t] = *middle;
    lesson.learned[t] = std::clamp(1 - share, 0.0, 1.0);
  }
  return lesson;
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
