// Lock and wipe between program and page: what bridge.cpp is for everything else.
#include <emscripten.h>

#include <string_view>

#include "platform/bridge.h"
#include "platform/shell.h"

// clang-format off
EM_JS(void, host_derive_pin, (int ticket, const char* pin, int pin_length, const char* salt, int length, int iterations), {
  globalThis.tawnyHost.derivePin(ticket, UTF8ToString(pin, pin_length), UTF8ToString(salt, length), iterations);
});
EM_JS(void, host_show_locked, (int locked), { globalThis.tawnyHost.showLocked(locked !== 0); });
EM_JS(void, host_wipe, (), { globalThis.tawnyHost.wipe(); });
// clang-format on

namespace tawny::shell {

void BrowserPlatform::derive_pin(int ticket, std::string_view pin, std::string_view salt, int iterations) {
  host_derive_pin(ticket, pin.data(), static_cast<int>(pin.size()), salt.data(), static_cast<int>(salt.size()),
                  iterations);
}

void BrowserPlatform::show_locked(bool locked) { host_show_locked(locked ? 1 : 0); }

void BrowserPlatform::wipe() { host_wipe(); }

}  // namespace tawny::shell

extern "C" {

// The answer to derivePin, in hex; empty when the browser could not.
EMSCRIPTEN_KEEPALIVE void tawny_derived(int ticket, const char* hash, std::size_t length) {
  tawny::shell::Shell* shell = tawny::shell::connected_shell();
  if (shell == nullptr) return;
  shell->app().lock().on_derived(ticket, {hash, length});
  shell->wake();
}

// 1 when the page is on the screen, 0 when it went into the background.
EMSCRIPTEN_KEEPALIVE void tawny_seen(int seen) {
  tawny::shell::Shell* shell = tawny::shell::connected_shell();
  if (shell == nullptr) return;
  shell->app().on_seen(seen != 0);
  shell->wake();
}

// A file that was handed out went its way: `name` as it was given.
EMSCRIPTEN_KEEPALIVE void tawny_shared(const char* name, std::size_t length) {
  tawny::shell::Shell* shell = tawny::shell::connected_shell();
  if (shell == nullptr) return;
  shell->app().on_shared({name, length});
  shell->wake();
}

}  // extern "C"
