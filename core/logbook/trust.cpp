#include "logbook/trust.h"

#include <algorithm>
#include <optional>
#include <tuple>
#include <utility>

#include "logbook/admission.h"
#include "logbook/chain_walk.h"
#include "logbook/device_key.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

constexpr std::string_view kDecisions[] = {kind::kGatePassed,     kind::kGateRefused,   kind::kReleaseSigned,
                                           kind::kProtocolChange, kind::kOfficeReceipt, kind::kQuestionSettled,
                                           kind::kDeviceAdmitted, kind::kDeviceRevoked};

Quantity count_of(std::uint64_t count) { return Quantity{static_cast<double>(count), 0, ""}; }

ChainProblem fault(const std::string& device, std::uint32_t number, std::string_view id) {
  return ChainProblem{device, number,
                      Message(id).with("device", Text{device}).with("number", count_of(number))};
}

// Of what chain a device is and what speaks for it.
struct Chain {
  std::string device;
  bool is_keyed = false;
  std::string public_key;
  ChainWalk walk;
};

// The tail that no signature speaks for yet, where somebody else wrote it.
struct Tail {
  std::uint32_t first = 0;
  std::uint64_t count = 0;
};

class Sorter {
 public:
  Sorter(const Logbook& logbook, const Admissions& admissions, std::string_view own_device, Trust& trust)
      : logbook_(logbook), admissions_(admissions), own_device_(own_device), trust_(trust) {}

  void sort(const Chain& chain) {
    DeviceTrust& device = trust_.devices[chain.device];
    device.has_key = !chain.public_key.empty();
    device.signed_to = chain.walk.signed_to;
    const auto admission = admissions_.find(chain.device);
    if (admission != admissions_.end()) {
      device.founder = admission->second.founder;
      device.admitted = admission->second.admitted;
      device.office = admission->second.office;
      device.office_from = admission->second.office_from;
      device.revoked = admission->second.revoked;
      device.last_number = admission->second.last_number;
    }
    Tail tail;
    if (!trust_.enforced) {
      device.last_held = logbook_.chain_of(chain.device).last_number;
    } else {
      leave_out(chain, device, tail);
    }
    for (const Entry* entry : chain.walk.bad) {
      trust_.problems.push_back(fault(chain.device, entry->id.number, "trust.bad_signature"));
    }
    for (const std::uint32_t number : chain.walk.forged) {
      trust_.problems.push_back(fault(chain.device, number, "trust.forged"));
    }
    if (tail.count == 0) return;
    ChainProblem problem = fault(chain.device, tail.first, "trust.unsigned");
    problem.message.values.emplace_back("count", count_of(tail.count));
    trust_.problems.push_back(std::move(problem));
  }

 private:
  void leave_out(const Chain& chain, DeviceTrust& device, Tail& tail) {
    logbook_.visit(chain.device, 1, UINT32_MAX, [&](const Logbook::Line& line) {
      device.last_held = line.number;
      if (line.entry == nullptr || kind::is_of_chain(line.entry->kind)) return;
      const std::optional<LeftOutFor> reason = reason_for(chain, device, *line.entry);
      if (!reason) return;
      if (*reason == LeftOutFor::not_signed && line.number > device.signed_to && device.has_key) {
        if (tail.count++ == 0) tail.first = line.number;
      }
      ++device.left_out;
      trust_.left_out.emplace(line.entry->id.hash, *reason);
    });
  }

  std::optional<LeftOutFor> reason_for(const Chain& chain, const DeviceTrust& device,
                                       const Entry& entry) const {
    if (!chain.is_keyed) return LeftOutFor::no_key;
    const auto& uncovered = chain.walk.uncovered;
    if (!uncovered.empty() && uncovered.count(entry.id.hash) > 0) return LeftOutFor::not_signed;
    if (entry.id.number > device.last_number) return LeftOutFor::revoked;
    if (decides(logbook_, entry.kind, entry.corrects, entry.voids)) {
      const bool of_office = device.office && entry.id.number >= device.office_from;
      return of_office ? std::nullopt : std::optional(LeftOutFor::not_office);
    }
    if (!device.admitted && chain.device != own_device_) return LeftOutFor::not_admitted;
    return std::nullopt;
  }

