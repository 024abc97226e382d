// A simulated farm: ponds with a hidden truth, and the logbook that careless people keep of them while they
// follow the protocol, as far as they do.
//
// The same options give the same bytes, on every machine whose arithmetic is IEEE 754 and whose exp, log, sin
// and cos differ by rounding at most: every value that is read is rounded before it is written down.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "protocol/protocol.h"
#include "simulate/crew.h"
#include "simulate/pond_life.h"

namespace tawny::simulate {

struct Options {
  std::uint64_t seed = 1;
  int number = 1;  // of the farm: 1, 2, 3 ...
  int ponds = 6;
  int days = 60;
  CivilDay first_day{20454};  // 2026-01-01
  double carelessness = 1;    // 0: nobody ever slips or forgets
  bool keep_truth = false;
  std::optional<bool> torn;  // of every pond's screens; without it, by chance
};

struct PondTruth {
  std::string pond;
  bool torn = false;
  Traits traits;
  std::vector<Water> hours;           // with keep_truth
  double largest_nitrogen_error = 0;  // of what was there, over the whole run
  Nitrogen nitrogen;                  // at the end
};

struct SimulatedFarm {
  std::string id;
  std::string name;
  FarmPlace place;
  Instant begin, end;
  Logbook logbook;  // everything that anyone wrote
  std::vector<Phone> phones;
  std::vector<PondTruth> ponds;
};

SimulatedFarm simulate_farm(const Options& options, const Protocol& protocol);

}  // namespace tawny::simulate
