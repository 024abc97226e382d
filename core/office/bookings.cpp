#include "office/bookings.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "farm/set_up_values.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

constexpr Range kPlCount{1, 1e9, "", 0};
constexpr Range kHowMany{1, 1000, "", 0};

Result<double> how_many(const Entry& entry, std::string_view key, double otherwise) {
  if (entry.values.find(key) == entry.values.end()) return otherwise;
  return needed(entry, key, kHowMany);
}

}  // namespace

Result<Booking> read_pl_booking(const Entry& entry) {
  Booking booking;
  const std::string* name = entry.text("booking");
  if (name == nullptr || name->empty()) return set_up_lacks("booking");
  booking.booking = *name;
  booking.pond = entry.pond;
  const std::string* day = entry.text("deliver_on");
  if (day == nullptr) return set_up_lacks("deliver_on");
  const auto deliver_on = parse_civil_day(*day);
  if (!deliver_on) return tl::unexpected<Problem>(deliver_on.error());
  booking.deliver_on = *deliver_on;
  const auto count = needed(entry, "pl_count", kPlCount);
  if (!count) return tl::unexpected<Problem>(count.error());
  booking.pl_count = *count;
  if (entry.values.find("cancelled") != entry.values.end()) {
    const bool* cancelled = entry.flag("cancelled");
    if (cancelled == nullptr) return set_up_lacks("cancelled");
    booking.cancelled = *cancelled;
  }
  if (const std::string* note = entry.text("note")) booking.note = *note;
  return booking;
}

Result<PlanSetUp> read_plan_setup(const Entry& entry, const PlanSetUp& otherwise) {
  PlanSetUp set_up = otherwise;
  const auto boats = how_many(entry, "boats", otherwise.boats);
  if (!boats) return tl::unexpected<Problem>(boats.error());
  const auto crews = how_many(entry, "bin_crews", otherwise.bin_crews);
  if (!crews) return tl::unexpected<Problem>(crews.error());
  const auto people = how_many(entry, "people", otherwise.people);
  if (!people) return tl::unexpected<Problem>(people.error());
  set_up.boats = *boats;
  set_up.bin_crews = *crews;
  set_up.people = *people;
  set_up.told = true;
  return set_up;
}

PlanSetUp standard_set_up(const Protocol& protocol) {
  PlanSetUp set_up;
  set_up.boats = protocol.number("plan.boats");
  set_up.bin_crews = protocol.number("plan.bin_crews");
  set_up.people = protocol.number("plan.people");
  return set_up;
}

Bookings bookings_of(const Logbook& logbook, const Protocol& protocol) {
  Bookings bookings;
  bookings.set_up = standard_set_up(protocol);
  const auto say = [&bookings](const Problem& problem, const Entry& entry) {
    Message said = problem.message;
    said.with("pond", Text{entry.pond}).with("entry", Text{to_reference(entry.id)});
    bookings.problems.push_back(std::move(said));
  };
  std::map<std::string, Booking> latest;
  for (const Entry* entry : logbook.effective()) {
    if (entry->kind == kind::kPlBooking) {
      const auto booking = read_pl_booking(*entry);
      if (booking) {
        latest.insert_or_assign(booking->booking, *booking);
      } else {
        say(booking.error(), *entry);
      }
    } else if (entry->kind == kind::kPlanSetup) {
      const auto set_up = read_plan_setup(*entry, bookings.set_up);
      if (set_up) {
        bookings.set_up = *set_up;
      } else {
        say(set_up.error(), *entry);
      }
    }
  }
  for (auto& [name, booking] : latest) bookings.all.push_back(std::move(booking));
  std::sort(bookings.all.begin(), bookings.all.end(), [](const Booking& a, const Booking& b) {
    return std::tie(a.deliver_on, a.pond, a.booking) < std::tie(b.deliver_on, b.pond, b.booking);
  });
  return bookings;
}

Values booking_values(const Booking& booking) {
  Values values = {
      {"booking", booking.booking}, {"deliver_on", to_iso(booking.deliver_on)}, {"pl_count", booking.pl_count}};
  if (booking.cancelled) values.emplace("cancelled", true);
  if (!booking.note.empty()) values.emplace("note", booking.note);
  return values;
}

Values plan_setup_values(const PlanSetUp& set_up) {
  return {{"boats", set_up.boats}, {"bin_crews", set_up.bin_crews}, {"people", set_up.people}};
}

}  // namespace tawny
