// The protocol as it stood at each instant of a cycle: the default one, changed by the farm and by the pond.
//
// A change counts from its "from", but never from before it was put on record: what a gate was judged by stays
// what it was judged by. The pond's own value wins over the farm's, whichever came later, until it is taken
// back (to_default): then the farm's counts again, or the default where the farm has none of its own. A change
// of a path that does not exist, or to a value that Protocol::with refuses, changes nothing.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include "protocol/history.h"
#include "protocol/protocol.h"

namespace tawny {

// From when on a change counts.
Instant counts_from(const ProtocolChange& change);

class ProtocolTimes {
 public:
  // `standard` must outlive this.
  ProtocolTimes(const Protocol& standard, const std::vector<ProtocolChange>& changes);

  const Protocol& at(Instant instant) const { return of(index_at(instant)); }
  // Which of the protocols stood at `instant`: 0 is the default one.
  std::size_t index_at(Instant instant) const;
  const Protocol& of(std::size_t index) const { return index == 0 ? *standard_ : changed_[index - 1].second; }
  // When it changed, in order.
  std::vector<Instant> changes() const;

 private:
  const Protocol* standard_;
  std::vector<std::pair<Instant, Protocol>> changed_;
};

}  // namespace tawny
