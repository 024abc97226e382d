#include "words/words.h"

#include <cmath>

#include "base/decimal.h"
#include "base/json.h"

namespace tawny {
namespace {

using rapidjson::Value;

std::string text_of(const Value& value) { return {value.GetString(), value.GetStringLength()}; }

bool has_text(const Value& value, const char* key) {
  return value.IsObject() && value.HasMember(key) && value[key].IsString();
}

tl::unexpected<Problem> broken(std::string_view id) {
  return refuse(ProblemKind::malformed, "language",
                Message("problem.language_table").with("entry", Text{std::string(id)}));
}

// "{on day}" is "on 23 Nov", but "yesterday".
constexpr std::string_view kOn = "on ";
// "{at time}" is "at 05:40", but "yesterday 05:40".
constexpr std::string_view kAt = "at ";

bool take_prefix(std::string_view& name, std::string_view prefix) {
  if (name.substr(0, prefix.size()) != prefix) return false;
  name.remove_prefix(prefix.size());
  return true;
}

}  // namespace

bool takes_one(PluralRule rule, double count, int decimals) {
  const double step = std::pow(10.0, -decimals);
  const double shown = std::fabs(std::round(count / step) * step);
  switch (rule) {
    case PluralRule::only_one:
      return decimals == 0 && shown == 1;
    case PluralRule::any_one:
      return std::fabs(shown - 1) < step / 2;
    case PluralRule::below_two:
      return shown < 2 - step / 2;
    case PluralRule::none:
      return false;
  }
  return false;
}

Result<Words> Words::parse(std::string_view json) {
  const rapidjson::Document document = parse_json(json);
  if (document.HasParseError() || !document.IsObject()) return broken("");
  Words words;
  for (auto member = document.MemberBegin(); member < document.MemberEnd(); ++member) {
    const std::string id = text_of(member->name);
    const Value& value = member->value;
    Entry entry;
    if (value.IsString()) {
      entry.one = entry.other = text_of(value);
    } else if (has_text(value, "one") && has_text(value, "other")) {
      entry.one = text_of(value["one"]);
      entry.other = text_of(value["other"]);
    } else {
      return broken(id);
    }
    words.table_.insert_or_assign(id, std::move(entry));
  }
  if (!words.read_rules()) return broken("number");
  return words;
}

bool Words::read_rules() {
  if (const auto mark = table_.find("number.decimal_mark"); mark != table_.end()) {
    if (mark->second.other != "." && mark->second.other != ",") return false;
    decimal_mark_ = mark->second.other.front();
  }
  if (const auto rule = table_.find("number.plural"); rule != table_.end()) {
    constexpr std::pair<std::string_view, PluralRule> kRules[] = {{"only_one", PluralRule::only_one},
                                                                  {"any_one", PluralRule::any_one},
                                                                  {"below_two", PluralRule::below_two},
                                                                  {"none", PluralRule::none}};
    for (const auto& [name, known] : kRules) {
      if (rule->second.other != name) continue;
      plural_ = known;
      return true;
    }
    return false;
  }
  return true;
}

bool Words::is_one(const Message& message) const {
  const MessageValue* count = message.find("count");
  const auto* quantity = count ? std::get_if<Quantity>(count) : nullptr;
  return quantity && takes_one(plural_, quantity->value, quantity->decimals);
}

void Words::set_clock(UtcOffset offset, Instant now) {
  offset_ = offset;
  now_ = now;
}

bool Words::has(std::string_view id) const { return table_.find(id) != table_.end(); }

std::string Words::operator()(std::string_view id) const {
  const auto found = table_.find(id);
  return found == table_.end() ? std::string(id) : found->second.other;
}

std::string Words::operator()(const Message& message) const {
  const auto found = table_.find(message.id);
  if (found == table_.end()) return message.id;
  const std::string& pattern = is_one(message) ? found->second.one : found->second.other;
  std::string text;
  std::size_t at = 0;
  while (at < pattern.size()) {
    const std::size_t open = pattern.find('{', at);
    const std::size_t close = open == std::string::npos ? open : pattern.find('}', open);
    if (close == std::string::npos) break;
    text.append(pattern, at, open - at);
    std::string_view name = std::string_view(pattern).substr(open + 1, close - open - 1);
    const bool on = take_prefix(name, kOn);
    const bool at_clock = take_prefix(name, kAt);
    const MessageValue* value = message.find(name);
    if (!value) {
      text.append(pattern, open, close - open + 1);
    } else if (const auto* quantity_value = std::get_if<Quantity>(value)) {
      text += quantity(*quantity_value);
    } else if (const auto* word = std::get_if<Word>(value)) {
      text += (*this)(word->id);
    } else if (const auto* typed = std::get_if<Text>(value)) {
      text += typed->text;
    } else if (const auto* instant = std::get_if<Instant>(value)) {
      text += at_clock ? at_time(*instant) : time(*instant);
    } else if (const auto* civil = std::get_if<CivilDay>(value)) {
      text += on ? on_day(*civil) : day(*civil);
    }
    at = close + 1;
  }
  text.append(pattern, at, std::string::npos);
  return text;
}

std::string Words::number(double value, int decimals) const {
  return format_decimal(value, decimals, decimal_mark_);
}

std::string Words::unit(std::string_view key) const { return (*this)("unit." + std::string(key)); }

std::string Words::quantity(const Quantity& quantity) const {
  std::string text = number(quantity.value, quantity.decimals);
  // Of "day" and "days" the number chooses.
  if (!quantity.unit.empty()) text += " " + (*this)(Message("unit." + quantity.unit).with("count", quantity));
  return text;
}

std::string Words::clock(Instant instant) const { return to_hh_mm(instant, offset_); }

std::string Words::time(Instant instant) const {
  const CivilDay date = civil_day(instant, offset_);
  if (date == civil_day(now_, offset_)) return clock(instant);
  return (*this)(Message("time.on_day").with("day", Text{day(date)}).with("clock", Text{clock(instant)}));
}

std::string Words::at_time(Instant instant) const {
  const std::string text = time(instant);
  const bool today = civil_day(instant, offset_) == civil_day(now_, offset_);
  return today ? (*this)(Message("time.at").with("time", Text{text})) : text;
}

std::string Words::day(CivilDay day) const {
  const CivilDay today = civil_day(now_, offset_);
  if (day == today) return (*this)("day.today");
  if (day == today.plus(-1)) return (*this)("day.yesterday");
  if (day == today.plus(1)) return (*this)("day.tomorrow");
  const YearMonthDay date = year_month_day(day);
  const bool this_year = date.year == year_month_day(today).year;
  return (*this)(Message(this_year ? "day.of_this_year" : "day.of_another_year")
                     .with("day", bare(date.day))
                     .with("month", Word{"month." + std::to_string(date.month)})
                     .with("year", bare(date.year)));
}

std::string Words::on_day(CivilDay civil) const {
  const CivilDay today = civil_day(now_, offset_);
  if (today.plus(-1) <= civil && civil <= today.plus(1)) return day(civil);
  return (*this)(Message("day.on").with("day", Text{day(civil)}));
}

std::string Words::age(Instant then) const {
  const std::int64_t minutes = (now_.unix_s - then.unix_s) / 60;
  if (minutes < 1) return (*this)("age.now");
  if (minutes < 90) return (*this)(Message("age.minutes").with("count", bare(static_cast<int>(minutes))));
  if (minutes < 48 * 60)
    return (*this)(Message("age.hours").with("count", bare(static_cast<int>(minutes / 60))));
  return (*this)(Message("age.days").with("count", bare(static_cast<int>(minutes / (24 * 60)))));
}

}  // namespace tawny
