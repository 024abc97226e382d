#include "office/conflicts.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/sort_stably.h"
#include "farm/own_ponds.h"
#include "farm/pond_filling.h"
#include "protocol/windows.h"

namespace tawny {
namespace {

// Days from which on the stage takes place; both ends in.
struct Span {
  CivilDay from, last;
};

// One day by its date, more by both ends.
Message with_days(Message what, const Span& span) {
  if (span.last == span.from) return std::move(what).with("day", span.from);
  return std::move(what).with("from", span.from).with("until", span.last);
}

class Finder {
 public:
  Finder(const Farm& farm, const Protocol& standard, const Plan& plan, const PlanSetUp& set_up)
      : farm_(farm), standard_(standard), plan_(plan), set_up_(set_up) {}

  std::vector<Conflict> find() {
    for (const BookingPlan& one : plan_.bookings) {
      alone(one);
      if (one.state != BookingState::planned) continue;
      for (const PlannedStage& stage : one.stages) {
        if (is_fill(stage.stage)) tides(one, stage);
      }
    }
    twice();
    pumps();
    doses();
    deliveries();
    sort_stably(found_, [](const Conflict& a, const Conflict& b) { return a.from < b.from; });
    return std::move(found_);
  }

 private:
  std::string name_of_pond(const std::string& id) const {
    const FarmPond* pond = farm_.pond(id);
    return pond == nullptr ? id : pond->history.pond.name;
  }

  void add(std::string id, Message what, std::vector<std::string> bookings, CivilDay from, CivilDay until) {
    found_.push_back({std::move(id), std::move(what), std::move(bookings), from, until});
  }

  // What a booking is at odds with by itself.
  void alone(const BookingPlan& one) {
    const CivilDay day = one.booking.deliver_on;
    const Text pond{name_of_pond(one.booking.pond)};
    const std::vector<std::string> self = {one.booking.booking};
    switch (one.state) {
      case BookingState::no_pond:
        add("no_pond", Message("plan.conflict.no_pond").with("day", day), self, day, day);
        return;
      case BookingState::unknown:
        add("unknown", Message("plan.conflict.unknown").with("day", day).with("pond", pond), self, day, day);
        return;
      case BookingState::unsupported:
        add("unsupported", Message("plan.conflict.unsupported").with("day", day).with("pond", pond), self, day,
            day);
        return;
      case BookingState::ready:
      case BookingState::past:
        return;
      case BookingState::planned:
        break;
    }
    if (!one.too_late()) return;
    if (one.not_before && *one.not_before > plan_.today) {
      // Two deliveries of one pond are said by twice().
      if (first_of_pond(one)) {
        add("too_early",
            Message("plan.conflict.too_early")
                .with("pond", pond)
                .with("day", day)
                .with("start", one.stages.front().start_by)
                .with("end", *one.not_before),
            self, one.stages.front().start_by, day);
      }
      return;
    }
    add("late",
        Message("plan.conflict.late").with("pond", pond).with("day", day).with("count", bare(-one.slack_days)),
        self, plan_.today, day);
  }

  // No other delivery of its pond that is still to come stands before it.
  bool first_of_pond(const BookingPlan& one) const {
    for (const BookingPlan& other : plan_.bookings) {
      if (&other == &one) return true;
      if (other.booking.pond == one.booking.pond && other.state != BookingState::past) return false;
    }
    return true;
  }

  void twice() {
    std::map<std::string, const BookingPlan*> last;
    for (const BookingPlan& one : plan_.bookings) {
      if (one.booking.pond.empty() || one.state == BookingState::past) continue;
      const auto before = last.find(one.booking.pond);
      if (before != last.end() && one.too_late() && one.not_before) {
        add("twice",
            Message("plan.conflict.twice")
                .with("pond", Text{name_of_pond(one.booking.pond)})
                .with("day", before->second->booking.deliver_on)
                .with("other", one.booking.deliver_on),
            {before->second->booking.booking, one.booking.booking}, before->second->booking.deliver_on,
            one.booking.deliver_on);
      }
      last.insert_or_assign(one.booking.pond, &one);
    }
  }

  Span span_of(const PlannedStage& stage) const {
    if (stage.running) {
      const int days = std::max(1, static_cast<int>(std::ceil(stage.median_d)));
      return {plan_.today, plan_.today.plus(days - 1)};
    }
    return {stage.start_by, std::max(stage.start_by, stage.until.plus(-1))};
  }

