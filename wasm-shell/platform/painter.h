// Dear ImGui's triangles on WebGL 2.
//
// Made for a phone that mostly shows what it showed before: a picture that is the same as the last one to the last
// corner is not drawn again (Dear ImGui takes several frames to settle after a touch, and few of them differ); nothing
// is ever asked of the graphics, since every answer waits for it; letters are one byte a pixel.
#pragma once

#include <GLES3/gl3.h>

#include <cstddef>
#include <vector>

#include "imgui.h"

namespace tawny::shell {

class Painter {
 public:
  // Tells Dear ImGui what this can draw. Wants a current WebGL 2 context; false when it compiles no shader.
  bool open();

  // The fonts' atlas was baked anew: its pixels go to the graphics, and the next picture is drawn in any case.
  void take_fonts();

  // Draws, on a ground of that colour, unless the canvas shows the very same already; true when it drew. The size is
  // the canvas's own, in its pixels.
  bool paint(const ImDrawData& picture, ImU32 ground, int width_px, int height_px);

  // The canvas may have lost what it showed: the next picture is drawn in any case.
  void forget() { shown_ = false; }

  // The browser gave the context back empty: everything is made anew. False as for open().
  bool restore();

 private:
  struct Call {
    unsigned corners = 0;  // how many indices
    unsigned first = 0;    // byte in the buffer of indices
    unsigned base = 0;     // byte in the buffer of corners
    ImVec4 clip;
    bool operator==(const Call&) const;
  };

  bool make_objects();
  bool take(const ImDrawData& picture, ImU32 ground, int width_px, int height_px);
  void draw();

  GLuint program_ = 0, corners_ = 0, indices_ = 0, atlas_ = 0;
  GLint to_clip_ = -1;
  bool shown_ = false;

  // The picture that the canvas shows.
  std::vector<ImDrawVert> corner_data_;
  std::vector<ImDrawIdx> index_data_;
  std::vector<Call> calls_;
  ImVec2 origin_, size_, scale_;
  ImU32 ground_ = 0;
  int width_px_ = 0, height_px_ = 0;
};

}  // namespace tawny::shell
