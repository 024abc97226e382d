// A filling as it stands on its screen: what was chosen, what the farm knows, and the plan that follows. The
// plan is reckoned anew only when something it rests on has changed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/pond_filling.h"
#include "science/screens.h"
#include "ui/app.h"

namespace tawny::ui {

enum class FillingWhen { now, start_at, ready_by };

// What the person chose; nothing stands for what the farm knows or the protocol says.
struct FillingChoice {
  std::optional<Stage> fill;
  std::optional<double> from_cm, to_cm;
  std::optional<double> evaporation_mm_d, seepage_mm_d, rain_mm_d;
  FillingWhen when = FillingWhen::now;
  std::optional<Instant> moment;  // of start_at and ready_by
};

struct FillingBasis {
  Protocol protocol;
  FillTarget target;
  double from_cm = 0, to_cm = 0;
  std::optional<Instant> read_at;  // of the reading that from_cm is; nothing: typed, or taken as dry
  FillingSetup setup;
  std::vector<ScreenDue> screens;
};

struct InletNeed {
  std::string inlet;
  double largest_flow_l_s = 0;
  std::optional<double> cloth_m2;  // nothing: no water comes through it
};

struct FillingAnswer {
  Instant start;
  std::optional<FillingPlan> plan;
  std::optional<Problem> problem;  // why there is no plan
  std::vector<InletNeed> needs;
};

class FillingWork {
 public:
  // False where the pond's shape is not known, so that there is nothing to plan.
  bool update(const App& app, const FarmPond& pond, const FillingChoice& choice);
  const FillingBasis& basis() const { return *basis_; }
  // Nothing as long as a start or an end is still to be chosen.
  const std::optional<FillingAnswer>& answer() const { return answer_; }

 private:
  bool take_basis(const App& app, const FarmPond& pond, const FillingChoice& choice);
  void reckon(const StageCurve& curve, Instant now, const FillingChoice& choice);

  std::optional<FillingBasis> basis_;
  std::optional<FillingAnswer> answer_;
  std::vector<double> basis_rests_on_, answer_rests_on_;
};

}  // namespace tawny::ui
