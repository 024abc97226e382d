// Ponds that the manager gave to persons: whose an item of the rounds is, and what everybody must see whoever
// has the pond.
//
// A pond is given for one part of the crew at a time (its worker, its technician, its manager), to a person by
// the name that stands on a device of the farm. What nobody was given is everybody's of that part.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "farm/rounds.h"

namespace tawny {

struct PondPerson {
  Role role = Role::technician;
  std::string person;  // empty: nobody any more
};
// Refused when pond, part or person is missing.
Result<PondPerson> read_pond_person(const Entry& entry);
Values pond_person_values(const PondPerson& given);

// The person who has the pond for that part; null where nobody has.
const std::string* person_of(const FarmPond& pond, Role role);

// For one part or another.
bool has_pond(const FarmPond& pond, std::string_view person);
bool has_ponds(const Farm& farm, std::string_view person);

// A trouble of the gravest kind: shown to everybody.
bool in_danger(const FarmPond& pond);

// What stands on the rounds of a person who looks at their own ponds only: the work of those, what is for the
// whole farm, what nobody has, and all of a pond in danger.
bool is_for(const Farm& farm, const DueItem& item, std::string_view person);

struct CrewMember {
  std::string person;
  Role role = Role::worker;
  bool operator==(const CrewMember&) const = default;
};
// Who holds a device of the farm, each name and part once, by part and name.
std::vector<CrewMember> crew_of(const Farm& farm);

}  // namespace tawny
