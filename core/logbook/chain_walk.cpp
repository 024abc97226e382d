#include "logbook/chain_walk.h"

#include <algorithm>
#include <utility>

#include "logbook/device_key.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

bool is_signature(std::string_view text) {
  return text.size() == kSignatureDigits && std::all_of(text.begin(), text.end(), [](char c) {
           return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
         });
}

class Walker {
 public:
  Walker(const std::string& public_key, const Verdicts& verdicts, bool pretend_good)
      : public_key_(public_key), verdicts_(verdicts), pretend_good_(pretend_good) {}

  // What the line after the next one to look at names.
  void expect(std::uint32_t number, const std::string& hash) {
    next_number_ = number;
    next_.push_back(&hash);
  }

  void look_at(std::uint32_t number, const std::vector<Logbook::Line>& lines) {
    const std::vector<const std::string*> wanted =
        next_number_ == number ? std::exchange(next_, {}) : std::vector<const std::string*>();
    next_.clear();
    next_number_ = number - 1;
    for (const Logbook::Line& line : lines) {
      if (line.entry == nullptr) continue;  // a newer format: what it says of the line before is not known
      const bool covered = std::any_of(wanted.begin(), wanted.end(),
                                       [&](const std::string* hash) { return *hash == line.hash; });
      if (covered) {
        take(*line.entry);
      } else if (!wanted.empty()) {
        result_.forged.push_back(number);
      }
      if (speaks(*line.entry, covered) || covered) next_.push_back(&line.entry->previous_hash);
    }
  }

  ChainWalk take_result() {
    std::reverse(result_.forged.begin(), result_.forged.end());
    return std::move(result_);
  }

 private:
  void take(const Entry& entry) {
    result_.covered.insert(entry.id.hash);
    if (entry.kind == kind::kDeviceAdmitted || entry.kind == kind::kDeviceRevoked) {
      result_.on_devices.push_back(&entry);
    }
  }

  // Does it hold a good signature over the line before it?
  bool speaks(const Entry& entry, bool covered) {
    if (entry.kind != kind::kChainSigned || public_key_.empty() || entry.id.number < 2) return false;
    const std::string* signature = entry.text("signature");
    if (signature == nullptr || !is_signature(*signature)) {
      result_.bad.push_back(&entry);
      return false;
    }
    const auto verdict = verdicts_.find(entry.id.hash);
    if (verdict == verdicts_.end()) {
      // The line before it is spoken for already.
      if (covered) return false;
      if (pretend_good_) {
        result_.to_check.push_back({entry.id.hash, public_key_, text_to_sign(entry.previous_hash), *signature});
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
  std::vector<const std::string*> next_;
  ChainWalk result_;
};

}  // namespace

std::string public_key_of(const Logbook& logbook, const std::string& device) {
  std::string key;
  if (!is_keyed_id(device)) return key;
  logbook.visit(device, 1, UINT32_MAX, [&](const Logbook::Line& line) {
    if (!key.empty() || line.entry == nullptr || line.entry->kind != kind::kDeviceKey) return;
    const std::string* said = line.entry->text("public_key");
    if (said != nullptr && device_id_of_key(*said) == device) key = *said;
  });
  return key;
}

ChainWalk walk_chain(const Logbook& logbook, const std::string& device, const std::string& public_key,
                     const std::string& head, const Verdicts& verdicts, bool pretend_good) {
  std::vector<Logbook::Line> lines;
  logbook.visit(device, 1, UINT32_MAX, [&](const Logbook::Line& line) { lines.push_back(line); });
  Walker walker(public_key, verdicts, pretend_good);
  if (!head.empty() && !lines.empty()) walker.expect(lines.back().number, head);
  std::vector<Logbook::Line> of_number;
  for (auto at = lines.rbegin(); at != lines.rend();) {
    const std::uint32_t number = at->number;
    of_number.clear();
    for (; at != lines.rend() && at->number == number; ++at) of_number.push_back(*at);
    walker.look_at(number, of_number);
  }
  return walker.take_result();
}

}  // namespace tawny