  struct Use {
    const BookingPlan* booking = nullptr;
    Span span;
  };

  void pumps() {
    std::map<std::string, std::vector<Use>> uses;
    for (const BookingPlan& one : plan_.bookings) {
      const FarmPond* pond = farm_.pond(one.booking.pond);
      if (pond == nullptr || one.state != BookingState::planned) continue;
      std::set<std::string> names;
      for (const Inlet& inlet : pond->inlets) {
        if (!inlet.pump.empty()) names.insert(inlet.pump);
      }
      for (const PlannedStage& stage : one.stages) {
        if (!is_fill(stage.stage)) continue;
        for (const std::string& name : names) uses[name].push_back({&one, span_of(stage)});
      }
    }
    for (auto& [name, all] : uses) pump(name, all);
  }

  // Of two ponds: once, for all the days on which they meet.
  void pump(const std::string& name, std::vector<Use>& uses) {
    sort_stably(uses, [](const Use& a, const Use& b) { return a.span.from < b.span.from; });
    for (std::size_t i = 0; i < uses.size(); ++i) {
      for (std::size_t j = i + 1; j < uses.size() && uses[j].span.from <= uses[i].span.last; ++j) {
        const Use& a = uses[i];
        const Use& b = uses[j];
        if (a.booking->booking.pond == b.booking->booking.pond) continue;
        const CivilDay last = std::min(a.span.last, b.span.last);
        Message what(last == b.span.from ? "plan.conflict.pump_day" : "plan.conflict.pump");
        what.with("pump", Text{name})
            .with("pond", Text{name_of_pond(a.booking->booking.pond)})
            .with("other", Text{name_of_pond(b.booking->booking.pond)});
        add("pump", with_days(std::move(what), {b.span.from, last}),
            {a.booking->booking.booking, b.booking->booking.booking}, b.span.from, last);
      }
    }
  }

  void tides(const BookingPlan& one, const PlannedStage& stage) {
    const FarmPond* pond = farm_.pond(one.booking.pond);
    if (pond == nullptr || !pond->tide || pond->inlets.empty()) return;
    for (const Inlet& inlet : pond->inlets) {
      if (!is_tidal(inlet)) return;
    }
    const Protocol protocol = protocol_of(*pond, standard_, farm_.at);
    const auto target = fill_target(*pond, protocol, stage.stage);
    if (!target) return;
    const Span span = span_of(stage);
    const Instant from = instant_at(span.from, 0, farm_.place.offset);
    const Instant until = instant_at(span.last.plus(1), 0, farm_.place.offset);
    // The table must reach over all of these days to speak of them.
    if (pond->tide->from() > from || pond->tide->until() < until) return;
    double highest_cm = *pond->tide->level_cm(from);
    for (const TidePoint& point : pond->tide->points()) {
      if (point.at >= from && point.at <= until) highest_cm = std::max(highest_cm, point.level_cm);
    }
    highest_cm = std::max(highest_cm, *pond->tide->level_cm(until));
    if (highest_cm >= target->low_cm) return;
    Message what(span.last == span.from ? "plan.conflict.tide_day" : "plan.conflict.tide");
    what.with("pond", Text{pond->history.pond.name})
        .with("tide", Quantity{highest_cm, 0, "cm"})
        .with("level", Quantity{target->low_cm, 0, "cm"});
    add("tide", with_days(std::move(what), span), {one.booking.booking}, span.from, span.last);
  }

