#include "logbook/sha256.h"

#include <algorithm>
#include <cstddef>

namespace tawny {
namespace {

constexpr std::size_t kBlockBytes = 64;
constexpr std::size_t kLengthBytes = 8;

// FIPS 180-4, 4.2.2: fractional parts of the cube roots of the first 64 primes.
constexpr std::array<std::uint32_t, 64> kRoundConstants = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

// FIPS 180-4, 5.3.3: fractional parts of the square roots of the first eight primes.
using State = std::array<std::uint32_t, 8>;
constexpr State kInitialState = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
                                 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};

[[gnu::always_inline]] constexpr std::uint32_t rotate_right(std::uint32_t x, int n) {
  return (x >> n) | (x << (32 - n));
}

// One round with the eight working variables already in their places, so that none has to be moved.
[[gnu::always_inline]] inline void do_round(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t& d,
                                            std::uint32_t e, std::uint32_t f, std::uint32_t g, std::uint32_t& h,
                                            std::uint32_t constant_and_word) {
  const std::uint32_t sum1 = rotate_right(e, 6) ^ rotate_right(e, 11) ^ rotate_right(e, 25);
  const std::uint32_t choice = g ^ (e & (f ^ g));
  const std::uint32_t t1 = h + sum1 + choice + constant_and_word;
  const std::uint32_t sum0 = rotate_right(a, 2) ^ rotate_right(a, 13) ^ rotate_right(a, 22);
  const std::uint32_t majority = (a & b) | (c & (a | b));
  d += t1;
  h = t1 + sum0 + majority;
}

std::uint32_t word_at(const char* bytes) {
  const auto byte = [bytes](int i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[i])); };
  return byte(0) << 24 | byte(1) << 16 | byte(2) << 8 | byte(3);
}

void take_block(State& state, const char* block) {
  std::array<std::uint32_t, 64> w;
  for (std::size_t i = 0; i < 16; ++i) w[i] = word_at(block + 4 * i);
  for (std::size_t i = 16; i < 64; ++i) {
    const std::uint32_t s0 = rotate_right(w[i - 15], 7) ^ rotate_right(w[i - 15], 18) ^ (w[i - 15] >> 3);
    const std::uint32_t s1 = rotate_right(w[i - 2], 17) ^ rotate_right(w[i - 2], 19) ^ (w[i - 2] >> 10);
    w[i] = w[i - 16] + s0 + w[i - 7] + s1;
  }
  auto [a, b, c, d, e, f, g, h] = state;
  for (std::size_t i = 0; i < 64; i += 8) {
    do_round(a, b, c, d, e, f, g, h, kRoundConstants[i] + w[i]);
    do_round(h, a, b, c, d, e, f, g, kRoundConstants[i + 1] + w[i + 1]);
    do_round(g, h, a, b, c, d, e, f, kRoundConstants[i + 2] + w[i + 2]);
    do_round(f, g, h, a, b, c, d, e, kRoundConstants[i + 3] + w[i + 3]);
    do_round(e, f, g, h, a, b, c, d, kRoundConstants[i + 4] + w[i + 4]);
    do_round(d, e, f, g, h, a, b, c, kRoundConstants[i + 5] + w[i + 5]);
    do_round(c, d, e, f, g, h, a, b, kRoundConstants[i + 6] + w[i + 6]);
    do_round(b, c, d, e, f, g, h, a, kRoundConstants[i + 7] + w[i + 7]);
  }
  const State after = {a, b, c, d, e, f, g, h};
  for (std::size_t i = 0; i < state.size(); ++i) state[i] += after[i];
}

}  // namespace

std::array<std::uint8_t, 32> sha256(std::string_view bytes) {
  State state = kInitialState;
  std::size_t taken = 0;
  for (; bytes.size() - taken >= kBlockBytes; taken += kBlockBytes) take_block(state, bytes.data() + taken);

  // Padding (5.1.1): a one bit, zeros, and the length in bits in the last eight bytes.
  std::array<char, 2 * kBlockBytes> tail{};
  const std::size_t left = bytes.size() - taken;
  std::copy_n(bytes.data() + taken, left, tail.begin());
  tail[left] = static_cast<char>(0x80);
  const std::size_t padded = left + 1 + kLengthBytes <= kBlockBytes ? kBlockBytes : 2 * kBlockBytes;
  const std::uint64_t length_bits = static_cast<std::uint64_t>(bytes.size()) * 8;
  for (std::size_t i = 0; i < kLengthBytes; ++i) {
    tail[padded - 1 - i] = static_cast<char>((length_bits >> (8 * i)) & 0xff);
  }
  for (std::size_t at = 0; at < padded; at += kBlockBytes) take_block(state, tail.data() + at);

  std::array<std::uint8_t, 32> digest;
  for (std::size_t i = 0; i < digest.size(); ++i) {
    digest[i] = static_cast<std::uint8_t>((state[i / 4] >> (24 - 8 * (i % 4))) & 0xff);
  }
  return digest;
}

std::string sha256_hex(std::string_view bytes) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string hex;
  hex.reserve(64);
  for (const std::uint8_t byte : sha256(bytes)) {
    hex.push_back(kDigits[byte >> 4]);
    hex.push_back(kDigits[byte & 0x0f]);
  }
  return hex;
}

bool is_sha256_hex(std::string_view text) {
  constexpr std::size_t kDigits = 64;
  if (text.size() != kDigits) return false;
  constexpr std::uint64_t kOnes = 0x0101010101010101u;
  constexpr std::uint64_t kHigh = kOnes * 0x80;
  std::uint64_t all = kHigh;
  for (std::size_t at = 0; at < kDigits; at += sizeof all) {
    std::uint64_t eight = 0;
    std::memcpy(&eight, text.data() + at, sizeof eight);
    // Adding 0x80 - c sets the highest bit of a byte of ASCII from c on.
    const auto from = [low = eight & ~kHigh](int c) { return low + kOnes * static_cast<unsigned>(0x80 - c); };
    const std::uint64_t digit = from('0') & ~from('9' + 1);
    const std::uint64_t letter = from('a') & ~from('f' + 1);
    all &= (digit | letter) & ~eight;
  }
  return (all & kHigh) == kHigh;
}

}  // namespace tawny
