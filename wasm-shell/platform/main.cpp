// The app in a browser: opens the shell and waits for the page (web/src/main.js), which calls tawny_start.
#include <memory>

#include "platform/bridge.h"
#include "platform/shell.h"

int main() {
  // main returns while the page lives on, so these are never destroyed.
  auto platform = std::make_unique<tawny::shell::BrowserPlatform>();
  auto shell = std::make_unique<tawny::shell::Shell>(*platform);
  if (!shell->open()) return 1;
  tawny::shell::connect(shell.release());
  platform.release();
  return 0;
}
