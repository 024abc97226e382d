// What is in the way of the plan, as a list; while a delivery is moved, also what would be new and what would
// be gone.
#pragma once

#include <string>
#include <vector>

#include "office/conflicts.h"
#include "ui/app.h"

namespace tawny::ui {

class ConflictList {
 public:
  // What the list tells: it is worded anew only where this changed.
  struct Of {
    int folds = -1;
    std::string language;
    std::string moved;  // booking; empty: none is being moved
    CivilDay to;
    bool operator==(const Of&) const = default;
  };

  void draw(Ui& ui, const Of& of, const std::vector<Conflict>& at_rest, const std::vector<Conflict>& now);
  // The column is of another width.
  void forget_heights();

 private:
  struct Line {
    std::string text;
    bool is_new = false, is_gone = false;
    float height = 0;  // as last drawn
  };
  void renew(const Words& words, const std::vector<Conflict>& at_rest, const std::vector<Conflict>& now);

  Of of_;
  std::vector<Line> lines_;
};

}  // namespace tawny::ui
