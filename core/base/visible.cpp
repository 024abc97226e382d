#include "base/visible.h"

#include <cstdint>

namespace tawny {
namespace {

constexpr std::string_view kReplacement = "\uFFFD";

struct Character {
  std::uint32_t code = 0;
  std::size_t bytes = 1;
  bool whole = false;  // false: this byte is no UTF-8
};

Character character_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) {
    return static_cast<std::uint32_t>(static_cast<std::uint8_t>(text[i]));
  };
  const std::uint32_t first = byte(at);
  if (first < 0x80) return {first, 1, true};
  const std::size_t bytes = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4 || at + bytes > text.size()) return {};
  std::uint32_t code = first & (0x7fU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(at + i) & 0xc0) != 0x80) return {};
    code = code << 6 | (byte(at + i) & 0x3f);
  }
  return {code, bytes, true};
}

struct Span {
  std::uint32_t first, last;
};
// Not seen, or turning what stands around them; Unicode 15, general categories Cc, Cf, Zl, Zp and
// noncharacters. The joiners U+200C and U+200D are letters' own business and stay.
constexpr Span kHidden[] = {{0x00, 0x08},     {0x0b, 0x1f},      {0x7f, 0x9f},     {0xad, 0xad},
                            {0x061c, 0x061c}, {0x180e, 0x180e},  {0x200b, 0x200b}, {0x200e, 0x200f},
                            {0x2028, 0x202e}, {0x2060, 0x206f},  {0xfdd0, 0xfdef}, {0xfeff, 0xfeff},
                            {0xfff9, 0xfffb}, {0xe0000, 0xe0fff}};

bool is_hidden(std::uint32_t code) {
  if ((code & 0xfffe) == 0xfffe) return true;
  for (const Span& span : kHidden) {
    if (code >= span.first && code <= span.last) return true;
  }
  return false;
}

void append_digits(std::string& out, std::uint32_t code, int digits) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  while (digits-- > 0) out += kDigits[(code >> (4 * digits)) & 0xf];
}

void append_number(std::string& out, std::uint32_t code) {
  out += "[U+";
  append_digits(out, code, code > 0xffff ? 6 : 4);
  out += "]";
}

void append_escape(std::string& out, std::uint32_t code) {
  if (code > 0xffff) {
    append_escape(out, 0xd800 + ((code - 0x10000) >> 10));
    code = 0xdc00 + ((code - 0x10000) & 0x3ff);
  }
  out += "\\u";
  append_digits(out, code, 4);
}

}  // namespace

std::string visible(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const auto byte = static_cast<std::uint8_t>(text[at]);
    if (byte >= 0x20 && byte < 0x7f) {
      out += text[at++];
      continue;
    }
    const Character character = character_at(text, at);
    if (!character.whole) {
      out += kReplacement;
    } else if (character.code == '\r') {
      if (at + 1 == text.size() || text[at + 1] != '\n') out += '\n';
    } else if (is_hidden(character.code)) {
      append_number(out, character.code);
    } else {
      out.append(text, at, character.bytes);
    }
    at += character.bytes;
  }
  return out;
}

std::string visible_json(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  for (std::size_t at = 0; at < json.size();) {
    const Character character = character_at(json, at);
    if (character.whole && character.code != '\r' && is_hidden(character.code)) {
      append_escape(out, character.code);
    } else {
      out.append(json, at, character.bytes);
    }
    at += character.bytes;
  }
  return out;
}

std::string visible_line(std::string_view text) {
  std::string out = visible(text);
  for (char& c : out) {
    if (c == '\n' || c == '\t') c = ' ';
  }
  return out;
}

}  // namespace tawny
