// tawny sync: a logbook file and a depot that is a plain folder (a server's disk, a USB stick, what rclone or
// rsync keeps alike). The file takes what the depot has, the depot what the file has; nothing is taken away.
#include <utility>

#include "cli/command.h"
#include "cli/json_out.h"
#include "cli/logbook_file.h"
#include "logbook/depot_run.h"
#include "logbook/reference.h"

namespace tawny::cli {
namespace {

constexpr std::string_view kUsualName = "office";

struct Order {
  std::string folder, logbook, name{kUsualName};
};

std::optional<Order> read_order(const Arguments& arguments) {
  Order order;
  std::vector<std::string> paths;
  for (std::size_t at = 0; at < arguments.size(); ++at) {
    if (arguments[at] != "--as") {
      paths.push_back(arguments[at]);
    } else if (++at < arguments.size()) {
      order.name = arguments[at];
    } else {
      return std::nullopt;
    }
  }
  if (paths.size() != 2 || paths[0].empty() || paths[1].empty() || paths[1] == "-") return std::nullopt;
  order.folder = paths[0];
  order.logbook = paths[1];
  return order;
}

std::string_view says(CarryFault fault) {
  switch (fault) {
    case CarryFault::no_right:
      return "no right to do that";
    case CarryFault::not_there:
      return "not there";
    case CarryFault::full:
      return "the disk is full";
    case CarryFault::malformed:
      return "its bytes do not fit its name: it was cut off or changed; what is whole in it was taken";
    default:
      return "the disk does not answer as it should";
  }
}

// A plain folder as a depot.
class Folder {
 public:
  Folder(std::string root, Outside& outside) : root_(std::move(root)), outside_(outside) {}

  Carried<std::vector<std::string>> list(const std::string& folder) {
    Carried<std::vector<std::string>> names = outside_.list(path(folder));
    if (names) {
      for (std::string& name : *names) name = folder + name;
    }
    return names;
  }

  Carried<std::string> get(const std::string& name) { return outside_.get(path(name)); }

  // A file that holds what its name says stays as it is.
  Carried<void> put(const std::string& name, const std::string& bytes) {
    if (const Carried<std::string> there = get(name); there && *there == bytes) return {};
    // Only below the root: a stick that was pulled out is not to be made up on the disk behind it.
    for (std::size_t at = name.find('/'); at != std::string::npos; at = name.find('/', at + 1)) {
      const Carried<void> made = outside_.make_folder(path(name.substr(0, at)));
      if (!made) return made;
    }
    return outside_.put(path(name), bytes);
  }

