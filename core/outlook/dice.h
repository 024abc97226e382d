// Random numbers that are the same on every machine: the forecasts draw from them, and the same entries must
// give the same answer on a phone and in the office. (The standard library's distributions differ from one
// library to the next.)
//
//   words    xoshiro256** (Blackman & Vigna 2021, ACM Trans. Math. Softw. 47:36), filled by splitmix64
//   uniform  the upper 53 bits of a word
//   normal   Marsaglia's polar method, both of its numbers used
//   bell     the sum of the four quarters of one word, each 16 bits, brought to sd 1
//
// What does not hold: no secret may come from them.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace tawny {

class Dice {
 public:
  explicit Dice(std::uint64_t seed);
  explicit Dice(const std::array<std::uint64_t, 4>& state) : state_(state) {}  // not all 0

  std::uint64_t word();
  double uniform();  // 0 <= u < 1
  double normal();   // mean 0, sd 1
  double bell();     // the same, quicker, never beyond 3.47

 private:
  std::array<std::uint64_t, 4> state_;
  double spare_ = 0;
  bool has_spare_ = false;
};

// A seed from a text and a number (FNV-1a over the text, then mixed): one for each pond and day.
std::uint64_t seed_of(std::string_view text, std::int64_t number);

}  // namespace tawny
