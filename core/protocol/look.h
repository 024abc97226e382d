// What a criterion sees: the history up to one instant, the protocol that stood then, and the stage it judges.
//
// A criterion is one function Criterion(const Look&), listed in its stage's table (criteria.h). It reads
// through the Look only, so that nothing later than `at` can slip in, and it answers through Answer.
#pragma once

#include <algorithm>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/assess.h"
#include "protocol/usable.h"

namespace tawny {

struct Look {
  const PondHistory& history;
  const Usable& usable;
  const Protocol& protocol;
  const FarmPlace& place;
  Instant at;
  CivilDay day;  // the farm's day of `at`
  Stage stage = Stage::bottom;
  Instant since;            // when the stage was reached
  bool explain = true;      // false: only verdict and recheck_at are wanted
  bool others_met = false;  // all criteria before this one in the stage's table are met

  double number(std::string_view path) const { return protocol.number(path); }
  // Number `value` of the stage that is judged: "stage.<stage>.<value>".
  double of_stage(std::string_view value) const { return protocol.number(stage_path(value)); }
  std::string stage_path(std::string_view value) const;

  // When a reading of `window` can next be taken, from `from` on; nothing where the sun does not rise.
  std::optional<Instant> next_in(WindowName window, Instant from) const;
  Instant start_of(CivilDay one) const { return instant_at(one, 0, place.offset); }
  CivilDay day_of(Instant instant) const { return civil_day(instant, place.offset); }
};

// The last of `items` (in order of time) at or before `at`; null when there is none, or only ones before
// `since`.
template <typename Item>
const Item* last_of(const std::vector<Item>& items, Instant at, Instant since = Instant{INT64_MIN}) {
  const auto after = std::upper_bound(items.begin(), items.end(), at,
                                      [](Instant instant, const Item& item) { return instant < item.at; });
  if (after == items.begin() || std::prev(after)->at < since) return nullptr;
  return &*std::prev(after);
}

// Doses that count at `at`: those that a settled question has taken out are left out.
std::vector<const DoseRecord*> doses_at(const PondHistory& history, Instant at);

// Differences of readings with one or two decimals are compared without the dust of binary fractions: 8.2 - 7.8
// is at least 0.4 here.
bool at_least(double value, double limit);
bool at_most(double value, double limit);

// "2 decimals at most, as many as the reading deserves" in one place for all messages.
Quantity in_cm(double value);
Quantity in_mg_l(double value);
Quantity in_ph(double value);
Quantity in_kg_ha(double value);
Quantity in_percent_of_one(double share);
Quantity in_days(double value);
Quantity plain(double value, int decimals = 0);

class Answer {
 public:
  Answer(const Look& look, std::string_view id) : look_(look) {
    if (look.explain) criterion_.id = id;
  }
  Answer& rests_on(std::initializer_list<std::string_view> paths);
  Answer& rests_on_stage(std::initializer_list<std::string_view> values);
  Answer& cite(const Entry* entry);
  Answer& cite(const std::vector<const Entry*>& entries);
  Answer& settled_by(Act act);
  Answer& settled_by(Act act, WindowName window, Instant not_before);
  Answer& next_chance(Instant instant);
  Answer& recheck(Instant instant);

  Criterion met(Message why) { return give(Verdict::met, std::move(why)); }
  Criterion unmet(Message why) { return give(Verdict::unmet, std::move(why)); }
  Criterion unknown(Message why) { return give(Verdict::unknown, std::move(why)); }

 private:
  Criterion give(Verdict verdict, Message why);
  const Look& look_;
  Criterion criterion_;
};

}  // namespace tawny
