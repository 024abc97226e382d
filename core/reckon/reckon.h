// Reckonings by hand: one table of names, inputs, units, ranges, results and sources, with two faces: the shell
// command `tawny reckon` and the app's calculators. What is reckoned is the business of science, pond and dose;
// this floor only names it, checks what was given, and fills in what the protocol knows.
//
// Keys carry their unit (temperature_c) and never change it. A row's label is the word "parameter.<key>", a
// choice's "reckon.choice.<choice>", a reckoning's own "reckon.<name>" and "reckon.<name>.about".
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "base/time.h"
#include "dose/product.h"
#include "protocol/protocol.h"

namespace tawny {

struct ReckonInput {
  enum class Kind {
    number,
    day,      // "2026-11-25"
    product,  // id of a product; which ones, the reckoning says
    choice,   // one of `choices`
    text,     // a list written in one line; its form is the word "reckon.form.<key>"
  };
  std::string_view key;
  Kind kind = Kind::number;
  Range range;                      // of a number
  bool required = true;             // unless `either` names a group
  std::string_view path;            // protocol value that stands in when nothing is given
  std::optional<double> otherwise;  // what stands in where no protocol value does
  std::string_view either;  // of the inputs with the same group one at most is given, and one at least if
                            // they are required
  std::span<const std::string_view> choices;  // the first stands in when nothing is given
};

struct ReckonResult {
  enum class Kind {
    number,
    flag,
    choice,  // the word is "reckon.choice.<value>"
    text,    // shown as it is: a time of day, a list
    series,  // a curve over time, for drawing
  };
  std::string_view key;
  std::string_view unit;  // unit key
  int decimals = 2;       // that it deserves on a screen
  Kind kind = Kind::number;
};

// Where a reckoning stands among the calculators; the word is "reckon.group.<name>".
enum class ReckonGroup { dose, filling, oxygen, sun, water };
std::string_view name_of(ReckonGroup group);

struct ReckonSeries {
  std::vector<std::string_view> columns;  // keys; the first is what the others are drawn over
  std::vector<std::vector<double>> rows;  // each as long as columns
  bool operator==(const ReckonSeries&) const = default;
};

using ReckonValue = std::variant<double, bool, std::string, ReckonSeries>;
using ReckonValues = std::vector<std::pair<std::string, ReckonValue>>;

struct ReckonAnswer {
  ReckonValues inputs;         // all that was reckoned with: what was given, then what stood in
  ReckonValues results;        // in the order of the table; those that do not apply are left out
  std::vector<Message> notes;  // what a person must know of this very answer
  const ReckonValue* result(std::string_view key) const;
};

// What a reckoning knows beside its inputs.
struct ReckonContext {
  const Protocol& protocol;
  const std::vector<Product>& products;
};

class ReckonGiven;

struct Reckoning {
  std::string_view name;  // "oxygen-saturation"
  ReckonGroup group = ReckonGroup::water;
  std::span<const ReckonInput> inputs;
  std::span<const ReckonResult> results;
  std::string_view source;   // bibliographic, not translated
  std::string_view example;  // "temperature_c=28 salinity=15", for the listing
  Result<ReckonAnswer> (*reckon)(const ReckonGiven& given) = nullptr;

  const ReckonInput* input(std::string_view key) const;
  const ReckonResult* result(std::string_view key) const;
};

// All of them, by group, in the order in which they are shown.
const std::vector<Reckoning>& reckonings();
// Null when there is none of that name.
const Reckoning* find_reckoning(std::string_view name);

// `given`: numbers, or texts as a person types them ("28.5", "28,5"). Refuses an input that the reckoning does
// not know, one that comes twice, one that is missing, two of which only one may be given, a text that is no
// number, a number outside its range; and what the reckoning itself refuses. The Problem's parameter is the
// key.
Result<ReckonAnswer> reckon(const Reckoning& reckoning,
                            const std::vector<std::pair<std::string, std::variant<double, std::string>>>& given,
                            const ReckonContext& context);

}  // namespace tawny
