// Held to the library's own stable sort.
#include "base/sort_stably.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace tawny {
namespace {

RC_GTEST_PROP(SortStably, GivesWhatTheLibraryGives, ()) {
  // Few different keys, so that many are equal; the second tells equals apart.
  const auto keys = *rc::gen::container<std::vector<int>>(rc::gen::inRange(0, 7));
  std::vector<std::pair<int, std::string>> items;
  for (std::size_t i = 0; i < keys.size(); ++i) items.emplace_back(keys[i], "item " + std::to_string(i));
  auto expected = items;
  const auto less = [](const auto& a, const auto& b) { return a.first < b.first; };
  std::stable_sort(expected.begin(), expected.end(), less);
  sort_stably(items, less);
  RC_ASSERT(items == expected);
}

TEST(SortStably, MovesWhatCannotBeCopied) {
  std::vector<std::unique_ptr<int>> items;
  for (const int value : {3, 1, 2}) items.push_back(std::make_unique<int>(value));
  sort_stably(items, [](const auto& a, const auto& b) { return *a < *b; });
  EXPECT_EQ(*items[0], 1);
  EXPECT_EQ(*items[2], 3);
}

}  // namespace
}  // namespace tawny
