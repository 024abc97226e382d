// Which cautions belong to an act with a product: ids of messages, in the order to show them. They are confirmed
// where the act begins, and the ids that were confirmed go on record with it.
#pragma once

#include <string>
#include <vector>

#include "dose/product.h"

namespace tawny {

// Mixing in bins and spreading from a boat, before and at sunrise.
std::vector<std::string> dose_cautions(const Product& product);
// Broadcasting on the dry soil: nothing is dissolved, and it dusts.
std::vector<std::string> broadcast_cautions(const Product& product);

}  // namespace tawny
