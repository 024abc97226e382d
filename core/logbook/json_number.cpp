#include "logbook/json_number.h"

#include <array>
#include <cmath>

#include "base/json.h"

namespace tawny {
namespace {

constexpr std::size_t kMaxTokenChars = 64;
// Every whole number of 15 digits and every power of ten up to 22 is an exact double, so one multiplication or
// division of the two rounds once, correctly (W. Clinger, "How to read floating point numbers accurately",
// 1990).
constexpr int kMaxExactDigits = 15;
constexpr std::array<double, 23> kExactPowers = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                 1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                                 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
constexpr int kSmallestExponent = -324;  // 4.9e-324 is the smallest double
constexpr int kLargestExponent = 308;    // 1.8e308 the largest
constexpr int kFarExponent = 100000;     // beyond any double, whatever the digits

bool is_digit(char c) { return c >= '0' && c <= '9'; }

struct Decimal {
  bool negative = false;
  std::uint64_t digits = 0;  // meaningful while significant <= 19
  int significant = 0;       // digits from the first that is not zero
  int exponent = 0;          // of the last digit
};

Decimal take_apart(std::string_view token) {
  Decimal decimal;
  std::size_t at = 0;
  if (at < token.size() && token[at] == '-') {
    decimal.negative = true;
    ++at;
  }
  bool after_point = false;
  for (; at < token.size() && (is_digit(token[at]) || token[at] == '.'); ++at) {
    if (token[at] == '.') {
      after_point = true;
      continue;
    }
    if (after_point) --decimal.exponent;
    if (token[at] != '0' || decimal.significant > 0) {
      ++decimal.significant;
      decimal.digits = decimal.digits * 10 + static_cast<std::uint64_t>(token[at] - '0');
    }
  }
  if (at == token.size()) return decimal;
  ++at;  // 'e' or 'E'
  const bool exponent_negative = at < token.size() && token[at] == '-';
  if (at < token.size() && !is_digit(token[at])) ++at;
  int written = 0;
  for (; at < token.size() && is_digit(token[at]); ++at) {
    if (written < kFarExponent) written = written * 10 + (token[at] - '0');
  }
  decimal.exponent += exponent_negative ? -written : written;
  return decimal;
}

}  // namespace

std::optional<double> read_json_number(std::string_view token) {
  if (token.size() > kMaxTokenChars) return std::nullopt;
  const Decimal decimal = take_apart(token);
  const double zero = decimal.negative ? -0.0 : 0.0;
  if (decimal.significant == 0) return zero;
  const int first_digit_exponent = decimal.exponent + decimal.significant - 1;
  if (first_digit_exponent < kSmallestExponent) return zero;
  if (first_digit_exponent > kLargestExponent) return std::nullopt;

  constexpr int kMaxExactPower = static_cast<int>(kExactPowers.size()) - 1;
  if (decimal.significant <= kMaxExactDigits && std::abs(decimal.exponent) <= kMaxExactPower) {
    const double power = kExactPowers[static_cast<std::size_t>(std::abs(decimal.exponent))];
    const auto digits = static_cast<double>(decimal.digits);
    const double magnitude = decimal.exponent < 0 ? digits / power : digits * power;
    return decimal.negative ? -magnitude : magnitude;
  }

  const rapidjson::Document document = parse_json_number(token);
  if (document.HasParseError() || !document.IsNumber() || !std::isfinite(document.GetDouble())) {
    return std::nullopt;
  }
  return document.GetDouble();
}

std::optional<std::uint64_t> read_json_whole(std::string_view token, std::uint64_t limit) {
  if (token.empty() || token.size() > 19 || (token.size() > 1 && token.front() == '0')) return std::nullopt;
  std::uint64_t value = 0;
  for (const char c : token) {
    if (!is_digit(c)) return std::nullopt;
    value = value * 10 + static_cast<std::uint64_t>(c - '0');
  }
  if (value > limit) return std::nullopt;
  return value;
}

}  // namespace tawny
