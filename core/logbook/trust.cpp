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

  // `kept` may be null.
  void sort(const Chain& chain, KeptWalk* kept) {
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
    device.last_held = logbook_.chain_of(chain.device).last_number;
    Tail tail;
    if (trust_.enforced) leave_out(chain, device, tail, kept);
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
  void leave_out(const Chain& chain, DeviceTrust& device, Tail& tail, KeptWalk* kept) {
    const std::uint32_t kept_to = kept == nullptr ? 0 : kept->signature->id.number;
    const std::uint32_t first = kept == nullptr || !all_count(chain, device, *kept) ? 1 : kept->sorted_to + 1;
    const std::uint32_t sorted_to = kept == nullptr ? 0 : kept->sorted_to;
    logbook_.visit(chain.device, first, UINT32_MAX, [&](const Logbook::Line& line) {
      if (line.entry == nullptr || kind::is_of_chain(line.entry->kind)) return;
      const Entry& entry = *line.entry;
      const bool is_decision = decides(logbook_, entry.kind, entry.corrects, entry.voids);
      if (line.number > sorted_to && line.number <= kept_to) {
        kept->may_decide = kept->may_decide || is_decision || names_what_is_not_here(entry);
      }
      const std::optional<LeftOutFor> reason = reason_for(chain, device, entry, is_decision);
      if (!reason) return;
      if (*reason == LeftOutFor::not_signed && line.number > device.signed_to && device.has_key) {
        if (tail.count++ == 0) tail.first = line.number;
      }
      ++device.left_out;
      trust_.left_out.emplace(entry.id.hash, *reason);
    });
    if (kept != nullptr) kept->sorted_to = kept_to;
  }

  // Whether nothing of what was sorted before can be left out: it is signed.
  bool all_count(const Chain& chain, const DeviceTrust& device, const KeptWalk& kept) const {
    if (device.last_number < kept.sorted_to) return false;
    if (device.office && device.office_from <= 1) return true;
    return !kept.may_decide && (device.admitted || chain.device == own_device_);
  }

  bool names_what_is_not_here(const Entry& entry) const {
    const auto is_missing = [this](const std::string& reference) {
      return !reference.empty() && logbook_.find(reference) == nullptr;
    };
    return is_missing(entry.corrects) || is_missing(entry.voids);
  }

  std::optional<LeftOutFor> reason_for(const Chain& chain, const DeviceTrust& device, const Entry& entry,
                                       bool is_decision) const {
    if (!chain.is_keyed) return LeftOutFor::no_key;
    const auto& uncovered = chain.walk.uncovered;
    if (!uncovered.empty() && uncovered.count(entry.id.hash) > 0) return LeftOutFor::not_signed;
    if (entry.id.number > device.last_number) return LeftOutFor::revoked;
    if (is_decision) {
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

// In the place of what was kept before, unless that reaches further.
void keep(KeptWalks& kept, const Logbook& logbook, const Chain& chain) {
  std::optional<KeptWalk> worth = worth_keeping(logbook, chain.device, chain.walk);
  if (!worth) {
    if (!chain.walk.went_on) kept.erase(chain.device);
    return;
  }
  KeptWalk& place = kept[chain.device];
  if (chain.walk.went_on) {
    worth->sorted_to = place.sorted_to;
    worth->may_decide = place.may_decide;
  }
  place = *std::move(worth);
}

const KeptWalk* kept_of(const KeptWalks* kept, const std::string& device) {
  if (kept == nullptr) return nullptr;
  const auto found = kept->find(device);
  return found == kept->end() ? nullptr : &found->second;
}

std::vector<Chain> chains_of(const Logbook& logbook, const Verdicts& verdicts, std::string_view own_device,
                             bool pretend_good, const KeptWalks* kept) {
  std::vector<Chain> chains;
  for (std::string& device : logbook.devices()) {
    Chain chain;
    chain.is_keyed = is_keyed_id(device);
    if (chain.is_keyed) {
      chain.public_key = public_key_of(logbook, device);
      std::string head;
      if (device == own_device) head = logbook.chain_of(device).last_hash;
      chain.walk =
          walk_chain(logbook, device, chain.public_key, head, verdicts, pretend_good, kept_of(kept, device));
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

std::vector<SignatureCheck> signatures_to_check(const Logbook& logbook, const Verdicts& verdicts,
                                                const KeptWalks* kept) {
  std::vector<SignatureCheck> checks;
  for (Chain& chain : chains_of(logbook, verdicts, {}, true, kept)) {
    for (SignatureCheck& check : chain.walk.to_check) checks.push_back(std::move(check));
  }
  return checks;
}

Trust trust_of(const Logbook& logbook, const Verdicts& verdicts, std::string_view own_device, KeptWalks* kept) {
  Trust trust;
  trust.enforced = is_keyed_id(logbook.farm());
  const std::vector<Chain> chains = chains_of(logbook, verdicts, own_device, false, kept);
  for (const Chain& chain : chains) {
    trust.waits = trust.waits || chain.walk.waits;
    if (kept == nullptr || !chain.is_keyed) continue;
    keep(*kept, logbook, chain);
  }
  Admissions admissions;
  if (trust.enforced) {
    std::vector<const Entry*> words;
    for (const Chain& chain : chains) {
      words.insert(words.end(), chain.walk.on_devices.begin(), chain.walk.on_devices.end());
    }
    admissions = admissions_of(logbook.farm(), words);
  }
  Sorter sorter(logbook, admissions, own_device, trust);
  for (const Chain& chain : chains) {
    const auto found = kept == nullptr ? KeptWalks::iterator() : kept->find(chain.device);
    sorter.sort(chain, kept == nullptr || found == kept->end() ? nullptr : &found->second);
  }
  return trust;
}

bool counts_alike(const Trust& one, const Trust& other) {
  const auto are_alike = [](const auto& a, const auto& b) {
    return a.first == b.first && a.second.office == b.second.office && a.second.revoked == b.second.revoked;
  };
  return one.enforced == other.enforced && one.left_out == other.left_out &&
         std::equal(one.devices.begin(), one.devices.end(), other.devices.begin(), other.devices.end(),
                    are_alike);
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
