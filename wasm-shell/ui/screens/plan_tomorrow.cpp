// Tomorrow's list, by part of the crew; and the same as a text that can be handed to a phone.
#include "ui/screens/parts.h"
#include "ui/screens/plan_work.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

std::string role_title(const Words& words, const TomorrowList& list) {
  std::string title = capitalised(words("role." + std::string(name_of(list.role))));
  std::string people;
  for (const std::string& person : list.people) people += (people.empty() ? "" : ", ") + person;
  return people.empty() ? title : title + ": " + people;
}

class TomorrowScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    work_.refresh(app);
    app.frame_bars(ui, words("plan.tomorrow"));
    ui.begin_content("tomorrow", 0, true);
    const std::optional<Tomorrow>& tomorrow = work_.tomorrow(app);
    if (!tomorrow) {
      ui.notice("tomorrow/none", Tone::quiet, words("tomorrow.no_sun"));
      ui.end_content();
      return;
    }
    ui.text("tomorrow/day", weekday_date(words, tomorrow->day), TextSize::title);
    ui.text("tomorrow/about", words("tomorrow.about"), TextSize::body, Tone::quiet);
    ui.gap(8);
    if (ui.button("tomorrow/share", words("tomorrow.share"), ButtonKind::secondary, true, "share")) {
      app.platform().share_file("tawny-" + to_iso(tomorrow->day) + ".txt", text_of(app, words, *tomorrow));
    }
    ui.gap(16);
    for (const TomorrowList& list : tomorrow->lists) {
      const std::string id = "tomorrow/" + std::string(name_of(list.role));
      ui.heading(id, role_title(words, list));
      ui.begin_card(id + "/card");
      if (list.items.empty()) ui.text(id + "/nothing", words("tomorrow.nothing"), TextSize::body, Tone::quiet);
      int number = 0;
      for (const TomorrowItem& item : list.items) {
        ui.point(id + "/" + std::to_string(++number), words(item.line));
      }
      ui.end_card();
      ui.gap(16);
    }
    ui.end_content();
  }

 private:
  static std::string text_of(const App& app, const Words& words, const Tomorrow& tomorrow) {
    std::string text = app.farm().name + ", " + weekday_date(words, tomorrow.day) + "\n";
    for (const TomorrowList& list : tomorrow.lists) {
      if (list.items.empty()) continue;
      text += "\n" + role_title(words, list) + "\n";
      for (const TomorrowItem& item : list.items) text += "- " + words(item.line) + "\n";
    }
    return text;
  }

  PlanWork work_;
};

}  // namespace

std::unique_ptr<Screen> make_tomorrow_screen() { return std::make_unique<TomorrowScreen>(); }

}  // namespace tawny::ui
