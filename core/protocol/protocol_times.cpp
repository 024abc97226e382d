#include "protocol/protocol_times.h"

#include <algorithm>
#include <optional>
#include <string>
#include <variant>

namespace tawny {
namespace {

Instant counts_from(const ProtocolChange& change) { return std::max(change.from, change.at); }

bool of_pond(const ProtocolChange& change) { return !change.entry->pond.empty(); }

std::optional<std::variant<double, bool, std::string>> scalar(const Value& value) {
  if (const auto* number = std::get_if<double>(&value)) return *number;
  if (const auto* flag = std::get_if<bool>(&value)) return *flag;
  if (const auto* text = std::get_if<std::string>(&value)) return *text;
  return std::nullopt;
}

}  // namespace

ProtocolTimes::ProtocolTimes(const Protocol& standard, const std::vector<ProtocolChange>& changes)
    : standard_(&standard) {
  std::vector<const ProtocolChange*> order;
  for (const ProtocolChange& change : changes) order.push_back(&change);
  std::stable_sort(order.begin(), order.end(), [](const ProtocolChange* a, const ProtocolChange* b) {
    return std::pair(counts_from(*a), a->at) < std::pair(counts_from(*b), b->at);
  });
  for (std::size_t i = 0; i < order.size(); ++i) {
    const ProtocolChange& change = *order[i];
    const bool overruled =
        !of_pond(change) && std::any_of(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(i),
                                        [&](const ProtocolChange* earlier) {
                                          return of_pond(*earlier) && earlier->path == change.path;
                                        });
    const auto value = scalar(change.value);
    if (overruled || !value) continue;
    const Protocol& before = changed_.empty() ? *standard_ : changed_.back().second;
    Result<Protocol> after = before.with(change.path, *value);
    if (!after) continue;
    if (!changed_.empty() && changed_.back().first == counts_from(change)) {
      changed_.back().second = std::move(*after);
    } else {
      changed_.emplace_back(counts_from(change), std::move(*after));
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