 private:
  std::string path(const std::string& name) const { return root_ + "/" + name; }
  std::string root_;
  Outside& outside_;
};

struct Work {
  Order order;
  Logbook logbook;
  bool changed = false;  // against the file
  std::vector<std::string> left_out;
};

void take(const Incoming& incoming, const std::string& name, const Words& words, Work& work) {
  for (const Entry& entry : incoming.entries) work.logbook.add(entry);
  for (const std::string& line : incoming.unread) work.logbook.add_line(line);
  work.changed = work.changed || !incoming.entries.empty() || !incoming.unread.empty();
  for (const LineProblem& problem : incoming.report.problems) {
    if (problem.outcome != AddOutcome::refused && problem.outcome != AddOutcome::other_farm) continue;
    work.left_out.push_back(name + ", " + worded(problem, words));
  }
}

// Does the step and answers it.
void carry(const DepotStep& step, Folder& depot, const Words& words, Work& work, DepotRun& run) {
  if (step.act == DepotStep::Act::list) {
    const Carried<std::vector<std::string>> names = depot.list(step.name);
    names ? run.listed(*names) : run.failed(names.error(), std::string(says(names.error())));
  } else if (step.act == DepotStep::Act::get) {
    const Carried<std::string> bytes = depot.get(step.name);
    if (bytes) {
      take(run.got(*bytes, work.logbook), step.name, words, work);
    } else {
      run.failed(bytes.error(), std::string(says(bytes.error())));
    }
  } else {
    const Carried<void> put = depot.put(step.name, step.bytes);
    put ? run.put_done() : run.failed(put.error(), std::string(says(put.error())));
  }
}

// What came, on disk before anything goes out. The line to refuse with when it cannot be written.
std::optional<std::string> save(Work& work, Outside& outside) {
  if (!work.changed) return std::nullopt;
  const Carried<void> put = outside.put(work.order.logbook, work.logbook.to_lines());
  if (!put) return work.order.logbook + " cannot be written: " + std::string(says(put.error()));
  work.changed = false;
  return std::nullopt;
}

// The line to refuse with when the file is there and is not wholly a logbook: writing it anew would lose what
// cannot be read in it.
std::optional<std::string> read_file(Work& work, Outside& outside, const Words& words) {
  const std::string& path = work.order.logbook;
  const Carried<std::string> text = outside.get(path);
  if (!text && text.error() == CarryFault::not_there) return std::nullopt;
  if (!text) return path + " cannot be read: " + std::string(says(text.error()));
  const LoadReport report = work.logbook.load(*text);
  for (const LineProblem& problem : report.problems) {
    if (problem.outcome != AddOutcome::refused && problem.outcome != AddOutcome::other_farm) continue;
    return path + " is not touched, a line of it cannot be kept: " + worded(problem, words);
  }
  return std::nullopt;
}

Outcome report(const Work& work, const DepotRun& run) {
  const DepotRun::Tally& tally = run.tally();
  const auto count = [](std::size_t number) { return static_cast<double>(number); };
  JsonOut json;
  json.begin_object().key("folder").text(work.order.folder).key("logbook").text(work.order.logbook);
  json.key("as").text(work.order.name).key("farm").text(work.logbook.farm());
  json.key("entries").number(count(work.logbook.size()));
  json.key("entries_in").number(count(tally.entries_down)).key("entries_out").number(count(tally.entries_up));
  json.key("segments_in").number(count(tally.got)).key("segments_out").number(count(tally.put));
  json.key("whole").flag(!run.ended_by()).key("faults").begin_array();
  Outcome outcome;
  for (const DepotRun::Fault& fault : tally.faults) {
    json.begin_object().key("fault").text(name_of(fault.fault)).key("name").text(fault.name);
    json.key("says").text(says(fault.fault)).end_object();
    const std::string name = work.order.folder + "/" + fault.name;
    outcome.err += "tawny sync: " + name + ": " + std::string(says(fault.fault)) + "\n";
  }
  json.end_array().end_object();
  for (const std::string& line : work.left_out) outcome.err += "tawny sync: left out: " + line + "\n";
  outcome.out = json.done();
  outcome.exit_code = outcome.err.empty() ? 0 : 1;
  return outcome;
}

}  // namespace

Outcome run_sync(const Arguments& arguments, Outside& outside, const Words& words) {
  std::optional<Order> order = read_order(arguments);
  if (!order) return refused("sync", "name a folder and a logbook file, and a name behind --as");
  if (!is_device_id(order->name)) {
    return refused("sync", "\"" + order->name + "\" cannot name a folder: 1 to 64 of A-Z a-z 0-9 - _");
  }
  Work work{*std::move(order), Logbook(), false, {}};
  Folder depot(work.order.folder, outside);
  if (const auto there = outside.list(work.order.folder); !there) {
    return refused("sync", "the folder " + work.order.folder + ": " + std::string(says(there.error())));
  }
  if (const auto line = read_file(work, outside, words)) return refused("sync", *line);

  DepotRun run({work.order.name, work.order.name, {}});
  while (true) {
    const std::optional<DepotStep> step = run.next(work.logbook);
    if (step) {
      carry(*step, depot, words, work, run);
      continue;
    }
    if (const auto line = save(work, outside)) return refused("sync", *line);
    if (!run.ready_to_put()) break;
    run.go_on();
  }
  return report(work, run);
}

}  // namespace tawny::cli
