// One device's chain, walked back from its signatures: which of its lines a good signature speaks for.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "logbook/logbook.h"
#include "logbook/signature_check.h"

namespace tawny {

// Points into the logbook: good until it changes.
struct ChainWalk {
  std::unordered_set<std::string_view, ByHash> uncovered;  // hashes of the lines that nothing speaks for
  std::uint32_t first_uncovered = UINT32_MAX;              // the least of their numbers
  std::uint32_t signed_to = 0;                             // highest number that a good signature names
  bool waits = false;                                      // a signature without a verdict would speak for more
  std::vector<const Entry*> on_devices;                    // of the covered ones: admissions and revocations
  std::vector<const Entry*> bad;                           // holds a signature that is not the device's
  std::vector<std::uint32_t> forged;     // another line of that number is the one that was signed
  std::vector<SignatureCheck> to_check;  // no verdict yet
  bool went_on = false;                  // from what was kept, which is as it was
};

// What was found of a chain up to a good signature that speaks for all of it. What comes behind need not be walked back
// further than there. Points into the logbook: good for as long as Logbook::moves() stays.
struct KeptWalk {
  std::vector<const Entry*> on_devices;  // as in ChainWalk
  const Entry* signature = nullptr;
  std::uint64_t moves = 0;
  std::size_t numbers = 0;  // how many different ones there are up to it
  // Of trust_of(): how far it has looked whether an entry decides (trust.h), or names one that is not here; and whether
  // one does.
  std::uint32_t sorted_to = 0;
  bool may_decide = false;
};
using KeptWalks = std::map<std::string, KeptWalk, std::less<>>;  // by device

// The key that fits the device's id, from its device_key; empty when there is none.
std::string public_key_of(const Logbook& logbook, const std::string& device);

// A line is covered when a good signature names its hash, or the line after it is covered and names it as
// `previous`. `head`: hash of the last line that needs no signature, or empty. `pretend_good` takes a signature
// without a verdict for a good one, so that only the last of each run is asked about.
// `kept`, which may be null, is of the same device in the same logbook when it had fewer lines and fewer verdicts.
ChainWalk walk_chain(const Logbook& logbook, const std::string& device, const std::string& public_key,
                     const std::string& head, const Verdicts& verdicts, bool pretend_good,
                     const KeptWalk* kept = nullptr);

// What is worth keeping of a walk without `pretend_good`, where its last good signature speaks for all before it.
std::optional<KeptWalk> worth_keeping(const Logbook& logbook, const std::string& device, const ChainWalk& walk);

}  // namespace tawny
