// What a farm's finished cycles teach its forecasts (outlook/farm_priors.h).
#pragma once

#include <map>
#include <string>
#include <vector>

#include "office/cycles.h"
#include "outlook/farm_priors.h"

namespace tawny {

// Of every cycle that is over and has a curve and levels, the one that ended last first; at most
// `priors.farm_cycles_most`.
std::vector<BloomRecord> finished_blooms(const std::map<std::string, std::vector<Cycle>>& cycles,
                                         const FarmPlace& place, const std::vector<Product>& products,
                                         const OutlookPriors& priors);

}  // namespace tawny
