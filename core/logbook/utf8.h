// Text that comes from outside: is it UTF-8, and how to show a piece of it when it is not.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace tawny {

// Well-formed UTF-8 as RFC 3629 has it: no overlong form, no surrogate, nothing above U+10FFFF.
bool is_utf8(std::string_view bytes);

// The first characters of `bytes`, at most `limit_bytes` of them, fit to be shown: a control character or a
// byte that is not UTF-8 becomes U+FFFD, and "…" stands for what was left out.
std::string excerpt_of(std::string_view bytes, std::size_t limit_bytes);

}  // namespace tawny
