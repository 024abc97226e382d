#include "base/decimal.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

namespace tawny {
namespace {

constexpr std::array<double, 16> kPowersOfTen = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

tl::unexpected<Problem> not_a_number(std::string_view text) {
  return refuse(ProblemKind::malformed, "number",
                Message("problem.not_a_number").with("text", Text{std::string(text)}));
}

}  // namespace

Result<double> parse_decimal(std::string_view text) {
  std::string_view rest = text;
  const bool negative = !rest.empty() && rest.front() == '-';
  if (negative) rest.remove_prefix(1);
  std::uint64_t digits = 0;
  int significant = 0;
  int after_mark = 0;
  bool seen_mark = false;
  bool seen_digit = false;
  for (const char c : rest) {
    if (c == '.' || c == ',') {
      if (seen_mark) return not_a_number(text);
      seen_mark = true;
      continue;
    }
    if (c < '0' || c > '9') return not_a_number(text);
    seen_digit = true;
    digits = digits * 10 + static_cast<std::uint64_t>(c - '0');
    if (digits != 0) ++significant;
    if (seen_mark) ++after_mark;
    if (significant > 15 || after_mark > 15) return not_a_number(text);
  }
  if (!seen_digit) return not_a_number(text);
  // Both operands are exact doubles (digits < 2^53, 10^15 exact), so the quotient is correctly rounded.
  const double magnitude = static_cast<double>(digits) / kPowersOfTen[static_cast<std::size_t>(after_mark)];
  return negative ? -magnitude : magnitude;
}

std::string format_decimal(double value, int decimals, char mark) {
  if (!std::isfinite(value)) return "\u2013";
  if (decimals < 0) decimals = 0;
  if (decimals > 9) decimals = 9;
  // A typed 0.285 is stored a hair below; the nudge of a few units in the last place lets it round as it was
  // typed.
  constexpr double kNudge = 1 + 4 * std::numeric_limits<double>::epsilon();
  const double scaled =
      std::round(std::fabs(value) * kPowersOfTen[static_cast<std::size_t>(decimals)] * kNudge);
  if (scaled >= 1e15) return "\u2013";
  auto units = static_cast<std::uint64_t>(scaled);
  const bool negative = value < 0 && units != 0;
  std::string reversed;
  for (int i = 0; i < decimals; ++i) {
    reversed.push_back(static_cast<char>('0' + units % 10));
    units /= 10;
  }
  if (decimals > 0) reversed.push_back(mark);
  do {
    reversed.push_back(static_cast<char>('0' + units % 10));
    units /= 10;
  } while (units != 0);
  if (negative) reversed.push_back('-');
  return std::string(reversed.rbegin(), reversed.rend());
}

}  // namespace tawny
