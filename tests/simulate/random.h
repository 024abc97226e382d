// Chance that is the same on every machine: xoshiro256** seeded by splitmix64, and distributions of our own,
// since those of <random> differ between libraries.
//
// Source: Blackman & Vigna 2021, ACM Trans. Math. Softw. 47(4):36 (both generators, public domain, from
// memory).
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace tawny::simulate {

class Random {
 public:
  explicit Random(std::uint64_t seed) {
    for (std::uint64_t& word : state_) {
      seed += 0x9e3779b97f4a7c15U;
      std::uint64_t mixed = seed;
      mixed = (mixed ^ (mixed >> 30)) * 0xbf58476d1ce4e5b9U;
      mixed = (mixed ^ (mixed >> 27)) * 0x94d049bb133111ebU;
      word = mixed ^ (mixed >> 31);
    }
  }

  std::uint64_t next() {
    const std::uint64_t result = rotated(state_[1] * 5, 7) * 9;
    const std::uint64_t shifted = state_[1] << 17;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= shifted;
    state_[3] = rotated(state_[3], 45);
    return result;
  }

  // Chance of its own for what is called `name`, so that one part's draws do not move another's.
  Random part(std::string_view name) const {
    std::uint64_t hash = 0xcbf29ce484222325U ^ state_[0];
    for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
    return Random(hash ^ rotated(state_[2], 23));
  }

  // 0 up to, not including, 1.
  double share() { return static_cast<double>(next() >> 11) * 0x1p-53; }
  double between(double low, double high) { return low + (high - low) * share(); }
  bool happens(double chance) { return share() < chance; }
  // 0 .. count - 1.
  std::size_t below(std::size_t count) {
    return static_cast<std::size_t>(share() * static_cast<double>(count));
  }
  int whole(int low, int high) {
    return low + static_cast<int>(below(static_cast<std::size_t>(high - low + 1)));
  }
  // Mean 0, standard deviation 1: the sum of twelve draws, so nothing lies beyond 6.
  double normal() {
    double sum = -6;
    for (int i = 0; i < 12; ++i) sum += share();
    return sum;
  }
  // Around `median`, one standard deviation being the factor 1 + `spread`.
  double around(double median, double spread) { return median * std::exp(std::log1p(spread) * normal()); }
  // Mean waiting time `mean`.
  double waiting(double mean) { return -mean * std::log1p(-share()); }
  template <typename List>
  const auto& one_of(const List& list) {
    return list[below(std::size(list))];
  }

 private:
  static constexpr std::uint64_t rotated(std::uint64_t word, int by) {
    return (word << by) | (word >> (64 - by));
  }
  std::array<std::uint64_t, 4> state_{};
};

}  // namespace tawny::simulate
