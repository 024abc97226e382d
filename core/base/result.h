// Result<T>: a value, or the Problem that stood in the way. Exceptions do not exist here (a throw aborts in
// the wasm build), and no function answers with a sentinel number.
#pragma once

#include <tl/expected.hpp>

namespace tawny {

struct Problem;

template <typename T>
using Result = tl::expected<T, Problem>;

}  // namespace tawny
