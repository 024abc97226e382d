#include "base/problem.h"

#include <cmath>

namespace tawny {

std::optional<Problem> outside(std::string_view parameter, double value, const Range& range) {
  if (std::isfinite(value) && value >= range.low && value <= range.high) return std::nullopt;
  const std::string unit(range.unit);
  Message message = Message("problem.out_of_range")
                        .with("parameter", Word{"parameter." + std::string(parameter)})
                        .with("value", Quantity{value, range.decimals, unit})
                        .with("low", Quantity{range.low, range.decimals, unit})
                        .with("high", Quantity{range.high, range.decimals, unit});
  return Problem{ProblemKind::out_of_range, std::string(parameter), std::move(message)};
}

}  // namespace tawny
