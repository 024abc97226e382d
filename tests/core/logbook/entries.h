// Small entries for the logbook's tests.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <string_view>
#include <utility>

#include "logbook/entry.h"
#include "logbook/kinds.h"
#include "logbook/sha256.h"

namespace tawny::testing_entries {

inline constexpr Instant kMorning{1795587120};  // 2026-11-25T06:12:00Z

inline DeviceChain chain_for(std::string_view device, std::string_view farm = "north-farm") {
  DeviceChain chain;
  chain.farm = std::string(farm);
  chain.device = std::string(device);
  return chain;
}

inline Draft level_draft(double level_cm, Instant observed = kMorning) {
  Draft draft;
  draft.kind = std::string(kind::kLevelReading);
  draft.pond = "p1";
  draft.who = "Technician";
  draft.observed = observed;
  draft.values["level_cm"] = level_cm;
  return draft;
}

inline Draft correction_of(const Entry& entry, double level_cm) {
  Draft draft = level_draft(level_cm, entry.observed);
  draft.corrects = to_reference(entry.id);
  return draft;
}

inline Draft void_of(const Entry& entry) {
  Draft draft;
  draft.kind = std::string(kind::kVoid);
  draft.pond = entry.pond;
  draft.who = "Manager";
  draft.observed = entry.observed;
  draft.voids = to_reference(entry.id);
  return draft;
}

inline Entry sealed(const Draft& draft, DeviceChain& chain, Instant recorded = kMorning) {
  Result<Entry> entry = seal(draft, recorded, chain);
  EXPECT_TRUE(entry.has_value()) << (entry ? "" : entry.error().message.id + " " + entry.error().parameter);
  return entry ? *std::move(entry) : Entry{};
}

// A line with a hash that fits, whatever stands in it.
inline std::string line_of(std::string_view body) {
  return std::string(body) + ",\"hash\":\"" + sha256_hex(body) + "\"}";
}

// The keys of a whole line of this format, to be taken apart by tests.
inline std::string plain_body(std::string_view values = "{}") {
  return R"({"v":1,"farm":"north-farm","device":"d1","number":1,"lamport":1,"observed":"2026-11-25T06:12:00Z",)"
         R"("recorded":"2026-11-25T06:12:00Z","who":"Technician","kind":"note","values":)" +
         std::string(values) + R"(,"previous":")" + std::string(64, '0') + "\"";
}

inline std::string replaced(std::string text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

}  // namespace tawny::testing_entries
