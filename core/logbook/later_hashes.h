// Holds the lines of a logbook that were loaded with Hashes::later against their own hashes, a few at a time, so that a
// phone shows its first screen before. Pure: whoever calls decides when, and what to do about a line that does not fit.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "logbook/logbook.h"

namespace tawny {

class LaterHashes {
 public:
  // From the first line on.
  void begin();
  bool is_under_way() const { return is_under_way_; }
  // The next lines, some `bytes` of them or the rest, by device and number; lines that come in meanwhile behind that place
  // are looked at too. False: one of them is not what its hash says, and the round is over.
  bool go_on(const Logbook& logbook, std::size_t bytes);

 private:
  bool is_under_way_ = false;
  std::string device_;
  std::uint32_t last_ = 0;  // number of that device up to which all is done
};

}  // namespace tawny
