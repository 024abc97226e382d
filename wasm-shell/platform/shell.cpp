#include "platform/shell.h"

#include <GLES3/gl3.h>
#include <emscripten.h>
#include <emscripten/html5.h>

#include <algorithm>
#include <cfloat>

#include "imgui.h"
#include "imgui_impl_opengl3.h"
#include "imgui_impl_sdl2.h"
#include "platform/bridge.h"
#include "ui/theme.h"

namespace tawny::shell {

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
  if (!ImGui_ImplOpenGL3_Init("#version 300 es")) return false;

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

void Shell::cancel_touch() {
  touch_cancelled_ = true;
  wake();
}

void Shell::context_lost() { has_context_ = false; }

void Shell::context_restored() {
  ImGui_ImplOpenGL3_DestroyDeviceObjects();  // the next frame makes them again in the new context
  has_context_ = true;
  wake();
}

void Shell::handle(const SDL_Event& event) {
  ImGuiIO& io = ImGui::GetIO();
  if (event.type == SDL_MOUSEBUTTONDOWN && event.button.which == SDL_TOUCH_MOUSEID) {
    // SDL tells of no motion when a finger comes down where the last one was; the pointer has left since.
    io.AddMouseSourceEvent(ImGuiMouseSource_TouchScreen);
    io.AddMousePosEvent(static_cast<float>(event.button.x), static_cast<float>(event.button.y));
  }
  const bool touch_release = event.type == SDL_MOUSEBUTTONUP && event.button.which == SDL_TOUCH_MOUSEID;
  // SDL tells of a cancelled touch as of a lifted finger. Moved away first, the pointer lets go over nothing.
  if (touch_release && touch_cancelled_) io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
  ImGui_ImplSDL2_ProcessEvent(&event);
  if (touch_release) {
    // A finger that is up points at nothing; a mouse would stay where it is and keep hovering.
    io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
    touch_cancelled_ = false;
  }
}

void Shell::frame() {
  SDL_Event event;
  while (SDL_PollEvent(&event) != 0) handle(event);
  if (budget_ <= 0) {
    running_ = false;
    emscripten_pause_main_loop();
    plan_next_wake();
    return;
  }
  --budget_;
  if (has_context_) draw();
}

void Shell::draw() {
  if (fonts_.bake(static_cast<float>(emscripten_get_device_pixel_ratio()))) {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
  }
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplSDL2_NewFrame();
  ImGui::NewFrame();
  const ImGuiIO& io = ImGui::GetIO();
  app_.frame(io.DisplaySize.x, io.DisplaySize.y, insets_, fonts_.fonts());
  ImGui::Render();

  const ui::Theme theme = app_.night() ? ui::night_theme() : ui::day_theme();
  const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(theme.ground);
  int width = 0, height = 0;
  SDL_GL_GetDrawableSize(window_, &width, &height);
  glViewport(0, 0, width, height);
  glClearColor(ground.x, ground.y, ground.z, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  SDL_GL_SwapWindow(window_);

  show_night(app_.night());
  budget_ = std::max(budget_, app_.frames_wanted());
}

void Shell::plan_next_wake() {
  if (const std::optional<Instant> at = app_.wake_at()) {
    wake_page_after_ms(static_cast<double>(at->unix_s) * 1000.0 - emscripten_date_now());
  }
}

}  // namespace tawny::shell
