// What a frame drew, for the tests that see to it that nothing is cut off, hard to read or hard to press.
//
// Nothing is noted unless a test asks (Ui::note_frames). Rectangles are CSS px from the top left of the canvas.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "ui/screen_model.h"
#include "ui/theme.h"

namespace tawny::ui {

struct FrameNotes {
  // One line of text.
  struct Line {
    std::string text;
    Rect rect;          // as wide as its letters, as high as its line
    Rect clip;          // where it can be seen
    float em_px = 0;    // size of its letters
    bool cut = false;   // it is wider than its place even at its least size
    bool torn = false;  // it ends in the middle of a word, which is wider than its place
    Colour ink = 0;
    std::size_t over = 0;  // how many of the grounds were there when it was drawn
  };
  // A flat ground, in the order of drawing.
  struct Ground {
    Rect rect;
    Rect clip;
    Colour colour = 0;
  };
  // What a finger can press.
  struct Control {
    std::string id;
    Rect rect;
    Rect clip;
    bool card = false;  // it may hold others
  };

  std::vector<Line> lines;
  std::vector<Ground> grounds;
  std::vector<Control> controls;
  Rect view;  // the scrolling middle; all of the canvas where nothing scrolls

  void clear() { *this = FrameNotes(); }
};

}  // namespace tawny::ui
