// A simulated farm's logbook as the files of a depot (core/logbook/FORMAT.md, "Segments and depots").
#pragma once

#include <string>
#include <vector>

#include "simulate/farm.h"

namespace tawny::simulate {

struct DepotFile {
  std::string name;  // from the depot's root
  std::string bytes;
};

// What each phone put at each of its syncs, at most 200 lines a file; now and then a put whose answer got lost
// is made again together with the next; complete thousands once more as one segment.
std::vector<DepotFile> depot_files(const SimulatedFarm& farm);

// The hidden truth, a line an hour and pond, with a heading.
std::string truth_csv(const SimulatedFarm& farm);

}  // namespace tawny::simulate
