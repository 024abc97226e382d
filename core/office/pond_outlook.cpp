#include "office/pond_outlook.h"

#include <algorithm>

#include "farm/walk.h"
#include "office/needs.h"

namespace tawny {
namespace {

std::string product_for(const Farm& farm, const FarmPond& pond, const std::vector<Product>& products) {
  std::string own = product_of_pond(farm, pond);
  if (!own.empty()) return own;
  const auto allowed =
      std::find_if(products.begin(), products.end(), [](const Product& product) { return product.allowed; });
  return allowed == products.end() ? std::string() : allowed->id;
}

}  // namespace

Result<PondOutlook> pond_outlook(const Farm& farm, const FarmPond& pond, const Protocol& standard,
                                 const std::vector<Product>& products, const OutlookPriors& priors,
                                 const std::optional<DoseInMind>& dose, Instant now) {
  const std::string id = dose ? dose->product : product_for(farm, pond, products);
  const Product* product = find_product(products, id);
  if (product == nullptr) {
    return refuse(ProblemKind::missing, "product", Message("check.product.unknown").with("product", Text{id}));
  }
  auto record = bloom_record(pond.history, pond.state, farm.place, products, priors,
                             civil_day(now, farm.place.offset), now);
  if (!record) return tl::unexpected<Problem>(record.error());
  const Protocol protocol = protocol_of(pond, standard, now);
  const auto area_ha = counted_area_ha(pond, protocol);
  if (!area_ha) return tl::unexpected<Problem>(area_ha.error());
  PondOutlook asked{*std::move(record), {}};
  asked.rules = outlook_rules(pond.state, protocol, asked.record, *product, *area_ha);
  if (dose) {
    const bool may = asked.rules.least_kg_ha && asked.rules.most_kg_ha &&
                     dose->rate_kg_ha >= *asked.rules.least_kg_ha &&
                     dose->rate_kg_ha <= *asked.rules.most_kg_ha;
    asked.rules.least_kg_ha = may ? std::optional(dose->rate_kg_ha) : std::nullopt;
    asked.rules.most_kg_ha.reset();
  }
  return asked;
}

}  // namespace tawny
