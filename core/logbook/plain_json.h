// JSON as tawny itself writes its lines: no white space, no escape, no exponent. Quicker than a reader of all JSON, which
// goes through texts letter by letter, and what it hands out are pieces of the text itself.
//
// It never decides that a text is wrong: what it does not know it leaves to a reader of all JSON, and what it does
// read, that one reads alike.
#pragma once

#include <rapidjson/rapidjson.h>

#include <cstdint>
#include <cstring>
#include <string_view>

namespace tawny {

// What a text holds that a plain one does not, or not always.
struct Glance {
  bool beyond_ascii = false;
  bool control = false;  // a byte below 0x20
  bool backslash = false;
};

// Eight bytes at a time.
inline Glance glance_at(std::string_view text) {
  constexpr std::uint64_t kOnes = 0x0101010101010101u;
  constexpr std::uint64_t kHigh = 0x8080808080808080u;
  // The highest bit of the bytes of x that are smaller than n; of others too, but only above a byte that is.
  const auto below = [](std::uint64_t x, std::uint64_t n) { return (x - kOnes * n) & ~x & kHigh; };
  std::uint64_t high = 0;
  std::uint64_t control = 0;
  std::uint64_t backslash = 0;
  const auto look = [&](std::uint64_t eight) {
    high |= eight & kHigh;
    control |= below(eight, 0x20);
    backslash |= below(eight ^ kOnes * '\\', 1);
  };
  std::uint64_t eight = 0;
  for (; text.size() >= sizeof eight; text.remove_prefix(sizeof eight)) {
    std::memcpy(&eight, text.data(), sizeof eight);
    look(eight);
  }
  eight = kOnes * ' ';
  if (!text.empty()) std::memcpy(&eight, text.data(), text.size());
  look(eight);
  return {high != 0, control != 0, backslash != 0};
}

enum class PlainRead {
  done,
  stopped,    // the handler said false
  not_plain,  // and the handler has heard of it in part: begin anew, with another
};

// Tells a handler of an object what RapidJSON's reader would (Key, String, RawNumber, ...).
template <typename Handler>
class PlainReader {
 public:
  // `text`: an object without its closing brace; UTF-8 without control characters and backslashes.
  PlainReader(std::string_view text, Handler& handler) : rest_(text), handler_(handler) {}

  PlainRead read() { return take('{') ? object(1) : PlainRead::not_plain; }

 private:
  static constexpr int kMostDepth = 8;  // recursion cannot exhaust the stack

  bool take(char c) {
    if (rest_.empty() || rest_.front() != c) return false;
    rest_.remove_prefix(1);
    return true;
  }
  static PlainRead heard(bool goes_on) { return goes_on ? PlainRead::done : PlainRead::stopped; }

  // Up to the closing quotation mark, which is taken too.
  bool text(std::string_view& out) {
    const std::size_t end = rest_.find('"');
    if (end == std::string_view::npos) return false;
    out = rest_.substr(0, end);
    rest_.remove_prefix(end + 1);
    return true;
  }
  static rapidjson::SizeType length(std::string_view text) {
    return static_cast<rapidjson::SizeType>(text.size());
  }

  // Behind its opening brace.
  PlainRead object(int depth) {
    if (!handler_.StartObject()) return PlainRead::stopped;
    rapidjson::SizeType members = 0;
    const bool is_left_open = depth == 1;
    if (is_left_open || !take('}')) {
      do {
        std::string_view key;
        if (!take('"') || !text(key)) return PlainRead::not_plain;
        if (!handler_.Key(key.data(), length(key), false)) return PlainRead::stopped;
        if (!take(':')) return PlainRead::not_plain;
        if (const PlainRead read = value(depth); read != PlainRead::done) return read;
        ++members;
      } while (take(','));
      if (is_left_open ? !rest_.empty() : !take('}')) return PlainRead::not_plain;
    }
    return heard(handler_.EndObject(members));
  }

  // Behind its opening bracket.
  PlainRead list(int depth) {
    if (!handler_.StartArray()) return PlainRead::stopped;
    rapidjson::SizeType count = 0;
    if (!take(']')) {
      do {
        if (const PlainRead read = value(depth); read != PlainRead::done) return read;
        ++count;
      } while (take(','));
      if (!take(']')) return PlainRead::not_plain;
    }
    return heard(handler_.EndArray(count));
  }

  PlainRead value(int depth) {
    if (rest_.empty() || depth == kMostDepth) return PlainRead::not_plain;
    switch (rest_.front()) {
      case '"': {
        rest_.remove_prefix(1);
        std::string_view said;
        if (!text(said)) return PlainRead::not_plain;
        return heard(handler_.String(said.data(), length(said), false));
      }
      case '{':
        rest_.remove_prefix(1);
        return object(depth + 1);
      case '[':
        rest_.remove_prefix(1);
        return list(depth + 1);
      case 't':
        return take_word("true") ? heard(handler_.Bool(true)) : PlainRead::not_plain;
      case 'f':
        return take_word("false") ? heard(handler_.Bool(false)) : PlainRead::not_plain;
      default:
        return number();
    }
  }

  bool take_word(std::string_view word) {
    if (rest_.substr(0, word.size()) != word) return false;
    rest_.remove_prefix(word.size());
    return true;
  }

  PlainRead number() {
    const char* const from = rest_.data();
    take('-');
    if (take('0') ? is_digit() : !take_digits()) return PlainRead::not_plain;
    if (take('.') && !take_digits()) return PlainRead::not_plain;
    if (!rest_.empty() && (rest_.front() == 'e' || rest_.front() == 'E')) return PlainRead::not_plain;
    const auto size = static_cast<rapidjson::SizeType>(rest_.data() - from);
    return heard(handler_.RawNumber(from, size, false));
  }
  bool is_digit() const { return !rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9'; }
  bool take_digits() {
    if (!is_digit()) return false;
    while (is_digit()) rest_.remove_prefix(1);
    return true;
  }

  std::string_view rest_;
  Handler& handler_;
};

}  // namespace tawny
