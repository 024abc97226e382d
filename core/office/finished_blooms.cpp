#include "office/finished_blooms.h"

#include <algorithm>

#include "base/sort_stably.h"

namespace tawny {

std::vector<BloomRecord> finished_blooms(const std::map<std::string, std::vector<Cycle>>& cycles,
                                         const FarmPlace& place, const std::vector<Product>& products,
                                         const OutlookPriors& priors) {
  std::vector<const Cycle*> finished;
  for (const auto& [pond, all] : cycles) {
    for (const Cycle& cycle : all) {
      if (cycle.end) finished.push_back(&cycle);
    }
  }
  sort_stably(finished, [](const Cycle* a, const Cycle* b) { return *a->end > *b->end; });
  std::vector<BloomRecord> records;
  for (const Cycle* cycle : finished) {
    if (records.size() == priors.farm_cycles_most) break;
    auto record = bloom_record(cycle->pond.history, cycle->pond.state, place, products, priors,
                               civil_day(*cycle->end, place.offset), *cycle->end);
    if (record) records.push_back(*std::move(record));
  }
  return records;
}

}  // namespace tawny
