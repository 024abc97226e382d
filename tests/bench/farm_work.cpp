#include "bench/farm_work.h"

#include <algorithm>
#include <map>
#include <utility>
#include <variant>

#include "logbook/device_key.h"
#include "logbook/kinds.h"
#include "logbook/sha256.h"
#include "protocol/assess.h"

namespace tawny::bench {
namespace {

std::vector<const Entry*> as_written(const Logbook& logbook) {
  std::vector<const Entry*> entries;
  logbook.visit([&entries](const Logbook::Line& line) {
    if (line.entry != nullptr) entries.push_back(line.entry);
  });
  std::stable_sort(entries.begin(), entries.end(),
                   [](const Entry* a, const Entry* b) { return a->lamport < b->lamport; });
  return entries;
}

// Phones that write into one farm, one after the other.
class SignedFarm {
 public:
  void write(const Entry& entry) {
    DeviceChain& chain = chain_of(entry.id.device, entry.recorded);
    Draft draft{entry.kind,         entry.pond,  entry.who, entry.observed, named(entry.corrects),
                named(entry.voids), entry.values};
    for (auto& [key, value] : draft.values) {
      if (std::string* text = std::get_if<std::string>(&value)) *text = named(*text);
    }
    names_[to_reference(entry.id)] = to_reference(put(draft, entry.recorded, chain).id);
  }
  void sign(const std::string& device, Instant recorded) {
    DeviceChain& chain = chain_of(device, recorded);
    const std::string half = sha256_hex(chain.last_hash);
    Draft draft = chain_signed_draft(half + half);
    draft.observed = recorded;
    put(draft, recorded, chain);
  }
  std::string take_lines() { return std::move(lines_); }

 private:
  DeviceChain& chain_of(const std::string& device, Instant recorded) {
    const auto [found, is_new] = chains_.try_emplace(device);
    DeviceChain& chain = found->second;
    if (!is_new) return chain;
    const std::string key = "04" + sha256_hex(device) + sha256_hex(device);
    chain.device = *device_id_of_key(key);
    if (founder_.empty()) {
      farm_ = chain.device;
      founder_ = device;
    } else {
      Draft admitted;
      admitted.kind = kind::kDeviceAdmitted;
      admitted.observed = recorded;
      admitted.values["device"] = chain.device;
      // Some of the farm's gates are passed by hand, whoever holds the phone.
      admitted.values["office"] = true;
      put(admitted, recorded, chains_.at(founder_));
      sign(founder_, recorded);
    }
    chain.farm = farm_;
    Draft own_key = device_key_draft(key);
    own_key.observed = recorded;
    put(own_key, recorded, chain);
    return chain;
  }
  Entry put(const Draft& draft, Instant recorded, DeviceChain& chain) {
    chain.lamport = lamport_;
    Entry entry = *seal(draft, recorded, chain);
    lamport_ = entry.lamport;
    lines_.append(entry.line).append("\n");
    return entry;
  }
  std::string named(const std::string& text) const {
    const auto found = names_.find(text);
    return found == names_.end() ? text : found->second;
  }

  std::map<std::string, DeviceChain> chains_;
  std::map<std::string, std::string> names_;  // references of then to those of now
  std::string farm_, founder_, lines_;
  std::uint64_t lamport_ = 0;
};

}  // namespace

std::string_view first_lines(std::string_view file, std::size_t entries) {
  std::size_t at = 0;
  for (; entries > 0; --entries) {
    const std::size_t end = file.find('\n', at);
    if (end == std::string_view::npos) return file;
    at = end + 1;
  }
  return file.substr(0, at);
}

std::string in_order(std::string_view segments) {
  const Logbook logbook = open(segments);
  std::string file;
  for (const Entry* entry : as_written(logbook)) file.append(entry->line).append("\n");
  return file;
}

std::string as_signed(std::string_view lines) {
  const Logbook logbook = open(lines);
  const std::vector<const Entry*> entries = as_written(logbook);
  SignedFarm farm;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Entry& entry = *entries[i];
    farm.write(entry);
    const bool goes_on = i + 1 < entries.size() && entries[i + 1]->id.device == entry.id.device &&
                         entries[i + 1]->recorded == entry.recorded;
    if (!goes_on) farm.sign(entry.id.device, entry.recorded);
  }
  return farm.take_lines();
}

Verdicts all_good(const Logbook& logbook) {
  Verdicts verdicts;
  while (true) {
    const std::vector<SignatureCheck> checks = signatures_to_check(logbook, verdicts);
    if (checks.empty()) return verdicts;
    for (const SignatureCheck& check : checks) verdicts[check.hash] = true;
  }
}

Logbook open(std::string_view lines, Hashes hashes) {
  Logbook logbook;
  logbook.load(lines, {}, hashes);
  return logbook;
}

Instant just_after(const Logbook& logbook) {
  Instant last;
  // Not by all(): to put them in order is the fold's work, and measured there.
  logbook.visit([&last](const Logbook::Line& line) {
    if (line.entry != nullptr) last = std::max(last, line.entry->recorded);
  });
  last.unix_s += 3600;
  return last;
}

Assessed assess_all(const Farm& farm, const Protocol& protocol, Instant now) {
  Assessed all;
  for (const FarmPond& pond : farm.ponds) {
    const PondState state = assess(pond.history, protocol, farm.place, now);
    ++all.ponds;
    all.stages += static_cast<int>(state.stage);
  }
  return all;
}

}  // namespace tawny::bench
