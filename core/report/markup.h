// Writes HTML that is well-formed XML too: what is opened is closed, in order, and every text is escaped.
//
// Text that people typed can do nothing: & < > and quotes are escaped, and what a reader would not see or what
// would turn the text around it (control characters, marks of direction, noncharacters) stands as its number,
// "[U+202E]". It also stands in an element of its own that isolates its direction (typed), so that a name
// written from right to left leaves the digits beside it in place.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "words/words.h"

namespace tawny {

class Markup {
 public:
  // Words with dates in full: a page that is filed knows no "yesterday".
  explicit Markup(const Words& words) : words_(words) {}

  Markup& open(std::string_view tag, std::string_view classes = {});
  // Of the element opened last, before anything stands in it.
  Markup& attribute(std::string_view name, std::string_view value);
  Markup& close();
  // An element that holds this text only.
  Markup& element(std::string_view tag, std::string_view text, std::string_view classes = {});
  Markup& empty_element(std::string_view tag);  // <br/>, <col/>: attributes may follow

  Markup& text(std::string_view text);
  Markup& typed(std::string_view text);
  // What people typed into the message is set apart like typed().
  Markup& say(const Message& message);
  Markup& say(std::string_view id) { return say(Message(id)); }
  // As it stands: another Markup's, or a style sheet.
  Markup& raw(std::string_view markup);

  const Words& words() const { return words_; }
  // Once all is closed.
  const std::string& done() const { return out_; }

 private:
  void end_tag();  // the ">" of a start tag that still takes attributes

  const Words& words_;
  std::string out_;
  std::vector<std::string> open_;
  enum class Start { none, element, empty } start_ = Start::none;
};

// "&amp;" and so on, of the visible text (base/visible.h).
std::string escaped(std::string_view text);

}  // namespace tawny
