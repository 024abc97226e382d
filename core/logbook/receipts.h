// Receipts: what the office holds, as the office itself says in its own logbook.
//
// An entry counts as "at the office" only when a device of the office has read it and wrote so. A receipt says,
// for a device, up to which number without a gap the office holds its entries, and names the last of them by
// its hash; because of the chain that hash speaks for all before it. Of a number in conflict each variant is
// named by itself. A receipt names only what is new since the same device's receipts before.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "logbook/entry.h"
#include "logbook/logbook.h"

namespace tawny {

// Does the latest device_setup that stands, of those this device wrote, say "office": true.
bool is_office(const Logbook& logbook, std::string_view device);

// Values of the office_receipt that `own_device` owes. Nothing when there is nothing new since its last, or
// nothing but receipts (two offices would go on answering each other for ever).
std::optional<Values> receipt_due(const Logbook& logbook, std::string_view own_device);

struct Receipt {
  std::uint32_t number = 0;  // 1..number are at the office
  Instant when;              // recorded by the office
  std::string by;            // the office's device
};

// By device; a device without a receipt is left out. A receipt whose hash fits no entry here says nothing about
// this logbook and does not count. `except` is a device whose own receipts are passed over.
using Receipts = std::map<std::string, Receipt, std::less<>>;
Receipts receipts_of(const Logbook& logbook, std::string_view except = {});

}  // namespace tawny
