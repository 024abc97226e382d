// Looks at a value before it is saved: refused because it cannot be, or questioned because it is unlikely.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "logbook/entry.h"
#include "protocol/assess.h"

namespace tawny {

struct Finding {
  enum class Weight { refused, questioned } weight = Weight::questioned;
  std::string key;  // the value at fault, empty for the entry as a whole
  Message message;  // names the thing, the limit and the way on
  // What the person most likely read, in the unit of the key: offered, never taken by itself.
  std::optional<double> likely = std::nullopt;
  bool operator==(const Finding&) const = default;
};

// What a bag of each product holds, in kg.
using BagSizes = std::map<std::string, double, std::less<>>;

// Findings in the order of the values; refused ones first. `history` is the pond's present cycle; of a product
// without a bag size, bags are not thought of.
std::vector<Finding> check_entry(const Draft& draft, const PondHistory& history, const Protocol& protocol,
                                 const FarmPlace& place, Instant now, const BagSizes& bags_kg = BagSizes());

}  // namespace tawny
