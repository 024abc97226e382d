#include "ui/fingers.h"

#include <gtest/gtest.h>

#include <string>

#include "ui/bench.h"

namespace tawny::ui {
namespace {

using Event = Contact::Event;

// Moves contacts through a Fingers; what the pointer does is kept as a word: m(ove) p(ress) r(elease) l(eave).
struct Screen {
  Fingers fingers;
  double time_s = 10;
  std::string acts;
  std::optional<Pinch> pinch;
  float x = 0, y = 0;  // of the last move

  bool tell(Contact contact) {
    contact.time_s = time_s;
    const bool tapped = fingers.step(contact);
    take();
    return tapped;
  }
  void take() {
    for (const PointerStep& step : fingers.take_steps()) {
      acts += "mprl"[static_cast<int>(step.act)];
      if (step.act != PointerStep::Act::move) continue;
      x = step.x;
      y = step.y;
    }
    if (std::optional<Pinch> more = fingers.take_pinch()) {
      if (pinch) {
        more->zoom *= pinch->zoom;
        more->moved_px += pinch->moved_px;
      }
      pinch = more;
    }
  }
  void down(int id, float px, float py, float size = 30) {
    tell({Event::down, PointerKind::finger, id, px, py, size});
  }
  void move(int id, float px, float py, float size = 30) {
    tell({Event::move, PointerKind::finger, id, px, py, size});
  }
  bool up(int id, float px, float py) { return tell({Event::up, PointerKind::finger, id, px, py, 0}); }
  void cancel(int id) { tell({Event::cancel, PointerKind::finger, id}); }
  std::string said() { return std::exchange(acts, {}); }
};

TEST(Fingers, ATapMovesPressesReleasesAndLeaves) {
  Screen screen;
  screen.down(1, 50, 60);
  EXPECT_EQ(screen.said(), "mp");
  EXPECT_TRUE(screen.up(1, 50, 60));
  EXPECT_EQ(screen.said(), "rl");
}

TEST(Fingers, ADragIsToldAsItGoesAndIsNoTap) {
  Screen screen;
  screen.down(1, 50, 60);
  screen.move(1, 50, 90);
  screen.move(1, 50, 60);
  EXPECT_FALSE(screen.up(1, 50, 60));
  EXPECT_EQ(screen.said(), "mpmmrl");
}

TEST(Fingers, WhatTheSystemTakesAwayLeavesBeforeItLetsGo) {
  Screen screen;
  screen.down(1, 50, 60);
  screen.said();
  screen.cancel(1);
  EXPECT_EQ(screen.said(), "lr");
  EXPECT_FALSE(screen.up(1, 50, 60)) << "what comes late is of nobody";
  EXPECT_EQ(screen.said(), "");
}

TEST(Fingers, AFingerTapsWhileADropRests) {
  Screen screen;
  screen.down(1, 200, 700);
  screen.time_s += 2;
  screen.said();
  screen.down(2, 50, 60);
  EXPECT_EQ(screen.said(), "lrmp") << "the drop presses nothing";
  EXPECT_EQ(screen.x, 50);
  EXPECT_TRUE(screen.up(2, 50, 60));
  EXPECT_EQ(screen.said(), "rl");
  screen.down(3, 80, 90);
  EXPECT_TRUE(screen.up(3, 80, 90)) << "and so does the next one";
  EXPECT_EQ(screen.said(), "mprl");
  EXPECT_FALSE(screen.up(1, 200, 700)) << "the drop is wiped off";
  EXPECT_EQ(screen.said(), "");
}

TEST(Fingers, AFingerScrollsWhileADropRests) {
  Screen screen;
  screen.down(1, 200, 700);
  screen.time_s += 2;
  screen.said();
  screen.down(2, 50, 400);
  for (int i = 1; i <= 10; ++i) screen.move(2, 50, 400 - 20.0f * static_cast<float>(i));
  EXPECT_FALSE(screen.pinch);
  EXPECT_EQ(screen.y, 200);
  screen.up(2, 50, 200);
  EXPECT_EQ(screen.said(), "lrmp" + std::string(10, 'm') + "rl");
}

TEST(Fingers, ADropThatSlidAndRestsAgainIsNoSecondFinger) {
  Screen screen;
  screen.down(1, 200, 300);
  screen.time_s += 2;
  screen.move(1, 200, 330);
  screen.time_s += 2;
  screen.move(1, 201, 331);
  screen.down(2, 50, 400);
  screen.move(2, 50, 350);
  screen.move(2, 50, 300);
  EXPECT_FALSE(screen.pinch);
  screen.up(2, 50, 300);
  screen.down(3, 50, 60);
  EXPECT_TRUE(screen.up(3, 50, 60));
}

TEST(Fingers, TwoThumbsTypeAhead) {
  Screen screen;
  screen.down(1, 100, 500);
  screen.time_s += 0.1;
  screen.down(2, 200, 500);
  EXPECT_EQ(screen.said(), "mp") << "the second waits";
  screen.time_s += 0.05;
  EXPECT_TRUE(screen.up(1, 100, 500));
  EXPECT_EQ(screen.said(), "rlmp");
  EXPECT_EQ(screen.x, 200);
  EXPECT_TRUE(screen.up(2, 200, 500));
  EXPECT_EQ(screen.said(), "rl");
}

TEST(Fingers, ATapJustAfterADropFellStillCounts) {
  Screen screen;
  screen.down(1, 200, 700);
  screen.time_s += 0.1;
  screen.down(2, 50, 60);
  screen.said();
  screen.time_s += 0.1;
  EXPECT_TRUE(screen.up(2, 50, 60));
  EXPECT_EQ(screen.said(), "lrmprl");
  EXPECT_EQ(screen.x, 50);
  screen.time_s += 1;
  EXPECT_FALSE(screen.up(1, 200, 700));
  EXPECT_EQ(screen.said(), "");
}

TEST(Fingers, TwoThatMovePinchAndPressNothing) {
  Screen screen;
  screen.down(1, 150, 400);
  screen.time_s += 0.05;
  screen.down(2, 250, 400);
  screen.move(1, 130, 400);
  screen.move(2, 270, 400);
  screen.move(1, 100, 400);
  screen.move(2, 300, 400);
  ASSERT_TRUE(screen.pinch);
  EXPECT_NEAR(screen.pinch->zoom, 200.0f / 120, 1e-4) << "from where it was seen to be a pinch";
  EXPECT_NEAR(screen.pinch->x, 200, 1e-3);
  EXPECT_FALSE(screen.up(1, 100, 400));
  EXPECT_FALSE(screen.up(2, 300, 400));
  const std::string said = screen.said();
  EXPECT_EQ(said.substr(said.size() - 2), "lr") << said;
  EXPECT_EQ(said.find("rl"), std::string::npos) << said;
}

TEST(Fingers, TheOneThatLiftsLastAfterAPinchPressesNothing) {
  Screen screen;
  screen.down(1, 150, 400);
  screen.down(2, 250, 400);
  screen.move(2, 290, 400);
  screen.up(1, 150, 400);
  screen.said();
  screen.time_s += 1;
  EXPECT_FALSE(screen.up(2, 290, 400));
  EXPECT_EQ(screen.said(), "");
}

TEST(Fingers, AFirstFingerThatHoldsStillMayBeginAPinchOnceBothMove) {
  Screen screen;
  screen.down(1, 100, 400);
  screen.time_s += 1;
  screen.down(2, 300, 400);
  screen.move(2, 330, 400);
  EXPECT_FALSE(screen.pinch) << "a drag beside a thumb that holds the phone";
  screen.move(1, 60, 400);
  screen.move(2, 360, 400);
  ASSERT_TRUE(screen.pinch);
  EXPECT_GT(screen.pinch->zoom, 1);
}

TEST(Fingers, ASecondPinchWithoutLiftingBoth) {
  Screen screen;
  screen.down(1, 150, 400);
  screen.down(2, 250, 400);
  screen.move(2, 290, 400);
  screen.up(2, 290, 400);
  screen.pinch.reset();
  screen.said();
  screen.down(3, 250, 400);
  screen.move(3, 290, 400);
  screen.move(1, 120, 400);
  screen.move(3, 330, 400);
  ASSERT_TRUE(screen.pinch);
  EXPECT_GT(screen.pinch->zoom, 1);
}

TEST(Fingers, APalmPressesNothing) {
  Screen screen;
  screen.down(1, 300, 700, Fingers::kPalmPx + 40);
  screen.time_s += 0.1;
  EXPECT_FALSE(screen.up(1, 300, 700));
  EXPECT_EQ(screen.said(), "");
}

TEST(Fingers, APalmThatRollsOnPressesNothing) {
  Screen screen;
  screen.down(1, 300, 700, 60);
  screen.move(1, 302, 700, Fingers::kPalmPx + 1);
  EXPECT_FALSE(screen.up(1, 302, 700));
  EXPECT_EQ(screen.said(), "mplr");
}

TEST(Fingers, APalmThatDragsMayScroll) {
  Screen screen;
  screen.down(1, 300, 700, 200);
  screen.move(1, 300, 640, 200);
  screen.move(1, 300, 600, 200);
  EXPECT_FALSE(screen.up(1, 300, 600));
  EXPECT_EQ(screen.said(), "mpmmrl");
  EXPECT_EQ(screen.y, 600);
}

TEST(Fingers, AFingerTapsBesideAPalm) {
  Screen screen;
  screen.down(1, 300, 700, 200);
  screen.down(2, 50, 60);
  screen.move(1, 300, 650, 200);
  EXPECT_TRUE(screen.up(2, 50, 60));
  EXPECT_EQ(screen.said(), "mprl");
  EXPECT_FALSE(screen.pinch);
}

TEST(Fingers, APhoneThatMeasuresBadlyIsNotDeaf) {
  Screen screen;
  for (int i = 0; i < Fingers::kPalmsBelieved; ++i) {
    screen.down(i, 50, 60, 300);
    EXPECT_FALSE(screen.up(i, 50, 60));
  }
  for (int i = 10; i < 13; ++i) {
    screen.down(i, 50, 60, 300);
    EXPECT_TRUE(screen.up(i, 50, 60));
  }
  screen.down(20, 50, 60, 30);
  screen.up(20, 50, 60);
  screen.down(21, 50, 60, 300);
  EXPECT_FALSE(screen.up(21, 50, 60)) << "a fingertip was measured: sizes are believed again";
}

TEST(Fingers, AHiddenPageLiftsEverythingAndPressesNothing) {
  Screen screen;
  screen.down(1, 50, 60);
  screen.down(2, 80, 60);
  screen.said();
  screen.fingers.let_all_go();
  screen.take();
  EXPECT_EQ(screen.said(), "lr");
  EXPECT_FALSE(screen.up(1, 50, 60));
  screen.down(3, 50, 60);
  EXPECT_TRUE(screen.up(3, 50, 60));
}

TEST(Fingers, AnEndThatWasLostDoesNotHoldThePointer) {
  Screen screen;
  screen.down(1, 50, 60);
  screen.said();
  screen.time_s += 3;
  screen.down(1, 90, 60);
  EXPECT_EQ(screen.said(), "lrmp");
  EXPECT_TRUE(screen.up(1, 90, 60));
}

TEST(Fingers, ATouchThatStopsAGlideIsNoTap) {
  Screen screen;
  Contact contact{Event::down, PointerKind::finger, 1, 50, 60, 30};
  contact.stops_glide = true;
  screen.tell(contact);
  EXPECT_FALSE(screen.up(1, 50, 60));
  EXPECT_EQ(screen.said(), "mprl") << "it still stops the page";
}

TEST(Fingers, AMouseHoversPressesAndStays) {
  Screen screen;
  screen.tell({Event::move, PointerKind::mouse, 1, 50, 60});
  screen.tell({Event::down, PointerKind::mouse, 1, 50, 60});
  EXPECT_TRUE(screen.tell({Event::up, PointerKind::mouse, 1, 51, 60}));
  EXPECT_EQ(screen.said(), "mmpmr");
  screen.tell({Event::cancel, PointerKind::mouse, 1});
  EXPECT_EQ(screen.said(), "l");
}

TEST(Fingers, AMouseThatDragsDoesNotTap) {
  Screen screen;
  screen.tell({Event::down, PointerKind::mouse, 1, 50, 60});
  screen.tell({Event::move, PointerKind::mouse, 1, 80, 60});
  EXPECT_FALSE(screen.tell({Event::up, PointerKind::mouse, 1, 50, 60}));
}

// The same through the widgets, as the shell feeds them.
struct Page {
  int presses = 0;
  void operator()(Ui& ui) {
    ui.begin_content("page");
    for (int i = 0; i < 30; ++i) {
      if (ui.button("b" + std::to_string(i), "Button")) ++presses;
    }
    ui.end_content();
  }
};

struct Phone {
  Bench bench;
  Page page;
  Fingers fingers;
  double time_s = 10;
  void tell(Event event, int id, float x, float y, float size = 30) {
    fingers.step({event, PointerKind::finger, id, x, y, size, time_s});
    ImGuiIO& io = ImGui::GetIO();
    for (const PointerStep& step : fingers.take_steps()) {
      io.AddMouseSourceEvent(ImGuiMouseSource_TouchScreen);
      if (step.act == PointerStep::Act::move) io.AddMousePosEvent(step.x, step.y);
      if (step.act == PointerStep::Act::leave) io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
      if (step.act == PointerStep::Act::press) io.AddMouseButtonEvent(0, true);
      if (step.act == PointerStep::Act::release) io.AddMouseButtonEvent(0, false);
    }
  }
  void frames(int count) {
    for (int i = 0; i < count; ++i) bench.frame(page);
  }
  ImVec2 middle(std::string_view id) {
    const Rect rect = bench.ui().model().find(id)->rect;
    return {rect.x + rect.w / 2, rect.y + rect.h / 2};
  }
};

TEST(FingersOnWidgets, ADropDoesNotMakeTheAppDeaf) {
  Phone phone;
  phone.frames(2);
  const ImVec2 drop = phone.middle("b8");
  const ImVec2 at = phone.middle("b2");
  phone.tell(Event::down, 1, drop.x, drop.y);
  phone.frames(5);
  phone.time_s += 1;
  phone.tell(Event::down, 2, at.x, at.y);
  phone.tell(Event::up, 2, at.x, at.y);
  phone.frames(10);
  EXPECT_EQ(phone.page.presses, 1);
  phone.tell(Event::up, 1, drop.x, drop.y);
  phone.frames(5);
  EXPECT_EQ(phone.page.presses, 1);
}

TEST(FingersOnWidgets, SeveralTapsWithinOneFrameAllCount) {
  Phone phone;
  phone.frames(2);
  const ImVec2 at = phone.middle("b2");
  for (int id = 1; id <= 3; ++id) {
    phone.tell(Event::down, id, at.x, at.y);
    phone.tell(Event::up, id, at.x, at.y);
  }
  phone.frames(30);
  EXPECT_EQ(phone.page.presses, 3);
}

TEST(FingersOnWidgets, APinchPressesNothingAndThrowsNothing) {
  Phone phone;
  phone.frames(2);
  const ImVec2 at = phone.middle("b4");
  phone.tell(Event::down, 1, at.x, at.y);
  phone.frames(2);
  for (int i = 1; i <= 6; ++i) {
    phone.tell(Event::move, 1, at.x, at.y - 15.0f * static_cast<float>(i));
    phone.frames(1);
  }
  phone.tell(Event::down, 2, at.x + 100, at.y);
  phone.tell(Event::move, 2, at.x + 140, at.y);
  phone.frames(4);
  const float y = phone.middle("b4").y;
  phone.tell(Event::up, 1, at.x, at.y);
  phone.tell(Event::up, 2, at.x + 140, at.y);
  phone.frames(30);
  EXPECT_EQ(phone.page.presses, 0);
  EXPECT_EQ(phone.middle("b4").y, y) << "the page stands still";
}

TEST(Fingers, AFingerThatLiftsWhileItDragsTellsItsSpeed) {
  Screen screen;
  screen.down(1, 50, 500);
  for (int i = 1; i <= 10; ++i) {
    screen.time_s += 0.01;
    screen.move(1, 50, 500 - 8.0f * static_cast<float>(i));
  }
  screen.time_s += 0.01;
  screen.up(1, 50, 420);
  const std::optional<float> thrown = screen.fingers.take_throw();
  ASSERT_TRUE(thrown);
  EXPECT_NEAR(*thrown, 800, 1);
  EXPECT_FALSE(screen.fingers.take_throw()) << "told once";
}

TEST(Fingers, AFlickWhoseMovesComeAsOneTellsItsSpeed) {
  Screen screen;
  screen.down(1, 50, 500);
  screen.time_s += 0.08;
  screen.move(1, 50, 420);
  screen.time_s += 0.004;
  screen.up(1, 50, 420);
  const std::optional<float> thrown = screen.fingers.take_throw();
  ASSERT_TRUE(thrown);
  EXPECT_NEAR(*thrown, 1000, 1);
}

TEST(Fingers, AFingerThatRestsBeforeItLiftsThrowsNothing) {
  Screen screen;
  screen.down(1, 50, 500);
  screen.move(1, 50, 400);
  screen.time_s += 0.02;
  screen.move(1, 50, 300);
  screen.time_s += 0.2;
  screen.up(1, 50, 300);
  EXPECT_EQ(screen.fingers.take_throw(), 0);
}

TEST(FingersOnWidgets, APressThatWasTakenAwayIsNotStuck) {
  Phone phone;
  phone.frames(2);
  const ImVec2 at = phone.middle("b2");
  phone.tell(Event::down, 1, at.x, at.y);
  phone.frames(3);
  phone.tell(Event::cancel, 1, at.x, at.y);
  phone.frames(4);
  EXPECT_FALSE(ImGui::GetIO().MouseDown[0]);
  EXPECT_EQ(phone.page.presses, 0);
}

TEST(FingersOnWidgets, ALongRestIsStillAPressAndNothingElse) {
  Phone phone;
  phone.frames(2);
  const ImVec2 at = phone.middle("b2");
  phone.tell(Event::down, 1, at.x, at.y);
  phone.frames(120);
  EXPECT_EQ(phone.page.presses, 0);
  phone.tell(Event::up, 1, at.x, at.y);
  phone.frames(4);
  EXPECT_EQ(phone.page.presses, 1);
}

}  // namespace
}  // namespace tawny::ui
