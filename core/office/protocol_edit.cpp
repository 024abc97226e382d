#include "office/protocol_edit.h"

#include <algorithm>
#include <set>
#include <utility>

#include "base/sort_stably.h"
#include "logbook/kinds.h"
#include "protocol/read_kinds.h"

namespace tawny {
namespace {

constexpr std::string_view kSubjects[] = {"windows",     "dose",   "usable", "trouble",    "rounds",
                                          "entry",       "bin",    "stock",  "screen",     "filling",
                                          "acclimation", "series", "light",  "metabolism", "evaporation"};

bool same_pond(const ProtocolChange& change, std::string_view pond) { return change.entry->pond == pond; }

Message said(std::string_view id, const Entry& entry) {
  Message message(id);
  const std::string* path = entry.text("path");
  message.with("path", Text{path == nullptr ? std::string() : *path});
  message.with("who", Text{entry.who}).with("at", entry.observed);
  return message;
}

// The value that farm or pond set last for this path by `now`; null where it has none of its own.
const ProtocolChange* own_of(const std::vector<const ProtocolChange*>& changes, bool of_pond, Instant now) {
  const ProtocolChange* own = nullptr;
  for (const ProtocolChange* change : changes) {
    if (change->entry->pond.empty() == of_pond || counts_from(*change) > now) continue;
    own = change->to_default ? nullptr : change;
  }
  return own;
}

std::optional<ProtocolValue> value_of(const Protocol& standard, const ProtocolChange& change) {
  std::variant<double, bool, std::string> scalar;
  if (const auto* number = std::get_if<double>(&change.value)) {
    scalar = *number;
  } else if (const auto* flag = std::get_if<bool>(&change.value)) {
    scalar = *flag;
  } else if (const auto* text = std::get_if<std::string>(&change.value)) {
    scalar = *text;
  } else {
    return std::nullopt;
  }
  const Result<Protocol> changed = standard.with(change.path, scalar);
  if (!changed) return std::nullopt;
  return *changed->find(change.path);
}

int place_of(std::string_view group) {
  constexpr std::string_view kStage = "stage.";
  if (group.substr(0, kStage.size()) == kStage) {
    for (int stage = 1; stage <= static_cast<int>(Stage::early_cycle); ++stage) {
      if (name_of(static_cast<Stage>(stage)) == group.substr(kStage.size())) return stage;
    }
  }
  const auto found = std::find(std::begin(kSubjects), std::end(kSubjects), group);
  return 100 + static_cast<int>(found - std::begin(kSubjects));
}

// By path, but the low limit before the middle one and the high.
std::string reading_order(std::string path) {
  constexpr std::string_view kHigh = "high";
  if (const std::size_t at = path.find(kHigh); at != std::string::npos) path.replace(at, kHigh.size(), "mz");
  return path;
}

Value written(const ProtocolValue& value) {
  if (const auto* number = std::get_if<double>(&value.value)) return *number;
  if (const auto* flag = std::get_if<bool>(&value.value)) return *flag;
  if (const auto* text = std::get_if<std::string>(&value.value)) return *text;
  std::string list;
  for (const std::string& item : std::get<std::vector<std::string>>(value.value)) {
    list += (list.empty() ? "" : ",") + item;
  }
  return list;
}

Problem lacks(std::string_view key, std::string_view message) {
  return Problem{ProblemKind::missing, std::string(key), Message(message)};
}

// The first crossing in which `path` takes part, at `from` or at any change after it.
std::optional<Problem> crossing(const Protocol& standard, const std::vector<ProtocolChange>& changes,
                                std::string_view path, Instant from) {
  const ProtocolTimes times(standard, changes);
  std::vector<Instant> instants = {from};
  for (const Instant instant : times.changes()) {
    if (instant > from) instants.push_back(instant);
  }
  for (const Instant instant : instants) {
    const Protocol& protocol = times.at(instant);
    for (const Contradiction& found : contradictions(protocol)) {
      if (found.low == path || found.high == path) return problem_of(found, protocol);
    }
  }
  return std::nullopt;
}

}  // namespace

std::vector<ProtocolChange> ProtocolBook::of(std::string_view pond) const {
  std::vector<ProtocolChange> some;
  for (const ProtocolChange& change : changes) {
    if (change.entry->pond.empty() || (!pond.empty() && same_pond(change, pond))) some.push_back(change);
  }
  return some;
}

ProtocolBook read_protocol_changes(const Logbook& logbook, const Protocol& standard) {
  ProtocolBook book;
  PondHistory scratch;
  for (const Entry* entry : logbook.effective()) {
    if (entry->kind != kind::kProtocolChange) continue;
    if (!read_observation(*entry, scratch)) {
      book.problems.push_back(said("protocol.change.unreadable", *entry));
      continue;
    }
    const ProtocolChange& change = scratch.protocol_changes.back();
    if (!change.to_default && !value_of(standard, change)) {
      book.problems.push_back(said("protocol.change.without_effect", *entry));
    }
  }
  book.changes = std::move(scratch.protocol_changes);
  sort_stably(book.changes, [](const ProtocolChange& a, const ProtocolChange& b) {
    return std::pair(counts_from(a), a.at) < std::pair(counts_from(b), b.at);
  });
  return book;
}

std::string group_of(std::string_view path) {
  std::size_t end = path.find('.');
  if (path.substr(0, end) == "stage") end = path.find('.', end + 1);
  return std::string(path.substr(0, end));
}

std::vector<std::string> protocol_groups(const Protocol& standard) {
  std::set<std::string> names;
  for (const auto& [path, value] : standard.values()) names.insert(group_of(path));
  std::vector<std::string> groups(names.begin(), names.end());
  sort_stably(groups, [](const std::string& a, const std::string& b) { return place_of(a) < place_of(b); });
  return groups;
}

std::vector<ProtocolRow> protocol_rows(const ProtocolBook& book, const Protocol& standard,
                                       std::string_view pond, Instant now) {
  std::map<std::string_view, std::vector<const ProtocolChange*>> by_path;
  for (const ProtocolChange& change : book.changes) {
    if (change.entry->pond.empty() || (!pond.empty() && same_pond(change, pond))) {
      by_path[change.path].push_back(&change);
    }
  }
  std::vector<ProtocolRow> rows;
  for (const auto& [path, value] : standard.values()) {
    ProtocolRow row;
    row.path = path;
    row.standard = &value;
    row.counts = value;
    const auto found = by_path.find(path);
    if (found != by_path.end()) {
      std::vector<const ProtocolChange*> effective;
      for (const ProtocolChange* change : found->second) {
        if (!change->to_default && !value_of(standard, *change)) continue;
        effective.push_back(change);
        if (counts_from(*change) > now) row.coming.push_back(change);
      }
      const ProtocolChange* farm = own_of(effective, false, now);
      const ProtocolChange* own = own_of(effective, true, now);
      if (farm != nullptr) row.farm = value_of(standard, *farm);
      if (own != nullptr) row.pond = value_of(standard, *own);
      row.since = own != nullptr ? own : farm;
      if (row.since != nullptr) row.counts = own != nullptr ? *row.pond : *row.farm;
    }
    rows.push_back(std::move(row));
  }
  sort_stably(rows, [](const ProtocolRow& a, const ProtocolRow& b) {
    return std::pair(place_of(group_of(a.path)), reading_order(a.path)) <
           std::pair(place_of(group_of(b.path)), reading_order(b.path));
  });
  return rows;
}

Result<Draft> change_protocol(const ProtocolBook& book, const Farm& farm, const Protocol& standard,
                              const ProtocolAsk& ask, Instant now) {
  if (ask.reason.empty()) return tl::unexpected<Problem>(lacks("reason", "protocol.refused.reason"));
  if (ask.from < now.plus_min(-1)) {
    return refuse(ProblemKind::out_of_range, "from", Message("protocol.refused.past").with("time", ask.from));
  }
  const std::vector<ProtocolChange> before = book.of(ask.pond);
  const Protocol then = ProtocolTimes(standard, before).at(ask.from);
  const ProtocolValue* was = then.find(ask.path);
  if (was == nullptr) {
    return refuse(ProblemKind::missing, "path",
                  Message("problem.protocol_unknown_path").with("path", Text{ask.path}));
  }
  Draft draft;
  draft.kind = kind::kProtocolChange;
  draft.pond = ask.pond;
  draft.observed = now;
  draft.values = {{"path", ask.path}, {"from", to_iso(ask.from)}, {"reason", ask.reason}};
  ProtocolChange change;
  Entry as_written;
  as_written.pond = ask.pond;
  change.entry = &as_written;
  change.at = now;
  change.path = ask.path;
  change.from = ask.from;
  change.to_default = ask.to_default;
  if (!ask.to_default) {
    Result<Protocol> changed = then.with(ask.path, ask.value);
    if (!changed) return tl::unexpected<Problem>(changed.error());
    if (changed->find(ask.path)->value == was->value) {
      return refuse(ProblemKind::conflict, "value",
                    Message("protocol.refused.same").with("what", Word{"protocol." + ask.path}));
    }
    change.value = written(*changed->find(ask.path));
  } else {
    // What will stand once the own value is gone.
    change.value = written(*was);
    std::vector<ProtocolChange> without = before;
    without.push_back(change);
    change.value = written(*ProtocolTimes(standard, without).at(ask.from).find(ask.path));
    draft.values.emplace("to_default", true);
  }
  draft.values.emplace("value", change.value);

  std::vector<std::string> concerned = {ask.pond};
  if (ask.pond.empty()) {
    for (const FarmPond& pond : farm.ponds) concerned.push_back(pond.history.pond.id);
  }
  for (const std::string& pond : concerned) {
    std::vector<ProtocolChange> after = book.of(pond);
    // A pond without values of its own stands as the farm does.
    const bool own = std::any_of(after.begin(), after.end(),
                                 [](const ProtocolChange& each) { return !each.entry->pond.empty(); });
    if (!own && pond != ask.pond) continue;
    after.push_back(change);
    auto crossed = crossing(standard, after, ask.path, ask.from);
    if (!crossed) continue;
    if (pond != ask.pond) {
      const FarmPond* there = farm.pond(pond);
      crossed->message.id = "protocol.refused.order_at";
      crossed->message.with("pond", Text{there == nullptr ? pond : there->history.pond.name});
    }
    return tl::unexpected<Problem>(*std::move(crossed));
  }
  return draft;
}

std::vector<Problem> standing_contradictions(const ProtocolBook& book, const Farm& farm,
                                             const Protocol& standard, Instant now) {
  std::vector<Problem> problems;
  const Protocol of_farm = ProtocolTimes(standard, book.of({})).at(now);
  const std::vector<Contradiction> farm_wide = contradictions(of_farm);
  for (const Contradiction& found : farm_wide) problems.push_back(problem_of(found, of_farm));
  std::set<std::string> own;
  for (const ProtocolChange& change : book.changes) {
    if (!change.entry->pond.empty()) own.insert(change.entry->pond);
  }
  for (const std::string& pond : own) {
    const FarmPond* there = farm.pond(pond);
    const Protocol protocol = ProtocolTimes(standard, book.of(pond)).at(now);
    for (const Contradiction& found : contradictions(protocol)) {
      if (std::find(farm_wide.begin(), farm_wide.end(), found) != farm_wide.end()) continue;
      Problem problem = problem_of(found, protocol);
      problem.message.id = "protocol.refused.order_at";
      problem.message.with("pond", Text{there == nullptr ? pond : there->history.pond.name});
      problems.push_back(std::move(problem));
    }
  }
  return problems;
}

}  // namespace tawny
