#include "farm/demo.h"

#include <algorithm>
#include <charconv>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "base/json.h"
#include "base/sort_stably.h"
#include "farm/farm.h"
#include "logbook/kinds.h"
#include "protocol/windows.h"

namespace tawny {
namespace {

using Json = rapidjson::Value;

// Between two inlets of a round, so that no two entries of a pond carry the same minute.
constexpr int kMinutesBetweenInlets = 2;

constexpr std::string_view kDate = "@date+";

tl::unexpected<Problem> malformed(std::string_view where) {
  return refuse(ProblemKind::malformed, "demo_farm",
                Message("problem.demo_script").with("where", Text{std::string(where)}));
}

std::string_view view(const Json& text) { return {text.GetString(), text.GetStringLength()}; }

const Json* member(const Json& object, const char* key) {
  if (!object.IsObject()) return nullptr;
  const auto found = object.FindMember(key);
  return found == object.MemberEnd() ? nullptr : &found->value;
}

std::string_view text_of(const Json& object, const char* key) {
  const Json* value = member(object, key);
  return value != nullptr && value->IsString() ? view(*value) : std::string_view{};
}

// Turns the script's days and times into instants of the farm.
class Calendar {
 public:
  Calendar(FarmPlace place, const Protocol& protocol, CivilDay today)
      : place_(place), protocol_(protocol), today_(today) {}

  Result<Instant> at(int day, std::string_view time) {
    const std::size_t sign = time.find_first_of("+-");
    const std::string_view anchor = time.substr(0, sign);
    int minutes = 0;
    if (sign != std::string_view::npos) {
      const std::string_view digits = time.substr(sign + 1);
      const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), minutes);
      if (error != std::errc{} || end != digits.data() + digits.size()) return malformed(time);
      if (time[sign] == '-') minutes = -minutes;
    }
    auto windows = windows_on(day);
    if (!windows) return tl::unexpected<Problem>(windows.error());
    const std::pair<std::string_view, Instant> anchors[] = {
        {"dawn", windows->dawn.from},      {"dose", windows->dose.from},
        {"peak", windows->peak.from},      {"afternoon", windows->afternoon.from},
        {"sunrise", windows->sun.sunrise}, {"noon", windows->sun.solar_noon},
        {"sunset", windows->sun.sunset},
    };
    for (const auto& [name, instant] : anchors) {
      if (name == anchor) return instant.plus_min(minutes);
    }
    return malformed(time);
  }

  // The date that many days after an entry's day.
  Result<CivilDay> date(int day, std::string_view digits) const {
    int days = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), days);
    if (error != std::errc{} || end != digits.data() + digits.size()) return malformed(digits);
    return today_.plus(day + days);
  }

 private:
  Result<DayWindows> windows_on(int day) {
    const auto found = known_.find(day);
    if (found != known_.end()) return found->second;
    auto windows = windows_of(today_.plus(day), place_, protocol_);
    if (windows) known_.emplace(day, *windows);
    return windows;
  }

  FarmPlace place_;
  const Protocol& protocol_;
  CivilDay today_;
  std::map<int, DayWindows> known_;
};

Result<Value> value_of(const Json& json, int day, Calendar* calendar) {
  if (json.IsNumber()) return Value{json.GetDouble()};
  if (json.IsBool()) return Value{json.GetBool()};
  if (json.IsString()) {
    const std::string_view text = view(json);
    if (text.empty() || text.front() != '@' || calendar == nullptr) return Value{std::string(text)};
    if (text.substr(0, kDate.size()) == kDate) {
      const auto date = calendar->date(day, text.substr(kDate.size()));
      if (!date) return tl::unexpected<Problem>(date.error());
      return Value{to_iso(*date)};
    }
    auto instant = calendar->at(day, text.substr(1));
    if (!instant) return tl::unexpected<Problem>(instant.error());
    return Value{to_iso(*instant)};
  }
  if (!json.IsArray() || json.Empty()) return malformed("values");
  std::vector<double> numbers;
  std::vector<std::string> texts;
  for (const Json& item : json.GetArray()) {
    if (item.IsNumber()) numbers.push_back(item.GetDouble());
    if (!item.IsString()) continue;
    auto text = value_of(item, day, calendar);
    if (!text) return text;
    texts.push_back(std::get<std::string>(*text));
  }
  if (numbers.size() == json.Size()) return Value{std::move(numbers)};
  if (texts.size() == json.Size()) return Value{std::move(texts)};
  return malformed("values");
}

