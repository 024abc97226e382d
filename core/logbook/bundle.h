// A bundle: a logbook as one text file to hand on, with an index first that says what the file ought to hold.
//
// So a file that was cut off or changed on its way gives every entry that is whole in it, and names those that
// are missing. Behind the index the file is plain logbook lines, and plain lines without an index are read here
// too. FORMAT.md beside this file gives the bytes.
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "logbook/bundle_index.h"
#include "logbook/logbook.h"

namespace tawny {

// The whole logbook. Segments end at every thousand and at every gap. `by` is the device that writes the file.
std::string write_bundle(const Logbook& logbook, Instant made, std::string_view by);

// Entries first..last of one device.
struct NumberSpan {
  std::string device;
  std::uint32_t first = 0;
  std::uint32_t last = 0;
  std::uint64_t count() const { return std::uint64_t{last} - first + 1; }
  bool operator==(const NumberSpan&) const = default;
};

// That a file lacks them.
Message missing_message(const NumberSpan& span);

// What a file holds of one device.
struct BundleDevice {
  std::string device;
  std::string person;       // by the latest device_setup, else by the latest entry; may be empty
  std::size_t entries = 0;  // whole ones, each once
  std::size_t fresh = 0;    // of these, not in the logbook before
  std::size_t unread = 0;   // of these, of a newer format: they have no time and no person
  std::optional<Instant> first_observed, last_observed;
};

struct BundlePreview {
  std::string farm;             // id, by the index or else by the entries
  std::string farm_name;        // by the index or else by the latest farm_setup; may be empty
  std::optional<Instant> made;  // by the index
  std::string by;               // by the index
  bool has_index = false;       // a sound one: only then is it known what is missing
  std::vector<BundleDevice> devices;
  std::vector<NumberSpan> missing;  // the index promises them and no whole line of the file has them
  std::vector<Message> problems;    // of the index and of segments; those of lines stand in the LoadReport
  std::uint64_t missing_count() const;
};

// Reads a file a little at a time; nothing is written anywhere.
class BundleReader {
 public:
  // `have` is the logbook that the file may be brought into. Where it has no farm yet, it takes the file's.
  explicit BundleReader(Logbook have) : grown_(std::move(have)) {}

  // The next part of the file, which ends with a line feed or with the file.
  void take(std::string_view lines);
  // After the last part: completes preview().
  void finish();

  // Id of the farm whose entries these are, where it is not the logbook's and nothing in the
  // file is of the logbook's farm. Known after the first line, as a rule.
  std::optional<std::string> other_farm() const;
  // The file begins with a sound index of another farm: nothing in it is read any more.
  bool is_refused() const { return refused_; }

  const LoadReport& report() const { return report_; }
  const Logbook& grown() const { return grown_; }  // `have` and what was whole in the file
  Logbook release() { return std::move(grown_); }
  const BundlePreview& preview() const { return preview_; }

 private:
  struct Seen {
    std::uint32_t number;
    std::uint64_t hash_start;
    auto operator<=>(const Seen&) const = default;
  };
  struct Device {
    std::vector<Seen> seen;
    std::size_t fresh = 0, unread = 0;
    std::optional<Instant> first_observed, last_observed;
    std::uint32_t setup_number = 0, who_number = 0;
    std::string setup_person, who;
  };
  // A segment that an index promises, and the lines of it that came.
  struct Promise {
    BundleSegment segment;
    std::string bytes;
    bool is_whole = false;
  };

  void take_index(std::string_view line);
  void load(std::string_view lines);
  void on_line(std::string_view line, AddOutcome outcome, const LineSeen& seen);
  void keep_promise(std::string_view line, const EntryId& id);
  void name_missing(Promise& promise);

  Logbook grown_;
  LoadReport report_;
  BundlePreview preview_;
  std::map<std::string, Device, std::less<>> devices_;
  std::vector<Promise> promises_;  // of every index so far
  std::size_t active_from_ = 0;    // those of the last index begin here, by device and number
  std::size_t at_promise_ = 0;     // where the last line belonged
  std::optional<std::string> other_farm_;
  std::uint64_t farm_lamport_ = 0;  // of the farm_setup that named the farm
  bool begun_ = false;
  bool own_seen_ = false;  // a line of the logbook's farm
  bool refused_ = false;
};

struct BundleContent {
  Logbook logbook;
  LoadReport report;
  BundlePreview preview;
};

// The whole text at once.
BundleContent read_bundle(std::string_view text, Logbook have = Logbook());

}  // namespace tawny
