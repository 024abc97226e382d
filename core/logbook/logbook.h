// The logbook: every entry that this device knows, its own and those that were brought in.
//
// Adding is a set union by (device, number, hash): any order, any number of times, the same logbook. Nothing is
// ever dropped in silence: a line that cannot be used is reported with its number, and the rest loads.
// Order of entries within a pond: by observed time, then Lamport counter, then device, number, hash.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/entry.h"

namespace tawny {

enum class AddOutcome {
  added,
  already_there,
  kept_unread,  // from a newer format: kept and passed on, takes no part in any reckoning
  conflict,     // added, and another entry has the same device and number: both are kept
  other_farm,   // not added
  refused,      // not added
};

struct LineProblem {
  std::size_t line = 0;  // 1-based
  AddOutcome outcome = AddOutcome::refused;
  std::string excerpt;  // the first characters of the line, as text
  Message message;
};

struct LoadReport {
  std::size_t lines = 0;          // that were not empty
  std::size_t added = 0;          // with conflicts and lines kept unread
  std::size_t already_there = 0;  // what is left of `lines` was not taken in
  std::vector<LineProblem> problems;
  std::size_t problems_not_listed = 0;  // beyond the first thousand
  std::size_t last_line = 0;            // number of the last line, empty ones and a bundle's index counted
};

// Adds a portion's report to that of the lines before it.
void add_report(LoadReport& total, LoadReport portion);

// What a whole line is, whatever became of it.
struct LineSeen {
  EntryId id;  // the device is empty where the line is damaged
  std::string farm;
  const Entry* entry = nullptr;  // in the logbook, good until it changes; null: not taken, or of a newer format
};
using OnLine = std::function<void(std::string_view line, AddOutcome outcome, const LineSeen& seen)>;

// A fault of a device's sequence as a whole.
struct ChainProblem {
  std::string device;
  std::uint32_t number = 0;  // where the fault is
  Message message;           // "chain.gap", "chain.broken", "chain.conflict", "chain.alike", ...
};

class Logbook {
 public:
  // An empty farm id takes the farm of the first entry added; after that, entries of another farm are refused.
  explicit Logbook(std::string farm = {});

  const std::string& farm() const { return farm_; }
  std::size_t size() const { return size_; }  // lines that to_lines() gives, unread ones included
  std::size_t unread_count() const { return unread_count_; }  // of a newer format: the app should be updated

  // `problem` may be null; it is told about a line that did not simply go in. So may `seen`.
  AddOutcome add_line(std::string_view line, LineProblem* problem = nullptr, LineSeen* seen = nullptr,
                      Hashes hashes = Hashes::now);
  // One of a newer format, of which only id, format and line need be filled in, is kept unread.
  AddOutcome add(Entry entry);

  // Lines separated by line feeds; a last line without one is taken as it is (cut off, if it does not parse).
  // Empty lines, a carriage return before the line feed, a byte order mark at the start and the index of a
  // bundle are passed over. `on_line` hears of every other line.
  LoadReport load(std::string_view text, const OnLine& on_line = {}, Hashes hashes = Hashes::now);

  // All entries of `other`; the same as adding its lines one by one.
  LoadReport merge(const Logbook& other);

  // By device, then number, then hash: the same set of entries always gives the same bytes.
  std::string to_lines() const;

  // A line as it stands in a file.
  struct Line {
    std::string_view device;
    std::uint32_t number = 0;
    std::string_view hash;         // 64 digits
    std::string_view bytes;        // without the line feed
    const Entry* entry = nullptr;  // null: of a newer format
  };
  // Every line in the order of to_lines(); what it points at holds until the logbook is changed.
  void visit(const std::function<void(const Line&)>& look) const;
  // Those of a device's numbers first..last.
  void visit(std::string_view device, std::uint32_t first, std::uint32_t last,
             const std::function<void(const Line&)>& look) const;
  // Those of a device's numbers from `first` on, the last number first; lines of one number in their own order.
  void visit_back(std::string_view device, std::uint32_t first,
                  const std::function<void(const Line&)>& look) const;
  // How many numbers of the device are here, with one line or several.
  std::size_t numbers_of(std::string_view device) const;
  // How often lines that were there may have moved in memory: pointers to them hold while this stays as it is, also in a
  // logbook that was moved here, not in a copy. Only a line with the device and number of another moves any.
  std::uint64_t moves() const { return moves_; }
  bool has(const EntryId& id) const;

