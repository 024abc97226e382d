#include "logbook/chain_walk.h"

#include <algorithm>
#include <utility>

#include "logbook/device_key.h"
#include "logbook/kinds.h"
#include "logbook/sha256.h"

namespace tawny {
namespace {

// Two numbers, each as long as a hash.
bool is_signature(std::string_view text) {
  return text.size() == kSignatureDigits && is_sha256_hex(text.substr(0, kSignatureDigits / 2)) &&
         is_sha256_hex(text.substr(kSignatureDigits / 2));
}

class Walker {
 public:
  Walker(const std::string& public_key, const Verdicts& verdicts, bool pretend_good)
      : public_key_(public_key), verdicts_(verdicts), pretend_good_(pretend_good) {}

  // The last line needs no signature: this device wrote it.
  void expect(std::uint32_t number, std::string_view hash) {
    next_number_ = number;
    next_.push_back({hash, false});
  }

  void look_at(std::uint32_t number, const std::vector<Logbook::Line>& lines) {
    wanted_.clear();
    if (next_number_ == number) wanted_.swap(next_);
    next_.clear();
    next_number_ = number - 1;
    for (const Logbook::Line& line : lines) {
      if (line.entry == nullptr) continue;  // a newer format: what it says of the line before is not known
      bool covered = false;
      bool is_signed = false;
      for (const Named& named : wanted_) {
        if (named.hash != line.hash) continue;
        covered = true;
        is_signed = is_signed || named.is_signed;
      }
      if (covered) {
        if (is_on_devices(line.entry->kind)) result_.on_devices.push_back(line.entry);
      } else {
        result_.uncovered.insert(line.hash);
        if (!wanted_.empty()) result_.forged.push_back(number);
      }
      const bool signs = speaks(*line.entry, covered, is_signed);
      if (signs || covered) next_.push_back({line.entry->previous_hash(), signs || is_signed});
    }
  }

  ChainWalk take_result() {
    std::reverse(result_.forged.begin(), result_.forged.end());
    return std::move(result_);
  }

 private:
  // What a line that is spoken for names as the one before it; `is_signed`: a signature speaks for that one.
  struct Named {
    std::string_view hash;
    bool is_signed = false;
  };

  static bool is_on_devices(std::string_view kind) {
    return kind == kind::kDeviceAdmitted || kind == kind::kDeviceRevoked;
  }

  // Does it hold a good signature over the line before it?
  bool speaks(const Entry& entry, bool covered, bool is_signed) {
    if (entry.kind != kind::kChainSigned || public_key_.empty() || entry.id.number < 2) return false;
    const std::string* signature = entry.text("signature");
    if (signature == nullptr || !is_signature(*signature)) {
      result_.bad.push_back(&entry);
      return false;
    }
    const auto verdict = verdicts_.find(entry.id.hash);
    if (verdict == verdicts_.end()) {
      result_.waits = result_.waits || !is_signed;
      // The line before it is spoken for already.
      if (covered) return false;
      if (pretend_good_) {
        result_.to_check.push_back(
            {entry.id.hash, public_key_, text_to_sign(entry.previous_hash()), *signature});
      }
      return pretend_good_;
    }
    if (!verdict->second) {
      result_.bad.push_back(&entry);
      return false;
    }
    result_.signed_to = std::max(result_.signed_to, entry.id.number - 1);
    return true;
  }

  const std::string& public_key_;
  const Verdicts& verdicts_;
  bool pretend_good_;
  std::uint32_t next_number_ = 0;
  std::vector<Named> next_, wanted_;
  ChainWalk result_;
};

}  // namespace

std::string public_key_of(const Logbook& logbook, const std::string& device) {
  std::string key;
  if (!is_keyed_id(device)) return key;
  const auto look = [&](const Logbook::Line& line) {
    if (!key.empty() || line.entry == nullptr || line.entry->kind != kind::kDeviceKey) return;
    const std::string* said = line.entry->text("public_key");
    if (said != nullptr && device_id_of_key(*said) == device) key = *said;
  };
  // It is the first thing that a device writes; only what is not whole holds it elsewhere.
  logbook.visit(device, 1, 1, look);
  if (key.empty()) logbook.visit(device, 2, UINT32_MAX, look);
  return key;
}

ChainWalk walk_chain(const Logbook& logbook, const std::string& device, const std::string& public_key,
                     const std::string& head, const Verdicts& verdicts, bool pretend_good) {
  Walker walker(public_key, verdicts, pretend_good);
  std::vector<Logbook::Line> of_number;
  const auto look = [&] {
    if (!of_number.empty()) walker.look_at(of_number.front().number, of_number);
    of_number.clear();
  };
  bool last = !head.empty();
  logbook.visit_back(device, [&](const Logbook::Line& line) {
    if (std::exchange(last, false)) walker.expect(line.number, head);
    if (!of_number.empty() && of_number.front().number != line.number) look();
    of_number.push_back(line);
  });
  look();
  return walker.take_result();
}

}  // namespace tawny
