// The products that the app ships with, for tests.
#pragma once

#include <gtest/gtest.h>

#include <string_view>
#include <vector>

#include "assets.h"
#include "dose/product.h"

namespace tawny {

inline std::vector<Product> app_products() {
  Result<std::vector<Product>> products = parse_products(assets::find("products.json"));
  EXPECT_TRUE(products.has_value());
  return products ? *std::move(products) : std::vector<Product>{};
}

inline Product app_product(std::string_view id) {
  const std::vector<Product> products = app_products();
  const Product* product = find_product(products, id);
  EXPECT_NE(product, nullptr) << id;
  return product ? *product : Product{};
}

}  // namespace tawny