Result<Values> values_of(const Json* object, int day, Calendar* calendar) {
  Values values;
  if (object == nullptr) return values;
  if (!object->IsObject()) return malformed("values");
  for (const auto& item : object->GetObject()) {
    auto value = value_of(item.value, day, calendar);
    if (!value) return tl::unexpected<Problem>(value.error());
    values.insert_or_assign(std::string(view(item.name)), *std::move(value));
  }
  return values;
}

class Teller {
 public:
  Teller(const Json& script, const Protocol& protocol, Instant now)
      : script_(script), protocol_(protocol), now_(now) {}

  Result<std::vector<Draft>> tell() {
    auto problem = farm();
    if (!problem) problem = tell_all(member(script_, "set_up"), "set_up", 0);
    if (!problem) problem = ponds();
    if (!problem) problem = device();
    if (problem) return tl::unexpected<Problem>(*std::move(problem));
    drafts_.erase(std::remove_if(drafts_.begin(), drafts_.end(),
                                 [this](const Draft& draft) { return draft.observed > now_; }),
                  drafts_.end());
    sort_stably(drafts_, [](const Draft& a, const Draft& b) { return a.observed < b.observed; });
    return std::move(drafts_);
  }

 private:
  using Fault = std::optional<Problem>;

  static Fault fault(std::string_view where) { return malformed(where).value(); }

  Fault farm() {
    const Json* farm = member(script_, "farm");
    const Json* day = farm == nullptr ? nullptr : member(*farm, "day");
    if (day == nullptr || !day->IsInt()) return fault("farm");
    auto values = values_of(member(*farm, "values"), 0, nullptr);
    if (!values) return values.error();
    Entry set_up;
    set_up.kind = std::string(kind::kFarmSetup);
    set_up.values = *values;
    auto place = read_farm_setup(set_up);
    if (!place) return place.error();
    calendar_.emplace(*place, protocol_, civil_day(now_, place->offset));
    set_up_day_ = day->GetInt();
    return draft(kind::kFarmSetup, text_of(*farm, "who"), set_up_day_, text_of(*farm, "at"), 0,
                 *std::move(values));
  }

  Fault ponds() {
    const Json* ponds = member(script_, "ponds");
    if (ponds == nullptr || !ponds->IsArray()) return fault("ponds");
    int minute = 0;
    for (const Json& pond : ponds->GetArray()) {
      pond_ = std::string(text_of(pond, "pond"));
      if (pond_.empty()) return fault("ponds");
      auto values = values_of(member(pond, "set_up"), 0, nullptr);
      if (!values) return values.error();
      const auto inlets = values->find("inlets");
      const auto* names =
          inlets == values->end() ? nullptr : std::get_if<std::vector<std::string>>(&inlets->second);
      inlets_ = names == nullptr ? std::vector<std::string>{} : *names;
      const Json* farm = member(script_, "farm");
      minute += kMinutesBetweenInlets;
      if (auto problem = draft(kind::kPondSetup, text_of(*farm, "who"), set_up_day_, text_of(*farm, "at"),
                               minute, *std::move(values))) {
        return problem;
      }
      if (auto problem = tell_all(member(pond, "entries"), pond_, 0)) return problem;
    }
    pond_.clear();
    return std::nullopt;
  }

  Fault device() {
    auto values = values_of(member(script_, "device"), 0, nullptr);
    if (!values) return values.error();
    const auto person = values->find("person");
    const auto* name = person == values->end() ? nullptr : std::get_if<std::string>(&person->second);
    if (name == nullptr) return fault("device");
    Draft draft;
    draft.kind = std::string(kind::kDeviceSetup);
    draft.who = *name;
    draft.observed = now_;
    draft.values = *std::move(values);
    drafts_.push_back(std::move(draft));
    return std::nullopt;
  }

  Fault tell_all(const Json* entries, std::string_view where, int base_day) {
    if (entries == nullptr) return std::nullopt;
    if (!entries->IsArray()) return fault(where);
    for (const Json& entry : entries->GetArray()) {
      const std::string block(text_of(entry, "block"));
      auto problem = block.empty() ? tell(entry, base_day) : tell_block(entry, block, base_day);
      if (problem) return problem;
    }
    return std::nullopt;
  }

