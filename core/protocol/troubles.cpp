#include "protocol/troubles.h"

#include "base/sort_stably.h"

namespace tawny {

std::vector<Trouble> find_troubles(const Look& look) {
  using Finder = std::optional<Trouble> (*)(const Look&);
  static constexpr Finder kFinders[] = {crash,       too_dense,  red_brown,    drifting_green,
                                        clear_water, stratified, losing_water, doubtful_meter};
  std::vector<Trouble> troubles;
  for (const Finder find : kFinders) {
    if (auto trouble = find(look)) troubles.push_back(std::move(*trouble));
  }
  sort_stably(troubles, [](const Trouble& a, const Trouble& b) { return a.severity > b.severity; });
  return troubles;
}

bool is_flat(const Look& look, const DayWater& day) {
  return day.paired() && *day.do_swing_mg_l() < look.number("trouble.flat.do_swing_mg_l") - 1e-9 &&
         *day.ph_swing() < look.number("trouble.flat.ph_swing") - 1e-9;
}

std::optional<Sky> sky_of_day(const Look& look, CivilDay day, std::vector<const Entry*>& entries) {
  const Instant start = look.start_of(day);
  const Instant end = std::min(look.at, look.start_of(day.plus(1)).plus_s(-1));
  const SkyLook* last = last_of(look.history.skies, end, start);
  const DoseRecord* dose = last_of(look.history.doses, end, start);
  if (dose != nullptr && dose->sky && (last == nullptr || dose->at > last->at)) {
    entries.push_back(dose->entry);
    return dose->sky;
  }
  if (last == nullptr) return std::nullopt;
  entries.push_back(last->entry);
  return last->sky;
}

}  // namespace tawny
