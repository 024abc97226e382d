// exp and ln for the inner loop of the forecasts: some times faster than the library's, and the same on every
// machine (the library's last digit differs between a phone and an office computer).
//
//   quick_exp   2^n times a polynomial on |r| <= ln 2 / 2      relative error under 1e-8 for -700 .. 700
//   quick_log   exponent times ln 2, and 2 atanh((m - 1) / (m + 1)) as its series on m = 0.71 .. 1.41
//                                                              absolute error under 1e-9 for normal numbers
//                                                              above 0
//
// What does not hold: nothing is asked about numbers outside these ranges, infinities and not-a-number.
#pragma once

#include <cstdint>
#include <cstring>

namespace tawny {

inline double quick_exp(double x) {
  constexpr double kPerLn2 = 1.4426950408889634;
  constexpr double kLn2 = 0.6931471805599453;
  // To the nearest whole number: the sum's last binary digit is worth 1.
  constexpr double kRound = 6755399441055744.0;
  const double shifted = x * kPerLn2 + kRound;
  const double n = shifted - kRound;
  const double r = x - n * kLn2;
  const double p =
      1 +
      r * (1 + r * (1.0 / 2 + r * (1.0 / 6 + r * (1.0 / 24 + r * (1.0 / 120 + r * (1.0 / 720 + r / 5040))))));
  std::uint64_t bits = 0;
  std::memcpy(&bits, &p, sizeof bits);
  bits += static_cast<std::uint64_t>(static_cast<std::int64_t>(n)) << 52U;
  double result = 0;
  std::memcpy(&result, &bits, sizeof result);
  return result;
}

inline double quick_log(double x) {
  constexpr double kLn2 = 0.6931471805599453;
  constexpr std::uint64_t kHalfRoot = 0x3fe6a09e667f3bcdU;  // sqrt(1/2)
  std::uint64_t bits = 0;
  std::memcpy(&bits, &x, sizeof bits);
  const std::int64_t exponent = static_cast<std::int64_t>(bits - kHalfRoot) >> 52;
  bits -= static_cast<std::uint64_t>(exponent) << 52U;
  double m = 0;
  std::memcpy(&m, &bits, sizeof m);
  const double s = (m - 1) / (m + 1);
  const double q = s * s;
  const double series = 2 * s * (1 + q * (1.0 / 3 + q * (1.0 / 5 + q * (1.0 / 7 + q * (1.0 / 9)))));
  return static_cast<double>(exponent) * kLn2 + series;
}

}  // namespace tawny
