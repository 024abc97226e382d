// The ponds whose oxygen may be low at the coming dawn, the most likely ones first; for everybody, whoever's
// work the rounds show.
#pragma once

#include "ui/app.h"

namespace tawny::ui {

class DawnRisks {
 public:
  // Draws nothing where no forecast passes the limit.
  void draw(App& app, Ui& ui);

 private:
  bool all_ = false;  // beyond the first few
};

}  // namespace tawny::ui
