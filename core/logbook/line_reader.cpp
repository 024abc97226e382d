#include "logbook/line_reader.h"

#include <rapidjson/reader.h>

#include <algorithm>
#include <array>
#include <limits>
#include <set>
#include <utility>

#include "logbook/json_number.h"
#include "logbook/plain_json.h"
#include "logbook/reference.h"
#include "logbook/sha256.h"
#include "logbook/utf8.h"

namespace tawny {
namespace {

constexpr std::size_t kHashDigits = 64;
constexpr std::size_t kTailBytes = kHashKey.size() + kHashDigits + kLineEnd.size();
constexpr std::string_view kPreviousKey = ",\"previous\":\"";
constexpr std::size_t kPreviousBytes = kPreviousKey.size() + kHashDigits + 1;
constexpr std::size_t kShownKeyBytes = 40;

enum class Field {
  version,
  farm,
  device,
  number,
  lamport,
  observed,
  recorded,
  who,
  pond,
  kind,
  corrects,
  voids,
  values,
  previous,
  hash,
  unknown
};

constexpr std::array<std::string_view, static_cast<std::size_t>(Field::unknown)> kFieldNames = {
    "v",    "farm", "device",   "number", "lamport", "observed", "recorded", "who",
    "pond", "kind", "corrects", "voids",  "values",  "previous", "hash"};

constexpr std::uint32_t bit(Field field) { return 1u << static_cast<unsigned>(field); }

constexpr std::uint32_t kHeadFields =
    bit(Field::version) | bit(Field::farm) | bit(Field::device) | bit(Field::number) | bit(Field::hash);
constexpr std::uint32_t kRequiredFields = kHeadFields | bit(Field::lamport) | bit(Field::observed) |
                                          bit(Field::recorded) | bit(Field::who) | bit(Field::kind) |
                                          bit(Field::values) | bit(Field::previous);

// `before`: the field that stands before it, since all but always they come in that order.
Field field_of(std::string_view name, Field before) {
  std::size_t at = static_cast<std::size_t>(before) + 1;
  for (std::size_t looked = 0; looked < kFieldNames.size(); ++looked, ++at) {
    if (at >= kFieldNames.size()) at = 0;
    const std::string_view one = kFieldNames[at];
    // Length and first letter tell nearly all of them apart, without a look at the rest.
    if (one.size() == name.size() && one.front() == name.front() && one == name) return static_cast<Field>(at);
  }
  return Field::unknown;
}

Problem damaged() { return {ProblemKind::malformed, "line", Message("problem.line_not_json")}; }

Problem bad_key(std::string_view message_id, std::string_view key) {
  return {ProblemKind::malformed, std::string(key),
          Message(message_id).with("key", Text{excerpt_of(key, kShownKeyBytes)})};
}

// Takes RapidJSON's events of one line. `depth_` counts open braces and brackets: 1 is the line's own object,
// 2 the inside of "values", 3 the inside of a list there. Everything else is passed over.
class LineHandler {
 public:
  std::string message_id;  // set when the line was refused
  std::string key_at_fault;

  // `plain`: a line of UTF-8 without escapes, so that every text in it is UTF-8 too.
  // The hash stands at the line's end and was read there; so was the one before, when `has_previous`. `farm`: where in the
  // line Entry::farm() begins; null where it would not find it.
  LineHandler(Entry& entry, bool plain, bool has_previous, const char* farm)
      : entry_(entry), plain_(plain), at_its_place_(farm) {
    seen_ = bit(Field::hash) | (has_previous ? bit(Field::previous) : 0);
  }

