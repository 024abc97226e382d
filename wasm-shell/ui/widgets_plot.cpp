// Fingers on plots: panning, pinching, picking a place.
#include <cmath>

#include "ui/widget_parts.h"

namespace tawny::ui {

PlotTouch Ui::plot_touch(std::string_view id, Rect where) {
  State& state = *state_;
  const Touched touched = touch(state, id, where);
  PlotTouch told;
  told.pressed = touched.pressed;
  if (state.came_down && state.press_claimed && state.press_id == id) {
    state.plot_drag = State::Drag::undecided;
    state.plot_id = id;
  }
  if (touched.pressed && state.lifted) told.tapped_px = state.pointer.x - where.x;
  if (state.plot_id == id && state.plot_drag == State::Drag::across && state.pointer_valid) {
    told.pan_px = state.pointer.x - state.plot_x;
    state.plot_x = state.pointer.x;
  }
  if (state.pinch) {
    const Pinch& pinch = *state.pinch;
    if (contains(inside_of(where, state.clip), ImVec2(pinch.began_x, pinch.began_y))) {
      told.pan_px = pinch.moved_px;
      told.zoom = pinch.zoom;
      told.centre_px = pinch.x - where.x;
    }
  }
  return told;
}

void Ui::pinch(const Pinch& pinch) {
  Pinch whole = pinch;
  if (state_->pinch) {
    whole.moved_px += state_->pinch->moved_px;
    whole.zoom *= state_->pinch->zoom;
  }
  state_->pinch = whole;
  want_frames(2);
}

}  // namespace tawny::ui
