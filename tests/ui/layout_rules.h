// What must hold of every frame on every phone: nothing cut off, nothing written over another, nothing too
// small or too near its neighbour for a thumb, and every letter dark enough for the sun.
#pragma once

#include <string>
#include <vector>

#include "ui/frame_notes.h"
#include "ui/theme.h"

namespace tawny::ui {

// A sentence for each fault; empty when all is well.
std::vector<std::string> layout_faults(const FrameNotes& notes, float width, float height);

struct InkOnGround {
  Colour ink = 0, ground = 0;
  float em_px = 0;
  std::string text;
};
// Each line with the ground that lies under it.
std::vector<InkOnGround> inks_on_grounds(const FrameNotes& notes);

}  // namespace tawny::ui
