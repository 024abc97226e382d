#include "office/tomorrow.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <set>
#include <tuple>

#include "base/sort_stably.h"
#include "farm/own_ponds.h"
#include "farm/pond_filling.h"
#include "farm/walk.h"

namespace tawny {
namespace {

constexpr Role kRoles[] = {Role::worker, Role::technician, Role::manager};

Text name_of_pond(const Farm& farm, const std::string& id) {
  const FarmPond* pond = farm.pond(id);
  return Text{pond != nullptr ? pond->history.pond.name : id.empty() ? farm.name : id};
}

// Hours alone: the whole list is of one day.
Message with_hours(Message line, const Farm& farm, const DueItem& item) {
  return std::move(line)
      .with("from", Text{to_hh_mm(item.from, farm.place.offset)})
      .with("until", Text{to_hh_mm(item.until, farm.place.offset)});
}

// "Heron: read oxygen and pH, 05:10 to 07:10".
Message line_of(const Farm& farm, const DueItem& item) {
  const bool hours = item.window.has_value();
  Message line(item.detail.empty() ? (hours ? "tomorrow.window" : "tomorrow.day")
                                   : (hours ? "tomorrow.part_window" : "tomorrow.part_day"));
  line.with("pond", name_of_pond(farm, item.pond)).with("act", Word{"act." + std::string(name_of(item.act))});
  if (!item.detail.empty()) line.with("part", Text{item.detail});
  return hours ? with_hours(std::move(line), farm, item) : line;
}

Message dose_line(const Farm& farm, const Protocol& standard, const std::vector<Product>& products,
                  const FarmPond& pond, const DueItem& item) {
  const Protocol protocol = protocol_of(pond, standard, farm.at);
  const double rate =
      pond.state.dose.advised ? pond.state.dose.rate_kg_ha : protocol.number("stage.first_dose.rate_kg_ha");
  const auto& allowed = protocol.list("dose.products_allowed");
  std::string product = allowed.empty() ? std::string() : allowed.front();
  for (const FarmProduct& one : farm.products) {
    if (!one.in_use) continue;
    product = one.product;
    break;
  }
  if (!pond.history.doses.empty()) product = pond.history.doses.back().product;
  const auto walk = plan_walk(farm, standard, products, pond.history.pond.id, product, rate);
  if (!walk) return line_of(farm, item);
  return with_hours(Message("tomorrow.dose")
                        .with("pond", Text{pond.history.pond.name})
                        .with("kg", Quantity{walk->product_kg, 1, "kg"})
                        .with("product", Word{"product." + product})
                        .with("count", bare(walk->bins.bins)),
                    farm, item);
}

// All but one of its gate's criteria hold.
const Criterion* last_open(const PondState& state) {
  const Criterion* open = nullptr;
  for (const Criterion& one : state.criteria) {
    if (one.verdict == Verdict::met) continue;
    if (open != nullptr) return nullptr;
    open = &one;
  }
  return open;
}

class Teller {
 public:
  Teller(Farm farm, const Protocol& standard, const std::vector<Product>& products, const Plan& plan,
         CivilDay day)
      : farm_(std::move(farm)), standard_(standard), products_(products), plan_(plan) {
    tomorrow_.day = day;
    for (const Role role : kRoles) {
      TomorrowList list;
      list.role = role;
      std::set<std::string> people;
      for (const CrewMember& member : crew_of(farm_)) {
        if (member.role == role) people.insert(member.person);
      }
      list.people.assign(people.begin(), people.end());
      tomorrow_.lists.push_back(std::move(list));
    }
    for (const FarmPond& pond : farm_.ponds) {
      for (const auto& [role, name] : pond.persons) {
        TomorrowOfPerson& person = persons_[name];
        person.person = name;
        const std::string& id = pond.history.pond.id;
        if (person.ponds.empty() || person.ponds.back() != id) person.ponds.push_back(id);
      }
    }
  }

  Tomorrow tell(const Rounds& rounds) {
    for (const DueItem& item : rounds.items) due(item);
    for (const BookingPlan& one : plan_.bookings) booking(one);
    for (const FarmPond& pond : farm_.ponds) gate(pond);
    for (TomorrowList& list : tomorrow_.lists) sort(list.items);
    for (auto& [name, person] : persons_) {
      sort(person.items);
      tomorrow_.persons.push_back(std::move(person));
    }
    return std::move(tomorrow_);
  }

 private:
  void sort(std::vector<TomorrowItem>& items) const {
    sort_stably(items, [this](const TomorrowItem& a, const TomorrowItem& b) {
      // What has no hour comes after what has one.
      const auto hour = [](const TomorrowItem& item) { return item.from ? item.from->unix_s : INT64_MAX; };
      return std::tuple(hour(a), order_of(a.pond)) < std::tuple(hour(b), order_of(b.pond));
    });
  }

