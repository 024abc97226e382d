// CPU time of a frame, without a browser and without drawing pixels:
//
//   ui_frames [PONDS ...]     (1 20 200, unless told otherwise)
//
// A farm of so many ponds is made of copies of the demo farm's; Rounds, Board and Plan are drawn again and
// again as nothing happens on a phone and on a laptop. Prints the median of the frames in ms, and the slowest
// tenth.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "farm/demo.h"
#include "logbook/kinds.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace {

using namespace tawny;
using namespace tawny::ui;

constexpr Instant kMorning{1795707600};  // 26 November 2026, 10:40 at the demo farm
constexpr int kWarm = 10, kFrames = 100;

// The demo's ponds over and over: p1 of the second turn is "p1-2", "Upper Reed 2".
std::string lines_of(int ponds) {
  const Protocol protocol = *Protocol::parse(assets::find("protocol.json"));
  const std::vector<Draft> drafts = *demo_drafts(assets::find("demo-farm.json"), protocol, kMorning);
  std::vector<std::string> ids;
  for (const Draft& draft : drafts) {
    if (draft.kind == kind::kPondSetup) ids.push_back(draft.pond);
  }
  DeviceChain chain{"bench", "bench-device", 0, 0, std::string(64, '0')};
  std::string lines;
  for (const Draft& draft : drafts) {
    if (draft.pond.empty()) {
      lines += seal(draft, draft.observed, chain)->line + "\n";
      continue;
    }
    const auto number = static_cast<int>(std::find(ids.begin(), ids.end(), draft.pond) - ids.begin());
    for (int at = number, turn = 1; at < ponds; at += static_cast<int>(ids.size()), ++turn) {
      Draft copy = draft;
      const std::string mark = std::to_string(turn);
      copy.pond += "-" + mark;
      for (const char* key : {"name", "booking"}) {
        const auto value = copy.values.find(key);
        if (value == copy.values.end()) continue;
        value->second = std::get<std::string>(value->second) + " " + mark;
      }
      if (const auto order = copy.values.find("walk_order"); order != copy.values.end()) {
        order->second = static_cast<double>(at + 1);
      }
      lines += seal(copy, copy.observed, chain)->line + "\n";
    }
  }
  return lines;
}

void measure(AppBench& bench, const char* screen, int ponds, float width, float height) {
  bench.set_size(width, height);
  bench.frames(kWarm);
  std::vector<double> times_ms;
  for (int i = 0; i < kFrames; ++i) {
    const auto before = std::chrono::steady_clock::now();
    bench.frames(1);
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - before;
    times_ms.push_back(took.count());
  }
  std::sort(times_ms.begin(), times_ms.end());
  std::printf("%-8s %4d ponds  %4.0f x %-4.0f  median %7.3f ms  slowest tenth %7.3f ms\n", screen, ponds,
              static_cast<double>(width), static_cast<double>(height), times_ms[kFrames / 2],
              times_ms[kFrames * 9 / 10]);
}

void measure_farm(int ponds) {
  AppBench bench(kMorning);
  Boot boot;
  boot.store = "own";
  boot.device = "bench-device";
  boot.utc_offset_min = -300;
  bench.app->start(boot);
  bench.app->load_lines(lines_of(ponds));
  bench.app->ready();
  bench.frames(kWarm);
  const std::pair<float, float> sizes[] = {{390, 844}, {1366, 768}};
  for (const auto& [width, height] : sizes) {
    bench.set_size(width, height);
    bench.app->open_tab(Tab::rounds);
    measure(bench, "rounds", ponds, width, height);
    bench.app->open(make_board_screen());
    measure(bench, "board", ponds, width, height);
    bench.app->open(make_plan_screen());
    measure(bench, "plan", ponds, width, height);
  }
}

}  // namespace

int main(int count, char** arguments) {
  std::vector<int> farms;
  for (int i = 1; i < count; ++i) farms.push_back(std::atoi(arguments[i]));
  if (farms.empty()) farms = {1, 20, 200};
  for (const int ponds : farms) {
    if (ponds < 1) {
      std::fprintf(stderr, "ui_frames: PONDS is a number from 1 on\n");
      return 2;
    }
    measure_farm(ponds);
  }
  return 0;
}
