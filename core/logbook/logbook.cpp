#include "logbook/logbook.h"

#include <algorithm>
#include <utility>

#include "logbook/bundle_index.h"
#include "logbook/kinds.h"
#include "logbook/line_reader.h"
#include "logbook/reference.h"
#include "logbook/standing.h"
#include "logbook/utf8.h"

namespace tawny {
namespace {

constexpr std::size_t kExcerptBytes = 60;
constexpr std::size_t kMostProblemsListed = 1000;
constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";

Message conflict_message(std::string_view device, std::uint32_t number) {
  return Message("problem.number_twice")
      .with("device", Text{std::string(device)})
      .with("number", Quantity{static_cast<double>(number), 0, ""});
}

Message other_farm_message(std::string_view theirs, std::string_view ours) {
  return Message("problem.other_farm")
      .with("farm", Text{std::string(theirs)})
      .with("own_farm", Text{std::string(ours)});
}

bool is_void(const Entry& entry) { return !entry.voids.empty() || entry.kind == kind::kVoid; }

bool observed_before(const Entry* a, const Entry* b) {
  if (a->observed != b->observed) return a->observed < b->observed;
  if (a->lamport != b->lamport) return a->lamport < b->lamport;
  return a->id < b->id;
}

// What decides in nearly every comparison stands beside the pointer: entries lie all over the memory.
void sort_by_time(std::vector<const Entry*>& entries) {
  struct Key {
    Instant observed;
    std::uint64_t lamport;
    const Entry* entry;
  };
  std::vector<Key> keys;
  keys.reserve(entries.size());
  for (const Entry* entry : entries) keys.push_back({entry->observed, entry->lamport, entry});
  std::sort(keys.begin(), keys.end(), [](const Key& a, const Key& b) {
    if (a.observed != b.observed) return a.observed < b.observed;
    if (a.lamport != b.lamport) return a.lamport < b.lamport;
    return a.entry->id < b.entry->id;
  });
  for (std::size_t i = 0; i < keys.size(); ++i) entries[i] = keys[i].entry;
}

void note(LoadReport& report, AddOutcome outcome, std::size_t line, LineProblem problem) {
  switch (outcome) {
    case AddOutcome::added:
      ++report.added;
      return;
    case AddOutcome::already_there:
      ++report.already_there;
      return;
    case AddOutcome::kept_unread:
    case AddOutcome::conflict:
      ++report.added;
      break;
    case AddOutcome::other_farm:
    case AddOutcome::refused:
      break;
  }
  if (report.problems.size() >= kMostProblemsListed) {
    ++report.problems_not_listed;
    return;
  }
  problem.line = line;
  report.problems.push_back(std::move(problem));
}

}  // namespace

void add_report(LoadReport& total, LoadReport portion) {
  for (LineProblem& problem : portion.problems) {
    if (total.problems.size() >= kMostProblemsListed) {
      ++total.problems_not_listed;
      continue;
    }
    problem.line += total.last_line;
    total.problems.push_back(std::move(problem));
  }
  total.lines += portion.lines;
  total.added += portion.added;
  total.already_there += portion.already_there;
  total.problems_not_listed += portion.problems_not_listed;
  total.last_line += portion.last_line;
}

Logbook::Logbook(std::string farm) : farm_(std::move(farm)) {}

bool Logbook::Slot::has(std::string_view hash) const {
  return std::any_of(entries.begin(), entries.end(), [hash](const Entry& e) { return e.id.hash == hash; }) ||
         std::any_of(unread.begin(), unread.end(),
                     [hash](const std::string& line) { return hash_of_line(line) == hash; });
}

const Entry* Logbook::Slot::find(std::string_view hash) const {
  const auto found =
      std::find_if(entries.begin(), entries.end(), [hash](const Entry& e) { return e.id.hash == hash; });
  return found == entries.end() ? nullptr : &*found;
}

bool Logbook::takes_farm(std::string_view farm) {
  if (farm_.empty()) farm_ = farm;
  return farm_ == farm;
}

Logbook::Slot& Logbook::slot_of(const std::string& device, std::uint32_t number) {
  Slots& slots = devices_[device];
  return slots.try_emplace(slots.end(), number)->second;
}

AddOutcome Logbook::insert(Entry&& entry, const Entry*& kept) {
  if (!takes_farm(entry.farm())) return AddOutcome::other_farm;
  Slot& slot = slot_of(entry.id.device, entry.id.number);
  if (slot.has(entry.id.hash)) {
    kept = slot.find(entry.id.hash);
    return AddOutcome::already_there;
  }
  const AddOutcome outcome = slot.count() == 0 ? AddOutcome::added : AddOutcome::conflict;
  highest_lamport_ = std::max(highest_lamport_, entry.lamport);
  const auto place = std::find_if(slot.entries.begin(), slot.entries.end(),
                                  [&entry](const Entry& other) { return other.id.hash > entry.id.hash; });
  if (!slot.entries.empty()) order_ = Order();
  if (slot.count() > 0) ++moves_;
  const auto placed = slot.entries.insert(place, std::move(entry));
  if (order_.known) order_.take(*placed, order_.late);
  kept = &*placed;
  ++size_;
  fallen_.reset();
  return outcome;
}

AddOutcome Logbook::keep_unread(std::string_view line, LineProblem* problem, LineSeen* seen) {
  const Result<LineHead> head = read_line_head(line);
  if (!head) {
    if (problem != nullptr) problem->message = head.error().message;
    return AddOutcome::refused;
  }
  if (seen != nullptr) {
    seen->id = head->id;
    seen->farm = head->farm;
  }
  if (!takes_farm(head->farm)) {
    if (problem != nullptr) problem->message = other_farm_message(head->farm, farm_);
    return AddOutcome::other_farm;
  }
  Slot& slot = slot_of(head->id.device, head->id.number);
  if (slot.has(head->id.hash)) return AddOutcome::already_there;
  highest_lamport_ = std::max(highest_lamport_, head->lamport);
  const auto place = std::find_if(slot.unread.begin(), slot.unread.end(), [&head](const std::string& other) {
    return hash_of_line(other) > head->id.hash;
  });
  if (slot.count() > 0) ++moves_;
  slot.unread.insert(place, std::string(line));
  ++size_;
  ++unread_count_;
  return AddOutcome::kept_unread;
}

AddOutcome Logbook::add_line(std::string_view line, LineProblem* problem, LineSeen* seen, Hashes hashes) {
  Result<Entry> entry = parse_entry(line, hashes);
  AddOutcome outcome = AddOutcome::refused;
  Message message;
  if (entry) {
    if (seen != nullptr) {
      seen->id = entry->id;
      seen->farm = entry->farm();
    }
    const Entry* kept = nullptr;
    outcome = insert(std::move(*entry), kept);
    if (seen != nullptr) seen->entry = kept;
    if (outcome == AddOutcome::conflict) message = conflict_message(kept->id.device, kept->id.number);
    if (outcome == AddOutcome::other_farm) message = other_farm_message(entry->farm(), farm_);
  } else if (entry.error().kind == ProblemKind::unsupported) {
    LineProblem unread;
    unread.message = entry.error().message;
    outcome = keep_unread(line, &unread, seen);
    message = std::move(unread.message);
  } else {
    message = entry.error().message;
  }
  if (problem != nullptr && outcome != AddOutcome::added && outcome != AddOutcome::already_there) {
    problem->outcome = outcome;
    problem->excerpt = excerpt_of(line, kExcerptBytes);
    problem->message = std::move(message);
  }
  return outcome;
}

AddOutcome Logbook::add(Entry entry) {
  // An entry put together by hand has no line that others could read.
  if (entry.id.hash.empty() || hash_of_line(entry.line) != entry.id.hash) return AddOutcome::refused;
  if (entry.format > kEntryFormat) return keep_unread(entry.line, nullptr, nullptr);
  const Entry* kept = nullptr;
  return insert(std::move(entry), kept);
}

LoadReport Logbook::load(std::string_view text, const OnLine& on_line, Hashes hashes) {
  LoadReport report;
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) text.remove_prefix(kByteOrderMark.size());
  for (std::size_t number = 1; !text.empty(); ++number) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    report.last_line = number;
    if (line.empty() || is_bundle_index(line)) continue;
    ++report.lines;
    LineProblem problem;
    LineSeen seen;
    const AddOutcome outcome = add_line(line, &problem, on_line ? &seen : nullptr, hashes);
    if (on_line) on_line(line, outcome, seen);
    note(report, outcome, number, std::move(problem));
  }
  return report;
}

