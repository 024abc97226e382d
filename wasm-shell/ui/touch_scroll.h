// Scrolling by dragging, with momentum: what one finger does to one scrolling area. Knows no drawing and no
// Dear ImGui, so that a test can move a finger through it.
//
//   idle     nothing under way
//   pending  a finger is down on the area and has not yet moved far enough to mean a drag
//   moving   the area follows the finger; whatever was pressed under it is not pressed any more
//   kinetic  the finger has left while moving: the area glides on and slows down
//
// A finger that comes down on a gliding area stops it, and presses nothing.
#pragma once

#include <optional>
#include <vector>

namespace tawny::ui {

struct ScrollInput {
  double time_s = 0;       // any steady clock
  bool down = false;       // finger or button is down
  bool came_down = false;  // ... since the last step, inside the area
  bool touch = false;      // a finger, not a mouse
  float y = 0;             // px; only read while down
  // How fast the finger that has just lifted was, upwards, where its own events tell: on a slow phone frames
  // are too far apart to see it.
  std::optional<float> thrown_px_s;
  float wheel = 0;  // notches, up positive; only of a pointer over the area
};

class TouchScroll {
 public:
  enum class Phase { idle, pending, moving, kinetic };

  // Length of what is shown and of the window onto it; the offset stays inside.
  void set_extent(float content_px, float view_px);
  // One step; true when a press under this finger must not count.
  bool step(const ScrollInput& input);
  void move_to(float offset_px);

  float offset() const { return offset_; }
  float largest_offset() const { return largest_; }
  float view_share() const { return content_ > 0 ? view_ / content_ : 1; }
  Phase phase() const { return phase_; }
  bool gliding() const { return phase_ == Phase::kinetic; }

  // Farther than this from where it came down, a finger is dragging.
  static float threshold_px(bool touch) { return touch ? 16.0f : 6.0f; }

 private:
  struct Sample {
    double time_s;
    float y;
  };
  void follow(const ScrollInput& input);
  void let_go(const ScrollInput& input);
  void glide(double time_s);
  bool set_offset(float offset_px);

  Phase phase_ = Phase::idle;
  float offset_ = 0, content_ = 0, view_ = 0, largest_ = 0;
  float start_y_ = 0, start_offset_ = 0;
  float velocity_px_s_ = 0;  // of the offset
  double last_s_ = 0;
  bool press_is_dead_ = false;
  std::vector<Sample> samples_;  // of the last tenth of a second
};

}  // namespace tawny::ui
