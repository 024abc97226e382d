// One sync of a logbook with a depot, as a state machine without any carrier in it.
//
// A depot is a folder that the farm's devices share: segments in files that never change (FORMAT.md). The
// driver asks next() what to do, does it by whatever carries bytes (a folder, WebDAV, an object store), and
// answers. Order: list; get what this logbook lacks, the longest first; pause (ready_to_put), so that an office
// can write its receipt; put what the depot lacks, each read back. It may be broken off at any step and begun
// anew: names are made of contents, so doing a step twice changes nothing.
//
//   while (true) {
//     const auto step = run.next(logbook);
//     if (!step && run.ready_to_put()) { /* write receipt_due() if an office */ run.go_on(); continue; }
//     if (!step) break;
//     ... list: run.listed(names)  get: save run.got(bytes, logbook)  put: run.put_done()  or run.failed(...)
//   }
//
// A name is trusted to hold its bytes when it was read back once (`known`), or when another's name can be
// reckoned from own lines and an office has acknowledged them. Others are fetched, be it only to compare: an
// upload that was torn leaves a name without its bytes, and whoever holds the lines puts them again.
#pragma once

#include <cstddef>
#include <cstdint>
#include <deque>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <unordered_set>
#include <utility>
#include <vector>

#include "logbook/logbook.h"
#include "logbook/receipts.h"
#include "logbook/segment.h"

namespace tawny {

struct DepotStep {
  enum class Act {
    list,  // `name` is a folder: "" the root, else it ends with "/"
    get,
    put,
  };
  Act act = Act::list;
  std::string name;
  std::string bytes;  // of put
};

enum class CarryFault {
  offline,
  wrong_password,
  no_right,
  not_there,
  full,
  server,
  certificate,
  clock,
  malformed,
  barred,  // the page that carries may not ask that address
  cancelled,
};

// "offline", "wrong_password", ...: as the carriers of the page and the commands say it.
std::string_view name_of(CarryFault fault);

// What a fetched segment brings. To be made durable, then added to the logbook, before next() is asked again.
struct Incoming {
  std::vector<Entry> entries;       // that the logbook lacks
  std::vector<std::string> unread;  // lines of a newer format that it lacks
  LoadReport report;                // of all lines of the segment
  bool whole = false;               // the bytes fit the hash in the name
};

class DepotRun {
 public:
  struct Options {
    std::string writer;           // own folder: 1..64 of A-Z a-z 0-9 - _
    std::string device;           // own device
    std::set<std::string> known;  // known() of a run before; a cache: it may be empty, old, or lack some
  };
  struct Fault {
    DepotStep::Act act = DepotStep::Act::list;
    std::string name;
    CarryFault fault = CarryFault::offline;
    std::string detail;
  };
  struct Tally {
    std::size_t to_get = 0, got = 0;  // segments; to_get holds those got already
    std::size_t to_put = 0, put = 0;
    std::size_t entries_down = 0, entries_up = 0;  // each once, those of a newer format included
    std::vector<Fault> faults;
  };

  explicit DepotRun(Options options);

  // What to do next, given the logbook as it is now; the same step until it is answered. Nothing: the puts wait
  // for go_on(), or the run is over.
  std::optional<DepotStep> next(const Logbook& logbook);

  // Answers. Full names from the root, folders with "/" at the end; a carrier may give deeper files at once.
  // What is no name of a depot is passed over. More names than any depot has (FORMAT.md) end the run.
  void listed(const std::vector<std::string>& names);
  // Of a segment whose bytes do not fit its name, what is whole in it is given all the same.
  Incoming got(std::string_view bytes, const Logbook& logbook);
  void put_done();  // it is read back next
  // Ends the run where going on makes no sense; else passes over this step.
  void failed(CarryFault fault, std::string detail);
  // Ends the run wherever it is: the driver could not keep what came, or the person wants no more of it.
  void stop(CarryFault fault, std::string detail);

  // All that can be had is here: an office writes its receipt now. Then go_on().
  bool ready_to_put() const { return phase_ == Phase::paused; }
  void go_on();

