// How much of a text is shown, and how: what others typed may be long, and may hide or turn what stands around it.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace tawny::ui {

// No text is drawn or told of beyond this: a note is shorter by far, and a longer one would hold up every frame.
inline constexpr std::size_t kMostShownBytes = 4096;
// `at`, or where the letter begins that it stands in.
std::size_t start_of_letter(std::string_view text, std::size_t at);
// As the page is told: visible (base/visible.h), and with "…" for what is too much.
std::string shown(std::string_view text);

}  // namespace tawny::ui
