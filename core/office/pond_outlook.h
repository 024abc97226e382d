// What a pond's forecast (core/outlook) starts from, as the farm stands: its days so far and what the protocol
// allows now.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/farm.h"
#include "outlook/outlook.h"

namespace tawny {

struct PondOutlook {
  BloomRecord record;
  OutlookRules rules;
};

// A dose to look at in place of the least and the most.
struct DoseInMind {
  std::string product;
  double rate_kg_ha = 0;
};

// Up to today, with the product that the pond takes (office/needs.h); where the farm has none in use, with the
// first that the protocol allows. `dose`: of its product, its rate stands as the least, and the most is left
// out; where the protocol allows no dose, or not that one, it is not looked at, and no other one either.
// Refuses what bloom_record() refuses, an area that cannot be told, and a product that is not known.
Result<PondOutlook> pond_outlook(const Farm& farm, const FarmPond& pond, const Protocol& standard,
                                 const std::vector<Product>& products, const OutlookPriors& priors,
                                 const std::optional<DoseInMind>& dose, Instant now);

}  // namespace tawny
