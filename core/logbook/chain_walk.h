// One device's chain, walked back from its signatures: which of its lines a good signature speaks for.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "logbook/trust.h"

namespace tawny {

// Points into the logbook: good until it changes.
struct ChainWalk {
  std::unordered_set<std::string_view, ByHash> uncovered;  // hashes of the lines that nothing speaks for
  std::uint32_t signed_to = 0;                             // highest number that a good signature names
  bool waits = false;                                      // a signature without a verdict would speak for more
  std::vector<const Entry*> on_devices;                    // of the covered ones: admissions and revocations
  std::vector<const Entry*> bad;                           // holds a signature that is not the device's
  std::vector<std::uint32_t> forged;     // another line of that number is the one that was signed
  std::vector<SignatureCheck> to_check;  // no verdict yet
};

// The key that fits the device's id, from its device_key; empty when there is none.
std::string public_key_of(const Logbook& logbook, const std::string& device);

// A line is covered when a good signature names its hash, or the line after it is covered and names it as
// `previous`. `head`: hash of the last line that needs no signature, or empty. `pretend_good` takes a signature
// without a verdict for a good one, so that only the last of each run is asked about.
ChainWalk walk_chain(const Logbook& logbook, const std::string& device, const std::string& public_key,
                     const std::string& head, const Verdicts& verdicts, bool pretend_good);

}  // namespace tawny
