#include "reckon/given.h"

#include "base/decimal.h"
#include "science/oxygen.h"

namespace tawny {
namespace {

Problem wrong(ProblemKind kind, std::string_view key, Message message) {
  return Problem{kind, std::string(key), std::move(message)};
}

Word label(std::string_view key) { return Word{"parameter." + std::string(key)}; }

// The keys of a group, with "or" of a comma between them, as they are typed.
std::string keys_of(const Reckoning& reckoning, std::string_view group) {
  std::string keys;
  for (const ReckonInput& input : reckoning.inputs) {
    if (input.either != group) continue;
    if (!keys.empty()) keys += ", ";
    keys += input.key;
  }
  return keys;
}

std::string choices_of(const ReckonInput& input) {
  std::string choices;
  for (const std::string_view choice : input.choices) {
    if (!choices.empty()) choices += ", ";
    choices += choice;
  }
  return choices;
}

}  // namespace

const ReckonValue* ReckonGiven::find(std::string_view key) const {
  for (const auto& [name, value] : values_) {
    if (name == key) return &value;
  }
  return nullptr;
}

double ReckonGiven::number(std::string_view key) const { return maybe(key).value_or(0); }

std::optional<double> ReckonGiven::maybe(std::string_view key) const {
  const ReckonValue* value = find(key);
  const double* number = value ? std::get_if<double>(value) : nullptr;
  return number ? std::optional<double>(*number) : std::nullopt;
}

bool ReckonGiven::has(std::string_view key) const { return find(key) != nullptr; }

std::string ReckonGiven::text(std::string_view key) const {
  const ReckonValue* value = find(key);
  const std::string* text = value ? std::get_if<std::string>(value) : nullptr;
  return text ? *text : std::string();
}

CivilDay ReckonGiven::day(std::string_view key) const {
  return parse_civil_day(text(key)).value_or(CivilDay{});
}

Result<const Product*> ReckonGiven::product(std::string_view key) const {
  const std::string id = text(key);
  const Product* product = find_product(context_.products, id);
  if (product) return product;
  std::string known;
  for (const Product& each : context_.products) {
    if (!known.empty()) known += ", ";
    known += each.id;
  }
  return refuse(ProblemKind::unsupported, key,
                Message("problem.unknown_product").with("product", Text{id}).with("known", Text{known}));
}

std::optional<Problem> ReckonGiven::take(std::string_view key, const std::variant<double, std::string>& value) {
  const ReckonInput* input = reckoning_.input(key);
  if (!input) {
    std::string known;
    for (const ReckonInput& each : reckoning_.inputs) {
      if (!known.empty()) known += ", ";
      known += each.key;
    }
    return wrong(ProblemKind::malformed, key,
                 Message("problem.no_such_input")
                     .with("reckoning", Text{std::string(reckoning_.name)})
                     .with("key", Text{std::string(key)})
                     .with("known", Text{known}));
  }
  if (find(key)) {
    return wrong(ProblemKind::conflict, key, Message("problem.input_twice").with("parameter", label(key)));
  }
  if (!input->either.empty()) {
    for (const ReckonInput& other : reckoning_.inputs) {
      if (other.either == input->either && find(other.key)) {
        return wrong(ProblemKind::conflict, key,
                     Message("problem.one_of_only").with("keys", Text{keys_of(reckoning_, input->either)}));
      }
    }
  }
  const std::string* text = std::get_if<std::string>(&value);
  if (input->kind == ReckonInput::Kind::number) {
    double number = 0;
    if (text) {
      Result<double> parsed = parse_decimal(*text);
      if (!parsed) return wrong(parsed.error().kind, key, parsed.error().message);
      number = *parsed;
    } else {
      number = std::get<double>(value);
    }
    if (auto problem = outside(key, number, input->range)) return problem;
    values_.emplace_back(std::string(key), number);
    return std::nullopt;
  }
  if (!text) return wrong(ProblemKind::malformed, key, Message("problem.no_number_here"));
  if (input->kind == ReckonInput::Kind::day) {
    if (Result<CivilDay> day = parse_civil_day(*text); !day) {
      return wrong(day.error().kind, key, day.error().message);
    }
  }
  if (input->kind == ReckonInput::Kind::choice) {
    bool known = false;
    for (const std::string_view choice : input->choices) known = known || choice == *text;
    if (!known) {
      return wrong(ProblemKind::malformed, key,
                   Message("problem.no_such_choice")
                       .with("choice", Text{*text})
                       .with("known", Text{choices_of(*input)}));
    }
  }
  values_.emplace_back(std::string(key), *text);
  return std::nullopt;
}

std::optional<Problem> ReckonGiven::complete() {
  for (const ReckonInput& input : reckoning_.inputs) {
    if (find(input.key)) continue;
    if (!input.either.empty()) {
      if (!input.required) continue;
      bool given = false;
      for (const ReckonInput& other : reckoning_.inputs) {
        given = given || (other.either == input.either && find(other.key));
      }
      if (given) continue;
      return wrong(ProblemKind::missing, input.key,
                   Message("problem.one_of_missing").with("keys", Text{keys_of(reckoning_, input.either)}));
    }
    if (!input.path.empty()) {
      const double number = protocol().number(input.path);
      if (auto problem = outside(input.key, number, input.range)) return problem;
      values_.emplace_back(std::string(input.key), number);
    } else if (input.otherwise) {
      values_.emplace_back(std::string(input.key), *input.otherwise);
    } else if (!input.choices.empty()) {
      values_.emplace_back(std::string(input.key), std::string(input.choices.front()));
    } else if (input.required) {
      return wrong(ProblemKind::missing, input.key,
                   Message("problem.input_missing").with("parameter", label(input.key)));
    }
  }
  return std::nullopt;
}

ReckonResults& ReckonResults::put(std::string_view key, double value) {
  answer_.results.emplace_back(std::string(key), value);
  return *this;
}

ReckonResults& ReckonResults::put(std::string_view key, bool value) {
  answer_.results.emplace_back(std::string(key), value);
  return *this;
}

ReckonResults& ReckonResults::put(std::string_view key, std::string value) {
  answer_.results.emplace_back(std::string(key), std::move(value));
  return *this;
}

ReckonResults& ReckonResults::put(std::string_view key, ReckonSeries value) {
  answer_.results.emplace_back(std::string(key), std::move(value));
  return *this;
}

ReckonAnswer ReckonResults::done_with_suction() {
  note(Message("entry.caution.suction"));
  return done();
}

ReckonResults& ReckonResults::note(Message message) {
  answer_.notes.push_back(std::move(message));
  return *this;
}

Result<double> pressure_atm_of(const ReckonGiven& given) {
  if (const auto pressure_kpa = given.maybe("pressure_kpa")) return *pressure_kpa / 101.325;
  if (const auto altitude_m = given.maybe("altitude_m")) return pressure_at_altitude_atm(*altitude_m);
  return 1.0;
}

}  // namespace tawny
