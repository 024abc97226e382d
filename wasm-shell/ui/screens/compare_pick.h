// Which cycles stand side by side.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "ui/app.h"

namespace tawny::ui {

struct CycleChosen {
  std::string pond;
  Instant start;
  bool operator==(const CycleChosen&) const = default;
};

// Adds the cycle that is picked to `chosen` and closes itself. The pond's own cycles stand first.
std::unique_ptr<Screen> make_compare_pick_screen(std::string pond,
                                                 std::shared_ptr<std::vector<CycleChosen>> chosen);

}  // namespace tawny::ui
