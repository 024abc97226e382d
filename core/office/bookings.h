// Bookings of postlarvae, and what the farm has to do the work with, as the logbook tells them.
//
// Of a booking the latest entry that can be read counts; one that cannot is said, and the one before stands.
// The same holds for the set-up of the plan.
#pragma once

#include <string>
#include <vector>

#include "farm/farm.h"
#include "logbook/logbook.h"

namespace tawny {

struct Booking {
  std::string booking;  // random text that names it for ever
  std::string pond;     // id; empty: not chosen yet
  CivilDay deliver_on;
  double pl_count = 0;
  bool cancelled = false;
  std::string note;
  bool operator==(const Booking&) const = default;
};

struct PlanSetUp {
  double boats = 0;
  double bin_crews = 0;  // doses that can be walked at once
  double people = 0;     // for what is done on the day of a delivery
  bool told = false;     // by the farm; else they are the protocol's
};

struct Bookings {
  std::vector<Booking> all;  // cancelled ones too; by day, then pond, then name
  PlanSetUp set_up;
  std::vector<Message> problems;  // entries that could not be read, with "entry" and "pond"
};

// Refused when something is missing or cannot be.
Result<Booking> read_pl_booking(const Entry& entry);
// What the entry does not say is taken from `otherwise`.
Result<PlanSetUp> read_plan_setup(const Entry& entry, const PlanSetUp& otherwise);

PlanSetUp standard_set_up(const Protocol& protocol);
Bookings bookings_of(const Logbook& logbook, const Protocol& protocol);

// The values of an entry that says this.
Values booking_values(const Booking& booking);
Values plan_setup_values(const PlanSetUp& set_up);

}  // namespace tawny
