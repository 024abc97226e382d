// What every fuzzer here shares: an expectation that ends the run, and chance from a seed.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>
#include <string_view>
#include <vector>

namespace tawny::fuzz {

// Ends the run where it does not hold; libFuzzer then keeps the input.
inline void expect(bool holds, std::string_view what) {
  if (holds) return;
  std::fprintf(stderr, "does not hold: %.*s\n", static_cast<int>(what.size()), what.data());
  std::abort();
}

// The same seed gives the same throws.
class Dice {
 public:
  explicit Dice(unsigned seed) : source_(seed) {}
  std::size_t below(std::size_t limit) { return limit == 0 ? 0 : source_() % limit; }
  bool one_in(std::size_t sides) { return below(sides) == 0; }
  template <typename List>
  const auto& of(const List& list) {
    return list[below(std::size(list))];
  }

 private:
  std::mt19937 source_;
};

// Takes an input apart from its beginning; where nothing is left, everything is 0.
class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : rest_(reinterpret_cast<const char*>(data), size) {}
  bool empty() const { return rest_.empty(); }
  unsigned byte() {
    if (rest_.empty()) return 0;
    const auto first = static_cast<std::uint8_t>(rest_.front());
    rest_.remove_prefix(1);
    return first;
  }
  // Up to the next line feed, which goes too.
  std::string_view line() {
    const std::size_t end = rest_.find('\n');
    const std::string_view line = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return line;
  }
  std::string_view rest() const { return rest_; }

 private:
  std::string_view rest_;
};

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

}  // namespace tawny::fuzz
