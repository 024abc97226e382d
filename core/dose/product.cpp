#include "dose/product.h"

#include "base/json.h"
#include "science/salts.h"

namespace tawny {
namespace {

using Json = rapidjson::Value;

// Reads one product and remembers the first thing that is wrong with it.
class ProductReader {
 public:
  explicit ProductReader(const Json& json) : json_(json) {}

  std::string text(const char* key) {
    const Json* value = find(key);
    if (value && value->IsString()) return std::string(value->GetString(), value->GetStringLength());
    fault(key);
    return {};
  }
  bool flag(const char* key) {
    const Json* value = find(key);
    if (value && value->IsBool()) return value->GetBool();
    fault(key);
    return false;
  }
  double fraction(const char* key) {
    const Json* value = find(key);
    if (value && value->IsNumber() && value->GetDouble() >= 0 && value->GetDouble() <= 1)
      return value->GetDouble();
    fault(key);
    return 0;
  }
  std::vector<std::string> texts(const char* key) {
    std::vector<std::string> out;
    const Json* value = find(key);
    if (!value || !value->IsArray()) {
      fault(key);
      return out;
    }
    for (const Json& item : value->GetArray()) {
      if (!item.IsString()) {
        fault(key);
        return out;
      }
      out.emplace_back(item.GetString(), item.GetStringLength());
    }
    return out;
  }
  void fault(const char* key) {
    if (fault_.empty()) fault_ = key;
  }
  const std::string& faulty_key() const { return fault_; }

 private:
  const Json* find(const char* key) const {
    if (!json_.IsObject()) return nullptr;
    const auto member = json_.FindMember(key);
    return member == json_.MemberEnd() ? nullptr : &member->value;
  }

  const Json& json_;
  std::string fault_;
};

// Labels are rounded to a tenth of a percent, so the parts may exceed the whole by that much.
constexpr double kLabelRounding = 0.001;

bool in_conflict(const Product& product) {
  if (product.nitrate_n_fraction + product.ammonium_n_fraction > product.nitrogen_fraction + kLabelRounding) {
    return true;
  }
  if (product.salt.empty()) return product.allowed || product.anhydrous_fraction > 0;
  return !salt_named(product.salt) || !(product.anhydrous_fraction > 0);
}

tl::unexpected<Problem> bad_product(const std::string& id, const std::string& key) {
  return refuse(ProblemKind::malformed, "products",
                Message("problem.bad_product").with("product", Text{id}).with("key", Text{key}));
}

}  // namespace

Result<std::vector<Product>> parse_products(std::string_view json) {
  const rapidjson::Document document = parse_json(json);
  if (document.HasParseError() || !document.IsObject()) {
    return refuse(ProblemKind::malformed, "products", Message("problem.products_not_json"));
  }
  const auto list = document.FindMember("products");
  if (list == document.MemberEnd() || !list->value.IsArray()) {
    return refuse(ProblemKind::malformed, "products", Message("problem.products_not_json"));
  }
  std::vector<Product> products;
  for (const Json& item : list->value.GetArray()) {
    ProductReader reader(item);
    Product product;
    product.id = reader.text("id");
    if (product.id.empty()) reader.fault("id");
    product.grade = reader.text("grade");
    product.allowed = reader.flag("allowed");
    product.reason_id = reader.text("reason_id");
    product.nitrogen_fraction = reader.fraction("nitrogen_fraction");
    product.nitrate_n_fraction = reader.fraction("nitrate_n_fraction");
    product.ammonium_n_fraction = reader.fraction("ammonium_n_fraction");
    product.salt = reader.text("salt");
    product.anhydrous_fraction = reader.fraction("anhydrous_fraction");
    product.cautions = reader.texts("cautions");
    product.hazard_codes = reader.texts("hazard_codes");
    product.mark = reader.text("mark");
    if (product.mark != "P" && product.mark != "H" && product.mark != "E") reader.fault("mark");
    if (!product.allowed && product.reason_id.empty()) reader.fault("reason_id");
    if (!reader.faulty_key().empty()) return bad_product(product.id, reader.faulty_key());
    if (in_conflict(product)) {
      return refuse(ProblemKind::conflict, "products",
                    Message("problem.product_conflict").with("product", Text{product.id}));
    }
    if (find_product(products, product.id)) return bad_product(product.id, "id");
    products.push_back(std::move(product));
  }
  return products;
}

const Product* find_product(const std::vector<Product>& products, std::string_view id) {
  for (const Product& product : products) {
    if (product.id == id) return &product;
  }
  return nullptr;
}

}  // namespace tawny
