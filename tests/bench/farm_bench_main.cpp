// From a file of lines to the states of its ponds, once, as an app does it at its start: farm_bench FILE SIZE...
// Prints a JSON line for each size: entries, ms to open, to find out whom to believe, to fold (which assesses every pond)
// and make the rounds, bytes of memory then in use; ms of assessing alone; ms until one more reading is taken in, believed
// and folded; ms to hold each line against its hash, which an app does after its first screen.
// Natively and as wasm (tests/bench/farm.mjs runs the latter in Chromium). farm_bench --order SEGMENTS prints the lines
// that the benches take, --signed FILE the same acts with keys and signatures. farm_bench --only trust|fold|assess FILE SIZE
// does one of them, for callgrind.
#include <malloc.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

#include "assets.h"
#include "bench/farm_work.h"
#include "logbook/kinds.h"
#include "logbook/later_hashes.h"

namespace {

using namespace tawny;
using Clock = std::chrono::steady_clock;

int tenths_of_ms(Clock::time_point from) {
  return static_cast<int>(std::chrono::duration<double, std::milli>(Clock::now() - from).count() * 10);
}

// Empty when it cannot be read. Not a byte more than it holds: of a million entries a page has no room for twice.
std::string read(const char* path) {
  std::ifstream in(path, std::ios::binary | std::ios::ate);
  if (!in) return {};
  std::string text(static_cast<std::size_t>(in.tellg()), '\0');
  in.seekg(0);
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  return text;
}

unsigned long bytes_in_use() {
#ifdef __EMSCRIPTEN__
  return static_cast<unsigned long>(mallinfo().uordblks);
#else
  return static_cast<unsigned long>(mallinfo2().uordblks + mallinfo2().hblkhd);
#endif
}

// As the app does before each fold. How many entries are not believed.
std::size_t judge(Logbook& logbook, const Verdicts& verdicts, KeptWalks& kept) {
  const Trust trust = trust_of(logbook, verdicts, {}, &kept);
  logbook.leave_out(trust.left_out_hashes());
  return trust.left_out.size();
}

// The last reading once more, or the last act where there is none yet, as its device would go on.
Entry next_reading(const Logbook& logbook, Instant now) {
  Draft draft;
  std::string device;
  for (const Entry* entry : logbook.acts()) {
    if (entry->kind != kind::kWaterReading && draft.kind == kind::kWaterReading) continue;
    draft = Draft{entry->kind, entry->pond, entry->who, now, {}, {}, entry->values};
    device = entry->id.device;
  }
  DeviceChain chain = logbook.chain_of(device);
  return *seal(draft, now, chain);
}

void measure(std::string_view lines, std::size_t entries, const Protocol& protocol) {
  const unsigned long before = bytes_in_use();
  Clock::time_point from = Clock::now();
  Logbook logbook = bench::open(lines, Hashes::later);
  const int open = tenths_of_ms(from);
  Instant now = bench::just_after(logbook);
  const Verdicts verdicts = bench::all_good(logbook);
  from = Clock::now();
  KeptWalks kept;
  const std::size_t unbelieved = judge(logbook, verdicts, kept);
  const int trust = tenths_of_ms(from);
  from = Clock::now();
  Farm farm = fold_farm(logbook, protocol, now);
  const int fold = tenths_of_ms(from);
  from = Clock::now();
  const bench::Assessed all = bench::assess_all(farm, protocol, now);
  const int assess = tenths_of_ms(from);
  from = Clock::now();
  const bool made = rounds(farm, protocol, now).has_value();
  const int rounds_made = tenths_of_ms(from);
  const unsigned long after = bytes_in_use();
  Entry reading = next_reading(logbook, now);
  from = Clock::now();
  const bool taken = logbook.add(std::move(reading)) == AddOutcome::added;
  judge(logbook, verdicts, kept);
  const int judged_again = tenths_of_ms(from);
  farm = fold_farm(logbook, protocol, now, std::move(farm), Assessing::told);
  const int again = tenths_of_ms(from);
  from = Clock::now();
  LaterHashes later;
  later.begin();
  bool fit = true;
  while (fit && later.is_under_way()) fit = later.go_on(logbook, 64 * 1024);
  const int hashes = tenths_of_ms(from);
  std::printf(
      "{\"entries\":%zu,\"ponds\":%zu,\"stages\":%d,\"rounds\":%s,\"unbelieved\":%zu,\"open_ms\":%d.%d,"
      "\"trust_ms\":%d.%d,\"fold_ms\":%d.%d,\"assess_ms\":%d.%d,\"rounds_ms\":%d.%d,\"bytes\":%lu,"
      "\"one_more\":%s,\"one_more_trust_ms\":%d.%d,\"one_more_ms\":%d.%d,\"hashes_fit\":%s,\"hashes_ms\":%d.%d}"
      "\n",
      entries, all.ponds, all.stages, made ? "true" : "false", unbelieved, open / 10, open % 10, trust / 10,
      trust % 10, fold / 10, fold % 10, assess / 10, assess % 10, rounds_made / 10, rounds_made % 10,
      after - before, taken ? "true" : "false", judged_again / 10, judged_again % 10, again / 10, again % 10,
      fit ? "true" : "false", hashes / 10, hashes % 10);
}

}  // namespace

int main(int count, char** words) {
  const std::string first = count > 1 ? words[1] : "";
  const Protocol protocol = *Protocol::parse(assets::find("protocol.json"));
  if (first == "--order" && count == 3) {
    const std::string lines = bench::in_order(read(words[2]));
    return std::fwrite(lines.data(), 1, lines.size(), stdout) == lines.size() ? 0 : 1;
  }
  if (first == "--signed" && count == 3) {
    const std::string lines = bench::as_signed(read(words[2]));
    return std::fwrite(lines.data(), 1, lines.size(), stdout) == lines.size() ? 0 : 1;
  }
  if (first == "--only" && count == 5) {
    const std::string file = read(words[3]);
    Logbook logbook =
        bench::open(bench::first_lines(file, static_cast<std::size_t>(std::atol(words[4]))), Hashes::later);
    KeptWalks kept;
    judge(logbook, bench::all_good(logbook), kept);
    const Instant now = bench::just_after(logbook);
    const Farm farm = fold_farm(logbook, protocol, now);
    return std::string_view(words[2]) == "assess" && bench::assess_all(farm, protocol, now).ponds == 0 ? 1 : 0;
  }
  if (count < 3) {
    std::fputs(
        "farm_bench FILE SIZE... | --order SEGMENTS | --signed FILE | --only trust|fold|assess FILE SIZE\n",
        stderr);
    return 2;
  }
  const std::string file = read(words[1]);
  for (int i = 2; i < count; ++i) {
    const auto entries = static_cast<std::size_t>(std::atol(words[i]));
    measure(bench::first_lines(file, entries), entries, protocol);
  }
}
