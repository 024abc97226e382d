// A depot in memory, and a driver that carries a run's steps to it: for the tests of syncs.
#pragma once

#include <functional>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "logbook/depot_run.h"
#include "logbook/kinds.h"
#include "logbook/receipts.h"

namespace tawny::testing_depot {

struct FakeDepot {
  std::map<std::string, std::string> files;
  bool flat = false;  // answers a list with all files below, as an object store does

  std::vector<std::string> list(const std::string& folder) const {
    std::set<std::string> names;
    for (const auto& [name, bytes] : files) {
      if (name.rfind(folder, 0) != 0) continue;
      const std::size_t slash = flat ? std::string::npos : name.find('/', folder.size());
      names.insert(slash == std::string::npos ? name : name.substr(0, slash + 1));
    }
    return {names.begin(), names.end()};
  }
};

struct Steps {
  std::vector<std::string> lists, gets, puts;
  bool only_lists() const { return gets.empty() && puts.empty(); }
};

// One device: its logbook, what it remembers, and how it keeps what came.
struct FakeDevice {
  std::string name;
  std::string writer;
  Logbook logbook = Logbook("north-farm");
  std::set<std::string> known;
  bool office = false;
  std::function<void(const std::string& line)> make_durable = [](const std::string&) {};

  FakeDevice(std::string device, std::string account) : name(std::move(device)), writer(std::move(account)) {}

  void keep(const Entry& entry) {
    make_durable(entry.line);
    logbook.add(entry);
  }
  void write(Draft draft, Instant recorded = Instant{1795587120}) {
    DeviceChain chain = logbook.chain_of(name);
    keep(*seal(draft, recorded, chain));
  }
  void write_receipt() {
    std::optional<Values> values = receipt_due(logbook, name);
    if (!values) return;
    Draft draft;
    draft.kind = std::string(kind::kOfficeReceipt);
    draft.observed = Instant{1795587120};
    draft.values = *std::move(values);
    write(std::move(draft));
  }
};

// What may go wrong with a step. Nothing: it goes well. `bytes` are those that come (get) or are stored (put).
struct Mishap {
  std::optional<CarryFault> fault;
  bool done_all_the_same = false;  // the put arrived, its answer did not
  bool aborted = false;            // the driver dies here
};
using OnStep = std::function<Mishap(const DepotStep& step, std::string& bytes)>;

inline Mishap no_mishap(const DepotStep&, std::string&) { return {}; }

inline Steps sync(FakeDevice& device, FakeDepot& depot, DepotRun& run, const OnStep& on_step = no_mishap) {
  Steps steps;
  while (true) {
    const std::optional<DepotStep> step = run.next(device.logbook);
    if (!step && run.ready_to_put()) {
      if (device.office) device.write_receipt();
      run.go_on();
      continue;
    }
    if (!step) break;
    std::string bytes = step->bytes;
    const bool get = step->act == DepotStep::Act::get;
    const auto file = depot.files.find(step->name);
    if (get && file != depot.files.end()) bytes = file->second;
    Mishap mishap = on_step(*step, bytes);
    if (get && file == depot.files.end() && !mishap.fault) mishap.fault = CarryFault::not_there;
    if (step->act == DepotStep::Act::put && (!mishap.fault || mishap.done_all_the_same)) {
      depot.files[step->name] = bytes;
    }
    if (mishap.aborted) break;
    if (mishap.fault) {
      run.failed(*mishap.fault, "");
      continue;
    }
    switch (step->act) {
      case DepotStep::Act::list:
        steps.lists.push_back(step->name);
        run.listed(depot.list(step->name));
        break;
      case DepotStep::Act::get: {
        steps.gets.push_back(step->name);
        const Incoming incoming = run.got(bytes, device.logbook);
        for (const Entry& entry : incoming.entries) device.keep(entry);
        for (const std::string& line : incoming.unread) {
          device.make_durable(line);
          device.logbook.add_line(line);
        }
        break;
      }
      case DepotStep::Act::put:
        steps.puts.push_back(step->name);
        run.put_done();
        break;
    }
  }
  device.known = run.known();
  return steps;
}

inline Steps sync(FakeDevice& device, FakeDepot& depot, const OnStep& on_step = no_mishap) {
  DepotRun run({device.writer, device.name, device.known});
  return sync(device, depot, run, on_step);
}

}  // namespace tawny::testing_depot
