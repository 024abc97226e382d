#include "fuzz/lines.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <limits>

#include "logbook/entry.h"
#include "logbook/kinds.h"
#include "logbook/line_reader.h"
#include "logbook/sha256.h"

namespace tawny::fuzz {
namespace {

constexpr std::string_view kKinds[] = {
    kind::kFarmSetup,    kind::kPondSetup,      kind::kBinSetup,        kind::kInletSetup,
    kind::kTideTable,    kind::kProductSetup,   kind::kDeviceSetup,     kind::kPondPerson,
    kind::kPlanSetup,    kind::kProtocolChange, kind::kPlBooking,       kind::kStockDelivery,
    kind::kStockCount,   kind::kStockOrder,     kind::kCostSetup,       kind::kCycleStart,
    kind::kCycleEnd,     kind::kGatePassed,     kind::kGateRefused,     kind::kReleaseSigned,
    kind::kWaterReading, kind::kLevelReading,   kind::kSecchiReading,   kind::kWaterColour,
    kind::kSky,          kind::kWaterTest,      kind::kGrazerCount,     kind::kBottomGrab,
    kind::kPestLook,     kind::kMeterCheck,     kind::kBottomLook,      kind::kSoilBroadcast,
    kind::kScreenCheck,  kind::kSourceLook,     kind::kInletMoved,      kind::kOutflow,
    kind::kDose,         kind::kDoseWalkStart,  kind::kDoseStep,        kind::kDoseWalkStop,
    kind::kVoid,         kind::kNote,           kind::kQuestionSettled, kind::kOfficeReceipt,
    "unknown_kind"};

constexpr double kNumbers[] = {
    0,   -0.0, 1,    -1,   0.5,   2,     3,      10,         100,           1e3,
    1e6, 1e9,  1e15, 1e19, 1e300, 1e308, -1e308, 1e-9,       5e-324,        255,
    256, -180, 180,  90,   -90,   840,   14.5,   2147483647, -2147483649.0, 4294967296.0,
    9e15};

Instant any_time(Dice& dice, Instant near) {
  constexpr std::int64_t kSteps[] = {1, 60, 599, 3600, 43200, 86400, 604800, 2592000, 31536000, 946080000};
  // The first and the last second that a line can hold.
  if (dice.one_in(12)) return Instant{dice.one_in(2) ? -2208988800 : 7289654399};
  const std::int64_t step = dice.of(kSteps) * static_cast<std::int64_t>(1 + dice.below(9));
  return Instant{near.unix_s + (dice.one_in(2) ? step : -step)};
}

double changed(double number, Dice& dice) {
  switch (dice.below(4)) {
    case 0:
      return dice.of(kNumbers);
    case 1:
      return -number;
    case 2:
      return std::isfinite(number * 1.5) ? number * 1.5 : 0;
    default:
      return std::round(number) + static_cast<double>(dice.below(7)) - 3;
  }
}

std::string changed(const std::string& text, const std::vector<Entry>& others, Dice& dice) {
  if (dice.one_in(4) && parse_instant(text)) return to_iso(any_time(dice, *parse_instant(text)));
  if (dice.one_in(2) || others.empty()) return dice.of(hostile_texts());
  // A text that stands elsewhere under some key.
  const Entry& other = dice.of(others);
  for (const auto& [key, value] : other.values) {
    if (const auto* own = std::get_if<std::string>(&value); own != nullptr && dice.one_in(2)) return *own;
  }
  return dice.one_in(2) ? to_reference(other.id) : other.pond;
}

Value changed(const Value& value, const std::vector<Entry>& others, Dice& dice) {
  if (dice.one_in(12)) {
    const Value kOther[] = {1.0, true, std::string("x"), std::vector<double>{1, 2},
                            std::vector<std::string>{"a", ""}};
    return dice.of(kOther);
  }
  if (const auto* number = std::get_if<double>(&value)) return changed(*number, dice);
  if (const auto* flag = std::get_if<bool>(&value)) return !*flag;
  if (const auto* text = std::get_if<std::string>(&value)) return changed(*text, others, dice);
  const auto change_list = [&](auto list, const auto& change) {
    if (!list.empty() && dice.one_in(3))
      list.erase(list.begin() + static_cast<std::ptrdiff_t>(dice.below(list.size())));
    if (!list.empty()) list[dice.below(list.size())] = change(list[dice.below(list.size())]);
    if (!list.empty() && list.size() < 300 && dice.one_in(3)) list.insert(list.end(), list.begin(), list.end());
    return list;
  };
  if (const auto* numbers = std::get_if<std::vector<double>>(&value)) {
    return change_list(*numbers, [&](double number) { return changed(number, dice); });
  }
  return change_list(std::get<std::vector<std::string>>(value),
                     [&](const std::string& text) { return changed(text, others, dice); });
}

void change_values(Values& values, const std::vector<Entry>& others, Dice& dice) {
  const auto any = [&dice](Values& of) {
    return std::next(of.begin(), static_cast<std::ptrdiff_t>(dice.below(of.size())));
  };
  const std::size_t what = dice.below(8);
  if (what == 0 && !values.empty()) {
    values.erase(any(values));
  } else if (what <= 2 && !others.empty()) {
    Values theirs = dice.of(others).values;
    if (theirs.empty()) return;
    const auto& [key, value] = *any(theirs);
    values.emplace(key, value);
  } else if (what == 3 && !others.empty()) {
    Values theirs = dice.of(others).values;
    if (theirs.empty()) return;
    const auto one = any(theirs);
    values[one->first] = one->second;
  } else if (!values.empty()) {
    const auto one = any(values);
    one->second = changed(one->second, others, dice);
  }
}

void change_head(Draft& draft, Instant& recorded, DeviceChain& chain, const std::vector<Entry>& others,
                 Dice& dice) {
  const Entry* other = others.empty() ? nullptr : &dice.of(others);
  switch (dice.below(11)) {
    case 0:
    case 1:
      draft.observed = any_time(dice, draft.observed);
      break;
    case 2:
      recorded = any_time(dice, recorded);
      break;
    case 3:
      draft.kind = std::string(dice.of(kKinds));
      break;
    case 4:
      if (other != nullptr) draft.kind = other->kind;
      break;
    case 5:
      draft.pond = other != nullptr && !dice.one_in(4) ? other->pond : dice.of(hostile_texts());
      break;
    case 6:
      draft.who = other != nullptr && !dice.one_in(3) ? other->who : dice.of(hostile_texts());
      break;
    case 7:
      if (other != nullptr) draft.corrects = to_reference(other->id);
      draft.voids.clear();
      break;
    case 8:
      draft.kind = std::string(kind::kVoid);
      draft.corrects.clear();
      if (other != nullptr) draft.voids = to_reference(other->id);
      break;
    case 9: {
      constexpr std::uint32_t kBefore[] = {0, 1, 998, 999, 1000, 4294967294u};
      chain.last_number = dice.one_in(2) && other != nullptr ? other->id.number : dice.of(kBefore);
      break;
    }
    default:
      if (other != nullptr) chain.device = other->id.device;
      if (dice.one_in(3)) chain.device = "device-" + std::to_string(dice.below(4));
      if (dice.one_in(6)) chain.lamport = kMaxLamport - 1;
  }
}

std::vector<Entry> entries_of(const std::vector<std::string>& lines, Dice& dice) {
  std::vector<Entry> entries;
  // A few are enough to borrow from, and reading all would cost more than the trial itself.
  for (int i = 0; i < 6 && !lines.empty(); ++i) {
    if (Result<Entry> entry = parse_entry(dice.of(lines))) entries.push_back(*std::move(entry));
  }
  return entries;
}

std::string changed_bytes(const std::string& line, Dice& dice) {
  const std::size_t tail = kHashKey.size() + 64 + kLineEnd.size();
  std::string body = line.substr(0, line.size() > tail ? line.size() - tail : 0);
  if (dice.one_in(8)) {
    // Deeper than any stack.
    const std::size_t at = body.rfind("\"values\":");
    const std::size_t depth = 1 + dice.below(20000);
    if (at != std::string::npos) body.insert(at, "\"deep\":" + std::string(depth, dice.one_in(2) ? '[' : '{'));
    return sealed_line(body);
  }
  if (dice.one_in(8) && body.size() > 6) {
    body[5] = '2';  // of a newer version
    return sealed_line(body);
  }
  std::vector<std::uint8_t> bytes(body.begin(), body.end());
  bytes.resize(body.size() + 64);
  bytes.resize(LLVMFuzzerMutate(bytes.data(), body.size(), bytes.size()));
  return sealed_line({reinterpret_cast<const char*>(bytes.data()), bytes.size()});
}

}  // namespace

const std::vector<std::string>& hostile_texts() {
  static const std::vector<std::string> kTexts = {
      "",
      "<script>alert(1)</script>",
      "</td><img src=x onerror=alert(1)>",
      "\"><svg/onload=alert(1)>",
      "javascript:alert(1)",
      "&lt;b&gt;&#60;",
      "]]><!--",
      "=HYPERLINK(\"http://x\",\"y\")",
      "@SUM(1+1)*cmd|' /C calc'!A0",
      "+1",
      "-1",
      "\t=1",
      "a,\"b\";c\r\nd",
      "%s%n%x%1$p",
      "{name}{on day}{at",
      "{count}",
      "../../etc/passwd",
      "..\\x",
      "a/b",
      "\u202Egnp.exe\u202C",
      "\u2066x\u2069\u200B\u200F",
      "\uFEFF\u00AD",
      std::string("a\0b", 3),
      "\x01\x02\x1b[31m\x7f",
      "__proto__",
      "constructor",
      "2026-11-25T06:12:00Z",
      "2200-12-31T23:59:59Z",
      "1900-01-01T00:00:00Z",
      "2026-11-25",
      "sodium_nitrate",
      "calcium_nitrate_fertilizer",
      "earthen",
      "lined",
      "pump",
      "gate",
      "pipe",
      "bright",
      "golden",
      "manager",
      "open",
      "shut",
      "whole",
      "both",
      "none",
      "stage.bloom.secchi_low_cm",
      std::string(5000, 'a'),
      std::string(3000, '<'),
      "🦐🦐 ao cá",
  };
  return kTexts;
}

std::string sealed_line(std::string_view body) {
  std::string line(body);
  return line.append(kHashKey).append(sha256_hex(body)).append(kLineEnd);
}

std::string changed_line(const std::string& line, const std::vector<std::string>& others, Dice& dice) {
  if (dice.one_in(6)) return changed_bytes(line, dice);
  Result<Entry> entry = parse_entry(line);
  if (!entry) return changed_bytes(line, dice);
  const std::vector<Entry> lenders = entries_of(others, dice);
  Draft draft{entry->kind,     entry->pond,  entry->who,   entry->observed,
              entry->corrects, entry->voids, entry->values};
  DeviceChain chain;
  chain.farm = entry->farm();
  chain.device = entry->id.device;
  chain.last_number = entry->id.number - 1;
  chain.lamport = entry->lamport - 1;
  chain.last_hash = entry->previous_hash();
  Instant recorded = entry->recorded;
  for (std::size_t count = 1 + dice.below(3); count > 0; --count) {
    if (dice.one_in(3)) {
      change_head(draft, recorded, chain, lenders, dice);
    } else {
      change_values(draft.values, lenders, dice);
    }
  }
  Result<Entry> made = seal(draft, recorded, chain);
  return made ? made->line : changed_bytes(line, dice);
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    if (end > 0) lines.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string joined(const std::vector<std::string>& lines, std::size_t limit_bytes) {
  std::string text;
  for (const std::string& line : lines) {
    if (text.size() + line.size() + 1 <= limit_bytes) (text += line) += '\n';
  }
  return text;
}

std::string changed_logbook(std::string_view text, std::size_t limit_bytes, unsigned seed) {
  Dice dice(seed);
  std::vector<std::string> lines = lines_of(text);
  if (lines.empty()) lines.push_back(sealed_line(R"({"v":1,"farm":"demo","device":"d","number":1)"));
  for (std::size_t count = 1 + dice.below(4); count > 0; --count) {
    const std::size_t at = dice.below(lines.size());
    const std::size_t what = dice.below(10);
    if (what == 0 && lines.size() > 1) {
      lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
    } else if (what == 1) {
      lines.push_back(changed_line(lines[at], lines, dice));
    } else if (what == 2) {
      std::swap(lines[at], lines[dice.below(lines.size())]);
    } else {
      lines[at] = changed_line(lines[at], lines, dice);
    }
  }
  return joined(lines, limit_bytes);
}

std::string crossed(std::string_view one, std::string_view other, std::size_t limit_bytes, unsigned seed) {
  Dice dice(seed);
  std::vector<std::string> lines;
  for (const std::string_view text : {one, other}) {
    for (std::string& line : lines_of(text)) {
      if (dice.below(4) != 0) lines.push_back(std::move(line));
    }
  }
  return joined(lines, limit_bytes);
}

std::size_t put(const std::string& made, std::uint8_t* data, std::size_t limit_bytes) {
  const std::size_t size = std::min(made.size(), limit_bytes);
  std::memcpy(data, made.data(), size);
  return size;
}

}  // namespace tawny::fuzz
