// Readings that the manager left out: a question_settled about a reading says whether it counts. The latest
// word in the order of reckoning, of the same pond, stands; see FORMAT.md, "Words on entries".
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "logbook/entry.h"

namespace tawny {

// Whether the manager may leave an entry of this kind out: what was read or looked at, never what was done or
// decided.
bool is_reading(std::string_view kind);
// A question_settled about a reading ("keep" is "reading" or "none").
bool settles_reading(const Entry& entry);

class WordsOnReadings {
 public:
  // `effective` is Logbook::effective(), or all of it that is of some ponds.
  explicit WordsOnReadings(const std::vector<const Entry*>& effective);

  // The last word on this reading; null where there is none, or where it is no reading.
  const Entry* on(const Entry& reading) const;
  // That, where it leaves the reading out.
  const Entry* leaving_out(const Entry& reading) const;

 private:
  std::map<std::pair<std::string, std::string>, const Entry*> latest_;  // by pond and reference
};

}  // namespace tawny
