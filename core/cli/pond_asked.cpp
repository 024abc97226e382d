#include "cli/pond_asked.h"

namespace tawny::cli {

tl::expected<std::string, std::string> pond_id(const Farm& farm, const std::string& asked) {
  if (farm.pond(asked) != nullptr) return asked;
  std::string known;
  const FarmPond* found = nullptr;
  for (const FarmPond& pond : farm.ponds) {
    const Pond& one = pond.history.pond;
    known += (known.empty() ? "" : ", ") + one.name + " (" + one.id + ")";
    if (one.name != asked) continue;
    if (found != nullptr) {
      return tl::unexpected<std::string>("two ponds are called \"" + asked + "\"; say its id: " + known);
    }
    found = &pond;
  }
  if (found == nullptr) {
    return tl::unexpected<std::string>("there is no pond \"" + asked + "\"" +
                                       (known.empty() ? "" : "; there are: " + known));
  }
  return found->history.pond.id;
}

}  // namespace tawny::cli
