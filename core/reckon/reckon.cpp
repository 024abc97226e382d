#include "reckon/reckon.h"

#include "reckon/given.h"

namespace tawny {

std::string_view name_of(ReckonGroup group) {
  switch (group) {
    case ReckonGroup::water:
      return "water";
    case ReckonGroup::sun:
      return "sun";
    case ReckonGroup::oxygen:
      return "oxygen";
    case ReckonGroup::filling:
      return "filling";
    case ReckonGroup::dose:
      return "dose";
  }
  return {};
}

const ReckonValue* ReckonAnswer::result(std::string_view key) const {
  for (const auto& [name, value] : results) {
    if (name == key) return &value;
  }
  return nullptr;
}

const ReckonInput* Reckoning::input(std::string_view key) const {
  for (const ReckonInput& input : inputs) {
    if (input.key == key) return &input;
  }
  return nullptr;
}

const ReckonResult* Reckoning::result(std::string_view key) const {
  for (const ReckonResult& result : results) {
    if (result.key == key) return &result;
  }
  return nullptr;
}

const std::vector<Reckoning>& reckonings() {
  static const std::vector<Reckoning> all = [] {
    std::vector<Reckoning> joined;
    for (const auto group : {dose_reckonings(), filling_reckonings(), filling_plan_reckonings(),
                             oxygen_reckonings(), sun_reckonings(), water_reckonings()}) {
      joined.insert(joined.end(), group.begin(), group.end());
    }
    return joined;
  }();
  return all;
}

const Reckoning* find_reckoning(std::string_view name) {
  for (const Reckoning& reckoning : reckonings()) {
    if (reckoning.name == name) return &reckoning;
  }
  return nullptr;
}

Result<ReckonAnswer> reckon(const Reckoning& reckoning,
                            const std::vector<std::pair<std::string, std::variant<double, std::string>>>& given,
                            const ReckonContext& context) {
  ReckonGiven inputs(reckoning, context);
  for (const auto& [key, value] : given) {
    if (auto problem = inputs.take(key, value)) return tl::unexpected<Problem>(*std::move(problem));
  }
  if (auto problem = inputs.complete()) return tl::unexpected<Problem>(*std::move(problem));
  return reckoning.reckon(inputs);
}

}  // namespace tawny
