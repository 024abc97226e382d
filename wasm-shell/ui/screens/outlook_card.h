// Looking ahead on a pond's page: the forecast of its bloom with each dose, what the protocol says to that, and
// the oxygen of the coming dawn.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "office/plan.h"
#include "ui/app.h"

namespace tawny::ui {

class OutlookCard {
 public:
  void draw(App& app, Ui& ui, const FarmPond& pond);

 private:
  void draw_bloom(App& app, Ui& ui, const FarmPond& pond);
  void draw_advice(App& app, Ui& ui, const FarmPond& pond, const OutlookDesk::Look& look);
  static void draw_no_advice(Ui& ui, const OutlookDesk::Look& look, const OutlookPriors& priors);
  void draw_days(Ui& ui, const DoseOutlook& dose);

  std::size_t dose_ = 0;  // of the forecast's
  bool days_shown_ = false;
};

// The coming dawn's oxygen; what to do where it may be low.
void draw_dawn(Ui& ui, std::string_view id, const DawnOutlook& dawn, const OutlookPriors& priors);

// The water of a booked day that is near enough to be forecast, beside the plan's own chance: that one counts
// the stages' days, this one looks at the water. Draws nothing where there is no forecast of that day.
void draw_booked_outlook(App& app, Ui& ui, const std::string& id, const BookingPlan& booked, CivilDay today);

}  // namespace tawny::ui
