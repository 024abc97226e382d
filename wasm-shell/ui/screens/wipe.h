// Wiping this device: everything of the farm that this browser keeps is deleted, and the app starts as new.
//
// It asks for the farm's name as it is written, and that everything is elsewhere: taken out in a bundle since the last
// entry, or at the office (its receipts), or, where there is no office, in the folder after a complete sync. What is not
// elsewhere is counted, and is lost only after a person has said so.
#pragma once

#include <string>

#include "ui/app.h"

namespace tawny::ui {

// Entries of this device's logbook that are known to be nowhere else.
std::size_t entries_only_here(const App& app);

class WipePart {
 public:
  // `with_ways`: offers to take a bundle out and to sync first; not on the lock screen, which shows nothing of the farm.
  void draw(App& app, Ui& ui, bool with_ways);

 private:
  std::string name_;
  bool loses_ = false;
  bool wiping_ = false;
};

}  // namespace tawny::ui
