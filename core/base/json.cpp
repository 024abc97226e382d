#include "base/json.h"

namespace tawny {
namespace {

constexpr std::size_t kMostNumberChars = 64;
constexpr std::size_t kMostExponentDigits = 2;

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_of_number(char c) { return is_digit(c) || c == '.' || c == 'e' || c == 'E' || c == '+' || c == '-'; }

// RapidJSON 1.1.0 reads outside its table of powers when a number has hundreds of zeros or a far exponent.
bool holds_fair_numbers(std::string_view json) {
  bool in_text = false;
  for (std::size_t at = 0; at < json.size(); ++at) {
    const char c = json[at];
    if (in_text && c == '\\') {
      ++at;
    } else if (c == '"') {
      in_text = !in_text;
    }
    if (in_text || !is_digit(c)) continue;
    const std::size_t start = at;
    std::size_t exponent_digits = 0;
    bool in_exponent = false;
    for (; at < json.size() && is_of_number(json[at]); ++at) {
      if (json[at] == 'e' || json[at] == 'E') in_exponent = true;
      if (in_exponent && is_digit(json[at])) ++exponent_digits;
    }
    if (at - start > kMostNumberChars || exponent_digits > kMostExponentDigits) return false;
    --at;
  }
  return true;
}

}  // namespace

rapidjson::Document parse_json(std::string_view text) {
  return parse_json_number(holds_fair_numbers(text) ? text : std::string_view());
}

rapidjson::Document parse_json_number(std::string_view token) {
  rapidjson::Document document;
  document.Parse<rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag>(token.data(),
                                                                                      token.size());
  return document;
}

}  // namespace tawny
