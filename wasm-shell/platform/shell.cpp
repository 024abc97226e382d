#include "platform/shell.h"

#include <emscripten.h>
#include <emscripten/html5.h>

#include <algorithm>
#include <cfloat>
#include <cmath>

#include "imgui.h"
#include "imgui_impl_sdl2.h"
#include "imgui_internal.h"
#include "platform/bridge.h"
#include "ui/theme.h"

namespace tawny::shell {
namespace {

// A trackpad's pinch comes in small steps, of which e is the natural base; a notch of a wheel is not to leap.
// Common practice, no source.
constexpr float kMostZoomPerEvent = 0.25f;

ImGuiMouseSource source_of(ui::PointerKind kind) {
  switch (kind) {
    case ui::PointerKind::finger:
      return ImGuiMouseSource_TouchScreen;
    case ui::PointerKind::pen:
      return ImGuiMouseSource_Pen;
    case ui::PointerKind::mouse:
      break;
  }
  return ImGuiMouseSource_Mouse;
}

// Fingers, pens and mice come from the page as they are (web/src/touch.js): SDL knows the first finger only.
void take_pointer_from_sdl() {
  constexpr const char* kCanvas = "#canvas";
  emscripten_set_mousemove_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_mousedown_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_mouseup_callback(EMSCRIPTEN_EVENT_TARGET_DOCUMENT, nullptr, 0, nullptr);
  emscripten_set_mouseenter_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_mouseleave_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_wheel_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_touchstart_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_touchend_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_touchmove_callback(kCanvas, nullptr, 0, nullptr);
  emscripten_set_touchcancel_callback(kCanvas, nullptr, 0, nullptr);
}

}  // namespace

bool Shell::open() {
  // Keys belong to the page: the entry bar and the mirror are real elements. The canvas itself is never
  // focused.
  SDL_SetHint(SDL_HINT_EMSCRIPTEN_KEYBOARD_ELEMENT, "#canvas");
  if (SDL_Init(SDL_INIT_VIDEO) != 0) return false;
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_ES);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 0);
  SDL_GL_SetAttribute(SDL_GL_ALPHA_SIZE, 0);
  SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);
  window_ = SDL_CreateWindow("Tawny", 0, 0, 390, 844,
                             SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
  if (window_ == nullptr) return false;
  take_pointer_from_sdl();
  context_ = SDL_GL_CreateContext(window_);
  if (context_ == nullptr) return false;

  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.ConfigFlags |= ImGuiConfigFlags_NoMouseCursorChange;
  io.ConfigInputTextCursorBlink = false;
  io.ConfigWindowsMoveFromTitleBarOnly = true;
  if (!ImGui_ImplSDL2_InitForOpenGL(window_, context_)) return false;
  if (!painter_.open()) return false;

  SDL_AddEventWatch(&Shell::on_event_pushed, this);
  return true;
}

void Shell::start_drawing() {
  if (drawing_) {
    wake();
    return;
  }
  drawing_ = true;
  running_ = true;
  emscripten_set_main_loop_arg(&Shell::on_frame, this, 0, false);
}

int Shell::on_event_pushed(void* shell, SDL_Event* event) {
  // SDL pushes this marker on every poll: waking for it would never let the loop sleep.
  if (event->type != SDL_POLLSENTINEL) static_cast<Shell*>(shell)->wake();
  return 0;
}

void Shell::on_frame(void* shell) { static_cast<Shell*>(shell)->frame(); }

void Shell::wake(int frames) {
  budget_ = std::max(budget_, frames);
  if (running_ || !drawing_) return;
  running_ = true;
  emscripten_resume_main_loop();
}

void Shell::show_again() {
  painter_.forget();
  wake();
}

bool Shell::touch(const ui::Contact& contact) {
  ui::Contact told = contact;
  told.stops_glide = app_.ui().gliding();
  const bool tapped = fingers_.step(told);
  feed_pointer();
  return tapped;
}

void Shell::let_all_go() {
  fingers_.let_all_go();
  feed_pointer();
}

void Shell::feed_pointer() {
  ImGuiIO& io = ImGui::GetIO();
  for (const ui::PointerStep& step : fingers_.take_steps()) {
    io.AddMouseSourceEvent(source_of(step.kind));
    switch (step.act) {
      case ui::PointerStep::Act::move:
        io.AddMousePosEvent(step.x, step.y);
        break;
      case ui::PointerStep::Act::press:
      case ui::PointerStep::Act::release:
        io.AddMouseButtonEvent(0, step.act == ui::PointerStep::Act::press);
        break;
      case ui::PointerStep::Act::leave:
        io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
        break;
    }
  }
  if (const std::optional<ui::Pinch> pinch = fingers_.take_pinch()) app_.ui().pinch(*pinch);
  if (const std::optional<float> px_s = fingers_.take_throw()) app_.ui().thrown(*px_s);
  wake();
}

void Shell::wheel(float x, float y, float notches, bool zooms) {
  if (zooms) {
    const float zoom = std::exp(std::clamp(notches, -kMostZoomPerEvent, kMostZoomPerEvent));
    app_.ui().pinch({x, y, x, 0, zoom});
  } else {
    ImGuiIO& io = ImGui::GetIO();
    io.AddMouseSourceEvent(ImGuiMouseSource_Mouse);
    io.AddMousePosEvent(x, y);
    io.AddMouseWheelEvent(0, notches);
  }
  wake();
}

void Shell::context_lost() { has_context_ = false; }

void Shell::context_restored() {
  has_context_ = painter_.restore();
  wake();
}

void Shell::frame() {
  SDL_Event event;
  while (SDL_PollEvent(&event) != 0) ImGui_ImplSDL2_ProcessEvent(&event);
  if (budget_ <= 0) {
    running_ = false;
    emscripten_pause_main_loop();
    plan_next_wake();
    return;
  }
  --budget_;
  if (has_context_) draw();
}

void Shell::bake_fonts() {
  if (fonts_.bake(static_cast<float>(emscripten_get_device_pixel_ratio()), app_.text_scale())) {
    painter_.take_fonts();
  }
}

void Shell::draw() {
  bake_fonts();
  ImGui_ImplSDL2_NewFrame();
  ImGui::NewFrame();
  const ImGuiIO& io = ImGui::GetIO();
  app_.frame(io.DisplaySize.x, io.DisplaySize.y, insets_, fonts_.fonts());
  ImGui::Render();

  const ui::Theme theme = app_.night() ? ui::night_theme() : ui::day_theme();
  int width_px = 0, height_px = 0;
  SDL_GL_GetDrawableSize(window_, &width_px, &height_px);
  painter_.paint(*ImGui::GetDrawData(), theme.ground, width_px, height_px);

  show_night(app_.night());
  budget_ = std::max(budget_, app_.frames_wanted());
  // Dear ImGui takes one step of a pointer a frame.
  if (ImGui::GetCurrentContext()->InputEventsQueue.Size > 0) budget_ = std::max(budget_, kFramesPerEvent);
}

void Shell::plan_next_wake() {
  std::optional<double> in_ms;
  if (const std::optional<Instant> at = app_.wake_at()) {
    in_ms = static_cast<double>(at->unix_s) * 1000.0 - emscripten_date_now();
  }
  if (const std::optional<double> in_s = app_.ui().wake_in_s()) {
    in_ms = std::min(in_ms.value_or(*in_s * 1000.0), *in_s * 1000.0);
  }
  if (in_ms) wake_page_after_ms(*in_ms);
}

}  // namespace tawny::shell
