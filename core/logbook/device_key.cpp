#include "logbook/device_key.h"

#include <algorithm>
#include <array>
#include <cstdint>

#include "logbook/kinds.h"
#include "logbook/sha256.h"

namespace tawny {
namespace {

constexpr std::string_view kPrefix = "k-";
constexpr std::size_t kIdDigits = 32;
constexpr int kBitsPerWord = 11;
constexpr std::size_t kWords = 6;

// Two syllables each, of sounds that differ by ear and are spelled alike in English, Spanish, Portuguese,
// Indonesian and Vietnamese: 2500 words, of which the first 2048 that are not left out make the list.
constexpr std::string_view kConsonants = "bdfklmnpst";
constexpr std::string_view kVowels = "aeiou";
// Rude, or a word of the work, or a number in one of the languages.
constexpr std::string_view kLeftOut[] = {
    "babi", "bobo", "boba", "bodo", "bule", "buta", "buto", "dedo", "dadu", "fode", "foda",
    "foto", "kaka", "kaki", "kami", "kamu", "kina", "kono", "kaku", "lima", "lodo", "loko",
    "loka", "lula", "mama", "mami", "mata", "mati", "maki", "mimi", "moko", "mono", "nabi",
    "nada", "nene", "nini", "nona", "papa", "papi", "pata", "peda", "pedo", "pene", "peta",
    "pila", "pipi", "pito", "popo", "pupu", "puta", "puto", "sama", "sapi", "seno", "setu",
    "sida", "susu", "tapa", "tata", "tete", "teta", "tolo", "tola", "topo", "tubo", "tutu"};

constexpr std::size_t kSyllables = kConsonants.size() * kVowels.size();

// Where a word of two such syllables stands among the 2500.
constexpr std::size_t place_of(std::string_view word) {
  std::size_t place = 0;
  for (const std::size_t at : {0U, 2U}) {
    place = place * kSyllables + kConsonants.find(word[at]) * kVowels.size() + kVowels.find(word[at + 1]);
  }
  return place;
}

constexpr auto kPlacesLeftOut = [] {
  std::array<std::size_t, std::size(kLeftOut)> places{};
  for (std::size_t i = 0; i < places.size(); ++i) places[i] = place_of(kLeftOut[i]);
  return places;
}();

std::string word_of(std::size_t wanted) {
  std::size_t place = wanted;
  for (std::size_t before = wanted + 1; before != place;) {
    before = place;
    place = wanted +
            static_cast<std::size_t>(std::count_if(kPlacesLeftOut.begin(), kPlacesLeftOut.end(),
                                                   [&](std::size_t left_out) { return left_out <= place; }));
  }
  std::string word;
  for (const std::size_t syllable : {place / kSyllables, place % kSyllables}) {
    word += kConsonants[syllable / kVowels.size()];
    word += kVowels[syllable % kVowels.size()];
  }
  return word;
}

bool is_hex(std::string_view text) {
  return std::all_of(text.begin(), text.end(),
                     [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

unsigned nibble(char digit) { return static_cast<unsigned>(digit <= '9' ? digit - '0' : digit - 'a' + 10); }

std::string bytes_of(std::string_view hex) {
  std::string bytes;
  for (std::size_t at = 0; at + 1 < hex.size(); at += 2) {
    bytes += static_cast<char>(nibble(hex[at]) << 4U | nibble(hex[at + 1]));
  }
  return bytes;
}

}  // namespace

std::optional<std::string> device_id_of_key(std::string_view public_key) {
  if (public_key.size() != kPublicKeyDigits || !is_hex(public_key)) return std::nullopt;
  if (public_key.substr(0, 2) != "04") return std::nullopt;
  return std::string(kPrefix) + sha256_hex(bytes_of(public_key)).substr(0, kIdDigits);
}

bool is_keyed_id(std::string_view device) {
  return device.size() == kPrefix.size() + kIdDigits && device.substr(0, kPrefix.size()) == kPrefix &&
         is_hex(device.substr(kPrefix.size()));
}

std::string text_to_sign(std::string_view hash) { return "tawny chain 1\n" + std::string(hash); }

Draft device_key_draft(std::string_view public_key) {
  Draft draft;
  draft.kind = kind::kDeviceKey;
  draft.values["public_key"] = std::string(public_key);
  return draft;
}

Draft chain_signed_draft(std::string_view signature) {
  Draft draft;
  draft.kind = kind::kChainSigned;
  draft.values["signature"] = std::string(signature);
  return draft;
}

std::optional<std::array<std::string, 6>> fingerprint_words(std::string_view device) {
  if (!is_keyed_id(device)) return std::nullopt;
  std::array<std::string, kWords> words;
  std::uint64_t held = 0;
  int bits = 0;
  std::size_t at = kPrefix.size();
  for (std::string& word : words) {
    while (bits < kBitsPerWord) {
      held = held << 4U | nibble(device[at++]);
      bits += 4;
    }
    bits -= kBitsPerWord;
    word = word_of(held >> bits & ((1U << kBitsPerWord) - 1));
  }
  return words;
}

}  // namespace tawny
