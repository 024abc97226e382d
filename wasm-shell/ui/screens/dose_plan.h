// The first half of a dose walk: the plan; product, rate and sky; the checks; the cautions, confirmed once.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "farm/walk.h"
#include "ui/app.h"
#include "ui/screens/cautions.h"
#include "ui/screens/findings.h"

namespace tawny::ui {

class DosePlanPart {
 public:
  explicit DosePlanPart(std::string pond) : pond_(std::move(pond)) {}
  // Draws between the bars; starting the walk is a save, after which the pond has an open walk.
  void draw(App& app, Ui& ui, const FarmPond& pond);

 private:
  void begin(const App& app, const FarmPond& pond);
  void draw_question(App& app, Ui& ui, const FarmPond& pond);
  void draw_choices(App& app, Ui& ui, const FarmPond& pond);
  void draw_plan(App& app, Ui& ui, const WalkPlan& plan);
  // True when nothing stands in the way of this person.
  bool draw_checks(App& app, Ui& ui);
  void draw_expected(App& app, Ui& ui, const FarmPond& pond) const;
  static void draw_details(Ui& ui, const WalkPlan& plan);
  // Of the product chosen; empty where there is none.
  std::vector<std::string> cautions(const App& app) const;
  void start_walk(App& app, const WalkPlan& plan, const FarmPond& pond);
  Draft start_draft(const App& app, const WalkPlan& plan, const FarmPond& pond) const;
  // The manager has given a reason to go on although something says stop.
  bool overrides(const App& app) const;

  std::string pond_;
  bool begun_ = false;
  std::string product_;
  double rate_kg_ha_ = 0;
  std::optional<Sky> sky_;
  CautionsPart cautions_;
  bool stopped_ = false;  // a check says stop
  std::string reason_;    // why the manager goes on although a check says stop
  std::string walk_;      // the name that the walk will have
  FindingsPart findings_;
};

}  // namespace tawny::ui
