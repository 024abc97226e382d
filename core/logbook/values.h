// The values of an entry: pairs by key, in order of the keys, so that the same values give the same bytes.
//
// In a row, not in a tree: a logbook of a hundred thousand entries holds as many of these, of a few pairs each, and the
// nodes of trees would take more memory than all texts and numbers in them.
#pragma once

#include <algorithm>
#include <cstddef>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace tawny {

// What "values" may hold. Anything else in a line (null, nested objects) is kept in the raw line only.
using Value = std::variant<double, bool, std::string, std::vector<double>, std::vector<std::string>>;

class Values {
 public:
  using value_type = std::pair<std::string, Value>;
  using iterator = std::vector<value_type>::iterator;
  using const_iterator = std::vector<value_type>::const_iterator;

  Values() = default;
  // Of two of one key the first counts.
  Values(std::initializer_list<value_type> pairs) {
    for (const value_type& pair : pairs) emplace(pair.first, pair.second);
  }

  iterator begin() { return pairs_.begin(); }
  iterator end() { return pairs_.end(); }
  const_iterator begin() const { return pairs_.begin(); }
  const_iterator end() const { return pairs_.end(); }
  bool empty() const { return pairs_.empty(); }
  std::size_t size() const { return pairs_.size(); }

  const_iterator find(std::string_view key) const {
    // Most keys that are asked for differ in length from the few that there are.
    if (pairs_.size() <= kFew) {
      return std::find_if(begin(), end(), [key](const value_type& pair) { return pair.first == key; });
    }
    const const_iterator at = place_of(key);
    return at != end() && at->first == key ? at : end();
  }
  iterator find(std::string_view key) { return begin() + (std::as_const(*this).find(key) - pairs_.cbegin()); }
  std::size_t count(std::string_view key) const { return find(key) == end() ? 0 : 1; }

  // Where the key is there already, its value stays as it is, and false comes back with it.
  std::pair<iterator, bool> emplace(std::string key, Value value) {
    const auto at = begin() + (place_of(key) - pairs_.cbegin());
    if (at != end() && at->first == key) return {at, false};
    return {pairs_.emplace(at, std::move(key), std::move(value)), true};
  }
  // A new one is the number 0.
  Value& operator[](std::string_view key) { return emplace(std::string(key), Value()).first->second; }
  void insert_or_assign(std::string_view key, Value value) { (*this)[key] = std::move(value); }
  iterator erase(const_iterator at) { return pairs_.erase(at); }
  std::size_t erase(std::string_view key) {
    const const_iterator at = find(key);
    if (at == end()) return 0;
    erase(at);
    return 1;
  }
  // Room that was held for more is given back.
  void shrink_to_fit() { pairs_.shrink_to_fit(); }

  bool operator==(const Values&) const = default;

 private:
  static constexpr std::size_t kFew = 16;

  const_iterator place_of(std::string_view key) const {
    if (pairs_.empty() || pairs_.back().first < key) return end();
    return std::lower_bound(begin(), end(), key, [](const value_type& pair, std::string_view before) {
      return pair.first < before;
    });
  }

  std::vector<value_type> pairs_;
};

}  // namespace tawny
