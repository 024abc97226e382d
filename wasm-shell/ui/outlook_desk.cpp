#include "ui/outlook_desk.h"

#include <utility>

#include "base/decimal.h"
#include "ui/app.h"

namespace tawny::ui {
namespace {

std::string key_of(const FarmPond& pond, const std::optional<DoseInMind>& dose) {
  std::string key = pond.history.pond.id;
  // A word never holds a line's end.
  if (dose) key += "\n" + dose->product + "\n" + format_decimal(dose->rate_kg_ha, 6);
  return key;
}

}  // namespace

std::optional<Problem> OutlookDesk::read_priors(std::string_view json) {
  Result<OutlookPriors> priors = parse_outlook_priors(json);
  if (!priors) return priors.error();
  lessons_.begin(*std::move(priors));
  return std::nullopt;
}

const OutlookDesk::Look& OutlookDesk::look(const App& app, const FarmPond& pond,
                                           const std::optional<DoseInMind>& dose) {
  Job& job = jobs_[key_of(pond, dose)];
  job.asked = true;
  if (job.fold != app.folds()) refresh(app, pond, dose, job);
  return job.look;
}

void OutlookDesk::refresh(const App& app, const FarmPond& pond, const std::optional<DoseInMind>& dose,
                          Job& job) const {
  const CivilDay day = civil_day(app.now(), app.farm().place.offset);
  Result<PondOutlook> asked =
      pond_outlook(app.farm(), pond, app.protocol(), app.products(), priors(), dose, app.now());
  const bool same = job.fold >= 0 && job.day == day && job.entries == app.logbook().size() && asked &&
                    !job.look.problem && job.look.rules == asked->rules;
  job.fold = app.folds();
  if (same) return;
  job.day = day;
  job.entries = app.logbook().size();
  job.run.reset();
  job.look = Look{};
  if (!asked) {
    job.look.problem = asked.error();
    return;
  }
  job.look.rules = asked->rules;
  job.look.days = asked->record.days;
  for (const BloomDay& one : job.look.days) {
    if (one.secchi && !one.secchi->more_than) ++job.look.readings;
  }
  // Of a dose that may not be given, or of a pond that is hardly known, there is nothing to tell.
  const bool silent = dose && (!asked->rules.least_kg_ha || job.look.readings < priors().readings_enough);
  job.record = silent ? BloomRecord{} : std::move(asked->record);
}

const std::map<std::string, DawnOutlook, std::less<>>& OutlookDesk::dawns(const App& app) {
  if (dawn_fold_ == app.folds()) return dawns_;
  dawn_fold_ = app.folds();
  dawns_.clear();
  for (const FarmPond& pond : app.farm().ponds) {
    if (!pond.state.in_cycle || pond.state.finished || pond.state.unsupported) continue;
    const auto dawn = dawn_outlook(pond.history, pond.state, protocol_of(pond, app.protocol(), app.now()),
                                   app.farm().place, priors(), app.now());
    if (dawn) dawns_.emplace(pond.history.pond.id, *dawn);
  }
  return dawns_;
}

void OutlookDesk::work(const App& app, Platform& platform) {
  const double began_ms = platform.steady_ms();
  bool time_left = true;
  working_ = false;
  for (auto& [key, job] : jobs_) {
    if (!std::exchange(job.asked, false)) {
      job.run.reset();
      job.look.done_share = job.look.outlook ? 1 : 0;
      continue;
    }
    if (job.look.problem || job.look.outlook || job.record.days.empty()) continue;
    while (!lessons_.is_learned(app) && time_left) {
      lessons_.step(app);
      time_left = platform.steady_ms() - began_ms < kSliceMs;
    }
    if (!job.run && time_left)
      job.run.emplace(job.record, job.look.rules, lessons_.priors(), app.farm().place, OutlookRun::Size{});
    bool done = false;
    while (!done && time_left) {
      done = job.run->step();
      time_left = platform.steady_ms() - began_ms < kSliceMs;
    }
    if (!done) {
      working_ = true;
      if (job.run) job.look.done_share = job.run->done_share();
      continue;
    }
    job.look.outlook = job.run->outlook();
    job.look.done_share = 1;
    job.run.reset();
    // The frame that shows it.
    working_ = true;
  }
}

void OutlookDesk::forget() {
  jobs_.clear();
  lessons_.forget();
  dawns_.clear();
  dawn_fold_ = -1;
  working_ = false;
}

}  // namespace tawny::ui
