// The criteria of a gate as a list: shape, value against limit, age; a tap unfolds what one rests on.
#pragma once

#include <string>

#include "ui/app.h"

namespace tawny::ui {

// The age of the newest entry that it rests on; empty without any.
std::string evidence_age(const App& app, const Words& words, const Criterion& criterion);

class CriteriaList {
 public:
  void draw(App& app, Ui& ui, const FarmPond& pond);

 private:
  void draw_row(App& app, Ui& ui, const FarmPond& pond, const Criterion& criterion);
  std::string unfolded_;  // id of the criterion that is open
};

}  // namespace tawny::ui
