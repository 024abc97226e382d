// The ponds whose oxygen may be low at the coming dawn, the most likely ones first; for everybody, whoever's
// work the rounds show.
#pragma once

#include <vector>

#include "ui/app.h"

namespace tawny::ui {

class DawnRisks {
 public:
  // Draws nothing where no forecast passes the limit.
  void draw(App& app, Ui& ui);

 private:
  struct Risk {
    const FarmPond* pond;
    const DawnOutlook* dawn;
  };
  // What was found is good until the farm is folded anew.
  void renew(App& app);

  int folds_ = -1;
  std::vector<Risk> risks_;
  bool all_ = false;  // beyond the first few
};

}  // namespace tawny::ui
