// Decimal numbers as people type them, free of any locale.
#pragma once

#include <string>
#include <string_view>

#include "base/problem.h"

namespace tawny {

// Reads "12", "-3.5", "3,5" (comma or point, once), at most 15 significant digits; exact to the nearest double.
// Refuses as malformed: empty text, other characters, two marks, more digits.
Result<double> parse_decimal(std::string_view text);

// `value` rounded to `decimals` (0..9), halves as typed away from zero (0.285 gives 0.29), with `mark` as
// decimal mark; never "-0". A value that is not finite gives "–".
std::string format_decimal(double value, int decimals, char mark = '.');

}  // namespace tawny
