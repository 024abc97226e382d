// What the shell command believes of a signature, against published ones.
#include "cli/openssl_check.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// RFC 6979, appendix A.2.5: ECDSA, 256 bits (prime field), SHA-256.
constexpr const char* kKey =
    "0460fed4ba255a9d31c961eb74c6356d68c049b8923b61fa6ce669622e60f29fb6"
    "7903fe1008b8bc99a41ae9e95628bc64f2f1b20c2d7e9f5177a3c294d4462299";
constexpr const char* kOfSample =
    "efd48b2aacb6a8fd1140dd9cd45e81d69d2c877b56aaf991c34d0ea84eaf3716"
    "f7cb1c942d657c41d436c7a1b6e29f65f3e900dbb9aff4064dc4ab2f843acda8";
constexpr const char* kOfTest =
    "f1abb023518351cd71d881567b1ea663ed3efcf6c5132b354f28d3b0b7d38367"
    "019f4113742a2b14bd25926b49c649155f267e60d3814b4c0cc84250e46f0083";

bool is_good(const std::string& key, const std::string& text, const std::string& signature) {
  return cli::is_good_signature({"", key, text, signature});
}

TEST(OpensslCheck, TakesThePublishedSignatures) {
  EXPECT_TRUE(is_good(kKey, "sample", kOfSample));
  EXPECT_TRUE(is_good(kKey, "test", kOfTest));
}

TEST(OpensslCheck, RefusesAnotherTextKeyOrSignature) {
  EXPECT_FALSE(is_good(kKey, "sample ", kOfSample));
  EXPECT_FALSE(is_good(kKey, "test", kOfSample));
  std::string key = kKey, signature = kOfSample;
  key[40] = key[40] == '0' ? '1' : '0';
  signature[100] = signature[100] == '0' ? '1' : '0';
  EXPECT_FALSE(is_good(key, "sample", kOfSample)) << "no point of the curve";
  EXPECT_FALSE(is_good(kKey, "sample", signature));
}

TEST(OpensslCheck, RefusesWhatIsNoKeyAndNoSignature) {
  for (const std::string& none : {std::string(), std::string("04"), std::string(130, '0'),
                                  std::string(130, 'g'), std::string("04") + std::string(128, 'f')}) {
    EXPECT_FALSE(is_good(none, "sample", kOfSample)) << none;
  }
  for (const std::string& none : {std::string(), std::string(128, '0'), std::string(127, '1'),
                                  std::string(128, 'x'), std::string(128, 'f'), std::string(256, '1')}) {
    EXPECT_FALSE(is_good(kKey, "sample", none)) << none;
  }
}

}  // namespace
}  // namespace tawny