  const Logbook& logbook_;
  const Admissions& admissions_;
  std::string_view own_device_;
  Trust& trust_;
};

std::vector<Chain> chains_of(const Logbook& logbook, const Verdicts& verdicts, std::string_view own_device,
                             bool pretend_good) {
  std::vector<Chain> chains;
  for (std::string& device : logbook.devices()) {
    Chain chain;
    chain.is_keyed = is_keyed_id(device);
    if (chain.is_keyed) {
      chain.public_key = public_key_of(logbook, device);
      std::string head;
      if (device == own_device) head = logbook.chain_of(device).last_hash;
      chain.walk = walk_chain(logbook, device, chain.public_key, head, verdicts, pretend_good);
    }
    chain.device = std::move(device);
    chains.push_back(std::move(chain));
  }
  return chains;
}

}  // namespace

std::string_view name_of(LeftOutFor reason) {
  switch (reason) {
    case LeftOutFor::no_key:
      return "no_key";
    case LeftOutFor::not_signed:
      return "not_signed";
    case LeftOutFor::not_admitted:
      return "not_admitted";
    case LeftOutFor::revoked:
      return "revoked";
    case LeftOutFor::not_office:
      break;
  }
  return "not_office";
}

bool Trust::is_office(std::string_view device) const {
  const auto found = devices.find(device);
  return found != devices.end() && found->second.office && !found->second.revoked;
}

HashSet Trust::left_out_hashes() const {
  HashSet hashes;
  hashes.reserve(left_out.size());
  for (const auto& [hash, reason] : left_out) hashes.insert(hash);
  return hashes;
}

bool is_decision(std::string_view kind) {
  return std::find(std::begin(kDecisions), std::end(kDecisions), kind) != std::end(kDecisions);
}

bool decides(const Logbook& logbook, std::string_view kind, std::string_view corrects, std::string_view voids) {
  if (is_decision(kind)) return true;
  for (const std::string_view reference : {corrects, voids}) {
    const Entry* about = reference.empty() ? nullptr : logbook.find(reference);
    if (about != nullptr && is_decision(about->kind)) return true;
  }
  return false;
}

std::vector<SignatureCheck> signatures_to_check(const Logbook& logbook, const Verdicts& verdicts) {
  std::vector<SignatureCheck> checks;
  for (Chain& chain : chains_of(logbook, verdicts, {}, true)) {
    for (SignatureCheck& check : chain.walk.to_check) checks.push_back(std::move(check));
  }
  return checks;
}

Trust trust_of(const Logbook& logbook, const Verdicts& verdicts, std::string_view own_device) {
  Trust trust;
  trust.enforced = is_keyed_id(logbook.farm());
  const std::vector<Chain> chains = chains_of(logbook, verdicts, own_device, false);
  for (const Chain& chain : chains) trust.waits = trust.waits || chain.walk.waits;
  Admissions admissions;
  if (trust.enforced) {
    std::vector<const Entry*> words;
    for (const Chain& chain : chains) {
      words.insert(words.end(), chain.walk.on_devices.begin(), chain.walk.on_devices.end());
    }
    admissions = admissions_of(logbook.farm(), words);
  }
  Sorter sorter(logbook, admissions, own_device, trust);
  for (const Chain& chain : chains) sorter.sort(chain);
  return trust;
}

bool chain_is_signed(const Logbook& logbook, const std::string& device) {
  const std::uint32_t last = logbook.chain_of(device).last_number;
  bool is_signed = last == 0;
  logbook.visit(device, last, last, [&](const Logbook::Line& line) {
    if (line.entry != nullptr && line.entry->kind == kind::kChainSigned) is_signed = true;
  });
  return is_signed;
}

}  // namespace tawny
