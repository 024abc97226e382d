// Whether this program runs under sanitizers. The tests are compiled once and linked twice (tests/CMakeLists.txt), so only
// the running program knows.
#pragma once

extern "C" __attribute__((weak)) void __asan_init();

namespace tawny::testing_watched {

inline bool is_watched() { return &__asan_init != nullptr; }

}  // namespace tawny::testing_watched
