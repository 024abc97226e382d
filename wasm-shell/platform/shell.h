// The window under the screens: SDL2, OpenGL ES, Dear ImGui, and the pacing of frames.
//
// A phone in a pocket must not draw: a frame is drawn only after wake(), which every event, every answer of the
// page and the one timer call. The loop then runs for a few frames (Dear ImGui needs up to four to settle after
// a touch) and pauses itself.
#pragma once

#include <SDL.h>

#include "platform/fonts.h"
#include "platform/painter.h"
#include "ui/app.h"
#include "ui/fingers.h"

namespace tawny::shell {

class Shell {
 public:
  // The platform must outlive the shell. Opens the window; false when the browser gives no drawing context.
  explicit Shell(ui::Platform& platform) : app_(platform) {}
  bool open();

  ui::App& app() { return app_; }
  Fonts& fonts() { return fonts_; }

  // The first frame is drawn only from here on: the page has by then answered for everything a frame may ask of
  // it.
  void start_drawing();
  void wake(int frames = kFramesPerEvent);
  // The page came back or was sized, maybe to the size that it had: a browser may have emptied the canvas, so the screen
  // is drawn in any case.
  void show_again();
  // Bakes the letters that were told of, if there are new ones or they are to have another size. Before each picture; and
  // at a start, while the store is being read, when there is time for it. Not inside a frame.
  void bake_fonts();
  void set_insets(const ui::Insets& insets) { insets_ = insets; }
  // A contact on the canvas; true when it ended a tap.
  bool touch(const ui::Contact& contact);
  // Notches, up positive; `zooms`: with ctrl held, or two fingers on a trackpad.
  void wheel(float x, float y, float notches, bool zooms);
  // The page was hidden or lost its events: whatever is down lifts and presses nothing.
  void let_all_go();
  // The browser took the drawing context away, or gave it back empty.
  void context_lost();
  void context_restored();

  static constexpr int kFramesPerEvent = 4;

 private:
  static int on_event_pushed(void* shell, SDL_Event* event);
  static void on_frame(void* shell);
  void frame();
  void feed_pointer();
  void draw();
  void plan_next_wake();

  ui::App app_;
  Fonts fonts_;
  Painter painter_;
  ui::Fingers fingers_;
  SDL_Window* window_ = nullptr;
  SDL_GLContext context_ = nullptr;
  ui::Insets insets_;
  int budget_ = kFramesPerEvent;
  bool drawing_ = false;
  bool running_ = false;
  bool has_context_ = true;
};

}  // namespace tawny::shell