  Fault tell_block(const Json& use, const std::string& name, int base_day) {
    const Json* blocks = member(script_, "blocks");
    const Json* block = blocks == nullptr ? nullptr : member(*blocks, name.c_str());
    const Json* day = member(use, "day");
    // A block's own blocks would let a script run in circles.
    if (block == nullptr || !block->IsArray() || day == nullptr || !day->IsInt() || base_day != 0)
      return fault(name);
    for (const Json& entry : block->GetArray()) {
      if (auto problem = tell(entry, day->GetInt())) return problem;
    }
    return std::nullopt;
  }

  Fault tell(const Json& entry, int base_day) {
    const std::string_view kind = text_of(entry, "kind");
    if (kind.empty()) return fault(pond_);
    int first = 0;
    int last = 0;
    int step = 1;
    const Json* day = member(entry, "day");
    const Json* days = member(entry, "days");
    if (day != nullptr && day->IsInt()) {
      first = last = day->GetInt();
    } else if (days != nullptr && days->IsArray() && days->Size() == 2 && (*days)[0].IsInt() &&
               (*days)[1].IsInt()) {
      first = (*days)[0].GetInt();
      last = (*days)[1].GetInt();
    } else {
      return fault(kind);
    }
    if (const Json* every = member(entry, "every")) {
      if (!every->IsInt() || every->GetInt() < 1) return fault(kind);
      step = every->GetInt();
    }
    for (int on = first, turn = 0; on <= last; on += step, ++turn) {
      if (auto problem = tell_day(entry, kind, base_day + on, static_cast<rapidjson::SizeType>(turn)))
        return problem;
    }
    return std::nullopt;
  }

  Fault tell_day(const Json& entry, std::string_view kind, int day, rapidjson::SizeType turn) {
    auto values = values_of(member(entry, "values"), day, &*calendar_);
    if (!values) return values.error();
    if (const Json* series = member(entry, "series")) {
      if (!series->IsObject()) return fault(kind);
      bool any = false;
      for (const auto& item : series->GetObject()) {
        if (!item.value.IsArray() || turn >= item.value.Size()) return fault(view(item.name));
        if (item.value[turn].IsNull()) continue;
        any = true;
        auto value = value_of(item.value[turn], day, &*calendar_);
        if (!value) return value.error();
        values->insert_or_assign(std::string(view(item.name)), *std::move(value));
      }
      if (!any) return std::nullopt;
    }
    const std::string_view who = text_of(entry, "who");
    const std::string_view at = text_of(entry, "at");
    const auto inlet = values->find("inlet");
    if (inlet == values->end() || inlet->second != Value{std::string("*")}) {
      return draft(kind, who, day, at, 0, *std::move(values));
    }
    int minute = 0;
    for (const std::string& name : inlets_) {
      inlet->second = name;
      if (auto problem = draft(kind, who, day, at, minute, *values)) return problem;
      minute += kMinutesBetweenInlets;
    }
    return std::nullopt;
  }

  Fault draft(std::string_view kind, std::string_view who, int day, std::string_view at, int minute,
              Values values) {
    const Json* people = member(script_, "people");
    const std::string key(who);
    const std::string_view name = people == nullptr ? std::string_view{} : text_of(*people, key.c_str());
    if (name.empty() || day > 0) return fault(kind);
    auto instant = calendar_->at(day, at);
    if (!instant) return instant.error();
    Draft draft;
    draft.kind = std::string(kind);
    draft.pond = pond_;
    draft.who = std::string(name);
    draft.observed = instant->plus_min(minute);
    draft.values = std::move(values);
    drafts_.push_back(std::move(draft));
    return std::nullopt;
  }

  const Json& script_;
  const Protocol& protocol_;
  Instant now_;
  std::optional<Calendar> calendar_;
  int set_up_day_ = 0;
  std::string pond_;
  std::vector<std::string> inlets_;
  std::vector<Draft> drafts_;
};

}  // namespace

Result<std::vector<Draft>> demo_drafts(std::string_view script_json, const Protocol& protocol, Instant now) {
  const rapidjson::Document script = parse_json(script_json);
  if (script.HasParseError() || !script.IsObject()) return malformed("demo-farm.json");
  return Teller(script, protocol, now).tell();
}

}  // namespace tawny
