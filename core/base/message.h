// What the core says to people: a message id with named values, never a finished sentence.
//
// The words live in assets/languages/*.json; the shell puts id and values together. A value is one of
//   Quantity   a number with the decimals it deserves and a unit key ("cm", "mg_l", "" for none)
//   Word       another message id, for enumerations ("colour.golden", "stage.rest")
//   Text       text that a person typed (a pond's name), shown as it is
//   Instant    a moment, shown as time of day (with the date where it is not today)
//   CivilDay   a day, shown as a date
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/time.h"

namespace tawny {

struct Quantity {
  double value = 0;
  int decimals = 0;
  std::string unit;  // key of "unit.<key>" in the language table; empty: a bare number
  bool operator==(const Quantity&) const = default;
};

// A bare whole number: a count, a bin, a line.
template <typename Number>
Quantity bare(Number number) {
  return Quantity{static_cast<double>(number), 0, {}};
}

struct Word {
  std::string id;
  bool operator==(const Word&) const = default;
};

struct Text {
  std::string text;
  bool operator==(const Text&) const = default;
};

using MessageValue = std::variant<Quantity, Word, Text, Instant, CivilDay>;

struct Message {
  std::string id;
  std::vector<std::pair<std::string, MessageValue>> values;

  Message() = default;
  explicit Message(std::string_view message_id) : id(message_id) {}

  // Chainable: Message("criterion.level.low").with("level", Quantity{32, 0, "cm"}).
  Message&& with(std::string_view name, MessageValue value) && {
    with(name, std::move(value));
    return std::move(*this);
  }
  Message& with(std::string_view name, MessageValue value) & {
    if (values.empty()) values.reserve(3);  // hardly any has more
    values.emplace_back(std::string(name), std::move(value));
    return *this;
  }
  // Null when no value has that name.
  const MessageValue* find(std::string_view name) const {
    for (const auto& [key, value] : values) {
      if (key == name) return &value;
    }
    return nullptr;
  }
  bool operator==(const Message&) const = default;
};

}  // namespace tawny