template <typename OnEntry, typename OnUnread>
void Logbook::visit_slot(const Slot& slot, OnEntry on_entry, OnUnread on_unread) {
  auto unread = slot.unread.begin();
  for (const Entry& entry : slot.entries) {
    for (; unread != slot.unread.end() && hash_of_line(*unread) < entry.id.hash; ++unread) on_unread(*unread);
    on_entry(entry);
  }
  for (; unread != slot.unread.end(); ++unread) on_unread(*unread);
}

template <typename OnEntry, typename OnUnread>
void Logbook::visit_in_order(OnEntry on_entry, OnUnread on_unread) const {
  for (const auto& [device, slots] : devices_) {
    for (const auto& [number, slot] : slots) visit_slot(slot, on_entry, on_unread);
  }
}

void Logbook::look_at_slot(std::string_view device, std::uint32_t number, const Slot& slot,
                           const std::function<void(const Line&)>& look) {
  visit_slot(
      slot,
      [&](const Entry& entry) {
        look(Line{device, number, hash_of_line(entry.line), entry.line, &entry});
      },
      [&](const std::string& line) {
        look(Line{device, number, hash_of_line(line), line, nullptr});
      });
}

void Logbook::visit(std::string_view device, std::uint32_t first, std::uint32_t last,
                    const std::function<void(const Line&)>& look) const {
  const auto slots = devices_.find(device);
  if (slots == devices_.end()) return;
  for (auto at = slots->second.lower_bound(first); at != slots->second.end() && at->first <= last; ++at) {
    look_at_slot(slots->first, at->first, at->second, look);
  }
}

