// Stands in for parts of the libraries that the app never uses, so that no phone has to download them.
//
// The linker takes the first definition that it meets, and these come before the libraries': a whole file of
// theirs stays out. Where a library keeps the part in one file with others, the linker is told to wrap it
// (wasm-shell/CMakeLists.txt).
#include <imgui.h>

#include <cstdarg>
#include <cstddef>
#include <cstdint>

extern "C" {

// Gamepads. Dear ImGui's backend asks for the first one before every frame; SDL answers with a table of models.
struct SDL_GameController;
SDL_GameController* SDL_GameControllerOpen(int) { return nullptr; }
unsigned char SDL_GameControllerGetButton(SDL_GameController*, int) { return 0; }
short SDL_GameControllerGetAxis(SDL_GameController*, int) { return 0; }

// Pictures that SDL draws itself: a window without WebGL, a mouse pointer of one's own. Both need its
// converters and copiers of pixels.
struct SDL_Window;
struct SDL_Surface;
struct SDL_PixelFormat;
struct SDL_Rect;
int Emscripten_CreateWindowFramebuffer(void*, SDL_Window*, std::uint32_t*, void**, int*) { return -1; }
int Emscripten_UpdateWindowFramebuffer(void*, SDL_Window*, const SDL_Rect*, int) { return -1; }
void Emscripten_DestroyWindowFramebuffer(void*, SDL_Window*) {}
SDL_Surface* __wrap_SDL_ConvertSurface(SDL_Surface*, const SDL_PixelFormat*, std::uint32_t) { return nullptr; }

// OpenGL functions by name. The painter links to those that it calls; the table of names keeps all of WebGL 2 in
// the program and in its script.
void* eglGetProcAddress(const char*) { return nullptr; }

// Numbers with decimals in printf. What people read is written by core (base/decimal.h); the libraries format
// whole numbers and text only.
int vsniprintf(char* out, std::size_t size, const char* format, std::va_list arguments);
int __wrap_vsnprintf(char* out, std::size_t size, const char* format, std::va_list arguments) {
  return vsniprintf(out, size, format, arguments);
}

// Numbers read out of text: Dear ImGui would read a settings file, which the app switches off, SDL the speed of a
// mouse.
int sscanf(const char*, const char*, ...) { return 0; }
double atof(const char*) { return 1; }

// Dear ImGui's own font: the app always brings its own two.
ImFont* __wrap__ZN11ImFontAtlas14AddFontDefaultEPK12ImFontConfig(ImFontAtlas*, const ImFontConfig*) {
  return nullptr;
}

}  // extern "C"
