// Questions about a device's clock: entries whose times cannot all be right, or are hardly meant.
//
//   clock_back     the device's clock went back between two entries (Logbook::check_chains): it was ahead
//                  before, or is behind since
//   clock_ahead    seen more than question.clock_ahead_min later than the phone's clock said when it was saved
//   clock_behind   put on record more than question.clock_behind_days after it was seen: typed in from paper,
//                  or saved by a clock that was set wrong
//
// The manager lets the times stand (question_settled with keep "clock") or takes entries back; an entry that
// does not stand any more asks nothing. Entries of one device that follow one another are one question.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "farm/farm.h"

namespace tawny {

struct ClockQuestion {
  std::string id;
  Message what;
  std::string device;
  // What a question_settled says that lets the times stand.
  EntryId settled_by;  // its "question"
  std::uint32_t from_number = 0;
  // What may be taken back: of clock_back the entries on either side of the jump that clash with it, else all
  // of the question in `earlier`.
  std::vector<EntryId> earlier, later;
};

// By device and number. The demo farm's story is told all at once: its entries are never behind.
std::vector<ClockQuestion> clock_questions(const Logbook& logbook, const Farm& farm, const Protocol& protocol);

// Every question_settled that stands, the latest first: each can be taken back, and its question is open again.
std::vector<const Entry*> decided_questions(const Logbook& logbook);

}  // namespace tawny
