// A depot that answers as it likes: the run ends, writes in its own folder only, and asks for names of a depot only.
#include <algorithm>

#include "fuzz/lines.h"
#include "logbook/depot_run.h"
#include "logbook/reference.h"

namespace tawny::fuzz {
namespace {

constexpr std::size_t kMostSteps = 400;

Entry level_entry(const std::string& device, DeviceChain& chain, double level_cm) {
  Draft draft;
  draft.kind = "level_reading";
  draft.pond = "p1";
  draft.observed = Instant{1795587120};
  draft.values["level_cm"] = level_cm;
  chain.farm = "demo";
  chain.device = device;
  return *seal(draft, draft.observed, chain);
}

// Up to six lines of a device, always the same.
std::vector<std::string> lines_of_device(const std::string& device) {
  std::vector<std::string> lines;
  DeviceChain chain;
  for (int i = 0; i < 6; ++i) lines.push_back(level_entry(device, chain, i).line);
  return lines;
}

// A segment that is what its name says, or nearly so.
struct Segment {
  std::string name, bytes;
};
Segment any_segment(Bytes& bytes) {
  static const std::vector<std::string> kDevices = {"phone-1", "phone-2", "phone-3"};
  static const std::vector<std::vector<std::string>> kLines = {
      lines_of_device("phone-1"), lines_of_device("phone-2"), lines_of_device("phone-3")};
  const unsigned which = bytes.byte();
  const std::vector<std::string>& lines = kLines[which % 3];
  const unsigned first = 1 + which / 3 % 6;
  const unsigned last = std::min(6u, first + which / 18 % 4);
  Segment segment;
  for (unsigned number = first; number <= last; ++number) (segment.bytes += lines[number - 1]) += '\n';
  const unsigned how = bytes.byte();
  const std::string hash = segment_hash(segment.bytes);
  if (how % 5 == 1) segment.bytes.resize(segment.bytes.size() / 2);
  if (how % 5 == 2) segment.bytes[segment.bytes.size() / 3] ^= 1;
  SegmentName name{kDevices[how / 5 % 3], kDevices[which % 3], first, last, hash};
  if (how % 5 == 3) name.last = 1000;
  if (how % 5 == 4) name.hash[0] = name.hash[0] == 'a' ? 'b' : 'a';
  segment.name = to_string(name);
  return segment;
}

std::vector<std::string> any_listing(Bytes& bytes, std::vector<Segment>& told) {
  std::vector<std::string> names;
  for (unsigned count = bytes.byte() % 12; count > 0; --count) {
    switch (bytes.byte() % 6) {
      case 0:
        names.emplace_back(bytes.line());
        break;
      case 1:
        names.push_back("phone-" + std::to_string(bytes.byte() % 4) + "/");
        break;
      case 2:
        names.push_back("phone-1/phone-" + std::to_string(bytes.byte() % 4) + "/");
        break;
      case 3:
        names.push_back("phone-1/phone-2/" + std::to_string(bytes.byte() % 3) + "/");
        break;
      default:
        told.push_back(any_segment(bytes));
        names.push_back(told.back().name);
    }
  }
  return names;
}

class Trial {
 public:
  explicit Trial(Bytes bytes) : bytes_(bytes), logbook_(bytes_.byte() % 2 == 0 ? "demo" : "") {
    DeviceChain chain;
    for (unsigned count = bytes_.byte() % 5; count > 0; --count) {
      logbook_.add(level_entry("phone-1", chain, count));
    }
  }

  void run() {
    std::set<std::string> known;
    for (int turn = 0; turn < 2; ++turn) {
      DepotRun run({"phone-1", "phone-1", known});
      bool over = false;
      for (std::size_t step = 0; step < kMostSteps && !over; ++step) over = !go(run);
      known = run.known();
      if (bytes_.byte() % 4 == 0) known.insert(std::string(bytes_.line()));
    }
  }

 private:
  // False when the run is over.
  bool go(DepotRun& run) {
    const std::optional<DepotStep> step = run.next(logbook_);
    if (!step && run.ready_to_put()) {
      run.go_on();
      return true;
    }
    if (!step) return false;
    expect(run.next(logbook_)->name == step->name, "the same step until it is answered");
    check(*step);
    const unsigned how = bytes_.byte();
    // Once the input is at its end every step goes wrong, so that the run comes to its own.
    if (how % 16 == 0) {
      run.failed(static_cast<CarryFault>(bytes_.empty() ? 0 : bytes_.byte() % 10), "trial");
      return true;
    }
    if (how % 64 == 1) {
      run.stop(CarryFault::cancelled, "trial");
      expect(run.over() && !run.next(logbook_), "stopped is over");
      return false;
    }
    if (step->act == DepotStep::Act::list) run.listed(any_listing(bytes_, told_));
    if (step->act == DepotStep::Act::get) get(run, *step, how);
    if (step->act == DepotStep::Act::put) {
      put_.push_back({step->name, step->bytes});
      run.put_done();
    }
    return true;
  }

  void check(const DepotStep& step) const {
    if (step.act == DepotStep::Act::list) {
      expect(step.name.empty() || (step.name.back() == '/' && step.name.find("..") == std::string::npos &&
                                   step.name.find("//") == std::string::npos && step.name.front() != '/'),
             "only folders of a depot are listed");
      return;
    }
    const std::optional<SegmentName> name = parse_segment_name(step.name);
    expect(name && to_string(*name) == step.name, "only segments are carried");
    if (step.act != DepotStep::Act::put) return;
    expect(name->writer == "phone-1", "only the own folder is written to");
    expect(segment_hash(step.bytes) == name->hash, "what is put fits its name");
    expect(step.bytes == segment_bytes(logbook_, name->device, name->first, name->last),
           "what is put are the logbook's own lines");
  }

  void get(DepotRun& run, const DepotStep& step, unsigned how) {
    std::string answer;
    for (const std::vector<Segment>* list : {&told_, &put_}) {
      for (const Segment& segment : *list) {
        if (segment.name == step.name) answer = segment.bytes;
      }
    }
    if (how % 8 == 2) answer = any_segment(bytes_).bytes;
    if (how % 8 == 3) answer = std::string(bytes_.line());
    const Incoming incoming = run.got(answer, logbook_);
    expect(incoming.whole == (segment_hash(answer) == parse_segment_name(step.name)->hash),
           "whole fits the name");
    for (const Entry& entry : incoming.entries) {
      expect(parse_entry(entry.line).has_value(), "what comes in is a whole entry");
      if (how % 32 != 4) logbook_.add(entry);
    }
    for (const std::string& line : incoming.unread) logbook_.add_line(line);
  }

  Bytes bytes_;
  Logbook logbook_;
  std::vector<Segment> told_, put_;
};

}  // namespace
}  // namespace tawny::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace tawny;
  const std::string_view text = fuzz::text_of(data, std::min<std::size_t>(size, 300));
  if (const auto name = parse_segment_name(text))
    fuzz::expect(to_string(*name) == text, "one name for a segment");
  parse_reference(text);
  fuzz::Trial(fuzz::Bytes(data, size)).run();
  return 0;
}
