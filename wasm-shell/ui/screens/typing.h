// A number being typed with our own keys: what stands there, and what it means.
#pragma once

#include <optional>
#include <string>

#include "ui/widgets.h"

namespace tawny::ui {

struct Typing {
  std::string text;    // as typed, with a point as mark
  bool fresh = false;  // filled in by us: the first key replaces it

  void fill(double value, int decimals);
  void clear();
  // A step up or down of the last shown decimal; with nothing typed, `start` comes first. Never under 0.
  void nudge(int steps, int decimals, std::optional<double> start);
  // Nothing for an empty or unfinished number.
  std::optional<double> value() const;
  // As it is shown: with the language's mark, a dash when empty.
  std::string shown(const Words& words) const;
};

// What the keys of a screen take of its height. With larger letters they take less, so that the number that is
// typed stays in view above them; each key stays large enough for a thumb.
float keys_height(const Ui& ui);

// Keeps what is being typed in view, also where large letters leave it little room: scrolls to it when the
// number, the screen or the text size is another than in the last frame.
class TypedInView {
 public:
  void keep(Ui& ui, std::string_view id, const Typing& typing);

 private:
  const Typing* typing_ = nullptr;
  std::string text_;
  float width_ = 0, height_ = 0, text_scale_ = 0;
};

// The keypad for it; gives true when it changed.
bool typing_keypad(Ui& ui, std::string_view id, Typing& typing, float height, bool decimals, bool sign = false);

}  // namespace tawny::ui
