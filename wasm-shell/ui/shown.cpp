#include "ui/shown.h"

#include "base/visible.h"

namespace tawny::ui {

std::string shown(std::string_view text) {
  if (text.size() <= kMostShownBytes) return visible(text);
  return visible(text.substr(0, start_of_letter(text, kMostShownBytes))) + "\u2026";
}

std::size_t start_of_letter(std::string_view text, std::size_t at) {
  while (at > 0 && at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0u) == 0x80u) --at;
  return at;
}

}  // namespace tawny::ui
