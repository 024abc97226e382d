#include "office/plan.h"

#include <algorithm>
#include <cmath>

#include "base/sort_stably.h"
#include "farm/walk.h"

namespace tawny {
namespace {

constexpr double kEarlyShare = 0.9;  // of a start that is enough 9 of 10 times
constexpr double kLateShare = 0.1;

int whole_days_before(double days) { return -static_cast<int>(std::ceil(days - 1e-9)); }

std::vector<DaySpread> sums_from(const std::vector<StageDays>& stages) {
  std::vector<DaySpread> sums(stages.size(), DaySpread::exactly(0));
  for (std::size_t i = stages.size(); i-- > 0;) {
    sums[i] = i + 1 < stages.size() ? stages[i].spread.plus(sums[i + 1]) : stages[i].spread;
  }
  return sums;
}

// What the farm would dissolve for the first dose: what it broadcast here, else its first product in use.
std::string product_of(const Farm& farm, const FarmPond& pond, const Protocol& protocol) {
  if (!pond.history.broadcasts.empty()) return pond.history.broadcasts.back().product;
  for (const FarmProduct& product : farm.products) {
    if (product.in_use) return product.product;
  }
  const auto& allowed = protocol.list("dose.products_allowed");
  return allowed.empty() ? std::string() : allowed.front();
}

int bins_of(const Farm& farm, const FarmPond& pond, const Protocol& standard, const Protocol& protocol,
            const std::vector<Product>& products) {
  const double rate_kg_ha = protocol.number("stage.first_dose.rate_kg_ha");
  const auto walk =
      plan_walk(farm, standard, products, pond.history.pond.id, product_of(farm, pond, protocol), rate_kg_ha);
  if (walk) return walk->bins.bins;
  // Without a plan for its salt, by what two people lift.
  const double kg = rate_kg_ha * pond.history.pond.nominal_area_ha;
  return std::max(1, static_cast<int>(std::ceil(kg / std::max(1.0, farm.bin_limits.lift_kg))));
}

std::optional<Instant> release_of(const FarmPond& pond) {
  if (!pond.state.in_cycle) return std::nullopt;
  for (const GateOpened& gate : pond.state.gates) {
    if (gate.stage == Stage::release) return gate.at;
  }
  return std::nullopt;
}

void plan_stages(BookingPlan& plan, const std::vector<StageDays>& stages, const std::vector<DaySpread>& sums,
                 CivilDay today) {
  const CivilDay day = plan.booking.deliver_on;
  double left_d = 0;
  for (std::size_t i = stages.size(); i-- > 0;) {
    const StageDays& days = stages[i];
    PlannedStage one;
    one.stage = days.stage;
    one.until = day.plus(whole_days_before(left_d));
    left_d += days.median_d;
    one.start_by = day.plus(whole_days_before(left_d));
    one.early = day.plus(whole_days_before(sums[i].days_for(kEarlyShare)));
    one.late = day.plus(whole_days_before(sums[i].days_for(kLateShare)));
    one.early = std::min(one.early, one.start_by);
    one.late = std::max(one.late, one.start_by);
    one.median_d = days.median_d;
    one.early_d = days.early_d;
    one.late_d = days.late_d;
    one.own = days.own;
    one.by_inlets = days.by_inlets;
    one.running = !plan.new_cycle && i == 0;
    plan.stages.insert(plan.stages.begin(), one);
  }
  if (stages.empty()) return;
  const CivilDay from = std::max(today, plan.not_before.value_or(today));
  const DaySpread& all = sums.front();
  const int room = day.days - from.days;
  plan.slack_days = plan.stages.front().start_by.days - from.days;
  plan.chance = all.chance_within(room);
  plan.certain = room < all.least_d() || all.sure_within(room);
  plan.ready_early = from.plus(-whole_days_before(all.days_for(kLateShare)));
  plan.ready = from.plus(-whole_days_before(left_d));
  plan.ready_late = from.plus(-whole_days_before(all.days_for(kEarlyShare)));
}

}  // namespace

PondBasis pond_basis(const Farm& farm, const FarmPond& pond, const Protocol& standard,
                     const std::vector<Product>& products, const OwnDays& own) {
  // By the day, not by the minute, so that all phones of a farm say the same today.
  const CivilDay today = civil_day(farm.at, farm.place.offset);
  const Instant from = instant_at(today, 0, farm.place.offset);
  const Protocol protocol = protocol_of(pond, standard, farm.at);
  PondBasis basis;
  basis.whole = stage_days(pond, protocol, own, from);
  basis.whole_from = sums_from(basis.whole);
  basis.ahead = stage_days_left(pond, protocol, own, from);
  basis.ahead_from = sums_from(basis.ahead);
  basis.bins = bins_of(farm, pond, standard, protocol, products);
  basis.released = release_of(pond);
  return basis;
}

PlanBasis plan_basis(const Farm& farm, const Protocol& standard, const std::vector<Product>& products,
                     const OwnDays& own, const std::vector<Booking>& bookings) {
  PlanBasis basis;
  for (const Booking& booking : bookings) {
    if (booking.cancelled || basis.count(booking.pond) != 0) continue;
    if (const FarmPond* pond = farm.pond(booking.pond)) {
      basis.emplace(booking.pond, pond_basis(farm, *pond, standard, products, own));
    }
  }
  return basis;
}

const BookingPlan* Plan::find(std::string_view booking) const {
  for (const BookingPlan& one : bookings) {
    if (one.booking.booking == booking) return &one;
  }
  return nullptr;
}

Plan make_plan(const Farm& farm, const Protocol& standard, const PlanBasis& basis,
               const std::vector<Booking>& bookings) {
  Plan plan;
  plan.today = civil_day(farm.at, farm.place.offset);
  std::vector<Booking> sorted;
  for (const Booking& booking : bookings) {
    if (!booking.cancelled) sorted.push_back(booking);
  }
  sort_stably(sorted, [](const Booking& a, const Booking& b) { return a.deliver_on < b.deliver_on; });
  // When the pond's cycle before leaves it, by pond; there while the next booking needs a new cycle.
  std::map<std::string, CivilDay, std::less<>> taken_until;
  for (const Booking& booking : sorted) {
    BookingPlan one;
    one.booking = booking;
    const FarmPond* pond = farm.pond(booking.pond);
    const auto known = basis.find(booking.pond);
    if (booking.deliver_on < plan.today) {
      one.state = BookingState::past;
    } else if (booking.pond.empty()) {
      one.state = BookingState::no_pond;
    } else if (pond == nullptr || known == basis.end()) {
      one.state = BookingState::unknown;
    } else if (pond->state.unsupported) {
      one.state = BookingState::unsupported;
    } else {
      const Protocol protocol = protocol_of(*pond, standard, farm.at);
      const int culture_days = static_cast<int>(protocol.number("plan.culture_days"));
      one.bins = known->second.bins;
      auto taken = taken_until.find(booking.pond);
      if (taken == taken_until.end() && known->second.released) {
        const CivilDay released = civil_day(*known->second.released, farm.place.offset);
        if (booking.deliver_on.days - released.days <= protocol.number("plan.ready_for_days")) {
          one.state = BookingState::ready;
          one.chance = 1;
          one.certain = true;
        } else {
          taken = taken_until.insert_or_assign(booking.pond, released.plus(culture_days)).first;
        }
      }
      if (one.state == BookingState::planned) {
        one.new_cycle = taken != taken_until.end() || known->second.ahead.empty();
        if (taken != taken_until.end()) one.not_before = std::max(taken->second, plan.today);
        const PondBasis& days = known->second;
        plan_stages(one, one.new_cycle ? days.whole : days.ahead,
                    one.new_cycle ? days.whole_from : days.ahead_from, plan.today);
      }
      taken_until.insert_or_assign(booking.pond, booking.deliver_on.plus(culture_days));
    }
    plan.bookings.push_back(std::move(one));
  }
  return plan;
}

Message chance_message(const BookingPlan& plan) {
  if (plan.state == BookingState::ready) return Message("plan.chance.ready");
  if (plan.state != BookingState::planned) return Message("plan.chance.unknown");
  const double percent = std::round(plan.chance * 100);
  if (plan.certain) return Message(plan.chance > 0.5 ? "plan.chance.sure" : "plan.chance.none");
  if (percent < 1) return Message("plan.chance.under");
  if (percent > 99) return Message("plan.chance.over");
  return Message("plan.chance.share").with("chance", Quantity{percent, 0, "percent"});
}

Message slack_message(const BookingPlan& plan) {
  switch (plan.state) {
    case BookingState::no_pond:
      return Message("plan.state.no_pond");
    case BookingState::unknown:
      return Message("plan.state.unknown").with("pond", Text{plan.booking.pond});
    case BookingState::unsupported:
      return Message("plan.state.unsupported");
    case BookingState::ready:
      return Message("plan.state.ready");
    case BookingState::past:
      return Message("plan.state.past");
    case BookingState::planned:
      break;
  }
  if (plan.slack_days < 0) return Message("plan.too_late").with("count", bare(-plan.slack_days));
  if (plan.slack_days == 0) return Message("plan.no_slack");
  return Message("plan.slack").with("count", bare(plan.slack_days));
}

}  // namespace tawny
