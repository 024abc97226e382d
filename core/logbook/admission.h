// The office's words on devices, put together: who belongs to the farm, who decides, who is out from where.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/entry.h"

namespace tawny {

struct Admission {
  bool founder = false;
  bool admitted = false;
  bool office = false;
  std::uint32_t office_from = 1;  // its decisions count from this number on
  bool revoked = false;
  std::uint32_t last_number = UINT32_MAX;  // what lies beyond does not count
};

using Admissions = std::map<std::string, Admission, std::less<>>;

// `words` are the entries device_admitted and device_revoked that their writers stand for, in any order. The
// founder is senior to every office device, and one that was admitted earlier to one admitted later:
//
//   - a word counts when its writer is an office device and was not revoked before that entry's number;
//   - revoking an office device is for good: it comes back under another id;
//   - a junior revokes a senior too, but no further back than the entry by which the senior admitted it; where
//     both revoke each other, the senior's word goes first, and with it what it left of the junior's;
//   - of the words on a plain device the latest by (Lamport, device, number, hash) counts.
Admissions admissions_of(const std::string& founder, const std::vector<const Entry*>& words);

}  // namespace tawny
