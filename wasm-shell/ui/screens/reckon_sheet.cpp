#include "ui/screens/reckon_sheet.h"

#include <cmath>

namespace tawny::ui {

int decimals_needed(double value, int most) {
  int decimals = 0;
  double scaled = value;
  while (decimals < most && std::abs(scaled - std::round(scaled)) > 1e-6) {
    scaled *= 10;
    ++decimals;
  }
  return decimals;
}

std::optional<ReckonInputValue> ReckonSheet::value(const ReckonInput& input) const {
  if (const auto typed = typed_.values.find(input.key); typed != typed_.values.end()) return typed->second;
  const KnownInput* known = find_known(known_, input.key, reckoning_.group);
  return known == nullptr ? std::nullopt : std::optional<ReckonInputValue>(known->value);
}

std::optional<double> ReckonSheet::number(const ReckonInput& input) const {
  const auto given = value(input);
  const double* number = given ? std::get_if<double>(&*given) : nullptr;
  return number == nullptr ? std::nullopt : std::optional<double>(*number);
}

std::string ReckonSheet::text(const ReckonInput& input) const {
  const auto given = value(input);
  const std::string* text = given ? std::get_if<std::string>(&*given) : nullptr;
  return text == nullptr ? std::string() : *text;
}

const KnownInput* ReckonSheet::known(const ReckonInput& input) const {
  if (typed_.values.find(input.key) != typed_.values.end()) return nullptr;
  return find_known(known_, input.key, reckoning_.group);
}

std::optional<double> ReckonSheet::stands_in(const ReckonInput& input) const {
  if (!input.path.empty()) return protocol_.number(input.path);
  return input.otherwise;
}

std::string ReckonSheet::chosen(const ReckonInput& input) const {
  const std::string given = text(input);
  return given.empty() && !input.choices.empty() ? std::string(input.choices.front()) : given;
}

std::vector<const ReckonInput*> ReckonSheet::alternatives(std::string_view group) const {
  std::vector<const ReckonInput*> all;
  for (const ReckonInput& input : reckoning_.inputs) {
    if (input.either == group) all.push_back(&input);
  }
  return all;
}

const ReckonInput* ReckonSheet::alternative(std::string_view group) const {
  const std::vector<const ReckonInput*> all = alternatives(group);
  if (const auto wish = typed_.either.find(group); wish != typed_.either.end()) {
    for (const ReckonInput* input : all) {
      if (input->key == wish->second) return input;
    }
    return nullptr;
  }
  for (const ReckonInput* input : all) {
    if (value(*input)) return input;
  }
  return all.front()->required ? all.front() : nullptr;
}

bool ReckonSheet::leads(const ReckonInput& input) const {
  return input.either.empty() || alternatives(input.either).front() == &input;
}

bool ReckonSheet::may_be_left(const ReckonInput& input) const {
  return !input.required || stands_in(input) || !input.choices.empty();
}

std::vector<const ReckonInput*> ReckonSheet::missing() const {
  std::vector<const ReckonInput*> missing;
  for (const ReckonInput& input : reckoning_.inputs) {
    if (!leads(input) || may_be_left(input)) continue;
    const ReckonInput* asked = input.either.empty() ? &input : alternative(input.either);
    if (asked != nullptr && !value(*asked)) missing.push_back(asked);
  }
  return missing;
}

std::vector<std::pair<std::string, ReckonInputValue>> ReckonSheet::given() const {
  std::vector<std::pair<std::string, ReckonInputValue>> given;
  for (const ReckonInput& input : reckoning_.inputs) {
    if (!input.either.empty() && alternative(input.either) != &input) continue;
    if (const auto value_of_input = value(input)) given.emplace_back(std::string(input.key), *value_of_input);
  }
  return given;
}

}  // namespace tawny::ui
