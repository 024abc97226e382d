// What a person has given to a calculator. The App keeps it while it runs, so that going back and forth loses
// nothing; it is no entry and is never stored.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>

namespace tawny::ui {

using ReckonInputValue = std::variant<double, std::string>;

struct ReckonTyped {
  // By key of the input; an empty one was cleared by hand, also of what the app knows.
  std::map<std::string, std::optional<ReckonInputValue>, std::less<>> values;
  // By group of inputs of which one is given: its key; empty: none of them.
  std::map<std::string, std::string, std::less<>> either;
  bool unfolded = false;  // what may be left out is shown
};

}  // namespace tawny::ui
