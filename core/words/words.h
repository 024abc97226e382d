// Words: message ids with named values become text in the person's language.
//
// Only what faces a person uses this: the screens, the record of a cycle and the shell command. The rest of
// core speaks in messages.
//
// A table is a flat JSON object: id -> "text with {name} in it", or id -> {"one": ..., "other": ...} chosen by
// the value named "count". An id that the table lacks is shown as the id itself, so that it is seen and
// reported. Two ids are rules of the language: "number.decimal_mark", "." or ","; "number.plural", one of the
// names of PluralRule.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <unordered_map>

#include "base/message.h"
#include "base/problem.h"

namespace tawny {

// Which numbers take the form "one", after the plural rules of Unicode CLDR 42. Decimals count as they are
// shown.
//   only_one    exactly 1, shown without decimals; 1.0 kg is a measure (English: i = 1 and v = 0)
//   any_one     1 and 1.0                                               (Spanish: n = 1)
//   below_two   from 0 to less than 2                                   (Portuguese: i = 0..1)
//   none        the language has no plural forms                        (Indonesian, Vietnamese)
// The form "many", which Spanish and Portuguese have for whole millions, is left out: nothing here counts so
// far.
enum class PluralRule { only_one, any_one, below_two, none };
bool takes_one(PluralRule rule, double count, int decimals);

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
  std::string at_time(Instant instant) const;  // "yesterday 05:42", but "at 05:42": "{at time}" in a text
  std::string age(Instant then) const;         // "3 h ago", "2 days ago"
  bool has(std::string_view id) const;
  char decimal_mark() const { return decimal_mark_; }

 private:
  struct Entry {
    std::string one, other;  // equal where there is no plural
  };
  struct Hash {
    using is_transparent = void;
    std::size_t operator()(std::string_view id) const { return std::hash<std::string_view>()(id); }
  };
  // Of two thousand ids many begin alike, and a frame asks for dozens.
  std::unordered_map<std::string, Entry, Hash, std::equal_to<>> table_;
  UtcOffset offset_;
  Instant now_;
  bool is_one(const Message& message) const;
  bool read_rules();  // false where a rule is not one that is known

  char decimal_mark_ = '.';
  PluralRule plural_ = PluralRule::only_one;
};

}  // namespace tawny
