// The people of a simulated farm and their phones: each phone with its own chain, its own clock, and what it
// has not yet taken to the others.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "farm/rounds.h"
#include "logbook/logbook.h"
#include "simulate/random.h"

namespace tawny::simulate {

struct Phone {
  DeviceChain chain;
  std::string person;
  Role role = Role::technician;
  std::string writer;  // the account under which it syncs
  bool networked = true;
  // The clock runs wrong by so much between two moments of the world.
  std::int64_t clock_off_s = 0;
  Instant off_from, off_until;
  std::vector<Entry> unsynced;
  // What it put into the depot at each sync: the numbers from first to last.
  std::vector<std::pair<std::uint32_t, std::uint32_t>> puts;

  std::int64_t off_at(Instant at) const { return at >= off_from && at < off_until ? clock_off_s : 0; }
};

// Several phones of one farm; what is known to all of them, and what each still keeps to itself.
class Crew {
 public:
  // Two to five people, one of them the manager.
  Crew(const std::string& farm, Random random);

  std::vector<Phone>& phones() { return phones_; }
  Phone& manager() { return phones_.front(); }
  // One of those who do what a role is asked for; a second phone of that role where there is one.
  Phone& one_for(Role role, Random& random);
  Phone& other_than(const Phone& phone);

  // Writes the draft down on the phone, at a moment of the world; the phone's own clock gives both times.
  // `said_late`: the person types what was seen a while ago.
  std::string put(Phone& phone, Draft draft, Instant at);

  // The phone meets the office: both know what the other knew.
  void sync(Phone& phone);
  const Logbook& known() const { return known_; }
  // All entries, those that no sync has carried yet included.
  Logbook everything() const;

 private:
  std::vector<Phone> phones_;
  Logbook known_;
  std::uint64_t known_lamport_ = 0;
};

// Slips of the hand while typing a number.
class Hand {
 public:
  Hand(double carelessness, Random random) : carelessness_(carelessness), random_(random) {}

  struct Typed {
    double value = 0;
    bool wrong = false;
  };
  // The value as it was typed, at `decimals`. What the app would refuse outside low .. high is typed again.
  Typed type(double value, int decimals, double low, double high);
  bool slips(double chance) { return random_.happens(chance * carelessness_); }
  Random& random() { return random_; }

 private:
  double carelessness_;
  Random random_;
};

}  // namespace tawny::simulate
