// Problem: why something was refused, in a form that the shell can word and a test can compare.
//
// The set of kinds is closed and small; `parameter` is the name of the input at fault with its unit
// ("temperature_c"), or empty; `message` says the rest with named values.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/message.h"
#include "base/result.h"

namespace tawny {

enum class ProblemKind {
  out_of_range,  // a number outside what can be
  missing,       // something needed was not given
  malformed,     // text or structure that cannot be read
  unsupported,   // known, and deliberately not done (a lined pond, a forbidden product)
  conflict,      // two things that cannot both hold
  impossible,    // well-formed, but no answer exists (a salt that will not dissolve)
};

struct Problem {
  ProblemKind kind = ProblemKind::malformed;
  std::string parameter;
  Message message;
  bool operator==(const Problem&) const = default;
};

inline tl::unexpected<Problem> refuse(ProblemKind kind, std::string_view parameter, Message message) {
  return tl::unexpected<Problem>(Problem{kind, std::string(parameter), std::move(message)});
}

// A closed range of a physical quantity; `unit` is a unit key as in Quantity.
struct Range {
  double low = 0;
  double high = 0;
  std::string_view unit;
  int decimals = 2;  // of the limits, when they are shown
};

// Nothing when `value` is finite and inside `range`; else the Problem (kind out_of_range, message
// "problem.out_of_range" with parameter, value, low, high).
std::optional<Problem> outside(std::string_view parameter, double value, const Range& range);

}  // namespace tawny

// Leaves the enclosing Result-returning function with the Problem when `value` is outside `range`.
#define TAWNY_REFUSE_OUTSIDE(parameter, value, range)                           \
  do {                                                                          \
    if (auto tawny_problem = ::tawny::outside((parameter), (value), (range))) { \
      return ::tl::unexpected<::tawny::Problem>(*std::move(tawny_problem));     \
    }                                                                           \
  } while (false)
