#include "logbook/export.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <string_view>

#include "logbook/kinds.h"
#include "logbook/left_out.h"
#include "logbook/line_reader.h"
#include "logbook/value_json.h"

namespace tawny {
namespace {

constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";

constexpr std::array<std::string_view, 16> kHeadColumns = {
    "device",    "number", "lamport", "observed", "recorded", "observed_at_farm", "who",  "pond",
    "pond_name", "kind",   "stands",  "corrects", "voids",    "reference",        "farm", "format"};

// The values of everyday entries, one column each; every other one stands in the last column.
constexpr std::array<std::string_view, 43> kValueColumns = {
    "do_mg_l",
    "ph",
    "temperature_c",
    "salinity",
    "do_bottom_mg_l",
    "temperature_bottom_c",
    "level_cm",
    "secchi_vanish_cm",
    "secchi_return_cm",
    "depth_at_disc_cm",
    "seen_on_bottom",
    "colour",
    "sky",
    "tan_mg_l",
    "alkalinity_mg_l",
    "copepods_per_l",
    "grabs",
    "grabs_with_animals",
    "bivalves",
    "predators",
    "do_percent_in_air",
    "thick_sludge",
    "dried_days",
    "treated_wet",
    "product",
    "product_kg",
    "bins",
    "rate_kg_ha",
    "area_ha",
    "coverage",
    "dissolved",
    "nitrate_n_mg_l",
    "started",
    "ended",
    "lot",
    "inlet",
    "position",
    "mesh_um",
    "whole",
    "stage",
    "manager_override",
    "reason",
    "text",
};
constexpr std::string_view kLeftOutColumn = "left_out";
constexpr std::string_view kOtherColumn = "other_values";

// Some programs trim what stands before a formula, or never see it.
std::string_view without_blanks_in_front(std::string_view text) {
  for (bool found = true; found;) {
    found = false;
    for (const std::string_view blank : {" ", "\u00a0", "\u200b", "\u2060", "\ufeff"}) {
      if (text.substr(0, blank.size()) != blank) continue;
      text.remove_prefix(blank.size());
      found = true;
    }
  }
  return text;
}

bool starts_as_formula(std::string_view cell) {
  const std::string_view text = without_blanks_in_front(cell);
  for (const std::string_view start :
       {"=", "+", "-", "@", "\t", "\r", "\n", "'", "\uff1d", "\uff0b", "\uff0d", "\uff20"}) {
    if (text.substr(0, start.size()) == start) return true;
  }
  return false;
}

// One row; a cell that is not written stays empty.
class Row {
 public:
  explicit Row(std::string& out) : out_(out) {}

  void text(std::string_view text) {
    next();
    const bool made_harmless = starts_as_formula(text);
    // A semicolon parts the cells where the comma is the decimal mark; blanks at an end are trimmed by some.
    const bool quoted = made_harmless || text.find_first_of(",;\"\r\n\t") != std::string_view::npos ||
                        (!text.empty() && (text.front() == ' ' || text.back() == ' '));
    if (quoted) out_.push_back('"');
    if (made_harmless) out_.push_back('\'');
    for (const char c : text) {
      if (c == '"') out_.push_back('"');
      // Many readers end a file at a NUL.
      if (c == '\0') {
        out_.append("\uFFFD");
      } else {
        out_.push_back(c);
      }
    }
    if (quoted) out_.push_back('"');
  }
  // As this program writes numbers: digits, a point, a sign.
  void number(std::string_view number) {
    next();
    out_.append(number);
  }
  void nothing() { next(); }
  void end() { out_.append("\r\n"); }

 private:
  void next() {
    if (!is_first_) out_.push_back(',');
    is_first_ = false;
  }

