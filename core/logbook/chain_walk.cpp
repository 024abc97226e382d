#include "logbook/chain_walk.h"

#include <algorithm>
#include <iterator>
#include <optional>
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
        result_.first_uncovered = number;  // the walk goes down
        if (!wanted_.empty()) result_.forged.push_back(number);
      }
      const bool signs = speaks(*line.entry, covered, is_signed);
      if (signs || covered) next_.push_back({line.entry->previous_hash(), signs || is_signed});
    }
  }

  // Whether all that was looked at names that line, if it names any line of that number; `is_named`: it does name it.
  bool fits(std::uint32_t number, std::string_view hash, bool& is_named) const {
    is_named = next_number_ == number && !next_.empty();
    return !is_named ||
           std::all_of(next_.begin(), next_.end(), [&](const Named& named) { return named.hash == hash; });
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

namespace {

// Walks through the numbers from `first` on; gives how many there are.
std::size_t walk_back(Walker& walker, const Logbook& logbook, const std::string& device,
                      const std::string& head, std::uint32_t first) {
  std::size_t numbers = 0;
  std::vector<Logbook::Line> of_number;
  const auto look = [&] {
    if (of_number.empty()) return;
    walker.look_at(of_number.front().number, of_number);
    of_number.clear();
    ++numbers;
  };
  bool last = !head.empty();
  logbook.visit_back(device, first, [&](const Logbook::Line& line) {
    if (std::exchange(last, false)) walker.expect(line.number, head);
    if (!of_number.empty() && of_number.front().number != line.number) look();
    of_number.push_back(line);
  });
  look();
  return numbers;
}

// The same walk without the part that was kept; nothing where that part is no longer what it was, or something that
// came behind it denies its signature.
std::optional<ChainWalk> walk_on(const KeptWalk& kept, Walker walker, const Logbook& logbook,
                                 const std::string& device, const std::string& head) {
  if (kept.moves != logbook.moves()) return std::nullopt;
  const EntryId& id = kept.signature->id;
  const std::size_t more = walk_back(walker, logbook, device, head, id.number + 1);
  if (kept.numbers + more != logbook.numbers_of(device)) return std::nullopt;
  bool is_named = more == 0 && head == id.hash;
  if (more > 0 && !walker.fits(id.number, id.hash, is_named)) return std::nullopt;
  ChainWalk walk = walker.take_result();
  walk.went_on = true;
  if (!is_named) {
    walk.uncovered.insert(id.hash);
    walk.first_uncovered = id.number;
  }
  walk.signed_to = std::max(walk.signed_to, id.number - 1);
  walk.on_devices.insert(walk.on_devices.end(), kept.on_devices.begin(), kept.on_devices.end());
  return walk;
}

}  // namespace

ChainWalk walk_chain(const Logbook& logbook, const std::string& device, const std::string& public_key,
                     const std::string& head, const Verdicts& verdicts, bool pretend_good,
                     const KeptWalk* kept) {
  Walker walker(public_key, verdicts, pretend_good);
  if (kept != nullptr) {
    if (std::optional<ChainWalk> walk = walk_on(*kept, walker, logbook, device, head)) return *std::move(walk);
  }
  walk_back(walker, logbook, device, head, 0);
  return walker.take_result();
}

std::optional<KeptWalk> worth_keeping(const Logbook& logbook, const std::string& device,
                                      const ChainWalk& walk) {
  if (walk.signed_to == 0 || walk.signed_to >= UINT32_MAX - 1) return std::nullopt;
  const std::uint32_t number = walk.signed_to + 1;
  if (walk.first_uncovered < number || !walk.bad.empty() || !walk.forged.empty()) return std::nullopt;
  KeptWalk kept;
  std::size_t lines = 0, behind = 0;
  logbook.visit(device, number, number, [&](const Logbook::Line& line) {
    kept.signature = line.entry;
    ++lines;
  });
  if (lines != 1 || kept.signature == nullptr) return std::nullopt;
  std::uint32_t seen = number;
  logbook.visit(device, number + 1, UINT32_MAX, [&](const Logbook::Line& line) {
    if (std::exchange(seen, line.number) != line.number) ++behind;
  });
  std::copy_if(walk.on_devices.begin(), walk.on_devices.end(), std::back_inserter(kept.on_devices),
               [number](const Entry* entry) { return entry->id.number < number; });
  kept.moves = logbook.moves();
  kept.numbers = logbook.numbers_of(device) - behind;
  return kept;
}

}  // namespace tawny
