// The parts of the crew: who does what on a farm.
#pragma once

#include <optional>
#include <string_view>

namespace tawny {

enum class Role { worker, technician, manager };
std::string_view name_of(Role role);
std::optional<Role> role_of(std::string_view name);

}  // namespace tawny
