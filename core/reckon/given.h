// What a reckoning is handed: inputs that were checked against its table, with what stands in for those left
// out. For the files of this floor only.
#pragma once

#include <string>
#include <string_view>

#include "reckon/reckon.h"

// `name` becomes the value of a Result; a Problem leaves the enclosing function.
#define TAWNY_RECKON_TAKE(name, expression)                                             \
  const auto name##_result = (expression);                                              \
  if (!name##_result) return ::tl::unexpected<::tawny::Problem>(name##_result.error()); \
  const auto& name = *name##_result

namespace tawny {

class ReckonGiven {
 public:
  ReckonGiven(const Reckoning& reckoning, const ReckonContext& context)
      : reckoning_(reckoning), context_(context) {}

  // Of an input that is required or that something stands in for.
  double number(std::string_view key) const;
  std::optional<double> maybe(std::string_view key) const;
  bool has(std::string_view key) const;
  std::string text(std::string_view key) const;  // also of a choice; empty when it was not given
  CivilDay day(std::string_view key) const;
  // Refuses an id that is not on the list of products.
  Result<const Product*> product(std::string_view key) const;
  const Protocol& protocol() const { return context_.protocol; }

  const ReckonValues& values() const { return values_; }

  // Takes in and checks what a person gave; see reckon().
  std::optional<Problem> take(std::string_view key, const std::variant<double, std::string>& value);
  // What stands in for the rest; the Problem names what is missing.
  std::optional<Problem> complete();

 private:
  const ReckonValue* find(std::string_view key) const;

  const Reckoning& reckoning_;
  const ReckonContext& context_;
  ReckonValues values_;
};

// Builds an answer: put in the order of the table.
class ReckonResults {
 public:
  explicit ReckonResults(const ReckonGiven& given) { answer_.inputs = given.values(); }
  ReckonResults& put(std::string_view key, double value);
  ReckonResults& put(std::string_view key, bool value);
  ReckonResults& put(std::string_view key, std::string value);
  ReckonResults& put(std::string_view key, const char* value) { return put(key, std::string(value)); }
  ReckonResults& put(std::string_view key, std::string_view value) { return put(key, std::string(value)); }
  ReckonResults& put(std::string_view key, ReckonSeries value);
  ReckonResults& note(Message message);
  ReckonAnswer done() { return std::move(answer_); }
  // Moving water pulls: said with every flow that a person may stand beside.
  ReckonAnswer done_with_suction();

 private:
  ReckonAnswer answer_;
};

// The rows of the table, by group.
std::span<const Reckoning> water_reckonings();
std::span<const Reckoning> sun_reckonings();
std::span<const Reckoning> oxygen_reckonings();
std::span<const Reckoning> filling_reckonings();
std::span<const Reckoning> filling_plan_reckonings();
std::span<const Reckoning> dose_reckonings();

// Ranges and rows that several reckonings share.
inline constexpr ReckonInput number_input(std::string_view key, Range range) {
  ReckonInput input;
  input.key = key;
  input.range = range;
  return input;
}
inline constexpr ReckonInput optional_number(std::string_view key, Range range) {
  ReckonInput input = number_input(key, range);
  input.required = false;
  return input;
}
// The protocol's value at `path` stands in.
inline constexpr ReckonInput protocol_number(std::string_view key, Range range, std::string_view path) {
  ReckonInput input = optional_number(key, range);
  input.path = path;
  return input;
}
inline constexpr ReckonInput number_or(std::string_view key, Range range, double otherwise) {
  ReckonInput input = optional_number(key, range);
  input.otherwise = otherwise;
  return input;
}
inline constexpr ReckonInput either_number(std::string_view key, Range range, std::string_view group,
                                           bool required) {
  ReckonInput input = number_input(key, range);
  input.either = group;
  input.required = required;
  return input;
}
inline constexpr ReckonInput plain_input(std::string_view key, ReckonInput::Kind kind) {
  ReckonInput input;
  input.key = key;
  input.kind = kind;
  return input;
}
inline constexpr ReckonInput either_input(std::string_view key, ReckonInput::Kind kind,
                                          std::string_view group) {
  ReckonInput input = plain_input(key, kind);
  input.either = group;
  return input;
}
inline constexpr ReckonInput choice_input(std::string_view key, std::span<const std::string_view> choices) {
  ReckonInput input = plain_input(key, ReckonInput::Kind::choice);
  input.required = false;
  input.choices = choices;
  return input;
}

inline constexpr Range kTemperature_c{0, 40, "c", 1};
inline constexpr Range kSalinity{0, 40, "", 1};
inline constexpr Range kPressure_kpa{51, 111, "kpa", 2};
inline constexpr Range kAltitude_m{-400, 5000, "m", 0};
inline constexpr Range kLatitude_deg{-72, 72, "deg", 4};
inline constexpr Range kOxygen_mg_l{0, 40, "mg_l", 2};
inline constexpr Range kDepth_m{0.05, 10, "m", 2};
inline constexpr Range kWind_m_s{0, 30, "m_s", 1};

inline constexpr Range kEvaporation_mm_d{0, 50, "mm_d", 1};
inline constexpr Range kDischargeCoefficient{0.3, 1, "", 3};

// Of `pressure_kpa` or `altitude_m`; one atmosphere where neither was given.
Result<double> pressure_atm_of(const ReckonGiven& given);

}  // namespace tawny