  void doses() {
    std::map<CivilDay, std::vector<const BookingPlan*>> mornings;
    for (const BookingPlan& one : plan_.bookings) {
      if (one.state != BookingState::planned) continue;
      // The dose ends its stage: it is given on the morning of the next one.
      for (const PlannedStage& stage : one.stages) {
        if (stage.stage == Stage::first_dose) mornings[std::max(stage.until, plan_.today)].push_back(&one);
      }
    }
    const Protocol protocol = protocol_of(farm_, standard_, farm_.at);
    const double per_bin_min = protocol.number("plan.minutes_per_bin");
    const double per_pond_min = protocol.number("plan.minutes_per_pond");
    for (const auto& [day, ponds] : mornings) {
      const auto windows = windows_of(day, farm_.place, protocol);
      if (!windows) continue;
      const double window_min = hours_between(windows->dose.from, windows->dose.until) * 60;
      const auto minutes = [&](const std::vector<const BookingPlan*>& all) {
        double needed_min = 0;
        for (const BookingPlan* one : all) needed_min += per_pond_min + per_bin_min * one->bins;
        return needed_min;
      };
      const double at_once = std::min(set_up_.boats, set_up_.bin_crews);
      if (minutes(ponds) > at_once * window_min) {
        add("doses",
            Message("plan.conflict.doses")
                .with("day", day)
                .with("ponds", Text{names_of(ponds)})
                .with("needed", Quantity{minutes(ponds) / 60, 1, "h"})
                .with("have", Quantity{at_once * window_min / 60, 1, "h"}),
            bookings_of(ponds), day, day);
      }
      for (const auto& [person, own] : by_person(ponds, Role::worker)) {
        if (minutes(own) <= window_min) continue;
        add("doses_person",
            Message("plan.conflict.doses_person")
                .with("day", day)
                .with("person", Text{person})
                .with("ponds", Text{names_of(own)})
                .with("needed", Quantity{minutes(own) / 60, 1, "h"})
                .with("have", Quantity{window_min / 60, 1, "h"}),
            bookings_of(own), day, day);
      }
    }
  }

  std::string names_of(const std::vector<const BookingPlan*>& all) const {
    std::string names;
    for (const BookingPlan* one : all) {
      const std::string name = name_of_pond(one->booking.pond);
      if (!name.empty()) names += (names.empty() ? "" : ", ") + name;
    }
    return names.empty() ? "-" : names;
  }

  static std::vector<std::string> bookings_of(const std::vector<const BookingPlan*>& all) {
    std::vector<std::string> bookings;
    for (const BookingPlan* one : all) bookings.push_back(one->booking.booking);
    return bookings;
  }

  // Those whose pond somebody has for that part.
  std::map<std::string, std::vector<const BookingPlan*>> by_person(const std::vector<const BookingPlan*>& all,
                                                                   Role role) const {
    std::map<std::string, std::vector<const BookingPlan*>> persons;
    for (const BookingPlan* one : all) {
      const FarmPond* pond = farm_.pond(one->booking.pond);
      const std::string* person = pond == nullptr ? nullptr : person_of(*pond, role);
      if (person != nullptr) persons[*person].push_back(one);
    }
    return persons;
  }

  void deliveries() {
    const Protocol protocol = protocol_of(farm_, standard_, farm_.at);
    const double per_delivery = protocol.number("plan.people_per_delivery");
    std::map<CivilDay, std::vector<const BookingPlan*>> days;
    for (const BookingPlan& one : plan_.bookings) {
      if (one.state != BookingState::past) days[one.booking.deliver_on].push_back(&one);
    }
    for (const auto& [day, all] : days) {
      const double needed = per_delivery * static_cast<double>(all.size());
      if (needed > set_up_.people) {
        add("deliveries",
            Message("plan.conflict.deliveries")
                .with("day", day)
                .with("count", bare(all.size()))
                .with("ponds", Text{names_of(all)})
                .with("needed", bare(needed))
                .with("have", bare(set_up_.people)),
            bookings_of(all), day, day);
      }
      // The manager is not needed at every bank.
      std::set<std::string> said;
      for (const Role role : {Role::worker, Role::technician}) {
        for (const auto& [person, own] : by_person(all, role)) {
          if (own.size() < 2 || !said.insert(person).second) continue;
          add("deliveries_person",
              Message("plan.conflict.deliveries_person")
                  .with("day", day)
                  .with("person", Text{person})
                  .with("ponds", Text{names_of(own)}),
              bookings_of(own), day, day);
        }
      }
    }
  }

  const Farm& farm_;
  const Protocol& standard_;
  const Plan& plan_;
  const PlanSetUp& set_up_;
  std::vector<Conflict> found_;
};

}  // namespace

std::vector<Conflict> conflicts_of(const Farm& farm, const Protocol& standard, const Plan& plan,
                                   const PlanSetUp& set_up) {
  return Finder(farm, standard, plan, set_up).find();
}

}  // namespace tawny