  // In order of observation (see above), voided and corrected entries left out, and those that do not count,
  // corrections in place of what they correct (observed time of the correction counts). Entries of unknown kinds are
  // included, those of the chain (kind::is_of_chain) are not. The pointers hold until the logbook is changed.
  std::vector<const Entry*> effective() const;

  // Everything that is not of the chain, in order of observation. Holds until the logbook is changed.
  const std::vector<const Entry*>& acts() const;
  // The same with what is of the chain.
  std::vector<const Entry*> all() const;

  enum class Standing { stands, corrected, voided, not_counted };
  // What became of an entry; a correction that was itself voided no longer counts.
  Standing standing(const EntryId& id) const;
  // By their hashes, entries that are kept and passed on and count in nothing: neither as they are nor as a
  // correction or void of others (trust.h says which and why). They take the place of those named before.
  void leave_out(HashSet hashes);
  const Entry* find(std::string_view reference) const;  // null: not here, or several were made to fit it

  // Gaps, broken chains, doubled numbers, recorded times that run backwards by more than ten minutes.
  std::vector<ChainProblem> check_chains() const;

  // The chain on which `device` goes on writing. Lamport is the highest known anywhere. Where the last number
  // is doubled, the chain follows the later of the two.
  DeviceChain chain_of(const std::string& device) const;

  std::vector<std::string> devices() const;

 private:
  struct Slot {
    std::vector<Entry> entries;       // by hash; more than one: conflict
    std::vector<std::string> unread;  // raw lines of a newer format, by hash
    std::size_t count() const { return entries.size() + unread.size(); }
    bool has(std::string_view hash) const;
    const Entry* find(std::string_view hash) const;
  };
  using Slots = std::map<std::uint32_t, Slot>;

  bool takes_farm(std::string_view farm);
  Slot& slot_of(const std::string& device, std::uint32_t number);
  // Takes it only where the outcome is added or conflict. `kept`: what the logbook holds of it afterwards.
  AddOutcome insert(Entry&& entry, const Entry*& kept);
  AddOutcome keep_unread(std::string_view line, LineProblem* problem, LineSeen* seen);
  const HashMap<Standing>& fallen() const;
  static void look_at_slot(std::string_view device, std::uint32_t number, const Slot& slot,
                           const std::function<void(const Line&)>& look);
  template <typename OnEntry, typename OnUnread>
  static void visit_slot(const Slot& slot, OnEntry on_entry, OnUnread on_unread);
  template <typename OnEntry, typename OnUnread>
  void visit_in_order(OnEntry on_entry, OnUnread on_unread) const;
  friend std::optional<Problem> compare_with_witness(const Logbook& logbook, const struct Witness& witness);

  std::string farm_;
  std::map<std::string, Slots, std::less<>> devices_;
  std::size_t size_ = 0;
  std::size_t unread_count_ = 0;
  std::uint64_t highest_lamport_ = 0;
  // All entries by time, brought up to date when asked for. What came in meanwhile waits apart, since a place in the
  // order is not worth finding for each of many. A copy of the logbook holds other entries, so it begins anew.
  struct Order {
    std::vector<const Entry*> sorted, late;
    std::vector<const Entry*> of_chain;  // keys and signatures, half of a signed farm, in no order
    std::vector<const Entry*> pointing;  // those that correct or void another, in no order
    bool known = false;
    Order() = default;
    Order(const Order&) {}
    Order(Order&&) = default;
    Order& operator=(const Order&) { return *this = Order(); }
    Order& operator=(Order&&) = default;
    void take(const Entry& entry, std::vector<const Entry*>& into);
  };
  const std::vector<const Entry*>& in_order() const;
  std::uint64_t moves_ = 0;
  mutable Order order_;
  // Reckoned when asked for, dropped when an entry comes in; by hash, so a copy of the logbook may keep it.
  mutable std::optional<HashMap<Standing>> fallen_;
  HashSet left_out_;
};

// What was kept outside the store after the last save: proof of how far this device had come.
struct Witness {
  std::string device;
  std::uint32_t last_number = 0;
  std::string last_hash;
};

// Nothing when the logbook holds all that the witness has seen; else the alarm to show, "witness.lost" with
// "missing" (entries) and "device", or "witness.changed" when the number is there with another hash.
std::optional<Problem> compare_with_witness(const Logbook& logbook, const Witness& witness);

}  // namespace tawny
