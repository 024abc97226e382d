#include "logbook/bundle_index.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "base/json.h"
#include "logbook/line_reader.h"
#include "logbook/reference.h"
#include "logbook/sha256.h"
#include "logbook/utf8.h"
#include "logbook/value_json.h"

namespace tawny {
namespace {

constexpr std::size_t kHashDigits = 64;
constexpr std::size_t kMaxIndexBytes = 16 * 1024 * 1024;  // of 150,000 segments

// Text that is not UTF-8 would make the whole line unreadable.
void write(JsonWriter& writer, std::string_view text) {
  write_text(writer, is_utf8(text) ? text : std::string_view());
}

void write_pair(JsonWriter& writer, std::string_view key, std::string_view text) {
  write(writer, key);
  write(writer, text);
}

tl::unexpected<Problem> unsound() {
  return refuse(ProblemKind::malformed, "bundle", Message("problem.bundle_index"));
}

bool fits_its_hash(std::string_view line) {
  const std::size_t tail = kHashKey.size() + kHashDigits + kLineEnd.size();
  if (line.size() < tail) return false;
  const std::string_view body = line.substr(0, line.size() - tail);
  return line.substr(body.size(), kHashKey.size()) == kHashKey &&
         line.substr(line.size() - kLineEnd.size()) == kLineEnd && hash_of_line(line) == sha256_hex(body);
}

// An index holds no numbers but counts.
bool holds_counts_only(std::string_view json) {
  constexpr std::size_t kMostDigits = 20;  // of 2^64
  bool in_text = false;
  std::size_t digits = 0;
  for (std::size_t at = 0; at < json.size(); ++at) {
    const char c = json[at];
    if (in_text && c == '\\') {
      ++at;
    } else if (c == '"') {
      in_text = !in_text;
    }
    if (in_text) continue;
    digits = c >= '0' && c <= '9' ? digits + 1 : 0;
    const bool is_part_of_number = c == '.' || c == '+' || c == '-' || c == 'E';
    if (digits > kMostDigits || is_part_of_number) return false;
    if (c == 'e' && at > 0 && json[at - 1] >= '0' && json[at - 1] <= '9') return false;
  }
  return true;
}

const rapidjson::Value* member(const rapidjson::Value& object, const char* key) {
  const auto found = object.FindMember(key);
  return found == object.MemberEnd() ? nullptr : &found->value;
}

std::optional<std::string> text_of(const rapidjson::Value& object, const char* key) {
  const rapidjson::Value* value = member(object, key);
  if (value == nullptr || !value->IsString()) return std::nullopt;
  return std::string(value->GetString(), value->GetStringLength());
}

std::optional<std::uint64_t> whole_of(const rapidjson::Value& object, const char* key) {
  const rapidjson::Value* value = member(object, key);
  if (value == nullptr || !value->IsUint64()) return std::nullopt;
  return value->GetUint64();
}

std::optional<BundleSegment> segment_of(const rapidjson::Value& object) {
  if (!object.IsObject()) return std::nullopt;
  const std::optional<std::string> device = text_of(object, "device");
  const std::optional<std::string> hash = text_of(object, "hash");
  const std::optional<std::uint64_t> first = whole_of(object, "first");
  const std::optional<std::uint64_t> last = whole_of(object, "last");
  const std::optional<std::uint64_t> bytes = whole_of(object, "bytes");
  if (!device || !hash || !first || !last || !bytes) return std::nullopt;
  if (!is_device_id(*device) || !is_hash_start(*hash)) return std::nullopt;
  if (*first == 0 || *first > *last || *last > UINT32_MAX) return std::nullopt;
  return BundleSegment{*device, static_cast<std::uint32_t>(*first), static_cast<std::uint32_t>(*last), *hash,
                       *bytes};
}

}  // namespace

bool is_bundle_index(std::string_view line) { return line.substr(0, kBundleStart.size()) == kBundleStart; }

std::string to_line(const BundleIndex& index) {
  rapidjson::StringBuffer buffer;
  JsonWriter writer(buffer);
  writer.StartObject();
  write(writer, "bundle");
  writer.Int(kBundleFormat);
  write_pair(writer, "farm", index.farm);
  if (!index.farm_name.empty()) write_pair(writer, "farm_name", index.farm_name);
  write_pair(writer, "made", to_iso(index.made));
  write_pair(writer, "by", index.by);
  write(writer, "segments");
  writer.StartArray();
  for (const BundleSegment& segment : index.segments) {
    writer.StartObject();
    write_pair(writer, "device", segment.device);
    write(writer, "first");
    writer.Uint(segment.first);
    write(writer, "last");
    writer.Uint(segment.last);
    write_pair(writer, "hash", segment.hash);
    write(writer, "bytes");
    writer.Uint64(segment.bytes);
    writer.EndObject();
  }
  writer.EndArray();
  std::string line(buffer.GetString(), buffer.GetSize());
  const std::string hash = sha256_hex(line);
  return line.append(kHashKey).append(hash).append(kLineEnd);
}

Result<BundleIndex> parse_bundle_index(std::string_view line) {
  if (line.size() > kMaxIndexBytes || !is_bundle_index(line) || !fits_its_hash(line) || !is_utf8(line) ||
      !holds_counts_only(line)) {
    return unsound();
  }
  const rapidjson::Document document = parse_json(line);
  if (document.HasParseError() || !document.IsObject()) return unsound();
  const std::optional<std::uint64_t> version = whole_of(document, "bundle");
  if (!version || *version == 0) return unsound();
  if (*version > kBundleFormat) {
    return refuse(ProblemKind::unsupported, "bundle", Message("problem.bundle_newer"));
  }
  const std::optional<std::string> farm = text_of(document, "farm");
  const std::optional<std::string> made = text_of(document, "made");
  const std::optional<std::string> by = text_of(document, "by");
  const rapidjson::Value* segments = member(document, "segments");
  if (!farm || !made || !by || segments == nullptr || !segments->IsArray()) return unsound();
  const Result<Instant> instant = parse_instant(*made);
  if (!instant) return unsound();
  BundleIndex index{*farm, text_of(document, "farm_name").value_or(""), *instant, *by, {}};
  for (const rapidjson::Value& value : segments->GetArray()) {
    std::optional<BundleSegment> segment = segment_of(value);
    if (!segment) return unsound();
    index.segments.push_back(*std::move(segment));
  }
  return index;
}

}  // namespace tawny
