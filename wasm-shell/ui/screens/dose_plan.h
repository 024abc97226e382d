// The first half of a dose walk: product, rate and sky; the plan; the checks; the cautions, confirmed once.
#pragma once

#include <optional>
#include <string>

#include "farm/walk.h"
#include "ui/app.h"

namespace tawny::ui {

class DosePlanPart {
 public:
  explicit DosePlanPart(std::string pond) : pond_(std::move(pond)) {}
  // Draws between the bars; starting the walk is a save, after which the pond has an open walk.
  void draw(App& app, Ui& ui, const FarmPond& pond);

 private:
  void begin(const App& app, const FarmPond& pond);
  void draw_choices(App& app, Ui& ui, const FarmPond& pond);
  void draw_plan(App& app, Ui& ui, const WalkPlan& plan);
  // True when nothing stands in the way of this person.
  bool draw_checks(App& app, Ui& ui);
  void draw_cautions(Ui& ui, const Product& product);
  void start_walk(App& app, const WalkPlan& plan, const FarmPond& pond);

  std::string pond_;
  bool begun_ = false;
  std::string product_;
  double rate_kg_ha_ = 0;
  std::optional<Sky> sky_;
  bool confirmed_ = false;
  std::string reason_;  // why the manager goes on although a check says stop
};

}  // namespace tawny::ui
