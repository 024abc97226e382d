// The protocol: every window, limit, range and step of filling and fertilizing, read from assets/protocol.json.
//
// Each value has a path ("stage.bloom.secchi_low_cm"), a unit, and a mark for where it comes from: P practice
// of the trade without a published source, H handbook or standard, E our own estimate. A farm or a pond may
// change a value from an instant on (entry kind protocol_change); `at` gives the protocol as it stood then.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "base/time.h"

namespace tawny {

enum class WaterColour {
  clear,
  muddy,
  pale_gold,
  golden,
  golden_brown,
  light_green,
  green,
  dark_green,
  red_brown
};
enum class Sky { bright, mixed, dull };

// "golden_brown" and back; nothing for an unknown word.
std::optional<WaterColour> water_colour_of(std::string_view name);
std::string_view name_of(WaterColour colour);
std::optional<Sky> sky_of(std::string_view name);
std::string_view name_of(Sky sky);

enum class Stage {
  bottom = 1,
  first_fill,
  rest,
  second_fill,
  first_dose,
  bloom,
  third_fill,
  hold_band,
  release,
  early_cycle
};
// "bottom", "first_fill", ...: the word is "stage.<name>".
std::string_view name_of(Stage stage);

struct ProtocolValue {
  std::variant<double, bool, std::string, std::vector<std::string>> value;
  std::string unit;
  std::string mark;    // "P", "H", "E"
  std::string source;  // message id of the source line, may be empty
};

class Protocol {
 public:
  // Refuses (malformed, missing) a file that lacks a value which the criteria need, naming its path.
  static Result<Protocol> parse(std::string_view json);

  // A missing path is impossible after parse() for the paths that the code uses; for others: nothing.
  const ProtocolValue* find(std::string_view path) const;

  // For paths that parse() has vouched for.
  double number(std::string_view path) const;
  bool flag(std::string_view path) const;
  const std::vector<std::string>& list(std::string_view path) const;

  // The same protocol with one value changed; refuses an unknown path, a value of another type, and one that
  // cannot be (protocol_range.h). A list is given as its items with commas between them.
  Result<Protocol> with(std::string_view path, const std::variant<double, bool, std::string>& value) const;
  // The same protocol with one value as it stands in `other`; refuses an unknown path.
  Result<Protocol> with_value_of(const Protocol& other, std::string_view path) const;

  // All of them, by path.
  const std::vector<std::pair<std::string, ProtocolValue>>& values() const { return values_; }

 private:
  // Paths differ in their ends and their lengths; to go through all of each would take as long as what is reckoned with it.
  struct Hash {
    using is_transparent = void;
    std::size_t operator()(std::string_view path) const {
      std::uint64_t letters = 0;
      const std::size_t bytes = std::min(path.size(), sizeof letters);
      if (bytes > 0) std::memcpy(&letters, path.data() + (path.size() - bytes), bytes);
      const std::uint64_t mixed = (letters + path.size()) * 0x9e3779b97f4a7c15u;
      return static_cast<std::size_t>(mixed ^ mixed >> 32);
    }
  };
  using Places = std::unordered_map<std::string, std::size_t, Hash, std::equal_to<>>;

  std::vector<std::pair<std::string, ProtocolValue>> values_;
  // Where each path stands in `values_`: the same in every protocol made from this one. Values are asked for at every
  // reading of a logbook; by comparing paths, that would be a quarter of reading one.
  std::shared_ptr<const Places> places_ = std::make_shared<Places>();
};

// Where a stage wants the disc to vanish: its own limits, else those of the last stage before it that has some;
// nothing before the first of them.
struct SecchiLimits {
  double low_cm = 0, high_cm = 0;
  bool operator==(const SecchiLimits&) const = default;
};
std::optional<SecchiLimits> secchi_limits(const Protocol& protocol, Stage stage);

}  // namespace tawny
