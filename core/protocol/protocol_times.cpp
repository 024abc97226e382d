#include "protocol/protocol_times.h"

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <variant>

#include "base/sort_stably.h"

namespace tawny {
namespace {

using Scalar = std::variant<double, bool, std::string>;

bool of_pond(const ProtocolChange& change) { return !change.entry->pond.empty(); }

std::optional<Scalar> scalar(const Value& value) {
  if (const auto* number = std::get_if<double>(&value)) return *number;
  if (const auto* flag = std::get_if<bool>(&value)) return *flag;
  if (const auto* text = std::get_if<std::string>(&value)) return *text;
  return std::nullopt;
}

// What the farm and the pond have set for themselves so far.
class OwnValues {
 public:
  explicit OwnValues(const Protocol& standard) : standard_(standard) {}

  // False for a change that changes nothing.
  bool take(const ProtocolChange& change) {
    auto& own = of_pond(change) ? pond_ : farm_;
    if (change.to_default) return own.erase(change.path) > 0;
    auto value = scalar(change.value);
    if (!value || !standard_.with(change.path, *value)) return false;
    own.insert_or_assign(change.path, *std::move(value));
    return true;
  }

  Result<Protocol> applied(const Protocol& before, const std::string& path) const {
    for (const auto* own : {&pond_, &farm_}) {
      if (const auto found = own->find(path); found != own->end()) return before.with(path, found->second);
    }
    return before.with_value_of(standard_, path);
  }

 private:
  const Protocol& standard_;
  std::map<std::string, Scalar> farm_, pond_;
};

}  // namespace

Instant counts_from(const ProtocolChange& change) { return std::max(change.from, change.at); }

ProtocolTimes::ProtocolTimes(const Protocol& standard, const std::vector<ProtocolChange>& changes)
    : standard_(&standard) {
  std::vector<const ProtocolChange*> order;
  for (const ProtocolChange& change : changes) order.push_back(&change);
  sort_stably(order, [](const ProtocolChange* a, const ProtocolChange* b) {
    return std::pair(counts_from(*a), a->at) < std::pair(counts_from(*b), b->at);
  });
  OwnValues own(standard);
  for (const ProtocolChange* change : order) {
    if (!own.take(*change)) continue;
    const Protocol& before = changed_.empty() ? *standard_ : changed_.back().second;
    Result<Protocol> after = own.applied(before, change->path);
    if (!after) continue;
    if (!changed_.empty() && changed_.back().first == counts_from(*change)) {
      changed_.back().second = std::move(*after);
    } else {
      changed_.emplace_back(counts_from(*change), std::move(*after));
    }
  }
}

std::size_t ProtocolTimes::index_at(Instant instant) const {
  std::size_t index = 0;
  while (index < changed_.size() && changed_[index].first <= instant) ++index;
  return index;
}

std::vector<Instant> ProtocolTimes::changes() const {
  std::vector<Instant> instants;
  for (const auto& [from, protocol] : changed_) instants.push_back(from);
  return instants;
}

}  // namespace tawny
