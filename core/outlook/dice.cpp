#include "outlook/dice.h"

#include <cmath>

#include "outlook/quick_math.h"

namespace tawny {
namespace {

std::uint64_t split_mix(std::uint64_t& state) {
  state += 0x9e3779b97f4a7c15U;
  std::uint64_t z = state;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31U);
}

std::uint64_t turned_left(std::uint64_t word, unsigned bits) { return (word << bits) | (word >> (64U - bits)); }

}  // namespace

Dice::Dice(std::uint64_t seed) : state_{} {
  for (std::uint64_t& word : state_) word = split_mix(seed);
}

std::uint64_t Dice::word() {
  const std::uint64_t result = turned_left(state_[1] * 5, 7) * 9;
  const std::uint64_t t = state_[1] << 17U;
  state_[2] ^= state_[0];
  state_[3] ^= state_[1];
  state_[1] ^= state_[2];
  state_[0] ^= state_[3];
  state_[2] ^= t;
  state_[3] = turned_left(state_[3], 45);
  return result;
}

double Dice::bell() {
  // Four whole numbers of 0 .. 65535 each: mean 32767.5, variance (65536^2 - 1) / 12.
  constexpr double kMean = 4 * 32767.5, kPerSd = 1 / 37837.22723720648;  // sqrt(4 * (65536^2 - 1) / 12)
  const std::uint64_t bits = word();
  const std::uint64_t pairs = (bits & 0x0000ffff0000ffffU) + ((bits >> 16U) & 0x0000ffff0000ffffU);
  const auto sum = static_cast<std::uint32_t>(pairs + (pairs >> 32U));
  return (static_cast<double>(sum) - kMean) * kPerSd;
}

double Dice::uniform() { return static_cast<double>(word() >> 11U) * 0x1.0p-53; }

double Dice::normal() {
  if (has_spare_) {
    has_spare_ = false;
    return spare_;
  }
  for (;;) {
    const double u = 2 * uniform() - 1;
    const double v = 2 * uniform() - 1;
    const double s = u * u + v * v;
    if (s >= 1 || s == 0) continue;
    const double scale = std::sqrt(-2 * quick_log(s) / s);
    spare_ = v * scale;
    has_spare_ = true;
    return u * scale;
  }
}

std::uint64_t seed_of(std::string_view text, std::int64_t number) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  hash ^= static_cast<std::uint64_t>(number) * 0x9e3779b97f4a7c15U;
  return split_mix(hash);
}

}  // namespace tawny