void Logbook::visit_back(std::string_view device, std::uint32_t first,
                         const std::function<void(const Line&)>& look) const {
  const auto slots = devices_.find(device);
  if (slots == devices_.end()) return;
  for (auto at = slots->second.rbegin(); at != slots->second.rend() && at->first >= first; ++at) {
    look_at_slot(slots->first, at->first, at->second, look);
  }
}

std::size_t Logbook::numbers_of(std::string_view device) const {
  const auto slots = devices_.find(device);
  return slots == devices_.end() ? 0 : slots->second.size();
}

void Logbook::visit(const std::function<void(const Line&)>& look) const {
  for (const auto& [device, slots] : devices_) {
    if (!slots.empty()) visit(device, slots.begin()->first, slots.rbegin()->first, look);
  }
}

bool Logbook::has(const EntryId& id) const {
  const auto slots = devices_.find(id.device);
  if (slots == devices_.end()) return false;
  const auto slot = slots->second.find(id.number);
  return slot != slots->second.end() && slot->second.has(id.hash);
}

LoadReport Logbook::merge(const Logbook& other) {
  LoadReport report;
  other.visit_in_order(
      [&](const Entry& entry) {
        ++report.lines;
        const Entry* kept = nullptr;
        const AddOutcome outcome = insert(Entry(entry), kept);
        LineProblem problem{0, outcome, {}, {}};
        if (outcome == AddOutcome::conflict || outcome == AddOutcome::other_farm) {
          problem.excerpt = excerpt_of(entry.line, kExcerptBytes);
          problem.message = outcome == AddOutcome::conflict ? conflict_message(entry.id.device, entry.id.number)
                                                            : other_farm_message(entry.farm(), farm_);
        }
        note(report, outcome, report.lines, std::move(problem));
      },
      [&](const std::string& line) {
        ++report.lines;
        LineProblem problem;
        const AddOutcome outcome = add_line(line, &problem);
        note(report, outcome, report.lines, std::move(problem));
      });
  return report;
}

std::string Logbook::to_lines() const {
  std::size_t bytes = 0;
  visit_in_order([&](const Entry& entry) { bytes += entry.line.size() + 1; },
                 [&](const std::string& line) { bytes += line.size() + 1; });
  std::string lines;
  lines.reserve(bytes);
  visit_in_order([&](const Entry& entry) { (lines += entry.line) += '\n'; },
                 [&](const std::string& line) { (lines += line) += '\n'; });
  return lines;
}

void Logbook::Order::take(const Entry& entry, std::vector<const Entry*>& into) {
  (kind::is_of_chain(entry.kind) ? of_chain : into).push_back(&entry);
  if (!entry.corrects.empty() || !entry.voids.empty()) pointing.push_back(&entry);
}

