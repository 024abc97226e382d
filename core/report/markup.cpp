#include "report/markup.h"

#include <cstdint>

namespace tawny {
namespace {

// Around what people typed, inside a worded sentence; escaped() writes the same characters of a text as
// numbers.
constexpr char kTypedBegins = '\x01', kTypedEnds = '\x02';
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

void append_number(std::string& out, std::uint32_t code) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  out += "[U+";
  for (int shift = code > 0xffff ? 20 : 12; shift >= 0; shift -= 4) out += kDigits[(code >> shift) & 0xf];
  out += "]";
}

void append_escaped(std::string& out, std::string_view shown_text) {
  for (const char c : shown_text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      case kTypedBegins:
        out += "<bdi>";
        break;
      case kTypedEnds:
        out += "</bdi>";
        break;
      default:
        out += c;
    }
  }
}

}  // namespace

std::string visible(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
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

std::string escaped(std::string_view text) {
  std::string out;
  append_escaped(out, visible(text));
  return out;
}

void Markup::end_tag() {
  if (start_ == Start::element) out_ += '>';
  if (start_ == Start::empty) out_ += "/>";
  start_ = Start::none;
}

Markup& Markup::open(std::string_view tag, std::string_view classes) {
  end_tag();
  out_.append("<").append(tag);
  open_.emplace_back(tag);
  start_ = Start::element;
  if (!classes.empty()) attribute("class", classes);
  return *this;
}

Markup& Markup::empty_element(std::string_view tag) {
  end_tag();
  out_.append("<").append(tag);
  start_ = Start::empty;
  return *this;
}

Markup& Markup::attribute(std::string_view name, std::string_view value) {
  out_.append(" ").append(name).append("=\"").append(escaped(value)).append("\"");
  return *this;
}

Markup& Markup::close() {
  end_tag();
  out_.append("</").append(open_.back()).append(">");
  const std::string_view closed = open_.back();
  // Lines of a length that people and tools can read.
  if (closed == "tr" || closed == "p" || closed == "section" || closed == "svg" || closed.front() == 'h')
    out_ += '\n';
  open_.pop_back();
  return *this;
}

Markup& Markup::element(std::string_view tag, std::string_view content, std::string_view classes) {
  return open(tag, classes).text(content).close();
}

Markup& Markup::text(std::string_view content) {
  end_tag();
  append_escaped(out_, visible(content));
  return *this;
}

Markup& Markup::typed(std::string_view content) {
  end_tag();
  out_ += "<bdi>";
  append_escaped(out_, visible(content));
  out_ += "</bdi>";
  return *this;
}

Markup& Markup::say(const Message& message) {
  // An id without words may hold what an entry brought: a kind, a colour of another version.
  if (!words_.has(message.id)) return typed(message.id);
  end_tag();
  Message marked = message;
  for (auto& [name, value] : marked.values) {
    if (const auto* word = std::get_if<Word>(&value); word != nullptr && !words_.has(word->id)) {
      value = Text{word->id};
    }
    if (auto* own = std::get_if<Text>(&value)) own->text = kTypedBegins + visible(own->text) + kTypedEnds;
  }
  append_escaped(out_, words_(marked));
  return *this;
}

Markup& Markup::raw(std::string_view markup) {
  end_tag();
  out_.append(markup);
  return *this;
}

}  // namespace tawny
