// Reckonings as a person gives them: "key=value key=value".
#pragma once

#include <gtest/gtest.h>

#include <sstream>
#include <string>

#include "assets.h"
#include "reckon/reckon.h"

namespace tawny::reckon_test {

using Given = std::vector<std::pair<std::string, std::variant<double, std::string>>>;

inline const Protocol& protocol() {
  static const Protocol kProtocol = *Protocol::parse(assets::find("protocol.json"));
  return kProtocol;
}

inline const std::vector<Product>& products() {
  static const std::vector<Product> kProducts = *parse_products(assets::find("products.json"));
  return kProducts;
}

inline Given given_by(const std::string& text) {
  Given given;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    const std::size_t equals = word.find('=');
    given.emplace_back(word.substr(0, equals), word.substr(equals + 1));
  }
  return given;
}

inline Result<ReckonAnswer> reckon_by(const Reckoning& reckoning, const Given& given) {
  return reckon(reckoning, given, ReckonContext{protocol(), products()});
}

inline Result<ReckonAnswer> reckon_by(const std::string& name, const std::string& text) {
  const Reckoning* reckoning = find_reckoning(name);
  EXPECT_NE(reckoning, nullptr) << name;
  if (!reckoning) return refuse(ProblemKind::missing, "", Message("no such reckoning"));
  return reckon_by(*reckoning, given_by(text));
}

}  // namespace tawny::reckon_test