  bool Null() { return depth_ == 1 ? wrong_type() : leave_out(); }
  bool Bool(bool flag) {
    if (depth_ == 1) return wrong_type();
    return depth_ == 2 ? keep(flag) : leave_out();
  }
  bool RawNumber(const char* chars, rapidjson::SizeType length, bool) {
    return take_number(std::string_view(chars, length));
  }
  bool String(const char* chars, rapidjson::SizeType length, bool) {
    return take_text(std::string_view(chars, length));
  }
  bool Key(const char* chars, rapidjson::SizeType length, bool) {
    return take_key(std::string_view(chars, length));
  }
  bool StartObject() {
    ++depth_;
    if (depth_ == 2 && understood() && field_ != Field::values) return wrong_type();
    return depth_ > 2 ? leave_out() : true;
  }
  bool EndObject(rapidjson::SizeType) {
    --depth_;
    return true;
  }
  bool StartArray() {
    ++depth_;
    if (depth_ == 2 && understood()) return wrong_type();
    if (depth_ == 3 && in_values()) {
      list_open_ = true;
      list_fits_ = true;
      numbers_.clear();
      texts_.clear();
      return true;
    }
    return depth_ > 2 ? leave_out() : true;
  }
  bool EndArray(rapidjson::SizeType) {
    --depth_;
    if (depth_ != 2 || !list_open_) return true;
    list_open_ = false;
    if (!list_fits_ || (!numbers_.empty() && !texts_.empty())) return leave_out();
    return texts_.empty() ? keep(std::move(numbers_)) : keep(std::move(texts_));
  }
  // RapidJSON asks for these; with numbers as text it never calls them.
  bool Int(int) { return false; }
  bool Uint(unsigned) { return false; }
  bool Int64(std::int64_t) { return false; }
  bool Uint64(std::uint64_t) { return false; }
  bool Double(double) { return false; }

  bool newer() const { return entry_.format > kEntryFormat; }

  // After the last event: is everything there?
  bool complete() {
    const std::uint32_t required = newer() ? kHeadFields : kRequiredFields;
    for (std::size_t i = 0; i < kFieldNames.size(); ++i) {
      const std::uint32_t one = bit(static_cast<Field>(i));
      if ((required & one) != 0 && (seen_ & one) == 0) return fail("problem.line_key_missing", kFieldNames[i]);
    }
    return true;
  }

 private:
  bool fail(std::string_view id, std::string_view key) {
    message_id = std::string(id);
    key_at_fault = std::string(key);
    return false;
  }
  // Is `field_` one whose meaning this version knows?
  bool understood() const {
    if (field_ == Field::unknown) return false;
    return !newer() || (kHeadFields & bit(field_)) != 0;
  }
  bool in_values() const { return field_ == Field::values && understood(); }
  bool wrong_type() {
    return understood() ? fail("problem.line_key_wrong", kFieldNames[static_cast<std::size_t>(field_)]) : true;
  }

  // A value of a shape that this version has no use for: it stays in the raw line only.
  bool leave_out() {
    if (!in_values()) return true;
    if (list_open_) {
      list_fits_ = false;
    } else {
      left_out_.insert(key_);
    }
    return true;
  }

  bool keep(Value value) {
    if (in_values()) entry_.values.emplace(std::move(key_), std::move(value));
    return true;
  }

  bool take_key(std::string_view name) {
    if (!plain_ && !is_utf8(name)) return fail("problem.line_not_text", name);  // an escaped lone surrogate
    if (depth_ == 1) {
      field_ = field_of(name, field_);
      const bool twice = field_ == Field::unknown ? !unknown_keys_.insert(std::string(name)).second
                                                  : (seen_ & bit(field_)) != 0;
      if (twice) return fail("problem.line_key_twice", name);
      if (field_ != Field::unknown) seen_ |= bit(field_);
    } else if (depth_ == 2 && in_values()) {
      if (entry_.values.find(name) != entry_.values.end() || left_out_.find(name) != left_out_.end()) {
        return fail("problem.line_key_twice", name);
      }
      key_.assign(name);
    }
    return true;
  }

  bool take_number(std::string_view token) {
    if (depth_ == 1) return take_counter(token);
    if (!in_values() || depth_ > 3 || (depth_ == 3 && !list_open_)) return true;
    const std::optional<double> number = read_json_number(token);
    if (!number) return fail("problem.line_key_wrong", key_);
    if (depth_ == 2) return keep(*number);
    numbers_.push_back(*number);
    return true;
  }

  bool take_counter(std::string_view token) {
    if (field_ == Field::version) {
      const auto version = read_json_whole(token, std::numeric_limits<std::int32_t>::max());
      if (!version || *version == 0) return wrong_type();
      entry_.format = static_cast<int>(*version);
      return true;
    }
    if (field_ == Field::number) {
      const auto number = read_json_whole(token, std::numeric_limits<std::uint32_t>::max());
      if (!number || *number == 0) return wrong_type();
      entry_.id.number = static_cast<std::uint32_t>(*number);
      return true;
    }
    if (field_ == Field::lamport) {
      const auto lamport = read_json_whole(token, kMaxLamport);
      if (!lamport || *lamport == 0) return wrong_type();
      entry_.lamport = *lamport;
      return true;
    }
    return wrong_type();
  }

