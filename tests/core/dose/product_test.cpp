#include "dose/product.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "core/dose/products_of_the_app.h"

namespace tawny {
namespace {

std::string a_product(const std::string& changed_key = "", const std::string& value = "") {
  const std::vector<std::pair<std::string, std::string>> members = {{"id", R"("x")"},
                                                                    {"grade", R"("16-0-0")"},
                                                                    {"allowed", "true"},
                                                                    {"reason_id", R"("")"},
                                                                    {"nitrogen_fraction", "0.16"},
                                                                    {"nitrate_n_fraction", "0.16"},
                                                                    {"ammonium_n_fraction", "0"},
                                                                    {"salt", R"("sodium_nitrate")"},
                                                                    {"anhydrous_fraction", "1"},
                                                                    {"cautions", R"(["caution.oxidizer"])"},
                                                                    {"hazard_codes", "[]"},
                                                                    {"mark", R"("P")"}};
  std::string out = "{";
  for (const auto& [key, usual] : members) {
    const std::string& text = key == changed_key ? value : usual;
    if (text.empty()) continue;
    if (out.size() > 1) out += ",";
    out += "\"" + key + "\":" + text;
  }
  return out + "}";
}

std::string a_list(const std::string& products) { return R"({"products":[)" + products + "]}"; }

// Nitrogen mass fractions of the pure salts, from IUPAC atomic weights [computed]; 15.5-0-0 by its label,
// nitrate and ammonium parts of the double salt [computed].
TEST(Products, NitrogenMatchesTheFormulas) {
  struct Row {
    const char* id;
    double nitrogen, nitrate_n, ammonium_n;
  };
  for (const Row& row :
       {Row{"sodium_nitrate", 0.16480, 0.16480, 0}, Row{"potassium_nitrate", 0.13854, 0.13854, 0},
        Row{"calcium_nitrate_tetrahydrate", 0.11863, 0.11863, 0},
        Row{"calcium_nitrate_fertilizer", 0.155, 0.1426, 0.0130},
        Row{"ammonium_nitrate", 0.34999, 0.175, 0.175}, Row{"urea", 0.46646, 0, 0}}) {
    const Product product = app_product(row.id);
    EXPECT_NEAR(product.nitrogen_fraction, row.nitrogen, 0.00006) << row.id;
    EXPECT_NEAR(product.nitrate_n_fraction, row.nitrate_n, 0.00006) << row.id;
    EXPECT_NEAR(product.ammonium_n_fraction, row.ammonium_n, 0.00006) << row.id;
  }
}

// 164.086 / 236.146, and (5 * 164.086 + 80.043) / 1080.623.
TEST(Products, CrystalWaterIsNotSalt) {
  EXPECT_EQ(app_product("sodium_nitrate").anhydrous_fraction, 1);
  EXPECT_NEAR(app_product("calcium_nitrate_tetrahydrate").anhydrous_fraction, 164.086 / 236.146, 0.0001);
  EXPECT_NEAR(app_product("calcium_nitrate_fertilizer").anhydrous_fraction, (5 * 164.086 + 80.043) / 1080.623,
              0.0001);
}

TEST(Products, FourAreAllowedAndTheRestSayWhyNot) {
  int allowed = 0;
  for (const Product& product : app_products()) {
    if (product.allowed) {
      ++allowed;
      EXPECT_FALSE(product.cautions.empty()) << product.id;
      EXPECT_FALSE(product.salt.empty()) << product.id;
    } else {
      EXPECT_EQ(product.reason_id, "product." + product.id + ".reason");
    }
  }
  EXPECT_EQ(allowed, 4);
  for (const char* id :
       {"superphosphate", "urea", "ammonium_salts", "ammonium_nitrate", "molasses", "rice_bran", "manure"}) {
    EXPECT_FALSE(app_product(id).allowed) << id;
  }
}

TEST(Products, OxidizersAreCalledOxidizers) {
  for (const Product& product : app_products()) {
    bool oxidizer = false;
    for (const std::string& code : product.hazard_codes) oxidizer = oxidizer || code == "H272";
    bool warned = false;
    for (const std::string& caution : product.cautions) warned = warned || caution == "caution.oxidizer";
    EXPECT_EQ(oxidizer, warned) << product.id;
  }
}

TEST(Products, AmmoniumInTheMixedSaltIsSaid) {
  const Product product = app_product("calcium_nitrate_fertilizer");
  EXPECT_FALSE(product.reason_id.empty());
  EXPECT_NE(std::find(product.cautions.begin(), product.cautions.end(), "caution.ammonium_part"),
            product.cautions.end());
}

TEST(ParseProducts, ReadsAGoodOne) {
  const Result<std::vector<Product>> products = parse_products(a_list(a_product()));
  ASSERT_TRUE(products);
  ASSERT_EQ(products->size(), 1u);
  EXPECT_EQ(products->front().id, "x");
  EXPECT_EQ(find_product(*products, "x"), &products->front());
  EXPECT_EQ(find_product(*products, "y"), nullptr);
  EXPECT_TRUE(parse_products(a_list(""))->empty());
}

TEST(ParseProducts, NewKeysAreLeftAlone) { EXPECT_TRUE(parse_products(R"({"version":2,"products":[]})")); }

TEST(ParseProducts, RefusesWhatIsNoList) {
  for (const char* json : {"", "null", "[]", "{}", R"({"products":{}})", R"({"products":[)",
                           R"({"products":[1]})", R"({"products":[null]})", "\xff\xfe", "{\"products\":[]}}"}) {
    const Result<std::vector<Product>> products = parse_products(json);
    ASSERT_FALSE(products) << json;
    EXPECT_EQ(products.error().kind, ProblemKind::malformed) << json;
  }
}

TEST(ParseProducts, NamesTheKeyAtFault) {
  struct Row {
    const char *key, *value;
  };
  const Row rows[] = {
      {"id", ""},
      {"id", R"("")"},
      {"id", "7"},
      {"grade", "16"},
      {"allowed", "1"},
      {"allowed", ""},
      {"reason_id", "null"},
      {"nitrogen_fraction", R"("0.16")"},
      {"nitrogen_fraction", "16"},
      {"nitrate_n_fraction", "-0.1"},
      {"salt", ""},
      {"anhydrous_fraction", "1.2"},
      {"cautions", R"("caution.oxidizer")"},
      {"cautions", "[1]"},
      {"hazard_codes", ""},
      {"mark", R"("X")"},
  };
  for (const Row& row : rows) {
    const Result<std::vector<Product>> products = parse_products(a_list(a_product(row.key, row.value)));
    ASSERT_FALSE(products) << row.key << " " << row.value;
    EXPECT_EQ(products.error().message.id, "problem.bad_product");
    EXPECT_EQ(*products.error().message.find("key"), MessageValue(Text{row.key})) << row.value;
  }
}

TEST(ParseProducts, RefusesFactsThatCannotHoldTogether) {
  struct Row {
    const char *key, *value;
  };
  for (const Row& row : {Row{"nitrogen_fraction", "0.10"}, Row{"salt", R"("table_salt")"}, Row{"salt", R"("")"},
                         Row{"anhydrous_fraction", "0"}}) {
    const Result<std::vector<Product>> products = parse_products(a_list(a_product(row.key, row.value)));
    ASSERT_FALSE(products) << row.key;
    EXPECT_EQ(products.error().kind, ProblemKind::conflict) << row.key;
  }
}

TEST(ParseProducts, RefusesAnIdThatComesTwice) {
  EXPECT_FALSE(parse_products(a_list(a_product() + "," + a_product())));
}

TEST(ParseProducts, RefusesAForbiddenOneWithoutAReason) {
  EXPECT_FALSE(parse_products(a_list(a_product("allowed", "false"))));
}

TEST(ParseProducts, DeepNestingIsRefusedNotOverflowed) {
  EXPECT_FALSE(parse_products(std::string(1000000, '[')));
}

}  // namespace
}  // namespace tawny
