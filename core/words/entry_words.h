// An entry's values in words: on the screens and in the record of a cycle alike.
#pragma once

#include <string>
#include <string_view>

#include "logbook/entry.h"
#include "words/words.h"

namespace tawny {

// How a value of an entry is shown: its unit key and the decimals it deserves.
struct Measure {
  std::string_view key;
  std::string_view unit;
  int decimals = 0;
};
// Null for a key that is no measure.
const Measure* measure_of(std::string_view key);
// "4.2 mg/L"; a key that is no measure gives the bare number.
std::string measured(const Words& words, std::string_view key, double value);
// The word of an entry value's key: "Dissolved oxygen".
std::string key_word(const Words& words, std::string_view key);
// One value of an entry, worded.
std::string value_word(const Words& words, std::string_view key, const Value& value);
// The entry's values in one line: "4.2 mg/L, pH 7.9".
std::string brief_of(const Words& words, const Entry& entry);

}  // namespace tawny