  // The fault that ended the run before its time.
  const std::optional<Fault>& ended_by() const { return ended_by_; }
  bool over() const { return phase_ == Phase::over; }
  const Tally& tally() const { return tally_; }
  // What to hand to the next run with the same depot. Opaque texts.
  std::set<std::string> known() const;

 private:
  enum class Phase { listing, sorting, getting, paused, planning, putting, over };
  // What was found out about a name in the depot.
  enum class Proof : char {
    same = '=',   // its bytes are just the lines that this logbook holds of its numbers
    part = '<',   // it holds a line of each of its numbers, and this logbook holds all its lines
    other = '!',  // nothing more is to be had of it
  };
  struct Known {
    Proof proof = Proof::other;
    std::uint64_t lines_sum = 0;  // of the logbook's lines of these numbers when that was found out
  };
  struct Span {
    std::string device;
    std::uint32_t first = 0, last = 0;
  };
  // A segment whose bytes fitted its name; what it brought should be in the logbook at the next step.
  struct Taken {
    SegmentName name;
    std::vector<EntryId> lines;
    bool as_named = false;  // a line of each of the numbers, and no others
  };

  std::optional<DepotStep> next_list(const Logbook& logbook);
  std::optional<DepotStep> next_get(const Logbook& logbook);
  std::optional<DepotStep> next_put(const Logbook& logbook);
  void read_known(const std::set<std::string>& known);
  void settle(const Logbook& logbook);
  bool is_closed(const std::string& folder, const Logbook& logbook);
  void look_again_at_some_closed();
  void sort(const Logbook& logbook);
  bool needs_no_get(const SegmentName& name, const Logbook& logbook);
  bool holds_all(const SegmentName& name, const Logbook& logbook) const;
  void hold(const SegmentName& name, Proof proof, const Logbook& logbook);
  void bring_known_up_to_date(const Logbook& logbook);
  void plan(const Logbook& logbook);
  void plan_lacking(const std::string& device, const Logbook& logbook);
  void plan_whole_thousands(const Logbook& logbook);
  void failed_at(Fault fault);
  std::size_t lines_lacking(const Span& span, const Logbook& logbook) const;
  void end(const Fault& fault);

  Options options_;
  Phase phase_ = Phase::listing;
  std::optional<DepotStep> step_;       // that waits for its answer
  std::map<std::string, Known> known_;  // by name
  std::string looked_again_;            // the closed folder that was listed again last
  int server_faults_ = 0;               // one after another

  // listing
  std::deque<std::string> folders_;
  std::set<std::string> folders_seen_;
  std::set<std::string> closed_;
  std::optional<std::set<std::string>> faulty_devices_;
  bool looking_again_ = false;
  bool own_unseen_ = false;    // a folder of the own writer could not be listed
  bool other_unseen_ = false;  // one of another's
  std::map<std::string, SegmentName> names_;

  // getting
  std::vector<SegmentName> gets_;  // the next one last
  Receipts receipts_;              // of others' offices
  std::optional<SegmentName> getting_;
  std::optional<Taken> taken_;

  // What the depot holds for sure: lines by half of their hash, of which nobody makes two, and whole thousands.
  struct LineMark {
    std::uint64_t first = 0, second = 0;
    bool operator==(const LineMark&) const = default;
  };
  struct MarkHash {
    std::size_t operator()(const LineMark& mark) const { return static_cast<std::size_t>(mark.first); }
  };
  static LineMark mark_of(std::string_view hash);
  std::unordered_set<LineMark, MarkHash> held_;
  std::set<std::pair<std::string, std::uint32_t>> thousands_held_;
  std::vector<SegmentName> proven_;  // in this run: the logbook holds what they hold

  // putting
  std::deque<Span> puts_;
  std::optional<SegmentName> reading_back_;
  std::string hash_put_;       // all of it: what is read back is what was put, not only what fits the name
  std::size_t lines_put_ = 0;  // that the depot lacked

  std::optional<Fault> ended_by_;
  Tally tally_;
};

}  // namespace tawny
