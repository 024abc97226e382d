#include "logbook/entry.h"

#include <cmath>
#include <limits>
#include <utility>

#include "logbook/kinds.h"
#include "logbook/line_reader.h"
#include "logbook/reference.h"
#include "logbook/sha256.h"
#include "logbook/utf8.h"
#include "logbook/value_json.h"

namespace tawny {
namespace {

constexpr std::size_t kShownTextBytes = 40;

template <typename T>
const T* value_of(const Values& values, std::string_view key) {
  const auto found = values.find(key);
  return found == values.end() ? nullptr : std::get_if<T>(&found->second);
}

// A list without elements was written as [], which does not say of what.
template <typename T, typename Other>
const std::vector<T>* list_of(const Values& values, std::string_view key) {
  static const std::vector<T> kEmpty;
  if (const auto* list = value_of<std::vector<T>>(values, key)) return list;
  const auto* other = value_of<std::vector<Other>>(values, key);
  return other != nullptr && other->empty() ? &kEmpty : nullptr;
}

Problem missing(std::string_view parameter) {
  return Problem{ProblemKind::missing, std::string(parameter),
                 Message("problem.entry_lacks").with("key", Text{std::string(parameter)})};
}

Problem unfit(std::string_view parameter) {
  return Problem{ProblemKind::malformed, std::string(parameter),
                 Message("problem.entry_unfit").with("key", Text{excerpt_of(parameter, kShownTextBytes)})};
}

bool all_finite(const std::vector<double>& numbers) {
  for (const double number : numbers) {
    if (!std::isfinite(number)) return false;
  }
  return true;
}

bool all_utf8(const std::vector<std::string>& texts) {
  for (const std::string& text : texts) {
    if (!is_utf8(text)) return false;
  }
  return true;
}

bool can_be_written(const Value& value) {
  if (const auto* number = std::get_if<double>(&value)) return std::isfinite(*number);
  if (const auto* text = std::get_if<std::string>(&value)) return is_utf8(*text);
  if (const auto* numbers = std::get_if<std::vector<double>>(&value)) return all_finite(*numbers);
  if (const auto* texts = std::get_if<std::vector<std::string>>(&value)) return all_utf8(*texts);
  return true;
}

// The years that ISO 8601 texts of this format can hold.
bool can_be_written(Instant instant) {
  const UtcOffset utc{0};
  const Instant first = instant_at(*civil_day_of({1900, 1, 1}), 0, utc);
  const Instant last = instant_at(*civil_day_of({2200, 12, 31}), 86399, utc);
  return instant >= first && instant <= last;
}

std::optional<Problem> check_chain(const DeviceChain& chain) {
  if (chain.farm.empty()) return missing("farm");
  if (!is_utf8(chain.farm)) return unfit("farm");
  if (!is_device_id(chain.device)) return unfit("device");
  if (!is_sha256_hex(chain.last_hash)) return unfit("previous");
  if (chain.last_number == std::numeric_limits<std::uint32_t>::max()) return unfit("number");
  if (chain.lamport >= kMaxLamport) return unfit("lamport");
  return std::nullopt;
}

std::optional<Problem> check_draft(const Draft& draft) {
  if (draft.kind.empty()) return missing("kind");
  if (!is_utf8(draft.kind)) return unfit("kind");
  if (!is_utf8(draft.pond)) return unfit("pond");
  if (!is_utf8(draft.who)) return unfit("who");
  if (!can_be_written(draft.observed)) return unfit("observed");
  if (!draft.corrects.empty() && !parse_reference(draft.corrects)) return unfit("corrects");
  if (!draft.voids.empty() && !parse_reference(draft.voids)) return unfit("voids");
  const bool takes_back = draft.kind == kind::kVoid;
  if (takes_back && draft.voids.empty()) return missing("voids");
  if (!takes_back && !draft.voids.empty()) return unfit("voids");
  if (takes_back && !draft.corrects.empty()) return unfit("corrects");
  for (const auto& [key, value] : draft.values) {
    if (!is_utf8(key) || !can_be_written(value)) return unfit(key);
  }
  return std::nullopt;
}

void write_pair(JsonWriter& writer, std::string_view key, std::string_view text) {
  write_text(writer, key);
  write_text(writer, text);
}

void write_if_any(JsonWriter& writer, std::string_view key, std::string_view text) {
  if (!text.empty()) write_pair(writer, key, text);
}

// Everything before the hash: the object is left open, because the hash is its last member.
std::string body_of(const Draft& draft, Instant recorded, const DeviceChain& chain) {
  rapidjson::StringBuffer buffer;
  JsonWriter writer(buffer);
  writer.StartObject();
  write_text(writer, "v");
  writer.Int(kEntryFormat);
  write_pair(writer, "farm", chain.farm);
  write_pair(writer, "device", chain.device);
  write_text(writer, "number");
  writer.Uint(chain.last_number + 1);
  write_text(writer, "lamport");
  writer.Uint64(chain.lamport + 1);
  write_pair(writer, "observed", to_iso(draft.observed));
  write_pair(writer, "recorded", to_iso(recorded));
  write_pair(writer, "who", draft.who);
  write_if_any(writer, "pond", draft.pond);
  write_pair(writer, "kind", draft.kind);
  write_if_any(writer, "corrects", draft.corrects);
  write_if_any(writer, "voids", draft.voids);
  write_text(writer, "values");
  writer.StartObject();
  for (const auto& [key, value] : draft.values) {
    write_text(writer, key);
    write_value(writer, value);
  }
  writer.EndObject();
  write_pair(writer, "previous", chain.last_hash);
  return std::string(buffer.GetString(), buffer.GetSize());
}

}  // namespace

std::string to_reference(const EntryId& id) {
  return id.device + '/' + std::to_string(id.number) + '/' + id.hash.substr(0, kHashStartDigits);
}

const double* Entry::number(std::string_view key) const { return value_of<double>(values, key); }

const bool* Entry::flag(std::string_view key) const { return value_of<bool>(values, key); }

const std::string* Entry::text(std::string_view key) const { return value_of<std::string>(values, key); }

const std::vector<double>* Entry::numbers(std::string_view key) const {
  return list_of<double, std::string>(values, key);
}

const std::vector<std::string>* Entry::texts(std::string_view key) const {
  return list_of<std::string, double>(values, key);
}

Result<Entry> seal(const Draft& draft, Instant recorded, DeviceChain& chain) {
  if (auto problem = check_chain(chain)) return tl::unexpected<Problem>(*std::move(problem));
  if (auto problem = check_draft(draft)) return tl::unexpected<Problem>(*std::move(problem));
  if (!can_be_written(recorded)) return tl::unexpected<Problem>(unfit("recorded"));

  std::string line = body_of(draft, recorded, chain);
  const std::string hash = sha256_hex(line);
  line.append(kHashKey).append(hash).append(kLineEnd);
  // What comes back is what any reader will see, so a line that could not be read is never handed out.
  Result<Entry> entry = parse_entry(line);
  if (!entry) return entry;
  chain.last_number = entry->id.number;
  chain.lamport = entry->lamport;
  chain.last_hash = entry->id.hash;
  return entry;
}

}  // namespace tawny
