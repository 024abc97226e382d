// Devices with pretended keys: a signature is a hash that whoever knows the public key can make. Real ones are
// checked in tests/signatures and in Chromium.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/logbook/entries.h"
#include "logbook/device_key.h"
#include "logbook/trust.h"

namespace tawny::testing_entries {

inline std::string pretended_signature(std::string_view public_key, std::string_view text) {
  const std::string half = sha256_hex(std::string(public_key) + std::string(text));
  return half + half;
}

// Checks, again and again, whatever the logbook asks to have checked.
inline Verdicts checked(const Logbook& logbook) {
  Verdicts verdicts;
  while (true) {
    const std::vector<SignatureCheck> checks = signatures_to_check(logbook, verdicts);
    if (checks.empty()) return verdicts;
    for (const SignatureCheck& check : checks) {
      verdicts[check.hash] = check.signature == pretended_signature(check.public_key, check.text);
    }
  }
}

inline Trust judged(const Logbook& logbook, std::string_view own_device = {}) {
  return trust_of(logbook, checked(logbook), own_device);
}

class KeyedDevice {
 public:
  explicit KeyedDevice(std::string_view seed) : public_key("04" + sha256_hex(seed) + sha256_hex(seed)) {
    chain.device = *device_id_of_key(public_key);
    chain.farm = chain.device;  // it founds a farm, unless it joins one
  }
  KeyedDevice& joins(const KeyedDevice& founder) {
    chain.farm = founder.chain.farm;
    return *this;
  }

  const std::string& id() const { return chain.device; }

  Entry put(Draft draft) {
    if (chain.last_number == 0) seal_in(device_key_draft(public_key));
    return seal_in(std::move(draft));
  }
  Entry reads(double level_cm) { return put(level_draft(level_cm)); }
  Entry decides(std::string_view kind = kind::kGatePassed) {
    Draft draft = level_draft(0);
    draft.kind = std::string(kind);
    draft.values = {{"stage", 2.0}, {"reason", std::string("seen")}};
    return put(std::move(draft));
  }
  Entry admits(const KeyedDevice& other, bool office = false) {
    Draft draft;
    draft.kind = std::string(kind::kDeviceAdmitted);
    draft.values["device"] = other.id();
    if (office) draft.values["office"] = true;
    return put(std::move(draft));
  }
  Entry revokes(const KeyedDevice& other, std::uint32_t last_number) {
    Draft draft;
    draft.kind = std::string(kind::kDeviceRevoked);
    draft.values["device"] = other.id();
    draft.values["last_number"] = static_cast<double>(last_number);
    return put(std::move(draft));
  }
  Entry signs() {
    return put(chain_signed_draft(pretended_signature(public_key, text_to_sign(chain.last_hash))));
  }

  std::uint32_t last_number() const { return chain.last_number; }
  void has_seen(const KeyedDevice& other) { chain.lamport = std::max(chain.lamport, other.chain.lamport); }

  std::string public_key;
  DeviceChain chain;
  std::vector<Entry> entries;

 private:
  Entry seal_in(const Draft& draft) {
    Entry entry = sealed(draft, chain);
    entries.push_back(entry);
    return entry;
  }
};

template <typename... Devices>
Logbook logbook_of(const Devices&... devices) {
  Logbook logbook;
  for (const std::vector<Entry>* entries : {&devices.entries...}) {
    for (const Entry& entry : *entries) logbook.add(entry);
  }
  return logbook;
}

}  // namespace tawny::testing_entries
