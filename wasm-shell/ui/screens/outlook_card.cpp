#include "ui/screens/outlook_card.h"

#include <algorithm>

#include "outlook/outlook_says.h"
#include "ui/screens/outlook_plot.h"
#include "ui/screens/parts.h"

namespace tawny::ui {

void OutlookCard::draw(App& app, Ui& ui, const FarmPond& pond) {
  const Words& words = ui.words();
  // Before the first reading of the level there is nothing to look ahead to.
  if (!pond.state.in_cycle || pond.state.finished || !pond.state.level_cm) return;
  ui.gap(16);
  ui.heading("outlook", words("outlook.title"));
  draw_bloom(app, ui, pond);
  const auto& dawns = app.outlooks().dawns(app);
  const auto dawn = dawns.find(pond.history.pond.id);
  if (dawn == dawns.end()) return;
  ui.gap(16);
  ui.heading("outlook/dawn/title", words("outlook.dawn.title"), 3);
  draw_dawn(ui, "outlook/dawn", dawn->second, app.outlooks().priors());
}

void OutlookCard::draw_bloom(App& app, Ui& ui, const FarmPond& pond) {
  const Words& words = ui.words();
  const OutlookDesk::Look& look = app.outlooks().look(app, pond);
  if (look.problem) {
    ui.text("outlook/problem", words(look.problem->message), TextSize::body, Tone::quiet);
    return;
  }
  if (!look.outlook) {
    ui.text("outlook/working", words("outlook.working"), TextSize::body, Tone::quiet);
    return;
  }
  if (look.outlook->advice) {
    draw_advice(app, ui, pond, look);
  } else {
    draw_no_advice(ui, look, app.outlooks().priors());
  }
  ui.gap();
  ui.text("outlook/tally", words(tally_message(look.outlook->score)), TextSize::body, Tone::quiet);
}

void OutlookCard::draw_advice(App& app, Ui& ui, const FarmPond& pond, const OutlookDesk::Look& look) {
  const Words& words = ui.words();
  const OutlookPriors& priors = app.outlooks().priors();
  const Outlook& outlook = *look.outlook;
  dose_ = std::min(dose_, outlook.doses.size() - 1);
  if (outlook.doses.size() > 1) {
    std::vector<Option> options;
    for (std::size_t i = 0; i < outlook.doses.size(); ++i) {
      options.push_back({"dose/" + std::to_string(i), dose_word(words, outlook.doses[i]), {}, {}});
    }
    if (const auto chosen = ui.choice("outlook", words("outlook.dose"), options, options[dose_].id)) {
      for (std::size_t i = 0; i < options.size(); ++i) {
        if (options[i].id == *chosen) dose_ = i;
      }
    }
    ui.gap();
  }
  const DoseOutlook& dose = outlook.doses[dose_];
  ui.text("outlook/band", words(band_message(dose, look.rules, priors)), TextSize::lead, Tone::ink, true);
  ui.text("outlook/risk", words(risk_message(dose, look.rules, priors)), TextSize::body,
          risk_of(dose.most_under_floor, priors) == RiskClass::high ? Tone::warn : Tone::ink);
  ui.gap();
  const Rect where = ui.picture("outlook/chart", outlook_summary(look, dose, words), plot_height(ui));
  draw_plot(ui, where, outlook_plot(look, dose, app.farm().place.offset, ui.theme(), words));
  draw_plot_keys(ui, "outlook/keys", outlook_keys(look, ui.theme(), words));
  draw_days(ui, dose);
  ui.gap();
  if (const auto suggestion = suggestion_message(outlook)) ui.text("outlook/suggestion", words(*suggestion));
  ui.text("outlook/protocol", words(protocol_message(pond.state.dose)), TextSize::body, Tone::ink, true);
}

void OutlookCard::draw_days(Ui& ui, const DoseOutlook& dose) {
  const Words& words = ui.words();
  ui.gap();
  ui.begin_card("outlook/days/card");
  Ui::Row row;
  row.title = words("outlook.days");
  row.unfolds = true;
  row.unfolded = days_shown_;
  if (ui.row("outlook/days", row)) days_shown_ = !days_shown_;
  if (days_shown_) {
    for (const SecchiForecast& day : dose.days) {
      ui.fact("outlook/day/" + to_iso(day.day), capitalised(words.day(day.day)), words(day_message(day)));
    }
  }
  ui.end_card();
}

void OutlookCard::draw_no_advice(Ui& ui, const OutlookDesk::Look& look, const OutlookPriors& priors) {
  const Words& words = ui.words();
  ui.text("outlook/no_advice", words("outlook.no_advice"), TextSize::lead, Tone::ink, true);
  if (const auto why = no_advice_message(*look.outlook, look.readings, priors)) {
    ui.text("outlook/why", words(*why));
  }
  if (const auto helps = helps_message(*look.outlook)) ui.text("outlook/helps", words(*helps));
}

void draw_dawn(Ui& ui, std::string_view id, const DawnOutlook& dawn, const OutlookPriors& priors) {
  const Words& words = ui.words();
  const std::string name(id);
  ui.text(name + "/oxygen", words(dawn_message(dawn)));
  const std::string risk = words(dawn_risk_message(dawn));
  if (!is_dawn_at_risk(dawn, priors)) {
    ui.text(name + "/risk", risk, TextSize::body, Tone::quiet);
    return;
  }
  ui.notice(name + "/risk", Tone::warn, risk);
  ui.gap();
  int number = 0;
  for (const Message& check : dawn_checks(dawn)) {
    ui.point(name + "/check/" + std::to_string(++number), words(check));
  }
}

void draw_booked_outlook(App& app, Ui& ui, const std::string& id, const BookingPlan& booked, CivilDay today) {
  const Words& words = ui.words();
  const int ahead = booked.booking.deliver_on.days - today.days;
  const FarmPond* pond = app.farm().pond(booked.booking.pond);
  const bool of_this_cycle =
      !booked.new_cycle && (booked.state == BookingState::planned || booked.state == BookingState::ready);
  if (pond == nullptr || !of_this_cycle || ahead < 1 || ahead > kOutlookDays) return;
  const OutlookDesk::Look& look = app.outlooks().look(app, *pond);
  if (look.problem) return;
  if (!look.outlook) {
    ui.text(id, words("outlook.working"), TextSize::body, Tone::quiet);
    return;
  }
  const auto said = booked_day_message(*look.outlook, booked.booking.deliver_on);
  if (!said) return;
  ui.text(id, words(*said));
  ui.text(id + "/about", words("outlook.booked.about"), TextSize::body, Tone::quiet);
}

}  // namespace tawny::ui