  bool take_text(std::string_view text) {
    if (!plain_ && !is_utf8(text)) return fail("problem.line_not_text", key_);
    if (depth_ == 1) return take_header_text(text);
    if (!in_values() || depth_ > 3 || (depth_ == 3 && !list_open_)) return true;
    if (depth_ == 2) return keep(std::string(text));
    texts_.emplace_back(text);
    return true;
  }

  bool take_header_text(std::string_view text) {
    if (!understood()) return true;
    const auto copy = [text](std::string& out) {
      out = std::string(text);
      return true;
    };
    switch (field_) {
      case Field::farm:
        // Where Entry::farm() finds it, it is not held twice.
        if (text.data() == at_its_place_) return !text.empty() || wrong_type();
        return text.empty() ? wrong_type() : copy(entry_.farm_apart);
      case Field::device:
        return is_device_id(text) ? copy(entry_.id.device) : wrong_type();
      case Field::observed:
        return take_time(text, entry_.observed);
      case Field::recorded:
        return take_time(text, entry_.recorded);
      case Field::who:
        return copy(entry_.who);
      case Field::pond:
        return copy(entry_.pond);
      case Field::kind:
        return text.empty() ? wrong_type() : copy(entry_.kind);
      case Field::corrects:
        return parse_reference(text) ? copy(entry_.corrects) : wrong_type();
      case Field::voids:
        return parse_reference(text) ? copy(entry_.voids) : wrong_type();
      case Field::previous:
        return is_sha256_hex(text) ? copy(entry_.previous_apart) : wrong_type();
      case Field::version:
      case Field::number:
      case Field::lamport:
      case Field::values:
      case Field::hash:
      case Field::unknown:
        break;
    }
    return wrong_type();
  }

  bool take_time(std::string_view text, Instant& out) {
    const Result<Instant> instant = parse_instant(text);
    if (!instant) return wrong_type();
    out = *instant;
    return true;
  }

