// The plan: for each booked delivery, when each stage of its pond must start, how much room there is, and how
// likely the pond is to be ready.
//
// Counted in the farm's civil days, each from its start. A stage with a median of m days that must be over when
// day D begins starts at the latest on
//
//   start by = floor(D - sum of the medians from that stage to the release)
//
// and the release, with the signature, is over when the delivery's day begins. The early end of a start is the
// day from which 9 of 10 times there is enough time, the late end the one from which 1 of 10 times there is
// (both from the sum's own distribution, day_spread.h). Slack is the start of the first stage ahead less today;
// below zero the plan is too late by so many days. The chance of being ready is that of all stages ahead taking
// no longer than from today, or from the end of the cycle before, to the delivery.
//
// A pond's first delivery to come is of its present cycle, as long as that has not been released; every further
// one, and any of a stocked pond, is of a new cycle, which may start "plan.culture_days" after the stocking
// before. A release that was signed up to "plan.ready_for_days" before a delivery is that delivery's.
//
// What does not hold: stages put off on purpose while there is slack (the pond's own readings go on); ponds
// that wait for each other's pump beyond what the conflicts say (conflicts.h).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "dose/product.h"
#include "office/bookings.h"
#include "office/stage_days.h"

namespace tawny {

// What stays as it is while deliveries are moved about: each pond's stages, their sums from each stage on, and
// what its first dose takes. Reckoned once for a fold of the farm.
struct PondBasis {
  std::vector<StageDays> whole;       // of a new cycle
  std::vector<StageDays> ahead;       // of the present one; empty where there is none to finish
  std::vector<DaySpread> whole_from;  // sums of whole[i] and all after it
  std::vector<DaySpread> ahead_from;
  int bins = 1;                     // of the first dose
  std::optional<Instant> released;  // of the present cycle
};
using PlanBasis = std::map<std::string, PondBasis, std::less<>>;

// Of the ponds named by `bookings`.
PlanBasis plan_basis(const Farm& farm, const Protocol& standard, const std::vector<Product>& products,
                     const OwnDays& own, const std::vector<Booking>& bookings);
PondBasis pond_basis(const Farm& farm, const FarmPond& pond, const Protocol& standard,
                     const std::vector<Product>& products, const OwnDays& own);

struct PlannedStage {
  Stage stage = Stage::bottom;
  CivilDay start_by;
  CivilDay early, late;  // ends of that start: 9 of 10 and 1 of 10 times in time
  CivilDay until;        // the next stage's start, or the delivery
  double median_d = 0, early_d = 0, late_d = 0;
  int own = 0;
  bool by_inlets = false;
  bool running = false;  // the pond stands in it
};

enum class BookingState {
  planned,
  no_pond,      // not chosen yet
  unknown,      // a pond that is not set up
  unsupported,  // a lined pond
  ready,        // released for this delivery
  past,         // its day is over
};

struct BookingPlan {
  Booking booking;
  BookingState state = BookingState::planned;
  bool new_cycle = false;              // starts with the bottom
  std::optional<CivilDay> not_before;  // when the cycle before leaves the pond, where that is still to come
  std::vector<PlannedStage> stages;    // of planned ones
  int slack_days = 0;                  // below 0: too late by so many days
  double chance = 0;                   // of being ready when the day begins
  bool certain = false;                // the chance is 0 or 1 for good
  // Where work goes on without a break: when it is ready, with its ends.
  CivilDay ready_early, ready, ready_late;
  int bins = 1;  // of the first dose
  bool too_late() const { return state == BookingState::planned && slack_days < 0; }
};

struct Plan {
  CivilDay today;
  std::vector<BookingPlan> bookings;  // not cancelled; in the order of Bookings::all
  const BookingPlan* find(std::string_view booking) const;
};

Plan make_plan(const Farm& farm, const Protocol& standard, const PlanBasis& basis,
               const std::vector<Booking>& bookings);

// "ready with 72 % chance", never 0 or 100 % where that is not certain.
Message chance_message(const BookingPlan& plan);
// "4 days of slack", "too late by 2 days", or what the booking lacks.
Message slack_message(const BookingPlan& plan);

}  // namespace tawny
