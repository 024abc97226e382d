#include "logbook/receipts.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>
#include <vector>

#include "logbook/kinds.h"
#include "logbook/reference.h"

namespace tawny {
namespace {

// A line has an end; what does not go in stands in the next receipt.
constexpr std::size_t kMostRows = 300;

using Row = std::pair<std::uint32_t, std::string>;  // number, start of the hash

// Gives `row(device, number, start of hash)` what a receipt says; nothing of one that is not well-formed.
template <typename OnRow>
void read_rows(const Entry& receipt, OnRow row) {
  const auto* devices = receipt.texts("devices");
  const auto* numbers = receipt.numbers("numbers");
  const auto* hashes = receipt.texts("hashes");
  if (devices == nullptr || numbers == nullptr || hashes == nullptr) return;
  if (devices->size() != numbers->size() || devices->size() != hashes->size()) return;
  for (std::size_t at = 0; at < devices->size(); ++at) {
    const double number = (*numbers)[at];
    if (!(number >= 1 && number <= 4294967295.0) || number != std::floor(number)) continue;
    row((*devices)[at], static_cast<std::uint32_t>(number), (*hashes)[at]);
  }
}

struct Said {
  std::uint32_t highest = 0;
  std::set<Row> rows;
};

std::string start_of(std::string_view hash) { return std::string(hash.substr(0, kHashStartDigits)); }

// Receipts that stand, in the order of the logbook.
std::vector<const Entry*> receipts_in(const Logbook& logbook) {
  std::vector<const Entry*> receipts;
  logbook.visit([&](const Logbook::Line& line) {
    if (line.entry == nullptr || line.entry->kind != kind::kOfficeReceipt) return;
    if (logbook.standing(line.entry->id) == Logbook::Standing::stands) receipts.push_back(line.entry);
  });
  return receipts;
}

// What one device's receipt should say: the last number before a gap, and the variants of doubled numbers.
struct Due {
  std::vector<Row> doubled;
  std::vector<Row> last;
  std::uint32_t last_that_counts = 0;  // that is no receipt itself, nor the signature behind one
};

Due due_for(const Logbook& logbook, const std::string& device) {
  Due due;
  std::vector<Row> rows;  // of one number
  std::uint32_t number = 0;
  bool gap = false;
  const auto close = [&] {
    if (rows.size() > 1) due.doubled.insert(due.doubled.end(), rows.begin(), rows.end());
    if (!rows.empty()) due.last = std::exchange(rows, {});
  };
  logbook.visit(device, 1, UINT32_MAX, [&](const Logbook::Line& line) {
    if (gap) return;
    if (line.number != number) {
      close();
      gap = line.number != number + 1;
      if (gap) return;
      number = line.number;
    }
    rows.emplace_back(number, start_of(line.hash));
    const bool answers = line.entry != nullptr &&
                         (line.entry->kind == kind::kOfficeReceipt || line.entry->kind == kind::kChainSigned);
    if (!answers) due.last_that_counts = number;
  });
  close();
  return due;
}

}  // namespace

bool is_office(const Logbook& logbook, std::string_view device) {
  const Entry* latest = nullptr;
  logbook.visit(device, 1, UINT32_MAX, [&](const Logbook::Line& line) {
    if (line.entry == nullptr || line.entry->kind != kind::kDeviceSetup || !line.entry->voids.empty()) return;
    if (logbook.standing(line.entry->id) == Logbook::Standing::stands) latest = line.entry;
  });
  const bool* office = latest == nullptr ? nullptr : latest->flag("office");
  return office != nullptr && *office;
}

std::optional<Values> receipt_due(const Logbook& logbook, std::string_view own_device) {
  std::map<std::string, Said> said;
  for (const Entry* receipt : receipts_in(logbook)) {
    if (receipt->id.device != own_device) continue;
    read_rows(*receipt, [&](const std::string& device, std::uint32_t number, const std::string& hash) {
      Said& of = said[device];
      of.highest = std::max(of.highest, number);
      of.rows.emplace(number, hash);
    });
  }
  std::vector<std::string> devices;
  std::vector<double> numbers;
  std::vector<std::string> hashes;
  const auto add = [&](const std::string& device, const Row& row) {
    if (devices.size() >= kMostRows) return;
    devices.push_back(device);
    numbers.push_back(row.first);
    hashes.push_back(row.second);
  };
  bool news = false;
  for (const std::string& device : logbook.devices()) {
    if (device == own_device) continue;
    const Due due = due_for(logbook, device);
    const Said& before = said[device];
    for (const Row& row : due.doubled) {
      if (before.rows.count(row) > 0) continue;
      add(device, row);
      news = true;
    }
    // One row for the last number; when it is doubled, its rows are among those above.
    if (due.last.size() == 1 && before.rows.count(due.last.front()) == 0) {
      add(device, due.last.front());
      news = news || due.last_that_counts > before.highest;
    }
  }
  if (!news) return std::nullopt;
  Values values;
  values["devices"] = std::move(devices);
  values["numbers"] = std::move(numbers);
  values["hashes"] = std::move(hashes);
  return values;
}

Receipts receipts_of(const Logbook& logbook, std::string_view except) {
  struct Stamp {
    Instant when;
    std::string by;
  };
  std::map<std::string, std::map<Row, Stamp>> stamps;  // by device
  for (const Entry* receipt : receipts_in(logbook)) {
    if (!except.empty() && receipt->id.device == except) continue;
    read_rows(*receipt, [&](const std::string& device, std::uint32_t number, const std::string& hash) {
      const auto [stamp, first] =
          stamps[device].try_emplace({number, hash}, Stamp{receipt->recorded, receipt->id.device});
      if (!first && receipt->recorded < stamp->second.when)
        stamp->second = {receipt->recorded, receipt->id.device};
    });
  }
  Receipts receipts;
  for (const auto& of_device : stamps) {
    // No structured binding: Clang 14 lets no lambda see one.
    const std::string& device = of_device.first;
    const auto& rows = of_device.second;
    Receipt best;
    std::uint32_t number = 0;
    std::size_t variants = 0, acknowledged = 0;
    Stamp stamp;
    bool doubt = false;  // from the first doubled number on of which the office has not named all
    const auto close = [&] {
      if (doubt || number == 0) return;
      if (variants > 1 && acknowledged < variants) {
        doubt = true;
      } else if (acknowledged == variants) {
        best = Receipt{number, stamp.when, stamp.by};
      }
    };
    logbook.visit(device, 1, UINT32_MAX, [&](const Logbook::Line& line) {
      if (line.number != number) {
        close();
        number = line.number;
        variants = acknowledged = 0;
      }
      ++variants;
      // Of nearly every number no receipt says anything.
      const auto of_number = rows.lower_bound({number, {}});
      if (of_number == rows.end() || of_number->first.first != number) return;
      const auto row = rows.find({number, start_of(line.hash)});
      if (row == rows.end()) return;
      ++acknowledged;
      stamp = row->second;
    });
    close();
    if (best.number > 0) receipts.emplace(device, std::move(best));
  }
  return receipts;
}

}  // namespace tawny
