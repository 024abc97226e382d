// A PIN typed on our own keys: dots for what was typed, and the keypad under it.
#pragma once

#include <string>

#include "ui/widgets.h"

namespace tawny::ui {

class PinPad {
 public:
  // Among the texts of a screen; a screen reader hears how many digits there are, never which.
  void draw_dots(Ui& ui, std::string_view id);
  // In the footer; true when it changed.
  bool draw_keys(Ui& ui, std::string_view id, float height);
  const std::string& pin() const { return pin_; }
  bool is_long_enough() const;
  void clear() { pin_.clear(); }

 private:
  std::string pin_;
};

}  // namespace tawny::ui
