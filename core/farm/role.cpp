#include "farm/role.h"

#include <utility>

namespace tawny {
namespace {

constexpr std::pair<Role, std::string_view> kRoles[] = {
    {Role::worker, "worker"}, {Role::technician, "technician"}, {Role::manager, "manager"}};

}  // namespace

std::string_view name_of(Role role) {
  for (const auto& [value, name] : kRoles) {
    if (value == role) return name;
  }
  return {};
}

std::optional<Role> role_of(std::string_view name) {
  for (const auto& [value, text] : kRoles) {
    if (text == name) return value;
  }
  return std::nullopt;
}

}  // namespace tawny
