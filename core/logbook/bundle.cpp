#include "logbook/bundle.h"

#include <algorithm>
#include <tuple>
#include <utility>

#include "logbook/kinds.h"
#include "logbook/reference.h"
#include "logbook/segment.h"

namespace tawny {
namespace {

constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";

std::string farm_name_of(const Logbook& logbook) {
  std::string name;
  for (const Entry* entry : logbook.effective()) {
    const std::string* text = entry->kind == kind::kFarmSetup ? entry->text("name") : nullptr;
    if (text != nullptr) name = *text;
  }
  return name;
}

// Where the index of a bundle begins in `text`, at the start of a line; its size when there is none.
std::size_t find_index(std::string_view text) {
  if (is_bundle_index(text)) return 0;
  for (std::size_t at = text.find(kBundleStart); at != std::string_view::npos;
       at = text.find(kBundleStart, at + 1)) {
    if (text[at - 1] == '\n') return at;
  }
  return text.size();
}

bool comes_before(const BundleSegment& a, const BundleSegment& b) {
  return std::tie(a.device, a.first) < std::tie(b.device, b.first);
}

bool holds(const BundleSegment& segment, const EntryId& id) {
  return segment.first <= id.number && id.number <= segment.last && segment.device == id.device;
}

// Spans that touch or overlap become one.
void join(std::vector<NumberSpan>& spans) {
  std::sort(spans.begin(), spans.end(), [](const NumberSpan& a, const NumberSpan& b) {
    return std::tie(a.device, a.first, a.last) < std::tie(b.device, b.first, b.last);
  });
  std::vector<NumberSpan> joined;
  for (NumberSpan& span : spans) {
    const bool touches = !joined.empty() && joined.back().device == span.device &&
                         span.first <= std::uint64_t{joined.back().last} + 1;
    if (touches) {
      joined.back().last = std::max(joined.back().last, span.last);
    } else {
      joined.push_back(std::move(span));
    }
  }
  spans = std::move(joined);
}

}  // namespace

std::string write_bundle(const Logbook& logbook, Instant made, std::string_view by) {
  BundleIndex index{logbook.farm(), farm_name_of(logbook), made, std::string(by), {}};
  std::string lines;
  std::size_t start = 0;
  const auto close = [&] {
    if (index.segments.empty()) return;
    const std::string_view bytes = std::string_view(lines).substr(start);
    index.segments.back().hash = segment_hash(bytes);
    index.segments.back().bytes = bytes.size();
    start = lines.size();
  };
  logbook.visit([&](const Logbook::Line& line) {
    const BundleSegment* open = index.segments.empty() ? nullptr : &index.segments.back();
    const bool goes_on = open != nullptr && open->device == line.device && line.number - open->last <= 1 &&
                         thousand_of(line.number) == thousand_of(open->first);
    if (!goes_on) {
      close();
      index.segments.push_back(BundleSegment{std::string(line.device), line.number, line.number, {}, 0});
    }
    index.segments.back().last = line.number;
    lines.append(line.bytes).push_back('\n');
  });
  close();
  std::string bundle = to_line(index);
  bundle.reserve(bundle.size() + 1 + lines.size());
  bundle.push_back('\n');
  bundle.append(lines);
  return bundle;
}

Message missing_message(const NumberSpan& span) {
  return Message(span.count() == 1 ? "import.missing_one" : "import.missing")
      .with("device", Text{span.device})
      .with("first", bare(span.first))
      .with("last", bare(span.last));
}

std::uint64_t BundlePreview::missing_count() const {
  std::uint64_t count = 0;
  for (const NumberSpan& span : missing) count += span.count();
  return count;
}

std::optional<std::string> BundleReader::other_farm() const { return own_seen_ ? std::nullopt : other_farm_; }

void BundleReader::take(std::string_view lines) {
  if (!begun_ && lines.substr(0, kByteOrderMark.size()) == kByteOrderMark) {
    lines.remove_prefix(kByteOrderMark.size());
  }
  begun_ = true;
  while (!lines.empty() && !refused_) {
    // An index counts from its own line on.
    if (is_bundle_index(lines)) {
      const std::size_t end = std::min(lines.find('\n'), lines.size());
      take_index(lines.substr(0, end));
      const std::size_t whole = std::min(end + 1, lines.size());
      load(lines.substr(0, whole));
      lines.remove_prefix(whole);
      continue;
    }
    const std::size_t index_at = find_index(lines);
    load(lines.substr(0, index_at));
    lines.remove_prefix(index_at);
  }
}

void BundleReader::load(std::string_view lines) {
  add_report(report_, grown_.load(lines, [this](std::string_view line, AddOutcome outcome,
                                                const LineSeen& seen) { on_line(line, outcome, seen); }));
}

void BundleReader::take_index(std::string_view line) {
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  Result<BundleIndex> index = parse_bundle_index(line);
  if (!index) {
    preview_.problems.push_back(std::move(index.error().message));
    return;
  }
  if (!preview_.has_index) {
    preview_.farm = index->farm;
    preview_.farm_name = index->farm_name;
    preview_.made = index->made;
    preview_.by = index->by;
  }
  preview_.has_index = true;
  if (grown_.farm().empty()) grown_ = Logbook(index->farm);
  active_from_ = promises_.size();
  at_promise_ = active_from_;
  if (!index->farm.empty() && index->farm != grown_.farm()) {
    other_farm_ = index->farm;
    refused_ = report_.lines == 0;
    return;
  }
  std::sort(index->segments.begin(), index->segments.end(), comes_before);
  for (BundleSegment& segment : index->segments) promises_.push_back(Promise{std::move(segment), {}, false});
}

void BundleReader::on_line(std::string_view line, AddOutcome outcome, const LineSeen& seen) {
  if (seen.id.device.empty() || outcome == AddOutcome::refused) return;
  if (outcome == AddOutcome::other_farm) {
    if (!other_farm_) other_farm_ = seen.farm;
    return;
  }
  own_seen_ = true;
  Device& device = devices_[seen.id.device];
  device.seen.push_back({seen.id.number, hash_start_bits(seen.id.hash)});
  if (outcome != AddOutcome::already_there) ++device.fresh;
  keep_promise(line, seen.id);
  if (seen.entry == nullptr) {
    device.unread += outcome == AddOutcome::kept_unread ? 1 : 0;
    return;
  }
  const Entry& entry = *seen.entry;
  if (!device.first_observed || entry.observed < *device.first_observed) device.first_observed = entry.observed;
  if (!device.last_observed || *device.last_observed < entry.observed) device.last_observed = entry.observed;
  if (!entry.who.empty() && entry.id.number >= device.who_number) {
    device.who_number = entry.id.number;
    device.who = entry.who;
  }
  if (entry.kind == kind::kDeviceSetup && entry.id.number >= device.setup_number) {
    const std::string* person = entry.text("person");
    device.setup_number = entry.id.number;
    device.setup_person = person == nullptr ? std::string() : *person;
  }
  const std::string* name = entry.kind == kind::kFarmSetup ? entry.text("name") : nullptr;
  if (name != nullptr && !preview_.has_index && entry.lamport >= farm_lamport_) {
    farm_lamport_ = entry.lamport;
    preview_.farm_name = *name;
  }
}

void BundleReader::keep_promise(std::string_view line, const EntryId& id) {
  if (at_promise_ >= promises_.size() || !holds(promises_[at_promise_].segment, id)) {
    const auto from = promises_.begin() + static_cast<std::ptrdiff_t>(active_from_);
    const BundleSegment wanted{id.device, id.number, id.number, {}, 0};
    // The last that begins at this number or before it.
    const auto after =
        std::upper_bound(from, promises_.end(), wanted,
                         [](const BundleSegment& a, const Promise& b) { return comes_before(a, b.segment); });
    if (after == from || !holds((after - 1)->segment, id)) return;
    at_promise_ = static_cast<std::size_t>(after - 1 - promises_.begin());
  }
  Promise& promise = promises_[at_promise_];
  if (promise.is_whole || promise.bytes.size() >= promise.segment.bytes) return;
  promise.bytes.append(line).push_back('\n');
  if (promise.bytes.size() != promise.segment.bytes) return;
  promise.is_whole = segment_hash(promise.bytes) == promise.segment.hash;
  if (promise.is_whole) std::string().swap(promise.bytes);
}

void BundleReader::name_missing(Promise& promise) {
  const BundleSegment& segment = promise.segment;
  if (promise.is_whole) return;
  const std::size_t before = preview_.missing.size();
  std::uint64_t next = segment.first;
  if (const auto device = devices_.find(segment.device); device != devices_.end()) {
    const std::vector<Seen>& seen = device->second.seen;
    for (auto at = std::lower_bound(seen.begin(), seen.end(), Seen{segment.first, 0});
         at != seen.end() && at->number <= segment.last; ++at) {
      if (at->number > next) {
        preview_.missing.push_back({segment.device, static_cast<std::uint32_t>(next), at->number - 1});
      }
      next = std::uint64_t{at->number} + 1;
    }
  }
  if (next <= segment.last) {
    preview_.missing.push_back({segment.device, static_cast<std::uint32_t>(next), segment.last});
  }
  if (preview_.missing.size() > before) return;
  // Every number is there, so one of several entries of one number is not, or it is another.
  preview_.problems.push_back(Message("problem.bundle_segment")
                                  .with("device", Text{segment.device})
                                  .with("first", bare(segment.first))
                                  .with("last", bare(segment.last)));
}

void BundleReader::finish() {
  if (preview_.farm.empty()) preview_.farm = grown_.farm();
  for (auto& [name, device] : devices_) {
    if (!std::is_sorted(device.seen.begin(), device.seen.end()))
      std::sort(device.seen.begin(), device.seen.end());
    device.seen.erase(std::unique(device.seen.begin(), device.seen.end()), device.seen.end());
    preview_.devices.push_back({name, device.setup_person.empty() ? device.who : device.setup_person,
                                device.seen.size(), device.fresh, device.unread, device.first_observed,
                                device.last_observed});
  }
  for (Promise& promise : promises_) name_missing(promise);
  promises_.clear();
  join(preview_.missing);
}

BundleContent read_bundle(std::string_view text, Logbook have) {
  BundleReader reader(std::move(have));
  reader.take(text);
  reader.finish();
  return BundleContent{reader.release(), reader.report(), reader.preview()};
}

}  // namespace tawny
