#include "dose/cautions.h"

#include <algorithm>
#include <iterator>
#include <string_view>

namespace tawny {
namespace {

constexpr std::string_view kOfDissolving[] = {"caution.salt_to_water", "caution.chills", "caution.chills_much"};

}  // namespace

std::vector<std::string> dose_cautions(const Product& product) {
  std::vector<std::string> ids = product.cautions;
  ids.insert(ids.end(), {"caution.lift_and_boat", "caution.boat", "caution.dark", "caution.law"});
  return ids;
}

std::vector<std::string> broadcast_cautions(const Product& product) {
  std::vector<std::string> ids;
  std::copy_if(
      product.cautions.begin(), product.cautions.end(), std::back_inserter(ids), [](const std::string& id) {
        return std::find(std::begin(kOfDissolving), std::end(kOfDissolving), id) == std::end(kOfDissolving);
      });
  ids.insert(ids.end(), {"caution.dust", "caution.lift_bags", "caution.law"});
  return ids;
}

}  // namespace tawny
