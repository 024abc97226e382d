// What the forecasts cost: outlook_bench [PONDS]. Each pond has 20 days behind it; told apart are going through
// these days (4,000 particles) and the forecast of five days with three doses. Without scoring, which is done
// once a day. Natively it is built by the target outlook_bench; tests/bench/outlook.mjs runs the same as wasm
// in Chromium.
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "core/outlook/outlook_bench.h"

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point from) {
  return std::chrono::duration<double>(Clock::now() - from).count();
}

}  // namespace

int main(int count, char** values) {
  using namespace tawny;
  constexpr int kDaysBehind = 20;
  constexpr std::size_t kParticles = 4000;
  const int ponds = count > 1 ? std::atoi(values[1]) : 100;
  double behind_s = 0, ahead_s = 0, longest_step_s = 0, quickest_s = 1e9, sum_cm = 0;
  std::size_t doses = 0;
  for (int pond = 0; pond < ponds; ++pond) {
    OutlookRun run(made_pond(static_cast<std::uint64_t>(pond), kDaysBehind, 0).record, band_rules(), priors(),
                   tropical_place(), {kParticles, 0});
    double forecast_s = 0;
    for (bool done = false; !done;) {
      const bool is_forecast = run.done_share() * (kDaysBehind + 1) > kDaysBehind - 0.5;
      const Clock::time_point from = Clock::now();
      done = run.step();
      const double step_s = seconds_since(from);
      (is_forecast ? forecast_s : behind_s) += step_s;
      longest_step_s = step_s > longest_step_s ? step_s : longest_step_s;
    }
    ahead_s += forecast_s;
    quickest_s = forecast_s < quickest_s ? forecast_s : quickest_s;
    for (const DoseOutlook& dose : run.outlook().doses) sum_cm += dose.days.back().median_cm;
    doses = run.outlook().doses.size();
  }
  const double ahead = static_cast<double>(ponds) * static_cast<double>(doses * kParticles) * kOutlookDays;
  const double behind = static_cast<double>(ponds) * kDaysBehind * static_cast<double>(kParticles);
  std::printf("%d ponds, %zu particles\n", ponds, kParticles);
  std::printf("forecast of %d days, %zu doses   %6.2f s   %5.1f million particle-days a second\n", kOutlookDays,
              doses, ahead_s, ahead / ahead_s / 1e6);
  std::printf("%d days with readings          %6.2f s   %5.1f million particle-days a second\n", kDaysBehind,
              behind_s, behind / behind_s / 1e6);
  std::printf("quickest forecast of a pond     %6.1f ms  (the processor is shared: what it could be)\n",
              1000 * quickest_s);
  std::printf("longest step                    %6.1f ms\n", 1000 * longest_step_s);
  // The same natively and as wasm.
  std::printf("medians on the last day, summed %.9g cm\n", sum_cm);
}
