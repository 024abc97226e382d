// The app's forecasts: made for the ponds that the screen in view asks about, a few milliseconds in each frame,
// and kept until the logbook, the day or what the protocol allows changes.
//
//   look()   from a screen, in each frame in which it shows a forecast: what is known so far
//   work()   from the App, at the end of each frame: once the farm's finished cycles are learned from, steps of
//            what was asked for in this frame, one forecast after the other; an unfinished one that nobody
//            asked for is given up
//
// Nothing is worked on, and no frame wanted, while no screen asks. A finished forecast is the same however its
// steps fell into frames (core/outlook/outlook.h).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "office/pond_outlook.h"
#include "outlook/dawn_outlook.h"
#include "ui/farm_lessons.h"
#include "ui/platform.h"

namespace tawny::ui {

class App;

class OutlookDesk {
 public:
  struct Look {
    std::optional<Problem> problem;  // nothing can be forecast
    OutlookRules rules;
    std::vector<BloomDay> days;  // what the forecast knows
    std::size_t readings = 0;    // days with a measured depth among them
    double done_share = 0;
    std::optional<Outlook> outlook;  // once all is done
  };

  // Refuses what parse_outlook_priors() refuses; nothing is forecast then.
  std::optional<Problem> read_priors(std::string_view json);
  const OutlookPriors& priors() const { return lessons_.published(); }

  // Good until the next work(). `dose`: instead of the least and the most.
  const Look& look(const App& app, const FarmPond& pond, const std::optional<DoseInMind>& dose = {});

  // The coming sunrise of each pond in a cycle that can be told, once for a fold.
  const std::map<std::string, DawnOutlook, std::less<>>& dawns(const App& app);

  void work(const App& app, Platform& platform);
  bool is_working() const { return working_; }
  void forget();

  // So long a frame's work may take; a step that has begun is finished.
  static constexpr double kSliceMs = 4;

 private:
  struct Job {
    Look look;
    int fold = -1;  // in which its stand was last looked at
    CivilDay day;
    std::size_t entries = 0;
    BloomRecord record;  // of which a forecast is made; empty where none is
    std::optional<OutlookRun> run;
    bool asked = false;
  };
  void refresh(const App& app, const FarmPond& pond, const std::optional<DoseInMind>& dose, Job& job) const;

  FarmLessons lessons_;
  std::map<std::string, Job> jobs_;
  bool working_ = false;
  int dawn_fold_ = -1;
  std::map<std::string, DawnOutlook, std::less<>> dawns_;
};

}  // namespace tawny::ui
