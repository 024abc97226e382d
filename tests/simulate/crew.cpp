#include "simulate/crew.h"

#include <algorithm>
#include <array>
#include <utility>

#include "base/decimal.h"

namespace tawny::simulate {
namespace {

constexpr std::array<std::string_view, 16> kPeople = {"Maren", "Ines", "Tomas", "Jun",    "Alba",  "Rustam",
                                                      "Wayan", "Lien", "Bento", "Soraya", "Pilar", "Dewi",
                                                      "Quang", "Nilo", "Amara", "Teo"};

std::string device_id(Random& random) {
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string id = "p";
  for (int i = 0; i < 7; ++i) id.push_back(kDigits[random.below(16)]);
  return id;
}

}  // namespace

Crew::Crew(const std::string& farm, Random random) : known_(farm) {
  const int technicians = random.whole(1, 2);
  const int workers = random.whole(1, 2);
  std::vector<std::string_view> names(kPeople.begin(), kPeople.end());
  const auto hire = [&](Role role, const std::string& writer) {
    Phone phone;
    phone.chain.farm = farm;
    phone.chain.device = device_id(random);
    const std::size_t who = random.below(names.size());
    phone.person = std::string(names[who]);
    names.erase(names.begin() + static_cast<std::ptrdiff_t>(who));
    phone.role = role;
    phone.writer = writer;
    phones_.push_back(std::move(phone));
  };
  hire(Role::manager, "office");
  for (int i = 0; i < technicians; ++i) hire(Role::technician, "technician-" + std::to_string(i + 1));
  for (int i = 0; i < workers; ++i) hire(Role::worker, "worker-" + std::to_string(i + 1));
  // A worker's phone without a network: what it holds goes by hand to the manager, who puts it into the depot.
  if (random.happens(0.2)) {
    phones_.back().networked = false;
    phones_.back().writer = phones_.front().writer;
  }
}

Phone& Crew::one_for(Role role, Random& random) {
  std::vector<Phone*> fitting;
  for (Phone& phone : phones_) {
    if (phone.role == role) fitting.push_back(&phone);
  }
  return *fitting[random.below(fitting.size())];
}

Phone& Crew::other_than(const Phone& phone) {
  for (auto it = phones_.rbegin(); it != phones_.rend(); ++it) {
    if (&*it != &phone) return *it;
  }
  return phones_.front();
}

std::string Crew::put(Phone& phone, Draft draft, Instant at) {
  const std::int64_t off_s = phone.off_at(at);
  draft.observed = draft.observed.plus_s(off_s);
  draft.who = phone.person;
  Result<Entry> entry = seal(draft, at.plus_s(off_s), phone.chain);
  if (!entry) return {};
  const std::string reference = to_reference(entry->id);
  phone.unsynced.push_back(*std::move(entry));
  return reference;
}

void Crew::sync(Phone& phone) {
  if (!phone.unsynced.empty()) {
    phone.puts.emplace_back(phone.unsynced.front().id.number, phone.unsynced.back().id.number);
  }
  for (Entry& entry : phone.unsynced) {
    known_lamport_ = std::max(known_lamport_, entry.lamport);
    known_.add(std::move(entry));
  }
  phone.unsynced.clear();
  phone.chain.lamport = std::max(phone.chain.lamport, known_lamport_);
}

Logbook Crew::everything() const {
  Logbook all = known_;
  for (const Phone& phone : phones_) {
    for (const Entry& entry : phone.unsynced) all.add(entry);
  }
  return all;
}

Hand::Typed Hand::type(double value, int decimals, double low, double high) {
  const std::string right = format_decimal(value, decimals);
  std::string typed = right;
  const bool swaps = slips(0.006);
  const bool forgets_mark = decimals > 0 && slips(0.004);
  if (swaps && typed.size() >= 2) {
    const std::size_t at = random_.below(typed.size() - 1);
    if (typed[at] != '.' && typed[at + 1] != '.' && typed[at] != '-') std::swap(typed[at], typed[at + 1]);
  }
  if (forgets_mark) typed.erase(std::remove(typed.begin(), typed.end(), '.'), typed.end());
  const double meant = parse_decimal(right).value_or(value);
  const double shown = parse_decimal(typed).value_or(meant);
  if (shown < low || shown > high) return {meant, false};
  return {shown, shown != meant};
}

}  // namespace tawny::simulate
