// What an app does with a logbook between the file and the first screen, cut into the pieces that the benches time.
// The same natively and as wasm.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "farm/farm.h"
#include "farm/rounds.h"
#include "logbook/logbook.h"
#include "logbook/trust.h"

namespace tawny::bench {

// The first `entries` of a file of lines; the file must be in the order in which they were written.
std::string_view first_lines(std::string_view file, std::size_t entries);

// Lines of one farm, once each, in the order in which its phones wrote them (by Lamport counter), of segments that
// overlap. `segments` holds files one after another.
std::string in_order(std::string_view segments);

// The same acts as phones with keys put them on record: the farm founded by the first of them, which admits the others, and
// a signature behind every act. The signatures are pretended; `all_good` says of each that it is good.
std::string as_signed(std::string_view lines);
Verdicts all_good(const Logbook& logbook);

Logbook open(std::string_view lines, Hashes hashes = Hashes::now);

// An hour after the last entry: what a person would look at.
Instant just_after(const Logbook& logbook);

// Every pond's state, one after another; how many ponds there are. The sum of stages keeps the work from being left out.
struct Assessed {
  std::size_t ponds = 0;
  int stages = 0;
};
Assessed assess_all(const Farm& farm, const Protocol& protocol, Instant now);

}  // namespace tawny::bench
