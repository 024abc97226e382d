// What people typed, as it may be shown: nothing in it hides, turns what stands around it, or steers a terminal.
//
// Characters that a reader would not see or that would turn the text around them (control characters, marks of
// direction, blanks without width, noncharacters: Unicode 15, general categories Cc, Cf, Zl, Zp) stand as their
// number, "[U+202E]". The logbook keeps the bytes as they were typed. The joiners U+200C and U+200D are letters'
// own business and stay, and so do line feed and tab.
#pragma once

#include <string>
#include <string_view>

namespace tawny {

// A byte that is no UTF-8 becomes U+FFFD; a carriage return becomes a line feed.
std::string visible(std::string_view text);
// JSON text with those characters escaped as JSON does ("\u202E"): it says the same.
std::string visible_json(std::string_view json);
// As visible(), on one line: for names in a row of other words, and for a shell.
std::string visible_line(std::string_view text);

}  // namespace tawny
