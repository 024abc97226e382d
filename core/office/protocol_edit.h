// The protocol as the manager sees and changes it: each value beside the standard one, who changed it, when and
// why.
//
// A change is an entry (protocol_change), for the farm or for one pond, from an instant on that is not past. It
// is refused where the value cannot be (protocol_range.h) and where, at any time from then on, it would cross
// another value of the farm or of a pond (a lowest limit over its highest).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "farm/farm.h"
#include "logbook/logbook.h"
#include "protocol/protocol_range.h"
#include "protocol/protocol_times.h"

namespace tawny {

// All changes of farm and ponds, by the instant they count from.
struct ProtocolBook {
  std::vector<ProtocolChange> changes;
  std::vector<Message> problems;  // changes that cannot be read or that change nothing, each with its entry

  // What concerns a pond (empty: the farm as a whole): the farm's changes and its own.
  std::vector<ProtocolChange> of(std::string_view pond) const;
};

// Points into the logbook: good until it changes.
ProtocolBook read_protocol_changes(const Logbook& logbook, const Protocol& standard);

struct ProtocolRow {
  std::string path;
  const ProtocolValue* standard = nullptr;
  ProtocolValue counts;                       // what counts now for whom it was asked
  std::optional<ProtocolValue> farm;          // the farm's own value now, where it has one
  std::optional<ProtocolValue> pond;          // the pond's own
  const ProtocolChange* since = nullptr;      // the change that counts now; null: none, or taken back
  std::vector<const ProtocolChange*> coming;  // that will count
  bool differs() const { return !(counts.value == standard->value); }
};

// One row a value, in the order of the standard protocol's groups (group_of), then by path. `pond` empty: the
// farm. Points into `book` and `standard`.
std::vector<ProtocolRow> protocol_rows(const ProtocolBook& book, const Protocol& standard,
                                       std::string_view pond, Instant now);

// "stage.bloom", "windows", ...: the word is "protocol.group.<group>".
std::string group_of(std::string_view path);
// Every group of the protocol in the order to show them: the stages first.
std::vector<std::string> protocol_groups(const Protocol& standard);

struct ProtocolAsk {
  std::string path;
  std::string pond;                               // empty: the farm
  std::variant<double, bool, std::string> value;  // a list as its items with commas between them
  bool to_default = false;                        // `value` is then not looked at
  Instant from;
  std::string reason;
};

// The entry to put on record. Refuses: an unknown path, a value that cannot be, no reason, an instant that is
// past, a contradiction with another value, a value that counts already.
Result<Draft> change_protocol(const ProtocolBook& book, const Farm& farm, const Protocol& standard,
                              const ProtocolAsk& ask, Instant now);

// Values that cross one another now: changes that two people made apart can come to that.
std::vector<Problem> standing_contradictions(const ProtocolBook& book, const Farm& farm,
                                             const Protocol& standard, Instant now);

}  // namespace tawny
