#include "logbook/depot_run.h"

#include <algorithm>

#include "logbook/line_reader.h"
#include "logbook/reference.h"
#include "logbook/sha256.h"

namespace tawny {
namespace {

// A server that fails this often, one step after another, is left alone until the next run.
constexpr int kMostServerFaults = 3;
// Closed folders listed all the same, each run the next few: a cloned device may have added to them since.
constexpr int kClosedLookedAt = 3;
// Far more than a large farm has in ten years: a depot that goes on and on means harm, or is none.
constexpr std::size_t kMostNames = 200000;
constexpr std::size_t kMostFolders = 20000;

bool ends_with_slash(std::string_view name) { return !name.empty() && name.back() == '/'; }

std::vector<std::string_view> parts_of(std::string_view folder) {
  std::vector<std::string_view> parts;
  while (!folder.empty()) {
    const std::size_t end = std::min(folder.find('/'), folder.size());
    parts.push_back(folder.substr(0, end));
    folder.remove_prefix(std::min(end + 1, folder.size()));
  }
  return parts;
}

// "writer/", "writer/device/" or "writer/device/thousand/".
bool is_depot_folder(std::string_view name) {
  const std::vector<std::string_view> parts = parts_of(name);
  if (parts.empty() || parts.size() > 3) return false;
  return std::all_of(parts.begin(), parts.end(), is_device_id);
}

bool is_of_writer(std::string_view name, std::string_view writer) {
  return name.size() > writer.size() && name.substr(0, writer.size()) == writer && name[writer.size()] == '/';
}

bool ends_the_run(const DepotRun::Fault& fault) {
  switch (fault.fault) {
    case CarryFault::offline:
    case CarryFault::wrong_password:
    case CarryFault::full:
    case CarryFault::certificate:
    case CarryFault::clock:
    case CarryFault::barred:
    case CarryFault::cancelled:
      return true;
    case CarryFault::no_right:
      return fault.act == DepotStep::Act::put || fault.name.empty();
    case CarryFault::not_there:
    case CarryFault::server:
    case CarryFault::malformed:
      break;
  }
  return fault.name.empty();  // the root: nothing can be known of this depot
}

}  // namespace

std::string_view name_of(CarryFault fault) {
  switch (fault) {
    case CarryFault::offline:
      return "offline";
    case CarryFault::wrong_password:
      return "wrong_password";
    case CarryFault::no_right:
      return "no_right";
    case CarryFault::not_there:
      return "not_there";
    case CarryFault::full:
      return "full";
    case CarryFault::server:
      return "server";
    case CarryFault::certificate:
      return "certificate";
    case CarryFault::clock:
      return "clock";
    case CarryFault::malformed:
      return "malformed";
    case CarryFault::barred:
      return "barred";
    case CarryFault::cancelled:
      break;
  }
  return "cancelled";
}

DepotRun::DepotRun(Options options) : options_(std::move(options)) {
  read_known(options_.known);
  folders_.push_back("");
  if (!is_device_id(options_.writer) || !is_device_id(options_.device)) {
    end({DepotStep::Act::put, options_.writer, CarryFault::malformed,
         "writer or device is no name of a folder"});
  }
}

std::optional<DepotStep> DepotRun::next(const Logbook& logbook) {
  if (step_ || phase_ == Phase::over) return step_;
  settle(logbook);
  if (phase_ == Phase::listing) {
    if ((step_ = next_list(logbook))) return step_;
    phase_ = Phase::sorting;
  }
  if (phase_ == Phase::sorting) {
    sort(logbook);
    phase_ = Phase::getting;
  }
  if (phase_ == Phase::getting) {
    if ((step_ = next_get(logbook))) return step_;
    phase_ = Phase::paused;
  }
  if (phase_ == Phase::planning) {
    plan(logbook);
    phase_ = Phase::putting;
  }
  if (phase_ == Phase::putting) {
    if ((step_ = next_put(logbook))) return step_;
    phase_ = Phase::over;
  }
  return std::nullopt;
}

std::optional<DepotStep> DepotRun::next_list(const Logbook& logbook) {
  while (true) {
    if (folders_.empty()) look_again_at_some_closed();
    if (folders_.empty()) return std::nullopt;
    const std::string folder = std::move(folders_.front());
    folders_.pop_front();
    if (!looking_again_ && is_closed(folder, logbook)) {
      closed_.insert(folder);
      continue;
    }
    return DepotStep{DepotStep::Act::list, folder, {}};
  }
}

void DepotRun::look_again_at_some_closed() {
  if (looking_again_) return;
  looking_again_ = true;
  for (int count = std::min(kClosedLookedAt, static_cast<int>(closed_.size())); count > 0; --count) {
    auto next = closed_.upper_bound(looked_again_);
    if (next == closed_.end()) next = closed_.begin();
    looked_again_ = *next;
    folders_.push_back(*next);
  }
}

std::optional<DepotStep> DepotRun::next_get(const Logbook& logbook) {
  while (!gets_.empty()) {
    const SegmentName name = std::move(gets_.back());
    gets_.pop_back();
    // A longer one may have brought all of it by now.
    if (needs_no_get(name, logbook)) {
      --tally_.to_get;
      continue;
    }
    getting_ = name;
    return DepotStep{DepotStep::Act::get, to_string(name), {}};
  }
  return std::nullopt;
}

std::optional<DepotStep> DepotRun::next_put(const Logbook& logbook) {
  if (reading_back_) {
    getting_ = std::exchange(reading_back_, std::nullopt);
    return DepotStep{DepotStep::Act::get, to_string(*getting_), {}};
  }
  if (puts_.empty()) return std::nullopt;
  const Span span = std::move(puts_.front());
  puts_.pop_front();
  std::string bytes = segment_bytes(logbook, span.device, span.first, span.last);
  lines_put_ = lines_lacking(span, logbook);
  hash_put_ = sha256_hex(bytes);
  reading_back_ = SegmentName{options_.writer, span.device, span.first, span.last, segment_hash(bytes)};
  known_.erase(to_string(*reading_back_));
  return DepotStep{DepotStep::Act::put, to_string(*reading_back_), std::move(bytes)};
}

void DepotRun::listed(const std::vector<std::string>& names) {
  if (!step_ || step_->act != DepotStep::Act::list) return;
  folders_seen_.insert(step_->name);
  step_.reset();
  server_faults_ = 0;
  for (const std::string& name : names) {
    if (ends_with_slash(name)) {
      if (is_depot_folder(name) && folders_seen_.insert(name).second) folders_.push_back(name);
    } else if (std::optional<SegmentName> segment = parse_segment_name(name)) {
      names_.insert_or_assign(name, *std::move(segment));
    }
    if (names_.size() <= kMostNames && folders_seen_.size() <= kMostFolders) continue;
    end({DepotStep::Act::list, name, CarryFault::malformed, "it lists more than a depot holds"});
    return;
  }
}

Incoming DepotRun::got(std::string_view bytes, const Logbook& logbook) {
  Incoming incoming;
  if (!step_ || step_->act != DepotStep::Act::get) return incoming;
  step_.reset();
  const SegmentName name = *std::exchange(getting_, std::nullopt);
  incoming.whole = phase_ == Phase::putting ? sha256_hex(bytes) == hash_put_ : segment_hash(bytes) == name.hash;
  Logbook lines(logbook.farm());
  incoming.report = lines.load(bytes);
  Taken taken{name, {}, incoming.report.lines == lines.size()};
  std::uint32_t next_number = name.first;
  lines.visit([&](const Logbook::Line& line) {
    taken.lines.push_back({std::string(line.device), line.number, std::string(line.hash)});
    if (line.device != name.device || (line.number != next_number && line.number + 1 != next_number)) {
      taken.as_named = false;
    }
    next_number = line.number + 1;
    if (logbook.has(taken.lines.back())) return;
    ++tally_.entries_down;
    if (line.entry != nullptr) {
      incoming.entries.push_back(*line.entry);
    } else {
      incoming.unread.emplace_back(line.bytes);
    }
  });
  taken.as_named = taken.as_named && next_number == name.last + 1;
  if (!incoming.whole) {
    failed_at({DepotStep::Act::get, to_string(name), CarryFault::malformed, "bytes do not fit the name"});
    return incoming;
  }
  server_faults_ = 0;
  taken_ = std::move(taken);
  if (phase_ == Phase::putting) {
    ++tally_.put;
    tally_.entries_up += lines_put_;
  } else {
    ++tally_.got;
  }
  return incoming;
}

void DepotRun::put_done() {
  if (!step_ || step_->act != DepotStep::Act::put) return;
  step_.reset();
  server_faults_ = 0;
}

void DepotRun::failed(CarryFault fault, std::string detail) {
  if (!step_) return;
  const DepotStep step = *std::exchange(step_, std::nullopt);
  getting_.reset();
  if (step.act == DepotStep::Act::put) reading_back_.reset();
  if (step.act == DepotStep::Act::list) {
    // What another does not show to this device is as good as not there.
    const bool own = is_of_writer(step.name, options_.writer);
    own_unseen_ = own_unseen_ || own;
    other_unseen_ = other_unseen_ || (!own && (fault == CarryFault::server || fault == CarryFault::malformed));
  }
  failed_at({step.act, step.name, fault, std::move(detail)});
}

void DepotRun::stop(CarryFault fault, std::string detail) {
  if (phase_ == Phase::over) return;
  const DepotStep::Act act = step_ ? step_->act : DepotStep::Act::get;
  const std::string name = taken_ ? to_string(taken_->name) : step_ ? step_->name : std::string();
  step_.reset();
  getting_.reset();
  reading_back_.reset();
  taken_.reset();
  end({act, name, fault, std::move(detail)});
}

void DepotRun::failed_at(Fault fault) {
  if (fault.fault == CarryFault::server) ++server_faults_;
  if (ends_the_run(fault) || server_faults_ >= kMostServerFaults) {
    end(fault);
  } else {
    tally_.faults.push_back(std::move(fault));
  }
}

void DepotRun::end(const Fault& fault) {
  ended_by_ = fault;
  tally_.faults.push_back(fault);
  phase_ = Phase::over;
}

void DepotRun::go_on() {
  if (phase_ == Phase::paused) phase_ = Phase::planning;
}

}  // namespace tawny
