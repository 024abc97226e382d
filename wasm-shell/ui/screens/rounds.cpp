// Rounds: what to do now, later today, what was missed and what is done, under the sun line of the day.
#include <algorithm>
#include <utility>

#include "ui/screens/parts.h"
#include "ui/screens/save_flow.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kIcon = 32;

void open_item(App& app, const DueItem& item) {
  switch (item.act) {
    case Act::dose:
      app.open(make_dose_walk_screen(item.pond));
      return;
    case Act::sign_release:
    case Act::decide_gate:
      app.open(make_gate_screen(item.pond));
      return;
    default:
      app.open(make_entry_screen(item.act, item.pond, item.detail));
      return;
  }
}

std::string act_line(const Words& words, const DueItem& item) {
  const std::string act = act_word(words, item.act);
  if (item.detail.empty()) return act;
  return words(Message("entry.act_detail").with("act", Text{act}).with("detail", Text{item.detail}));
}

// "until 07:10", "from 15:10", "today": only a window is worth a time.
std::string time_line(const Words& words, const DueItem& item) {
  switch (item.state) {
    case DueState::now:
      return item.window ? words(Message("rounds.until").with("until", item.until)) : words("rounds.today");
    case DueState::later:
      return words(Message("rounds.from").with("from", item.from).with("until", item.until));
    case DueState::overdue:
      return words("rounds.overdue");
    case DueState::missed:
      return words(Message("rounds.missed_at").with("until", item.until));
    case DueState::done:
      break;
  }
  return words("rounds.done");
}

class RoundsScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("rounds.title"));
    ui.begin_content("rounds");
    draw_app_notices(app, ui);
    if (app.demo()) ui.text("rounds/demo", words("rounds.demo"), TextSize::body, Tone::quiet);
    draw_act_left_behind(app, ui);
    if (!app.rounds()) {
      ui.notice("rounds/no_sun", Tone::warn,
                words(app.farm().ponds.empty() ? "rounds.no_ponds" : "rounds.no_sun"));
      ui.end_content();
      return;
    }
    const Rounds& rounds = *app.rounds();
    draw_sun(app, ui, rounds);
    draw_whose(app, ui);
    draw_open_walks(app, ui);
    const std::vector<DueItem> items = shown_items(app, rounds);
    const auto is_now = [](const DueItem& item) {
      return item.state == DueState::now || item.state == DueState::overdue;
    };
    if (std::any_of(items.begin(), items.end(), is_now)) {
      ui.heading("rounds/now", words("rounds.now"));
      for (const DueItem& item : items) {
        if (is_now(item)) draw_card(app, ui, item);
      }
    } else {
      draw_nothing_now(app, ui, items);
    }
    draw_group(app, ui, items, DueState::later, "rounds.later");
    draw_group(app, ui, items, DueState::missed, "rounds.missed");
    draw_group(app, ui, items, DueState::done, "rounds.done_title");
    ui.gap(16);
    ui.end_content();
  }

 private:
  // --- the day
  // -----------------------------------------------------------------------------------------------------

  static void draw_sun(App& app, Ui& ui, const Rounds& rounds) {
    const Words& words = ui.words();
    std::vector<SunLineTick> ticks;
    for (const DueItem& item : rounds.items) {
      // Ten ponds with the same work at the same time are one mark.
      const auto same = [&](const SunLineTick& tick) {
        return tick.at == item.from && tick.state == item.state;
      };
      if (item.window && std::none_of(ticks.begin(), ticks.end(), same)) {
        ticks.push_back(SunLineTick{item.from, item.state});
      }
    }
    const SunDay& sun = rounds.today.sun;
    const std::string day = words(Message("rounds.sun")
                                      .with("sunrise", Text{words.clock(sun.sunrise)})
                                      .with("noon", Text{words.clock(sun.solar_noon)})
                                      .with("sunset", Text{words.clock(sun.sunset)}));
    const std::string name =
        words(Message("rounds.sun_line").with("day", Text{day}).with("now", Text{words.clock(app.now())}));
    draw_sun_line(ui, ui.picture("rounds/sun_line", name, kSunLineHeight), rounds.today, app.now(), ticks);
    ui.text("rounds/sun", day, TextSize::body, Tone::quiet);
    ui.gap();
  }

  // --- whose work
  // --------------------------------------------------------------------------------------------------

  static bool all_work(const App& app) {
    return app.setting("rounds.whose", app.role() == Role::manager ? "all" : "mine") == "all";
  }

  static void draw_whose(App& app, Ui& ui) {
    const Words& words = ui.words();
    std::vector<Option> options(2);
    options[0].id = "mine";
    options[0].label = words("rounds.my_work");
    options[1].id = "all";
    options[1].label = words("rounds.all_work");
    const auto pressed = ui.choice("rounds/whose", "", options, options[all_work(app) ? 1 : 0].id);
    if (pressed) app.set_setting("rounds.whose", *pressed == options[1].id ? "all" : "mine");
    ui.gap();
  }

  static std::vector<DueItem> shown_items(const App& app, const Rounds& rounds) {
    std::vector<DueItem> items;
    for (const DueItem& item : rounds.items) {
      if (all_work(app) || item.role == app.role()) items.push_back(item);
    }
    return items;
  }

  // --- cards
  // -------------------------------------------------------------------------------------------------------

  static void draw_open_walks(App& app, Ui& ui) {
    const Words& words = ui.words();
    for (const FarmPond& pond : app.farm().ponds) {
      if (!pond.state.open_walk) continue;
      const DoseWalk& walk = *pond.state.open_walk;
      const std::string id = "walk/" + pond.history.pond.id;
      const int bin = std::min(static_cast<int>(walk.spread.size()) + 1, walk.bins);
      const std::string go_on = words(Message("rounds.go_on")
                                          .with("bin", Quantity{static_cast<double>(bin), 0, ""})
                                          .with("bins", Quantity{static_cast<double>(walk.bins), 0, ""}));
      ui.begin_card(id, go_on + ", " + pond.history.pond.name);
      const Rect picture = ui.begin_beside(kIcon, kIcon);
      ui.icon("bin", picture, ui.colour(Tone::act));
      ui.text(id + "/go_on", go_on, TextSize::lead, Tone::act, true);
      ui.text(id + "/pond", pond.history.pond.name);
      ui.end_beside();
      if (ui.end_card()) app.open(make_dose_walk_screen(pond.history.pond.id));
      ui.gap();
    }
  }

  static std::string card_id(const DueItem& item) {
    std::string id = "due/" + item.pond + "/" + std::string(name_of(item.act));
    if (!item.detail.empty()) id += "/" + item.detail;
    if (item.window) id += "/" + std::string(name_of(*item.window));
    return id;
  }

  void draw_card(App& app, Ui& ui, const DueItem& item) const {
    const Words& words = ui.words();
    const std::string id = card_id(item);
    const std::string pond = pond_name(app, item.pond);
    const std::string act = act_line(words, item);
    const std::string time = time_line(words, item);
    ui.begin_card(id, pond + ", " + act + ", " + time);
    const Rect picture = ui.begin_beside(kIcon, kIcon);
    ui.icon(act_icon(item.act), picture, ui.colour(item.state == DueState::overdue ? Tone::warn : Tone::act));
    ui.text(id + "/pond", pond, TextSize::lead, Tone::ink, true);
    ui.text(id + "/act", act);
    ui.status(id + "/status", status_of(item.state), time);
    ui.text(id + "/why", words(item.why), TextSize::body, Tone::quiet);
    ui.end_beside();
    if (ui.end_card()) open_item(app, item);
    ui.gap();
  }

  // What is done is one line: who wants more finds it in the logbook.
  static void draw_done(App& app, Ui& ui, const DueItem& item) {
    const Words& words = ui.words();
    const std::string id = card_id(item);
    const std::string pond = pond_name(app, item.pond);
    const Entry* entry = item.done_by ? app.logbook().find(to_reference(*item.done_by)) : nullptr;
    std::string value = act_line(words, item);
    if (entry != nullptr) {
      value = words(Message("rounds.done_line")
                        .with("act", Text{value})
                        .with("value", Text{brief_of(words, *entry)})
                        .with("at", entry->observed));
    }
    ui.begin_card(id, pond + ", " + value);
    ui.status(id + "/status", Status::done, pond);
    ui.text(id + "/value", value, TextSize::body, Tone::quiet);
    if (ui.end_card() && entry != nullptr) app.open(make_logbook_entry_screen(to_reference(*item.done_by)));
    ui.gap();
  }

  void draw_group(App& app, Ui& ui, const std::vector<DueItem>& items, DueState state,
                  std::string_view title) const {
    bool any = false;
    for (const DueItem& item : items) {
      if (item.state != state) continue;
      if (!any) {
        ui.gap();
        ui.heading(title, ui.words()(title));
      }
      any = true;
      if (state == DueState::done) {
        draw_done(app, ui, item);
      } else {
        draw_card(app, ui, item);
      }
    }
  }

  // Nothing to do is an answer too: it says what comes next, and when.
  static void draw_nothing_now(App& app, Ui& ui, const std::vector<DueItem>& items) {
    const Words& words = ui.words();
    ui.heading("rounds/nothing", words("rounds.nothing"));
    const DueItem* next = nullptr;
    for (const DueItem& item : items) {
      if (item.state == DueState::later && (next == nullptr || item.from < next->from)) next = &item;
    }
    if (next != nullptr) {
      ui.text("rounds/next", words(Message("rounds.next")
                                       .with("act", Text{act_line(words, *next)})
                                       .with("pond", Text{pond_name(app, next->pond)})
                                       .with("from", next->from)));
      return;
    }
    const CivilDay tomorrow = app.rounds()->today.day.plus(1);
    const Result<DayWindows> windows = windows_of(tomorrow, app.farm().place, app.protocol());
    if (windows) ui.text("rounds/next", words(Message("rounds.next_dawn").with("from", windows->dawn.from)));
  }
};

}  // namespace

std::unique_ptr<Screen> make_rounds_screen() { return std::make_unique<RoundsScreen>(); }

}  // namespace tawny::ui
