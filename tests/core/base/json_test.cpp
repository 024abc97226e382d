#include "base/json.h"

#include <gtest/gtest.h>

#include <string>

namespace tawny {
namespace {

TEST(Json, NoDepthExhaustsTheStack) {
  constexpr std::size_t kDepth = 2000000;
  EXPECT_TRUE(parse_json(std::string(kDepth, '[')).HasParseError());
  EXPECT_FALSE(parse_json(std::string(kDepth, '[') + std::string(kDepth, ']')).HasParseError());
  std::string objects;
  for (int i = 0; i < 300000; ++i) objects += "{\"a\":";
  EXPECT_TRUE(parse_json(objects).HasParseError());
}

TEST(Json, ANumberThatNoTableHasIsRefused) {
  for (const char* number : {"1e400", "1e-400", "0.5e+1000", "1E99999999999"}) {
    EXPECT_TRUE(parse_json(number).HasParseError()) << number;
  }
  EXPECT_TRUE(parse_json("[" + std::string(900, '0') + "1]").HasParseError());
  EXPECT_TRUE(parse_json("[0." + std::string(900, '0') + "1]").HasParseError());
  EXPECT_TRUE(parse_json("[" + std::string(900, '9') + "]").HasParseError());
}

TEST(Json, WhatLooksLikeSuchANumberInATextIsText) {
  const std::string text = "[\"1e400 \\\" 1e400\", 1.5e21, -0.25]";
  const rapidjson::Document document = parse_json(text);
  ASSERT_FALSE(document.HasParseError());
  EXPECT_EQ(document[1].GetDouble(), 1.5e21);
}

}  // namespace
}  // namespace tawny
