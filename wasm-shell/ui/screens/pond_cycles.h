// A pond's cycles on a laptop: every chart of one cycle on one axis of time with one line through all of them,
// the gates it passed and its entries. Past cycles are shown as they stood at their end.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "farm/series.h"
#include "office/cycles.h"
#include "ui/screens/chart_plots.h"
#include "ui/screens/parts.h"

namespace tawny::ui {

// "dry season, since 22 Oct"; with both ends where it is over.
std::string cycle_word(const Words& words, const std::string& label, Instant start, std::optional<Instant> end,
                       UtcOffset offset);

// The gates that opened, each with its time; what was passed by hand with its reason.
void draw_gates_opened(Ui& ui, const FarmPond& pond);

// The cycle's entries, the newest first, a few at a time.
class EntryList {
 public:
  void draw(App& app, Ui& ui, const FarmPond& pond);

 private:
  static constexpr std::size_t kAtFirst = 8, kMore = 30;
  std::size_t shown_ = kAtFirst;
};

class PondCycles {
 public:
  explicit PondCycles(std::string pond) : pond_(std::move(pond)) {}

  // Choice of the cycle, charts, gates and entries.
  void draw(App& app, Ui& ui);

 private:
  void renew(const App& app);
  void choose(const App& app, std::size_t at);
  void show(const std::string& span);
  void draw_choice(App& app, Ui& ui);
  void draw_spans(Ui& ui);
  void draw_charts(Ui& ui);
  void step_day(int days);
  void widen(double times);
  CivilDay last_read() const;
  ChartTime time() const { return {view_.from(), view_.until(), offset_}; }

  std::string pond_;
  std::optional<std::pair<Instant, std::size_t>> stand_;  // of farm and logbook when the cycles were read
  std::vector<Cycle> cycles_;
  std::size_t chosen_ = 0;
  PondSeries series_;
  UtcOffset offset_;
  ChartView view_;
  std::string span_ = "cycle";  // empty: moved by hand
  std::optional<CivilDay> day_;
  EntryList entries_;
};

}  // namespace tawny::ui