  std::string& out_;
  bool is_first_ = true;
};

std::string json_of(const Value& value) {
  rapidjson::StringBuffer buffer;
  JsonWriter writer(buffer);
  write_value(writer, value);
  return std::string(buffer.GetString(), buffer.GetSize());
}

// 18, not 18.0, as a spreadsheet would write it.
std::string plain(double number) {
  std::string digits = json_of(number);
  if (digits.size() > 2 && digits.compare(digits.size() - 2, 2, ".0") == 0) digits.resize(digits.size() - 2);
  return digits;
}

bool has_column(std::string_view key) {
  return std::find(kValueColumns.begin(), kValueColumns.end(), key) != kValueColumns.end();
}

// Empty when every value has a column.
std::string other_values_of(const Entry& entry) {
  rapidjson::StringBuffer buffer;
  JsonWriter writer(buffer);
  bool any = false;
  writer.StartObject();
  for (const auto& [key, value] : entry.values) {
    if (has_column(key)) continue;
    any = true;
    write_text(writer, key);
    write_value(writer, value);
  }
  writer.EndObject();
  return any ? std::string(buffer.GetString(), buffer.GetSize()) : std::string();
}

void write_cell(Row& row, const Value& value) {
  if (const auto* number = std::get_if<double>(&value)) return row.number(plain(*number));
  if (const auto* text = std::get_if<std::string>(&value)) return row.text(*text);
  row.text(json_of(value));
}

// What the rows take from the set-up.
struct SetUp {
  std::optional<UtcOffset> offset;
  std::map<std::string, std::string, std::less<>> pond_names;
};

SetUp set_up_of(const Logbook& logbook) {
  SetUp set_up;
  for (const Entry* entry : logbook.effective()) {
    if (entry->kind == kind::kFarmSetup) {
      const double* minutes = entry->number("utc_offset_min");
      constexpr double kMostMinutes = 14 * 60;
      if (minutes != nullptr && *minutes >= -kMostMinutes && *minutes <= kMostMinutes) {
        set_up.offset = UtcOffset{static_cast<std::int32_t>(*minutes)};
      }
    }
    const std::string* name = entry->kind == kind::kPondSetup ? entry->text("name") : nullptr;
    if (name != nullptr) set_up.pond_names[entry->pond] = *name;
  }
  return set_up;
}

std::string_view name_of(Logbook::Standing standing) {
  if (standing == Logbook::Standing::corrected) return "corrected";
  if (standing == Logbook::Standing::not_counted) return "not_counted";
  return standing == Logbook::Standing::voided ? "voided" : "yes";
}

// "2026-11-25 01:12:40": spreadsheets take it for a date with a time.
std::string at_farm(Instant instant, const SetUp& set_up) {
  if (!set_up.offset) return {};
  std::string text = to_iso(instant.plus_min(set_up.offset->minutes));
  std::replace(text.begin(), text.end(), 'T', ' ');
  text.pop_back();
  return text;
}

void write_entry(std::string& out, const Entry& entry, const Logbook& logbook, const SetUp& set_up,
                 const WordsOnReadings& said) {
  Row row(out);
  row.text(entry.id.device);
  row.number(std::to_string(entry.id.number));
  row.number(std::to_string(entry.lamport));
  row.text(to_iso(entry.observed));
  row.text(to_iso(entry.recorded));
  row.text(at_farm(entry.observed, set_up));
  row.text(entry.who);
  row.text(entry.pond);
  const auto pond = set_up.pond_names.find(entry.pond);
  row.text(pond == set_up.pond_names.end() ? std::string_view() : std::string_view(pond->second));
  row.text(entry.kind);
  row.text(name_of(logbook.standing(entry.id)));
  row.text(entry.corrects);
  row.text(entry.voids);
  row.text(to_reference(entry.id));
  row.text(entry.farm());
  row.number(std::to_string(entry.format));
  for (const std::string_view key : kValueColumns) {
    const auto value = entry.values.find(key);
    if (value == entry.values.end()) {
      row.nothing();
    } else {
      write_cell(row, value->second);
    }
  }
  const bool stands = logbook.standing(entry.id) == Logbook::Standing::stands;
  const Entry* word = stands ? said.leaving_out(entry) : nullptr;
  row.text(word == nullptr ? std::string() : to_reference(word->id));
  row.text(other_values_of(entry));
  row.end();
}

// A newer format: only what every version says in the same way.
void write_unread(std::string& out, const LineHead& head) {
  Row row(out);
  row.text(head.id.device);
  row.number(std::to_string(head.id.number));
  row.number(head.lamport == 0 ? std::string() : std::to_string(head.lamport));
  for (std::size_t column = 3; column < 10; ++column) row.nothing();
  row.text("unread");
  row.nothing();
  row.nothing();
  row.text(to_reference(head.id));
  row.text(head.farm);
  row.number(std::to_string(head.format));
  for (std::size_t column = 0; column < kValueColumns.size() + 2; ++column) row.nothing();
  row.end();
}

std::string header() {
  std::string out(kByteOrderMark);
  Row row(out);
  for (const std::string_view name : kHeadColumns) row.text(name);
  for (const std::string_view name : kValueColumns) row.text(name);
  row.text(kLeftOutColumn);
  row.text(kOtherColumn);
  row.end();
  return out;
}

}  // namespace

std::string to_csv(const Logbook& logbook, const std::vector<const Entry*>& entries) {
  std::string out = header();
  const SetUp set_up = set_up_of(logbook);
  const WordsOnReadings said(logbook.effective());
  for (const Entry* entry : entries) write_entry(out, *entry, logbook, set_up, said);
  return out;
}

std::string to_csv(const Logbook& logbook) {
  std::string out = to_csv(logbook, logbook.all());
  if (logbook.unread_count() == 0) return out;
  logbook.visit([&](const Logbook::Line& line) {
    if (line.entry != nullptr) return;
    if (const Result<LineHead> head = read_line_head(line.bytes)) write_unread(out, *head);
  });
  return out;
}

}  // namespace tawny
