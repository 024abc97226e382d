// Stage 8: the band held, and animals that eat it.
#include "protocol/criteria.h"

namespace tawny {
namespace {

Criterion band(const Look& look) {
  Answer answer(look, "hold_band.secchi");
  answer.rests_on({"stage.hold_band.band_days", "stage.hold_band.band_days_of", "stage.hold_band.secchi_low_cm",
                   "stage.hold_band.secchi_high_cm"});
  const double low_cm = look.number("stage.hold_band.secchi_low_cm");
  const double high_cm = look.number("stage.hold_band.secchi_high_cm");
  const auto needed = static_cast<int>(look.number("stage.hold_band.band_days"));
  const auto of_days = static_cast<int>(look.number("stage.hold_band.band_days_of"));
  const std::vector<DaySecchi> days = look.usable.secchi_days(look.day_of(look.since), Instant{INT64_MIN},
                                                              look.at, static_cast<std::size_t>(of_days));
  int inside = 0;
  int untold = of_days - static_cast<int>(days.size());
  for (const DaySecchi& day : days) {
    answer.cite(day.entries);
    if (day.inside(low_cm, high_cm)) {
      ++inside;
    } else if (day.more_than && !day.over(high_cm)) {
      ++untold;
    }
  }
  const bool read_today = !days.empty() && days.front().day == look.day;
  answer.settled_by(Act::secchi_reading, WindowName::peak,
                    read_today ? look.start_of(look.day.plus(1)) : look.at);
  Message why = Message("why.band_days")
                    .with("inside", plain(inside))
                    .with("count", plain(static_cast<double>(days.size())))
                    .with("needed", plain(needed))
                    .with("of", plain(of_days))
                    .with("low", in_cm(low_cm))
                    .with("high", in_cm(high_cm));
  if (inside >= needed) return answer.met(std::move(why));
  if (days.empty()) return answer.unknown(say_why_secchi_missing(look, std::move(why)));
  // Until there are enough days, each one that is still missing may lie in the band.
  return inside + untold >= needed ? answer.unknown(std::move(why)) : answer.unmet(std::move(why));
}

Criterion grazers(const Look& look) {
  Answer answer(look, "hold_band.grazers");
  answer.rests_on({"stage.hold_band.copepods_per_l"}).settled_by(Act::grazer_count);
  const double needed_per_l = look.number("stage.hold_band.copepods_per_l");
  const GrazerCount* last = last_of(look.history.grazers, look.at);
  if (last == nullptr) {
    return answer.unknown(Message("why.grazers_none").with("needed", Quantity{needed_per_l, 0, "per_l"}));
  }
  const GrazerCount* before = last == look.history.grazers.data() ? nullptr : last - 1;
  answer.cite(last->entry);
  const auto say = [&](std::string_view message) {
    return Message(message)
        .with("copepods", Quantity{last->copepods_per_l, 0, "per_l"})
        .with("needed", Quantity{needed_per_l, 0, "per_l"});
  };
  if (last->copepods_per_l <= 0) return answer.unmet(say("why.grazers_not_seen"));
  if (last->copepods_per_l >= needed_per_l) return answer.met(say("why.grazers_enough"));
  if (before == nullptr) return answer.unknown(say("why.grazers_one_sample"));
  answer.cite(before->entry);
  const Quantity earlier{before->copepods_per_l, 0, "per_l"};
  if (last->copepods_per_l > before->copepods_per_l) {
    return answer.met(say("why.grazers_rising").with("before", earlier));
  }
  return answer.unmet(say("why.grazers_few").with("before", earlier));
}

// Grabs of one day count together, however many entries they came in.
Criterion bottom_animals(const Look& look) {
  Answer answer(look, "hold_band.bottom_animals");
  answer.rests_on({"stage.hold_band.grabs_with_animals", "stage.hold_band.grabs"}).settled_by(Act::bottom_grab);
  const double needed = look.number("stage.hold_band.grabs_with_animals");
  const double needed_of = look.number("stage.hold_band.grabs");
  const BottomGrab* last = last_of(look.history.grabs, look.at);
  if (last == nullptr) {
    return answer.unknown(Message("why.grabs_none").with("needed", plain(needed)).with("of", plain(needed_of)));
  }
  const CivilDay day = look.day_of(last->at);
  double grabs = 0;
  double with_animals = 0;
  for (const BottomGrab& grab : look.history.grabs) {
    if (grab.at > look.at) break;
    if (look.day_of(grab.at) != day) continue;
    grabs += grab.grabs;
    with_animals += grab.grabs_with_animals;
    answer.cite(grab.entry);
  }
  Message why = Message("why.grabs")
                    .with("with_animals", plain(with_animals))
                    .with("count", plain(grabs))
                    .with("needed", plain(needed))
                    .with("of", plain(needed_of));
  // More grabs than asked for are judged by the same share; fewer as if the missing ones were still to come.
  const double taken = std::max(grabs, needed_of);
  if (with_animals * needed_of >= needed * taken) return answer.met(std::move(why));
  const double to_come = std::max(0.0, needed_of - grabs);
  return with_animals + to_come >= needed && to_come > 0 ? answer.unknown(std::move(why))
                                                         : answer.unmet(std::move(why));
}

constexpr CriterionFunction kCriteria[] = {band, grazers, bottom_animals};

}  // namespace

std::span<const CriterionFunction> hold_band_criteria() { return kCriteria; }

}  // namespace tawny