  Entry& entry_;
  bool plain_;
  const char* at_its_place_;
  int depth_ = 0;
  Field field_ = Field::unknown;  // of the last key
  std::uint32_t seen_ = 0;
  std::string key_;  // of the value inside "values"
  bool list_open_ = false;
  bool list_fits_ = true;
  std::vector<double> numbers_;
  std::vector<std::string> texts_;
  std::set<std::string, std::less<>> unknown_keys_;
  std::set<std::string, std::less<>> left_out_;
};

// What holds for every version: shape and hash come first, so nothing damaged is ever interpreted.
std::optional<Problem> find_damage(std::string_view line, Glance glance, Hashes hashes) {
  const auto found = [](std::string_view id) { return Problem{ProblemKind::malformed, "line", Message(id)}; };
  if (line.size() > kMaxLineBytes) {
    return Problem{ProblemKind::malformed, "line",
                   Message("problem.line_too_long").with("limit", Quantity{kMaxLineBytes, 0, "bytes"})};
  }
  if (line.substr(0, kLineStart.size()) != kLineStart) return found("problem.line_not_entry");
  if (line.size() < kLineStart.size() + kTailBytes) return found("problem.line_cut_off");
  const std::string_view body = line.substr(0, line.size() - kTailBytes);
  const std::string_view tail = line.substr(body.size());
  if (tail.substr(0, kHashKey.size()) != kHashKey || tail.substr(kHashKey.size() + kHashDigits) != kLineEnd) {
    return found("problem.line_cut_off");
  }
  const bool fits = hashes == Hashes::now ? hash_fits(line) : is_sha256_hex(hash_of_line(line));
  if (!fits) return found("problem.line_changed");
  const bool has_null = glance.control && line.find('\0') != std::string_view::npos;
  if (has_null || (glance.beyond_ascii && !is_utf8(line))) return found("problem.line_not_text");
  return std::nullopt;
}

// The digits of "previous" where it is the last key before the hash; empty where it is not.
std::string_view previous_at_its_place(std::string_view line) {
  if (line.size() < kPreviousBytes + kTailBytes) return {};
  const std::string_view end = line.substr(line.size() - kTailBytes - kPreviousBytes, kPreviousBytes);
  const std::string_view digits = end.substr(kPreviousKey.size(), kHashDigits);
  const bool is_there = end.substr(0, kPreviousKey.size()) == kPreviousKey && end.back() == '"';
  return is_there && is_sha256_hex(digits) ? digits : std::string_view();
}

// Any JSON. Read in place, in a copy: texts without escapes are then never moved. The encoding has been looked at; and
// without recursion no depth of nesting can exhaust the stack.
bool read_any_json(std::string text, LineHandler& handler) {
  rapidjson::InsituStringStream stream(text.data());
  rapidjson::Reader reader;
  constexpr unsigned kFlags =
      rapidjson::kParseInsituFlag | rapidjson::kParseNumbersAsStringsFlag | rapidjson::kParseIterativeFlag;
  reader.Parse<kFlags>(stream, handler);
  return !reader.HasParseError();
}

// Into an `entry` that is new; a problem where it cannot be one.
std::optional<Problem> read_into(Entry& entry, std::string_view line, Hashes hashes) {
  const Glance glance = glance_at(line);
  if (std::optional<Problem> problem = find_damage(line, glance, hashes)) return problem;
  // The last two keys are a third of a line, and stand at places known beforehand: what is left without them is an object
  // whenever the whole is one.
  std::string_view body = line.substr(0, line.size() - kTailBytes);
  const bool has_previous = !previous_at_its_place(line).empty();
  if (has_previous) body.remove_suffix(kPreviousBytes);

  const bool begins_so = line.substr(0, kFarmStart.size()) == kFarmStart;
  const char* const farm = begins_so ? line.data() + kFarmStart.size() : nullptr;

  const bool is_quick = !glance.control && !glance.backslash;
  std::optional<LineHandler> handler;
  bool is_json = true;
  const auto begin = [&] {
    entry.id.hash.assign(hash_of_line(line));
    handler.emplace(entry, !glance.backslash, has_previous, farm);
  };
  begin();
  if (!is_quick || PlainReader(body, *handler).read() == PlainRead::not_plain) {
    entry = Entry();
    begin();
    is_json = read_any_json(std::string(body) + '}', *handler);
  }
  if (handler->message_id.empty() && is_json && handler->complete()) {
    entry.values.shrink_to_fit();
    entry.line.assign(line);
    return std::nullopt;
  }
  if (handler->message_id.empty()) return damaged();
  return bad_key(handler->message_id, handler->key_at_fault);
}

// The whole line, of whatever version; of a newer one only what LineHead names has been filled in.
Result<Entry> read_line(std::string_view line, Hashes hashes) {
  Result<Entry> entry;
  if (std::optional<Problem> problem = read_into(*entry, line, hashes)) {
    entry = tl::unexpected<Problem>(*std::move(problem));
  }
  return entry;
}

}  // namespace

std::string_view Entry::farm() const {
  if (!farm_apart.empty()) return farm_apart;
  const std::string_view rest = std::string_view(line).substr(std::min(line.size(), kFarmStart.size()));
  const std::size_t end = rest.find('"');
  return end == std::string_view::npos ? std::string_view() : rest.substr(0, end);
}

std::string_view Entry::previous_hash() const {
  if (!previous_apart.empty()) return previous_apart;
  if (line.size() < kPreviousBytes + kTailBytes) return {};
  return std::string_view(line).substr(line.size() - kTailBytes - kHashDigits - 1, kHashDigits);
}

bool hash_fits(std::string_view line) {
  return line.size() >= kTailBytes &&
         hash_of_line(line) == sha256_hex(line.substr(0, line.size() - kTailBytes));
}

std::string_view hash_of_line(std::string_view line) {
  if (line.size() < kTailBytes) return {};
  return line.substr(line.size() - kHashDigits - kLineEnd.size(), kHashDigits);
}

Result<LineHead> read_line_head(std::string_view line) {
  Result<Entry> entry = read_line(line, Hashes::now);
  if (!entry) return tl::unexpected<Problem>(std::move(entry.error()));
  std::string farm(entry->farm());
  return LineHead{entry->format, std::move(entry->id), std::move(farm), entry->lamport};
}

Result<Entry> parse_entry(std::string_view line, Hashes hashes) {
  Result<Entry> entry = read_line(line, hashes);
  if (entry && entry->format > kEntryFormat) {
    entry = refuse(
        ProblemKind::unsupported, "v",
        Message("problem.newer_format").with("format", Quantity{static_cast<double>(entry->format), 0, ""}));
  }
  return entry;
}

}  // namespace tawny
