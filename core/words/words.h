// Words: message ids with named values become text in the person's language.
//
// Only what faces a person uses this: the screens and the shell command. The rest of core speaks in messages.
//
// A table is a flat JSON object: id -> "text with {name} in it", or id -> {"one": ..., "other": ...} chosen by
// the value named "count". An id that the table lacks is shown as the id itself, so that it is seen and
// reported.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "base/message.h"
#include "base/problem.h"

namespace tawny {

class Words {
 public:
  static Result<Words> parse(std::string_view json);

  // How moments are shown: the farm's offset, and the present instant (today's times carry no date).
  void set_clock(UtcOffset offset, Instant now);

  std::string operator()(const Message& message) const;
  std::string operator()(std::string_view id) const;
  std::string number(double value, int decimals) const;  // with the language's decimal mark
  std::string quantity(const Quantity& quantity) const;  // "62 cm"
  std::string unit(std::string_view key) const;          // "cm"
  std::string time(Instant instant) const;               // "05:42", "yesterday 05:42", "21 Nov 05:42"
  std::string clock(Instant instant) const;              // "05:42" always
  std::string day(CivilDay day) const;                   // "today", "yesterday", "tomorrow", "21 Nov"
  std::string on_day(CivilDay civil) const;              // "yesterday", but "on 21 Nov": "{on day}" in a text
  std::string age(Instant then) const;                   // "3 h ago", "2 days ago"
  bool has(std::string_view id) const;
  char decimal_mark() const { return decimal_mark_; }

 private:
  struct Entry {
    std::string one, other;  // equal where there is no plural
  };
  std::map<std::string, Entry, std::less<>> table_;
  UtcOffset offset_;
  Instant now_;
  char decimal_mark_ = '.';
};

}  // namespace tawny
