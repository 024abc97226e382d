// A stable sort for lists of a screen's length. The library's is compiled anew for every type and order, some five
// kilobytes each in a program that phones download; of this one only the comparison and the moving are.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

namespace tawny {

// Puts 0, 1, 2 ... count-1 into the order in which `before` has them; equals stay as they were. `before` is a strict weak
// order of places; `about` is handed to it. n log n comparisons.
std::vector<std::uint32_t> order_of(std::uint32_t count,
                                    bool (*before)(const void* about, std::uint32_t a, std::uint32_t b),
                                    const void* about);

// The same as std::stable_sort over all of `items`.
template <typename T, typename Less>
void sort_stably(std::vector<T>& items, const Less& less) {
  struct About {
    const T* items;
    const Less& less;
  };
  const About about{items.data(), less};
  const std::vector<std::uint32_t> order = order_of(
      static_cast<std::uint32_t>(items.size()),
      [](const void* given, std::uint32_t a, std::uint32_t b) {
        const auto& [of, is_less] = *static_cast<const About*>(given);
        return static_cast<bool>(is_less(of[a], of[b]));
      },
      &about);
  std::vector<T> sorted;
  sorted.reserve(items.size());
  for (const std::uint32_t from : order) sorted.push_back(std::move(items[from]));
  items = std::move(sorted);
}

}  // namespace tawny
