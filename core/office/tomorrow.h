// Tomorrow's list: what each person has before them at the ponds given to them, and each part of the crew at
// those that nobody has, by the rounds of the coming day as they look from tonight.
//
// The farm is folded for the start of tomorrow, so that what time alone opens (48 hours of rest, a dose's days
// between) has opened. What is due today and not done stands on the list as due then.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/rounds.h"
#include "office/plan.h"

namespace tawny {

struct TomorrowItem {
  enum class What { due, dose, fill, gate, delivery } what = What::due;
  std::string pond;  // id; empty: the whole farm
  Act act = Act::water_reading;
  std::optional<WindowName> window;
  std::optional<Instant> from, until;  // where it has hours of its own
  Message line;                        // all of it in one line, its pond named
};

struct TomorrowList {
  Role role = Role::worker;
  std::vector<std::string> people;  // who has this part on some device
  std::vector<TomorrowItem> items;  // by hour, then walking order
};

struct TomorrowOfPerson {
  std::string person;
  std::vector<std::string> ponds;   // ids, in walking order
  std::vector<TomorrowItem> items;  // by hour, then walking order; each once, whatever their parts
};

struct Tomorrow {
  CivilDay day;
  std::vector<TomorrowOfPerson> persons;  // who has a pond, by name
  std::vector<TomorrowList> lists;        // worker, technician, manager; empty ones too
};

// Refuses only where the sun neither rises nor sets. `now` is the moment from which tomorrow is seen.
Result<Tomorrow> tomorrow_of(const Logbook& logbook, const Protocol& standard,
                             const std::vector<Product>& products, const Plan& plan, UtcOffset offset,
                             Instant now);

}  // namespace tawny
