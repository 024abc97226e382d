// Reads a record back as another program would: strictly, as XML, into a tree of elements.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace tawny::test {

struct Element {
  std::string tag;
  std::map<std::string, std::string> attributes;
  std::vector<std::unique_ptr<Element>> children;  // a text has an empty tag
  std::string own_text;

  std::string text() const {
    std::string all = own_text;
    for (const auto& child : children) all += child->text();
    return all;
  }
  bool has_class(std::string_view name) const {
    const auto found = attributes.find("class");
    return found != attributes.end() &&
           (" " + found->second + " ").find(" " + std::string(name) + " ") != std::string::npos;
  }
  void collect(std::string_view wanted, std::vector<const Element*>& found) const {
    if (tag == wanted) found.push_back(this);
    for (const auto& child : children) child->collect(wanted, found);
  }
  std::vector<const Element*> all(std::string_view wanted) const {
    std::vector<const Element*> found;
    collect(wanted, found);
    return found;
  }
  // The first table with this class; null when there is none.
  const Element* table(std::string_view name) const {
    for (const Element* one : all("table")) {
      if (one->has_class(name)) return one;
    }
    return nullptr;
  }
  std::string tags() const {
    std::string all = tag.empty() ? "" : "<" + tag;
    for (const auto& child : children) all += child->tags();
    return tag.empty() ? all : all + ">";
  }
};

class PageReader {
 public:
  explicit PageReader(std::string_view page) : page_(page) {}

  // Null when the page is not well-formed; then `fault` says where.
  std::unique_ptr<Element> read() {
    constexpr std::string_view kType = "<!DOCTYPE html>\n";
    if (page_.substr(0, kType.size()) != kType) return fail("no document type");
    at_ = kType.size();
    auto root = element();
    while (root && at_ < page_.size()) {
      if (page_[at_++] != '\n') return fail("something behind the end");
    }
    return root;
  }
  std::string fault;

 private:
  std::unique_ptr<Element> fail(std::string_view what) {
    if (fault.empty()) {
      fault = std::string(what) + " at " + std::to_string(at_) + ": " + std::string(page_.substr(at_, 80));
    }
    return nullptr;
  }
  static bool is_name(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == ':';
  }
  std::string name() {
    std::string read;
    while (at_ < page_.size() && is_name(page_[at_])) read += page_[at_++];
    return read;
  }

  bool entity(std::string& text) {
    constexpr std::pair<std::string_view, char> kEntities[] = {
        {"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&#39;", '\''}};
    for (const auto& [written, meant] : kEntities) {
      if (page_.substr(at_, written.size()) != written) continue;
      text += meant;
      at_ += written.size();
      return true;
    }
    return false;
  }

  // Up to `end`, which stays.
  bool characters(char end, std::string& text) {
    while (at_ < page_.size() && page_[at_] != end) {
      const auto c = static_cast<unsigned char>(page_[at_]);
      if (c == '<' || (c < 0x20 && c != '\n' && c != '\t') || c == 0x7f) return false;
      if (c == '&') {
        if (!entity(text)) return false;
      } else {
        text += page_[at_++];
      }
    }
    return at_ < page_.size();
  }

  bool attributes(Element& one) {
    while (at_ < page_.size() && page_[at_] == ' ') {
      ++at_;
      const std::string key = name();
      if (key.empty() || page_.substr(at_, 2) != "=\"") return false;
      at_ += 2;
      std::string value;
      if (!characters('"', value) || !one.attributes.emplace(key, value).second) return false;
      ++at_;
    }
    return true;
  }

  std::unique_ptr<Element> element() {
    if (at_ >= page_.size() || page_[at_] != '<') return fail("no element");
    ++at_;
    auto one = std::make_unique<Element>();
    one->tag = name();
    if (one->tag.empty() || !attributes(*one)) return fail("a bad start tag");
    if (page_.substr(at_, 2) == "/>") {
      at_ += 2;
      return one;
    }
    if (at_ >= page_.size() || page_[at_] != '>') return fail("a start tag without end");
    ++at_;
    while (true) {
      auto text = std::make_unique<Element>();
      if (!characters('<', text->own_text)) return fail("a bad character in <" + one->tag + ">");
      if (!text->own_text.empty()) one->children.push_back(std::move(text));
      if (page_.substr(at_, 2) == "</") {
        at_ += 2;
        if (name() != one->tag || at_ >= page_.size() || page_[at_] != '>') return fail("a wrong end tag");
        ++at_;
        return one;
      }
      auto child = element();
      if (!child) return nullptr;
      one->children.push_back(std::move(child));
    }
  }

  std::string_view page_;
  std::size_t at_ = 0;
};

}  // namespace tawny::test