const std::vector<const Entry*>& Logbook::in_order() const {
  if (!order_.known) {
    order_.sorted.reserve(size_);
    visit_in_order([&](const Entry& entry) { order_.take(entry, order_.sorted); }, [](const std::string&) {});
    sort_by_time(order_.sorted);
    order_.known = true;
  } else if (!order_.late.empty()) {
    sort_by_time(order_.late);
    const auto middle = static_cast<std::ptrdiff_t>(order_.sorted.size());
    order_.sorted.insert(order_.sorted.end(), order_.late.begin(), order_.late.end());
    order_.late.clear();
    std::inplace_merge(order_.sorted.begin(), order_.sorted.begin() + middle, order_.sorted.end(),
                       observed_before);
  }
  return order_.sorted;
}

const std::vector<const Entry*>& Logbook::acts() const { return in_order(); }

std::vector<const Entry*> Logbook::all() const {
  std::vector<const Entry*> entries = acts();
  const auto middle = static_cast<std::ptrdiff_t>(entries.size());
  std::vector<const Entry*> of_chain = order_.of_chain;
  sort_by_time(of_chain);
  entries.insert(entries.end(), of_chain.begin(), of_chain.end());
  std::inplace_merge(entries.begin(), entries.begin() + middle, entries.end(), observed_before);
  return entries;
}

std::vector<const Entry*> Logbook::effective() const {
  const auto& out = fallen();
  std::vector<const Entry*> entries;
  entries.reserve(size_);
  for (const Entry* entry : in_order()) {
    if (!is_void(*entry) && (out.empty() || out.find(entry->id.hash) == out.end())) entries.push_back(entry);
  }
  return entries;
}

const HashMap<Logbook::Standing>& Logbook::fallen() const {
  if (!fallen_) {
    in_order();
    std::vector<const Entry*> pointing;
    for (const Entry* entry : order_.pointing) {
      if (left_out_.count(entry->id.hash) == 0) pointing.push_back(entry);
    }
    fallen_ = find_fallen(*this, pointing);
    for (const std::string& hash : left_out_) (*fallen_)[hash] = Standing::not_counted;
  }
  return *fallen_;
}

Logbook::Standing Logbook::standing(const EntryId& id) const {
  const auto found = fallen().find(id.hash);
  return found == fallen().end() ? Standing::stands : found->second;
}

void Logbook::leave_out(HashSet hashes) {
  if (hashes == left_out_) return;
  left_out_ = std::move(hashes);
  fallen_.reset();
}

const Entry* Logbook::find(std::string_view reference) const {
  const std::optional<Reference> parts = parse_reference(reference);
  if (!parts) return nullptr;
  const auto slots = devices_.find(parts->device);
  if (slots == devices_.end()) return nullptr;
  const auto slot = slots->second.find(parts->number);
  if (slot == slots->second.end()) return nullptr;
  const auto begins_so = [&](std::string_view hash) {
    return hash.substr(0, parts->hash_start.size()) == parts->hash_start;
  };
  const Entry* found = nullptr;
  std::size_t count = 0;
  for (const Entry& entry : slot->second.entries) {
    if (!begins_so(entry.id.hash)) continue;
    found = &entry;
    ++count;
  }
  for (const std::string& line : slot->second.unread) count += begins_so(hash_of_line(line)) ? 1 : 0;
  return count == 1 ? found : nullptr;
}

DeviceChain Logbook::chain_of(const std::string& device) const {
  DeviceChain chain;
  chain.farm = farm_;
  chain.device = device;
  chain.lamport = highest_lamport_;
  const auto slots = devices_.find(device);
  if (slots == devices_.end() || slots->second.empty()) return chain;
  const auto& [number, slot] = *slots->second.rbegin();
  chain.last_number = number;
  if (slot.entries.empty()) {
    chain.last_hash = std::string(hash_of_line(slot.unread.back()));
    return chain;
  }
  const auto latest = std::max_element(slot.entries.begin(), slot.entries.end(),
                                       [](const Entry& a, const Entry& b) { return is_later(b, a); });
  chain.last_hash = latest->id.hash;
  return chain;
}

std::vector<std::string> Logbook::devices() const {
  std::vector<std::string> names;
  for (const auto& [device, slots] : devices_) names.push_back(device);
  return names;
}

}  // namespace tawny
