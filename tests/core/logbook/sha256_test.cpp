#include "logbook/sha256.h"

#include <gtest/gtest.h>

#include <string>

namespace tawny {
namespace {

struct HashRow {
  const char* what;
  std::string message;
  const char* digest;
};

// NIST, Cryptographic Standards and Guidelines, examples with intermediate values for SHA-256 (one block, two
// blocks) and the long messages of the same set.
TEST(Sha256, MatchesThePublishedVectors) {
  const HashRow rows[] = {
      {"empty", "", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
      {"24 bits", "abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
      {"448 bits", "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
       "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
      {"896 bits",
       "abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrs"
       "t"
       "nopqrstu",
       "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1"},
      {"a million a", std::string(1000000, 'a'),
       "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"},
  };
  for (const HashRow& row : rows) EXPECT_EQ(sha256_hex(row.message), row.digest) << row.what;
}

// Reckoned with sha256sum of GNU coreutils: the padding changes its shape at 56 and at 64 bytes.
TEST(Sha256, PadsRightAroundTheEndOfABlock) {
  struct LengthRow {
    std::size_t length;
    const char* digest;
  };
  const LengthRow rows[] = {
      {55, "9f4390f8d30c2dd92ec9f095b65e2b9ae9b0a925a5258e241c9f1e910f734318"},
      {56, "b35439a4ac6f0948b6d6f9e3c6af0f5f590ce20f1bde7090ef7970686ec6738a"},
      {57, "f13b2d724659eb3bf47f2dd6af1accc87b81f09f59f2b75e5c0bed6589dfe8c6"},
      {63, "7d3e74a05d7db15bce4ad9ec0658ea98e3f06eeecf16b4c6fff2da457ddc2f34"},
      {64, "ffe054fe7ae0cb6dc65c3af9b61d5209f439851db43d0ba5997337df154668eb"},
      {65, "635361c48bb9eab14198e76ea8ab7f1a41685d6ad62aa9146d301d4f17eb0ae0"},
      {119, "31eba51c313a5c08226adf18d4a359cfdfd8d2e816b13f4af952f7ea6584dcfb"},
      {120, "2f3d335432c70b580af0e8e1b3674a7c020d683aa5f73aaaedfdc55af904c21c"},
  };
  for (const LengthRow& row : rows)
    EXPECT_EQ(sha256_hex(std::string(row.length, 'a')), row.digest) << row.length;
}

TEST(Sha256, TakesBytesOfEveryValue) {
  std::string bytes;
  for (int i = 0; i < 256; ++i) bytes.push_back(static_cast<char>(i));
  // Reckoned with sha256sum of GNU coreutils.
  EXPECT_EQ(sha256_hex(bytes), "40aff2e9d2d8922e47afd4648e6967497158785fbd1da870e7110266bf944880");
}

TEST(Sha256, KnowsItsOwnTextFromAnyOther) {
  const std::string good(64, 'a');
  EXPECT_TRUE(is_sha256_hex(good));
  EXPECT_FALSE(is_sha256_hex(good.substr(1)));
  EXPECT_FALSE(is_sha256_hex(good + "a"));
  EXPECT_FALSE(is_sha256_hex(std::string(64, 'A')));
  EXPECT_FALSE(is_sha256_hex(std::string(64, 'g')));
  EXPECT_FALSE(is_sha256_hex(""));
}

}  // namespace
}  // namespace tawny
