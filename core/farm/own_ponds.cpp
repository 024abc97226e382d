#include "farm/own_ponds.h"

#include <algorithm>
#include <tuple>

#include "farm/set_up_values.h"

namespace tawny {

Result<PondPerson> read_pond_person(const Entry& entry) {
  if (entry.pond.empty()) return set_up_lacks("pond");
  PondPerson given;
  const std::string* role = entry.text("role");
  const auto read = role == nullptr ? std::nullopt : role_of(*role);
  if (!read) return set_up_lacks("role");
  given.role = *read;
  const std::string* person = entry.text("person");
  if (person == nullptr) return set_up_lacks("person");
  given.person = *person;
  return given;
}

Values pond_person_values(const PondPerson& given) {
  return {{"role", std::string(name_of(given.role))}, {"person", given.person}};
}

const std::string* person_of(const FarmPond& pond, Role role) {
  const auto found = pond.persons.find(role);
  return found == pond.persons.end() ? nullptr : &found->second;
}

bool has_pond(const FarmPond& pond, std::string_view person) {
  return std::any_of(pond.persons.begin(), pond.persons.end(),
                     [&](const auto& given) { return given.second == person; });
}

bool has_ponds(const Farm& farm, std::string_view person) {
  return std::any_of(farm.ponds.begin(), farm.ponds.end(),
                     [&](const FarmPond& pond) { return has_pond(pond, person); });
}

bool in_danger(const FarmPond& pond) {
  return std::any_of(pond.state.troubles.begin(), pond.state.troubles.end(),
                     [](const Trouble& trouble) { return trouble.severity == Trouble::Severity::alarm; });
}

bool is_for(const Farm& farm, const DueItem& item, std::string_view person) {
  const FarmPond* pond = farm.pond(item.pond);
  if (pond == nullptr || in_danger(*pond) || has_pond(*pond, person)) return true;
  return person_of(*pond, item.role) == nullptr;
}

std::vector<CrewMember> crew_of(const Farm& farm) {
  std::vector<CrewMember> crew;
  for (const auto& [device, person] : farm.people) {
    const auto role = role_of(person.second);
    if (!role || person.first.empty()) continue;
    CrewMember member{person.first, *role};
    if (std::find(crew.begin(), crew.end(), member) == crew.end()) crew.push_back(std::move(member));
  }
  std::sort(crew.begin(), crew.end(), [](const CrewMember& a, const CrewMember& b) {
    return std::tie(a.role, a.person) < std::tie(b.role, b.person);
  });
  return crew;
}

}  // namespace tawny
