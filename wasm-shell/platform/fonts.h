// The letters on the screen: Noto Sans, two weights, baked at the screen's own pixels.
//
// A phone's atlas must stay small, so a letter is baked only when some text has it: the language table, the
// logbook, what a person typed, a file that was opened. note_text() is told of every such text before it is
// drawn.
#pragma once

#include <string_view>

#include "imgui.h"
#include "ui/widgets.h"

namespace tawny::shell {

class Fonts {
 public:
  Fonts();

  // The letters of this text will be drawn. Escapes of JSON (\u00e9) count as the letter that they stand for.
  void note_text(std::string_view utf8);

  // Bakes the atlas when letters were added, or the density (screen pixels per CSS px) or the text scale (1 to
  // 2) changed; true when it did, and the texture must be made again. Not to be called inside a frame.
  bool bake(float density, float text_scale);

  const ui::Ui::Fonts& fonts() const { return fonts_; }

 private:
  void add(unsigned code_point);

  ImFontGlyphRangesBuilder letters_;
  ImVector<ImWchar> text_ranges_;  // must outlive the atlas's build
  ImVector<ImWchar> number_ranges_;
  ui::Ui::Fonts fonts_;
  float density_ = 0, text_scale_ = 0;
  bool grown_ = true;
};

}  // namespace tawny::shell
