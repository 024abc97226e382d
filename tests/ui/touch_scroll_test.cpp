#include "ui/touch_scroll.h"

#include <gtest/gtest.h>

namespace tawny::ui {
namespace {

using Phase = TouchScroll::Phase;

// One finger and a clock of 60 steps a second.
class TouchScrollTest : public testing::Test {
 protected:
  TouchScrollTest() { scroll_.set_extent(2000, 600); }

  bool down(float y) {
    y_ = y;
    is_down_ = true;
    return step(true);
  }
  bool move(float y) {
    y_ = y;
    return step(false);
  }
  bool up() {
    is_down_ = false;
    return step(false);
  }
  bool step(bool came_down = false, float wheel = 0) {
    time_s_ += 1.0 / 60;
    ScrollInput input;
    input.time_s = time_s_;
    input.down = is_down_;
    input.came_down = came_down;
    input.touch = touch_;
    input.y = y_;
    input.wheel = wheel;
    return scroll_.step(input);
  }
  void fling() {
    down(500);
    for (int i = 1; i <= 8; ++i) move(500 - 20.0f * static_cast<float>(i));
    up();
  }

  TouchScroll scroll_;
  double time_s_ = 10;
  bool is_down_ = false, touch_ = true;
  float y_ = 0;
};

TEST_F(TouchScrollTest, AFingerThatTremblesIsStillPressing) {
  EXPECT_FALSE(down(300));
  EXPECT_FALSE(move(315));
  EXPECT_EQ(scroll_.phase(), Phase::pending);
  EXPECT_EQ(scroll_.offset(), 0);
  EXPECT_FALSE(up());
  EXPECT_EQ(scroll_.phase(), Phase::idle);
}

TEST_F(TouchScrollTest, ADragCancelsThePressAndMovesWithoutAJump) {
  down(300);
  EXPECT_TRUE(move(284));
  EXPECT_EQ(scroll_.phase(), Phase::moving);
  EXPECT_FLOAT_EQ(scroll_.offset(), 0);
  EXPECT_TRUE(move(250));
  EXPECT_FLOAT_EQ(scroll_.offset(), 34);
}

TEST_F(TouchScrollTest, AMouseNeedsLessThanAFinger) {
  touch_ = false;
  down(300);
  EXPECT_TRUE(move(293));
  EXPECT_EQ(scroll_.phase(), Phase::moving);
}

TEST_F(TouchScrollTest, AFlingGlidesSlowsDownAndStops) {
  fling();
  ASSERT_EQ(scroll_.phase(), Phase::kinetic);
  float before = scroll_.offset();
  step();
  const float first_step = scroll_.offset() - before;
  EXPECT_GT(first_step, 0);
  int steps = 0;
  float last_step = first_step;
  while (scroll_.gliding() && steps < 600) {
    before = scroll_.offset();
    step();
    ++steps;
    EXPECT_LE(scroll_.offset() - before, last_step + 1e-3f);
    last_step = scroll_.offset() - before;
  }
  EXPECT_LT(steps, 180);  // three seconds at most
  EXPECT_EQ(scroll_.phase(), Phase::idle);
}

TEST_F(TouchScrollTest, AFingerThatRestsBeforeItLeavesDoesNotThrow) {
  down(500);
  for (int i = 1; i <= 8; ++i) move(500 - 20.0f * static_cast<float>(i));
  for (int i = 0; i < 12; ++i) move(340);
  up();
  EXPECT_EQ(scroll_.phase(), Phase::idle);
}

TEST_F(TouchScrollTest, AFingerOnAGlidingAreaStopsItAndPressesNothing) {
  fling();
  step();
  const float offset = scroll_.offset();
  EXPECT_TRUE(down(300));
  EXPECT_FLOAT_EQ(scroll_.offset(), offset);
  EXPECT_TRUE(up());
  EXPECT_EQ(scroll_.phase(), Phase::idle);
  EXPECT_FALSE(down(300)) << "the next press counts again";
}

TEST(TouchScrollOnASlowPhone, TheFingersOwnEventsTellItsSpeed) {
  TouchScroll scroll;
  scroll.set_extent(4000, 800);
  ScrollInput input;
  input.touch = input.down = input.came_down = true;
  input.y = 700;
  input.time_s = 1;
  scroll.step(input);
  input.came_down = false;
  input.y = 500;
  input.time_s = 1.3;
  scroll.step(input);
  input.down = false;
  input.time_s = 1.6;
  input.thrown_px_s = 900.0f;
  scroll.step(input);
  EXPECT_TRUE(scroll.gliding());
  const float before = scroll.offset();
  input.thrown_px_s.reset();
  input.time_s = 1.62;
  scroll.step(input);
  EXPECT_GT(scroll.offset(), before);
}

TEST_F(TouchScrollTest, TheEndsHold) {
  down(300);
  move(330);
  EXPECT_EQ(scroll_.offset(), 0);
  move(-4000);
  EXPECT_FLOAT_EQ(scroll_.offset(), 1400);
  move(-3990);
  EXPECT_FLOAT_EQ(scroll_.offset(), 1390) << "the way back begins at once";
}

TEST_F(TouchScrollTest, ShorterContentBringsTheViewBack) {
  scroll_.move_to(1400);
  scroll_.set_extent(800, 600);
  EXPECT_FLOAT_EQ(scroll_.offset(), 200);
  scroll_.set_extent(400, 600);
  EXPECT_FLOAT_EQ(scroll_.offset(), 0);
}

TEST_F(TouchScrollTest, TheWheelScrollsAndStopsAGlide) {
  step(false, -1);
  EXPECT_GT(scroll_.offset(), 0);
  fling();
  step(false, -1);
  EXPECT_FALSE(scroll_.gliding());
}

TEST_F(TouchScrollTest, ALateFrameDoesNotThrowTheArea) {
  fling();
  const float before = scroll_.offset();
  time_s_ += 5;
  step();
  EXPECT_LT(scroll_.offset() - before, 6000 * 0.051f);
}

}  // namespace
}  // namespace tawny::ui
