// How a set-up entry's values are read: what is missing or outside its range is refused by name.
#pragma once

#include <string>
#include <string_view>

#include "base/problem.h"
#include "logbook/entry.h"

namespace tawny {

inline tl::unexpected<Problem> set_up_lacks(std::string_view key) {
  return refuse(ProblemKind::missing, key,
                Message("problem.setup_missing").with("what", Word{"value." + std::string(key)}));
}

inline Result<double> needed(const Entry& entry, std::string_view key) {
  const double* value = entry.number(key);
  if (value == nullptr) return set_up_lacks(key);
  return *value;
}

inline Result<double> needed(const Entry& entry, std::string_view key, const Range& range) {
  const Result<double> value = needed(entry, key);
  if (!value) return value;
  TAWNY_REFUSE_OUTSIDE(key, *value, range);
  return *value;
}

inline Result<double> optional_number(const Entry& entry, std::string_view key, const Range& range,
                                      double otherwise) {
  if (entry.number(key) == nullptr) return otherwise;
  return needed(entry, key, range);
}

}  // namespace tawny
