#include "report/markup.h"

#include "base/visible.h"

namespace tawny {
namespace {

// Around what people typed, inside a worded sentence; escaped() writes the same characters of a text as
// numbers.
constexpr char kTypedBegins = '\x01', kTypedEnds = '\x02';

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
