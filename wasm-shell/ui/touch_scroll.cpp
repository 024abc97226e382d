#include "ui/touch_scroll.h"

#include <algorithm>
#include <cmath>

namespace tawny::ui {
namespace {

constexpr double kMemoryS = 0.1;        // how far back the speed of a finger is taken
constexpr double kLongestStepS = 0.05;  // a late frame must not throw the area across the screen
constexpr double kDecayPerFrame = 0.92;
constexpr double kFramesPerS = 60;
constexpr float kStopPxS = 1;
constexpr float kFastestPxS = 6000;
constexpr float kWheelPx = 64;

}  // namespace

void TouchScroll::set_extent(float content_px, float view_px) {
  content_ = content_px;
  view_ = view_px;
  largest_ = std::max(0.0f, content_px - view_px);
  set_offset(offset_);
}

void TouchScroll::move_to(float offset_px) {
  phase_ = Phase::idle;
  velocity_px_s_ = 0;
  set_offset(offset_px);
}

bool TouchScroll::set_offset(float offset_px) {
  offset_ = std::clamp(offset_px, 0.0f, largest_);
  return offset_ == offset_px;
}

bool TouchScroll::step(const ScrollInput& input) {
  if (input.wheel != 0) move_to(offset_ - input.wheel * kWheelPx);
  if (input.came_down) {
    press_is_dead_ = phase_ == Phase::kinetic;
    phase_ = Phase::pending;
    velocity_px_s_ = 0;
    start_y_ = input.y;
    start_offset_ = offset_;
    samples_.clear();
  }
  if (phase_ == Phase::pending || phase_ == Phase::moving) {
    if (input.down) {
      follow(input);
    } else {
      let_go(input);
    }
  } else if (phase_ == Phase::kinetic) {
    glide(input.time_s);
  }
  last_s_ = input.time_s;
  const bool dead = press_is_dead_;
  if (!input.down) press_is_dead_ = false;
  return dead;
}

void TouchScroll::follow(const ScrollInput& input) {
  samples_.push_back({input.time_s, input.y});
  const auto fresh = [&](const Sample& sample) { return input.time_s - sample.time_s <= kMemoryS; };
  samples_.erase(samples_.begin(), std::find_if(samples_.begin(), samples_.end(), fresh));
  if (phase_ == Phase::pending) {
    const float moved = input.y - start_y_;
    const float threshold = threshold_px(input.touch);
    if (std::fabs(moved) < threshold) return;
    phase_ = Phase::moving;
    press_is_dead_ = true;
    // The threshold is swallowed, so that the area does not jump under the finger.
    start_y_ += moved > 0 ? threshold : -threshold;
  }
  if (!set_offset(start_offset_ - (input.y - start_y_))) {
    // At an end: the way back begins at once.
    start_y_ = input.y;
    start_offset_ = offset_;
  }
}

void TouchScroll::let_go(const ScrollInput& input) {
  const bool was_moving = phase_ == Phase::moving;
  phase_ = Phase::idle;
  velocity_px_s_ = 0;
  if (!was_moving) return;
  float speed = 0;
  if (input.thrown_px_s) {
    speed = *input.thrown_px_s;
  } else if (samples_.size() >= 2) {
    const Sample& first = samples_.front();
    const Sample& last = samples_.back();
    // A finger that rested before it left does not throw.
    if (input.time_s - last.time_s > kMemoryS || last.time_s <= first.time_s) return;
    speed = static_cast<float>(static_cast<double>(first.y - last.y) / (last.time_s - first.time_s));
  }
  velocity_px_s_ = std::clamp(speed, -kFastestPxS, kFastestPxS);
  if (std::fabs(velocity_px_s_) >= kStopPxS) phase_ = Phase::kinetic;
}

void TouchScroll::glide(double time_s) {
  const double step_s = std::clamp(time_s - last_s_, 0.0, kLongestStepS);
  const bool inside = set_offset(offset_ + velocity_px_s_ * static_cast<float>(step_s));
  velocity_px_s_ *= static_cast<float>(std::pow(kDecayPerFrame, step_s * kFramesPerS));
  if (!inside || std::fabs(velocity_px_s_) < kStopPxS) {
    velocity_px_s_ = 0;
    phase_ = Phase::idle;
  }
}

}  // namespace tawny::ui
