#include "base/sort_stably.h"

#include <algorithm>
#include <cstddef>

namespace tawny {

std::vector<std::uint32_t> order_of(std::uint32_t count,
                                    bool (*before)(const void* about, std::uint32_t a, std::uint32_t b),
                                    const void* about) {
  std::vector<std::uint32_t> order(count), merged(count);
  for (std::uint32_t i = 0; i < count; ++i) order[i] = i;
  // Sorted runs of 1, 2, 4 ... are merged two by two (bottom-up merge sort).
  for (std::size_t run = 1; run < count; run *= 2) {
    for (std::size_t first = 0; first < count; first += 2 * run) {
      const std::size_t middle = std::min<std::size_t>(first + run, count);
      const std::size_t last = std::min<std::size_t>(first + 2 * run, count);
      std::size_t left = first, right = middle;
      for (std::size_t at = first; at < last; ++at) {
        const bool takes_right = left == middle || (right < last && before(about, order[right], order[left]));
        merged[at] = order[takes_right ? right++ : left++];
      }
    }
    order.swap(merged);
  }
  return order;
}

}  // namespace tawny
