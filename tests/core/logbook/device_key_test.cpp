#include "logbook/device_key.h"

#include <gtest/gtest.h>

#include <set>

#include "logbook/sha256.h"

namespace tawny {
namespace {

// The public key of RFC 6979, appendix A.2.5 (P-256).
constexpr std::string_view kPublished =
    "0460fed4ba255a9d31c961eb74c6356d68c049b8923b61fa6ce669622e60f29fb6"
    "7903fe1008b8bc99a41ae9e95628bc64f2f1b20c2d7e9f5177a3c294d4462299";

// By hand: echo 0460…2299 | xxd -r -p | sha256sum
TEST(DeviceKey, TheIdIsTheStartOfTheKeysHash) {
  EXPECT_EQ(device_id_of_key(kPublished), "k-b18b86ce1389e46de87aa4a5131ce83c");
}

TEST(DeviceKey, WhatIsNoKeyHasNoId) {
  std::string key(kPublished);
  EXPECT_FALSE(device_id_of_key(""));
  EXPECT_FALSE(device_id_of_key(key.substr(0, 128)));
  EXPECT_FALSE(device_id_of_key("02" + key.substr(2)));
  key[20] = 'G';
  EXPECT_FALSE(device_id_of_key(key));
  EXPECT_FALSE(is_keyed_id("k-0123"));
  EXPECT_FALSE(is_keyed_id("a1b2c3d4e5f6"));
  EXPECT_TRUE(is_keyed_id(*device_id_of_key(kPublished)));
}

// Phones of different versions must say the same words for ever: these were read off once.
TEST(DeviceKey, TheWordsOfAnIdNeverChange) {
  using Six = std::array<std::string, 6>;
  EXPECT_EQ(fingerprint_words("k-00000000000000000000000000000000"),
            (Six{"baba", "baba", "baba", "baba", "baba", "baba"}));
  EXPECT_EQ(fingerprint_words("k-ffffffffffffffffffffffffffffffff"),
            (Six{"sibi", "sibi", "sibi", "sibi", "sibi", "sibi"}));
  // 11 bits each, from the left: 0x001 0x002 0x003 0x004 0x005 0x006.
  EXPECT_EQ(fingerprint_words("k-0020080180400a018000000000000000"),
            (Six{"babe", "babo", "babu", "bada", "bade", "badi"}));
  EXPECT_FALSE(fingerprint_words("a1b2c3d4e5f6"));
}

// Every one of the 2048 words is its own: an id with another word is another id.
TEST(DeviceKey, EveryWordStandsForOneNumber) {
  std::set<std::string> words;
  std::string list;
  for (unsigned number = 0; number < 2048; ++number) {
    constexpr char kDigits[] = "0123456789abcdef";
    std::string id = "k-";
    id += kDigits[number >> 7U & 15U];
    id += kDigits[number >> 3U & 15U];
    id += kDigits[(number & 7U) << 1U];
    id += std::string(29, '0');
    const std::string word = (*fingerprint_words(id))[0];
    words.insert(word);
    list += word + "\n";
  }
  EXPECT_EQ(words.size(), 2048U);
  // Read off once, as above.
  EXPECT_EQ(sha256_hex(list), "3a27c0b6a6bc3ac62f544f91abf9111f87d8458ac865f4825204c02cafab6ed2");
}

}  // namespace
}  // namespace tawny
