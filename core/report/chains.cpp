// Who wrote, on which devices, and how far each device's chain of entries is whole; then the cautions.
#include <map>
#include <set>

#include "report/record.h"

namespace tawny {
namespace {

struct Written {
  std::size_t entries = 0;
  std::set<std::string> people;
};

// Of every device with an entry here; a device's number and hash are those of its last entry in the logbook.
std::map<std::string, Written> written_by_device(const Record& record) {
  std::map<std::string, Written> devices;
  for (const Entry* entry : record.entries) {
    Written& one = devices[entry->id.device];
    ++one.entries;
    if (!entry->who.empty()) one.people.insert(entry->who);
  }
  return devices;
}

void write_state(Markup& out, const std::vector<ChainProblem>& problems, const std::string& device) {
  bool whole = true;
  for (const ChainProblem& problem : problems) {
    if (problem.device != device) continue;
    whole = false;
    out.open("div", "state").say(problem.message).close();
  }
  if (whole) out.say("report.chain.whole");
}

}  // namespace

void write_chains(Markup& out, const Record& record) {
  begin_section(out, "report.chains");
  out.open("p", "quiet").say("report.chains.about").close();
  begin_table(
      out, "chains",
      {"report.device", "report.people", "report.chain.here", "report.chain.last", "report.chain.state"});
  const std::vector<ChainProblem> problems = record.logbook.check_chains();
  for (const auto& [device, written] : written_by_device(record)) {
    const DeviceChain chain = record.logbook.chain_of(device);
    out.open("tr").open("td").typed(device).close().open("td");
    const auto holder = record.farm.people.find(device);
    bool first = true;
    for (const std::string& person : written.people) {
      if (!first) out.text(", ");
      first = false;
      out.typed(person);
      if (holder != record.farm.people.end() && holder->second.first == person) {
        out.text(" (").say("role." + holder->second.second).text(")");
      }
    }
    out.close().element("td", out.words().number(static_cast<double>(written.entries), 0), "figure");
    out.open("td").text(std::to_string(chain.last_number) + " ");
    out.open("span", "hash").text(chain.last_hash).close().close().open("td");
    write_state(out, problems, device);
    out.close().close();
  }
  end_table(out);
  out.close();
}

void write_cautions(Markup& out) {
  out.open("section", "keep").open("h2").say("about.cautions").close();
  out.open("p", "release").open("strong").say("gate.qualified").close().close();
  out.open("ul");
  for (const std::string_view caution : {"oxidizer", "bin", "boat", "gates", "law"}) {
    out.open("li").say("about.caution." + std::string(caution)).close();
  }
  out.close().close();
}

}  // namespace tawny