  int order_of(const std::string& pond) const {
    const FarmPond* found = farm_.pond(pond);
    return found == nullptr ? -1 : found->history.pond.walk_order;
  }

  // To the person who has the pond for this part, else to the whole part.
  void add(Role role, TomorrowItem item) {
    const FarmPond* pond = farm_.pond(item.pond);
    const std::string* person = pond == nullptr ? nullptr : person_of(*pond, role);
    if (person == nullptr) {
      tomorrow_.lists[static_cast<std::size_t>(role)].items.push_back(std::move(item));
      return;
    }
    std::vector<TomorrowItem>& items = persons_[*person].items;
    // A delivery is asked of every part: who has two of them reads it once.
    if (items.empty() || !(items.back().line == item.line)) items.push_back(std::move(item));
  }

  void due(const DueItem& item) {
    if (item.state == DueState::done) return;
    TomorrowItem one;
    one.pond = item.pond;
    one.act = item.act;
    one.window = item.window;
    if (item.window) {
      one.from = item.from;
      one.until = item.until;
    }
    const FarmPond* pond = farm_.pond(item.pond);
    if (item.act == Act::dose && pond != nullptr) {
      one.what = TomorrowItem::What::dose;
      one.line = dose_line(farm_, standard_, products_, *pond, item);
    } else if (item.act == Act::fill) {
      one.what = TomorrowItem::What::fill;
      one.line = fill_line(item);
      filling_.insert(item.pond);
    } else {
      one.line = line_of(farm_, item);
    }
    add(item.role, std::move(one));
  }

  Message fill_line(const DueItem& item) const {
    const FarmPond* pond = farm_.pond(item.pond);
    if (pond == nullptr) return line_of(farm_, item);
    const auto target = fill_target(*pond, protocol_of(*pond, standard_, farm_.at), pond->state.stage);
    if (!target) return line_of(farm_, item);
    return Message("tomorrow.fill")
        .with("pond", Text{pond->history.pond.name})
        .with("level", Quantity{target->aim_cm, 0, "cm"});
  }

  void booking(const BookingPlan& one) {
    TomorrowItem item;
    item.pond = one.booking.pond;
    if (one.booking.deliver_on == tomorrow_.day) {
      item.what = TomorrowItem::What::delivery;
      item.line = Message("tomorrow.delivery")
                      .with("pond", name_of_pond(farm_, one.booking.pond))
                      .with("pl_count", Quantity{one.booking.pl_count, 0, ""});
      for (const Role role : kRoles) add(role, item);
    }
    for (const PlannedStage& stage : one.stages) {
      if (stage.running || stage.start_by != tomorrow_.day) continue;
      if (filling_.count(one.booking.pond) != 0) continue;
      // A stage begins when its pond comes to it: the plan only says that this is the last day.
      item.what = TomorrowItem::What::gate;
      item.line = Message("tomorrow.last_day")
                      .with("pond", name_of_pond(farm_, one.booking.pond))
                      .with("stage", Word{"stage." + std::string(name_of(stage.stage))})
                      .with("day", one.booking.deliver_on);
      add(Role::manager, item);
    }
  }

  void gate(const FarmPond& pond) {
    if (!pond.state.in_cycle || pond.state.finished || pond.state.stage == Stage::early_cycle) return;
    const Criterion* open = last_open(pond.state);
    if (open == nullptr) return;
    TomorrowItem item;
    item.what = TomorrowItem::What::gate;
    item.pond = pond.history.pond.id;
    item.line = Message("tomorrow.gate")
                    .with("pond", Text{pond.history.pond.name})
                    .with("stage", Word{"stage." + std::string(name_of(pond.state.stage))})
                    .with("criterion", Word{"criterion." + open->id});
    add(Role::manager, std::move(item));
  }

  Farm farm_;
  const Protocol& standard_;
  const std::vector<Product>& products_;
  const Plan& plan_;
  Tomorrow tomorrow_;
  std::map<std::string, TomorrowOfPerson> persons_;
  std::set<std::string> filling_;
};

}  // namespace

Result<Tomorrow> tomorrow_of(const Logbook& logbook, const Protocol& standard,
                             const std::vector<Product>& products, const Plan& plan, UtcOffset offset,
                             Instant now) {
  const CivilDay day = civil_day(now, offset).plus(1);
  const Instant start = instant_at(day, 0, offset);
  Farm farm = fold_farm(logbook, standard, start);
  const auto due = rounds(farm, standard, start);
  if (!due) return tl::unexpected<Problem>(due.error());
  return Teller(std::move(farm), standard, products, plan, day).tell(*due);
}

}  // namespace tawny
