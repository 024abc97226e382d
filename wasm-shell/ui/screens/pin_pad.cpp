#include "ui/screens/pin_pad.h"

#include "ui/app_lock.h"
#include "ui/drawings/drawings.h"

namespace tawny::ui {

void PinPad::draw_dots(Ui& ui, std::string_view id) {
  const Rect where = ui.picture(id, ui.words()(Message("lock.typed").with("count", bare(pin_.size()))), 40);
  draw_pin_dots(ui, where, pin_.size(), AppLock::kLeastDigits);
}

bool PinPad::draw_keys(Ui& ui, std::string_view id, float height) {
  // The keypad writes a number, which has no noughts in front: each key is read off behind a digit that stays.
  std::string behind = "1";
  if (!ui.keypad(id, behind, height, false)) return false;
  if (behind.empty()) {
    if (pin_.empty()) return false;
    pin_.pop_back();
  } else {
    if (pin_.size() >= AppLock::kMostDigits) return false;
    pin_.push_back(behind.back());
  }
  return true;
}

bool PinPad::is_long_enough() const { return pin_.size() >= AppLock::kLeastDigits; }

}  // namespace tawny::ui
