#include "logbook/admission.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "logbook/kinds.h"
#include "logbook/standing.h"

namespace tawny {
namespace {

// Beyond what a number of an entry can be nothing is cut.
std::optional<std::uint32_t> number_of(const Entry& entry, std::string_view key, double least) {
  const double* value = entry.number(key);
  if (value == nullptr || !(*value >= least) || *value > 4294967295.0 || *value != std::floor(*value)) {
    return std::nullopt;
  }
  return static_cast<std::uint32_t>(*value);
}

struct OfficeWord {
  const Entry* entry = nullptr;
  std::string device;  // that it is about
  bool admits = false;
  bool office = false;
  std::uint32_t office_from = 1;
  std::uint32_t last_number = 0;  // of a revocation
};

std::optional<OfficeWord> read(const Entry& entry) {
  OfficeWord word;
  word.entry = &entry;
  const std::string* device = entry.text("device");
  if (device == nullptr) return std::nullopt;
  word.device = *device;
  word.admits = entry.kind == kind::kDeviceAdmitted;
  if (word.admits) {
    const bool* office = entry.flag("office");
    word.office = office != nullptr && *office;
    if (entry.values.count("office_from_number") > 0) {
      const std::optional<std::uint32_t> from = number_of(entry, "office_from_number", 1);
      if (!from) return std::nullopt;
      word.office_from = *from;
    }
    return word;
  }
  const std::optional<std::uint32_t> last = number_of(entry, "last_number", 0);
  if (!last) return std::nullopt;
  word.last_number = *last;
  return word;
}

// An office device, in the order of seniority.
struct Seat {
  std::string device;
  std::uint32_t office_from = 1;
  std::uint32_t last_number = UINT32_MAX;
  std::size_t admitted_by = 0;    // seat
  std::uint32_t admitted_in = 0;  // number of the entry
};

class Council {
 public:
  Council(const std::string& founder, std::vector<OfficeWord> words)
      : founder_(founder), words_(std::move(words)) {}

  Admissions decide() {
    while (!seat_all()) {
    }
    Admissions admissions;
    admissions[founder_].founder = true;
    for (const OfficeWord& word : words_) {
      if (!counts(word)) continue;
      Admission& of = admissions[word.device];
      of.revoked = !word.admits;
      of.last_number = word.admits ? UINT32_MAX : word.last_number;
      if (word.admits) of.admitted = true;
    }
    for (const Seat& seat : seats_) {
      Admission& of = admissions[seat.device];
      of.admitted = of.office = true;
      of.office_from = seat.office_from;
      of.revoked = seat.last_number != UINT32_MAX;
      of.last_number = seat.last_number;
    }
    return admissions;
  }

 private:
  std::size_t seat_of(std::string_view device) const {
    return static_cast<std::size_t>(
        std::find_if(seats_.begin(), seats_.end(), [&](const Seat& seat) { return seat.device == device; }) -
        seats_.begin());
  }

  bool counts(const OfficeWord& word) const {
    const std::size_t at = seat_of(word.entry->id.device);
    if (at == seats_.size()) return false;
    const std::uint32_t number = word.entry->id.number;
    return number >= seats_[at].office_from && number <= seats_[at].last_number;
  }

  // From the founder down. False: a junior's word on a senior was taken, and all has to be gone through again
  // under it; each time one more is, so this ends.
  bool seat_all() {
    seats_.clear();
    Seat first;
    first.device = founder_;
    first.last_number = cut_of(founder_);
    seats_.push_back(first);
    for (std::size_t at = 0; at < seats_.size(); ++at) {
      for (const OfficeWord& word : words_) {
        if (word.entry->id.device != seats_[at].device || !counts(word)) continue;
        const std::size_t about = seat_of(word.device);
        if (word.admits) {
          if (word.office && about == seats_.size()) admit(word, at);
          continue;
        }
        if (about == seats_.size()) continue;  // a plain device, or one not seated yet
        if (about >= at) {
          seats_[about].last_number = std::min(seats_[about].last_number, word.last_number);
        } else if (may_cut(at, about, word)) {
          cuts_[word.device] = word.last_number;
          return false;
        }
      }
    }
    return true;
  }

  void admit(const OfficeWord& word, std::size_t by) {
    Seat seat;
    seat.device = word.device;
    seat.office_from = word.office_from;
    seat.last_number = cut_of(word.device);
    seat.admitted_by = by;
    seat.admitted_in = word.entry->id.number;
    // What one senior to that one said later: it was passed over, since the seat was not there yet.
    for (const OfficeWord& other : words_) {
      if (other.admits || other.device != word.device || !is_later(*other.entry, *word.entry)) continue;
      if (seat_of(other.entry->id.device) >= by || !counts(other)) continue;
      seat.last_number = std::min(seat.last_number, other.last_number);
    }
    seats_.push_back(std::move(seat));
  }

  // A senior that is cut before it admitted the junior would unseat it, and with it the word.
  bool may_cut(std::size_t junior, std::size_t senior, const OfficeWord& word) const {
    if (word.last_number >= cut_of(seats_[senior].device)) return false;
    for (std::size_t at = junior; at != 0; at = seats_[at].admitted_by) {
      if (seats_[at].admitted_by == senior && word.last_number < seats_[at].admitted_in) return false;
    }
    return true;
  }

  std::uint32_t cut_of(const std::string& device) const {
    const auto found = cuts_.find(device);
    return found == cuts_.end() ? UINT32_MAX : found->second;
  }

  const std::string founder_;
  const std::vector<OfficeWord> words_;        // by (Lamport, device, number, hash)
  std::map<std::string, std::uint32_t> cuts_;  // by juniors
  std::vector<Seat> seats_;
};

}  // namespace

Admissions admissions_of(const std::string& founder, const std::vector<const Entry*>& words) {
  std::vector<OfficeWord> read_words;
  for (const Entry* entry : words) {
    if (std::optional<OfficeWord> word = read(*entry)) read_words.push_back(*std::move(word));
  }
  std::sort(read_words.begin(), read_words.end(),
            [](const OfficeWord& a, const OfficeWord& b) { return is_later(*b.entry, *a.entry); });
  return Council(founder, std::move(read_words)).decide();
}

}  // namespace tawny
