// What a value of the protocol can be at all, and which values must not cross one another.
//
// These are the ends of what makes sense (a share lies between 0 and 1, a pH between 0 and 14, days are counted
// whole), not rules of the trade: those are the values themselves.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "protocol/protocol.h"

namespace tawny {

Range range_of(std::string_view path, std::string_view unit);
// Counted in whole days, times or pieces.
bool is_whole(std::string_view path, std::string_view unit);
// For a text: one of what it may be; for a list: what it may hold; empty where that is open.
std::vector<std::string> choices_of(std::string_view path);

// Nothing when `value` may stand at this path. Names the value ("what") as the word "protocol.<path>".
std::optional<Problem> outside_protocol(std::string_view path, const ProtocolValue& value);

// The value as it is said to people: a share as a percentage, a time of day as minutes.
Quantity quantity_of(const ProtocolValue& value);

struct Contradiction {
  std::string low, high;  // paths: the first must not lie over the second
  bool operator==(const Contradiction&) const = default;
};
std::vector<Contradiction> contradictions(const Protocol& protocol);
Problem problem_of(const Contradiction& contradiction, const Protocol& protocol);

}  // namespace tawny
