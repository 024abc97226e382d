// Whom the farm believes: signatures over the chains, and the office's word on which devices belong to it.
//
// A farm whose id is a device's id (device_key.h) was founded by that device: its key is the root of all trust.
// The founder is an office device from the start; office devices admit others, as plain ones or as office
// devices, and revoke them. An entry counts when its device was admitted, is not revoked before its number, and
// a good signature of the device's key speaks for it; a decision (is_decision) only from an office device. The
// rest is kept, passed on and left out (Logbook::leave_out), each with its reason. In a farm with any other id,
// begun before devices had keys or where a browser had none, all entries count.
//
// FORMAT.md ("Keys and admission") gives the rules in full.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/chain_walk.h"
#include "logbook/logbook.h"
#include "logbook/signature_check.h"

namespace tawny {

// Why an entry does not count.
enum class LeftOutFor {
  no_key,        // its device has no key
  not_signed,    // no good signature of its device's key speaks for it, or not yet
  not_admitted,  // the office has not admitted its device
  revoked,       // its number lies beyond what the office kept of a revoked device
  not_office,    // a decision of a device that is not, or at that number not yet, an office device
};
std::string_view name_of(LeftOutFor reason);  // "no_key", "not_signed", ...

struct DeviceTrust {
  bool has_key = false;  // its id is made of a key, and the key is in the logbook
  bool founder = false;
  bool admitted = false;
  bool office = false;
  std::uint32_t office_from = 1;
  bool revoked = false;
  std::uint32_t last_number = UINT32_MAX;  // revoked: what lies beyond does not count
  std::uint32_t last_held = 0;             // highest number in the logbook
  std::uint32_t signed_to = 0;             // highest number that a good signature speaks for
  std::size_t left_out = 0;                // entries, keys and signatures themselves not among them
  bool operator==(const DeviceTrust&) const = default;
};

struct Trust {
  bool enforced = false;  // the farm was founded by a device with a key
  bool waits = false;     // a verdict that is not in yet would tell more: signatures_to_check
  std::map<std::string, DeviceTrust, std::less<>> devices;
  HashMap<LeftOutFor> left_out;  // by hash
  // "trust.bad_signature", "trust.forged" (another line of that number is the signed one), "trust.unsigned" (the
  // first of a tail that nobody signed).
  std::vector<ChainProblem> problems;

  bool is_office(std::string_view device) const;
  HashSet left_out_hashes() const;
};

// Gates passed or held by hand, releases, changes of the protocol, answers to questions, receipts, and the words
// on devices themselves.
bool is_decision(std::string_view kind);
// The same, or it takes back or replaces one that is here. References as in an entry, or empty.
bool decides(const Logbook& logbook, std::string_view kind, std::string_view corrects, std::string_view voids);

// The signatures whose verdict would tell more: of each chain the last one first, an earlier one only where a
// later one does not speak for it. Ask again with the verdicts in; empty when nothing is left to check. `kept`: of
// trust_of() with the same logbook and verdicts, or null.
std::vector<SignatureCheck> signatures_to_check(const Logbook& logbook, const Verdicts& verdicts,
                                                const KeptWalks* kept = nullptr);

// `own_device`: whose chain this install itself wrote, so that its last entry needs no signature here, and whose
// entries count here even before the office has admitted it; empty in the shell command. `kept`, which may be null,
// is what the same call gave before, of the same logbook with fewer lines and with fewer verdicts: what was found good
// then is not gone through again. The answer is the same.
Trust trust_of(const Logbook& logbook, const Verdicts& verdicts, std::string_view own_device,
               KeptWalks* kept = nullptr);

// Whether the same entries count, and the same devices are believed as devices of the office.
bool counts_alike(const Trust& one, const Trust& other);

// Does a signature speak for the last entry of the device's chain? True, too, for a device without entries.
bool chain_is_signed(const Logbook& logbook, const std::string& device);

}  // namespace tawny
