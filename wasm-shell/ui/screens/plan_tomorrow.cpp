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
    for (const TomorrowOfPerson& one : tomorrow->persons) {
      draw_list(ui, "tomorrow/person/" + one.person, person_title(app, words, one), one.items);
    }
    for (const TomorrowList& list : tomorrow->lists) {
      draw_list(ui, "tomorrow/" + std::string(name_of(list.role)), role_title(words, list), list.items);
    }
    ui.end_content();
  }

 private:
  static std::string person_title(const App& app, const Words& words, const TomorrowOfPerson& one) {
    std::string ponds;
    for (const std::string& pond : one.ponds) ponds += (ponds.empty() ? "" : ", ") + pond_name(app, pond);
    return words(Message("tomorrow.person").with("person", Text{one.person}).with("ponds", Text{ponds}));
  }

  static void draw_list(Ui& ui, const std::string& id, const std::string& title,
                        const std::vector<TomorrowItem>& items) {
    const Words& words = ui.words();
    ui.heading(id, title);
    ui.begin_card(id + "/card");
    if (items.empty()) ui.text(id + "/nothing", words("tomorrow.nothing"), TextSize::body, Tone::quiet);
    int number = 0;
    for (const TomorrowItem& item : items) ui.point(id + "/" + std::to_string(++number), words(item.line));
    ui.end_card();
    ui.gap(16);
  }

  static std::string text_of(const App& app, const Words& words, const Tomorrow& tomorrow) {
    std::string text = app.farm().name + ", " + weekday_date(words, tomorrow.day) + "\n";
    const auto tell = [&](const std::string& title, const std::vector<TomorrowItem>& items) {
      if (items.empty()) return;
      text += "\n" + title + "\n";
      for (const TomorrowItem& item : items) text += "- " + words(item.line) + "\n";
    };
    for (const TomorrowOfPerson& one : tomorrow.persons) tell(person_title(app, words, one), one.items);
    for (const TomorrowList& list : tomorrow.lists) tell(role_title(words, list), list.items);
    return text;
  }

  PlanWork work_;
};

}  // namespace

std::unique_ptr<Screen> make_tomorrow_screen() { return std::make_unique<TomorrowScreen>(); }

}  // namespace tawny::ui
