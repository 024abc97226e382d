// A window with a word in it, drawn on every frame: what Dear ImGui and SDL2 cost before there is an app.
#include <SDL.h>
#include <emscripten.h>

#include "imgui.h"
#include "imgui_impl_opengl3.h"
#include "imgui_impl_sdl2.h"

namespace {

SDL_Window* window = nullptr;

void frame() {
  SDL_Event event;
  while (SDL_PollEvent(&event) != 0) ImGui_ImplSDL2_ProcessEvent(&event);
  ImGui_ImplOpenGL3_NewFrame();
  ImGui_ImplSDL2_NewFrame();
  ImGui::NewFrame();
  ImGui::Begin("bare");
  ImGui::TextUnformatted("bare");
  ImGui::End();
  ImGui::Render();
  ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
  SDL_GL_SwapWindow(window);
  EM_ASM({ document.title = "drawn"; });
}

}  // namespace

int main(int, char**) {
  SDL_Init(SDL_INIT_VIDEO);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_ES);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
  window = SDL_CreateWindow("bare", 0, 0, 390, 844, SDL_WINDOW_OPENGL);
  SDL_GLContext context = SDL_GL_CreateContext(window);
  ImGui::CreateContext();
  ImGui_ImplSDL2_InitForOpenGL(window, context);
  ImGui_ImplOpenGL3_Init("#version 300 es");
  emscripten_set_main_loop(&frame, 0, 0);
  return 0;
}
