// The office on this device: what is stored here, taking the logbook out and bringing one in, set-up, about.
#include <algorithm>
#include <iterator>

#include "ui/screens/board.h"
#include "ui/screens/bring_in.h"
#include "ui/screens/devices.h"
#include "ui/screens/form.h"
#include "ui/screens/language.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"
#include "ui/screens/store_news.h"
#include "ui/screens/sync.h"
#include "ui/screens/take_out.h"

namespace tawny::ui {
namespace {

constexpr float kColumnGap = 24;

class AboutScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("about.title"));
    ui.begin_content("about");
    ui.text("about/what", words("about.what"));
    ui.fact("about/version", words("about.version"), app.boot().app_version);
    ui.gap(16);
    ui.heading("about/cautions", words("about.cautions"));
    for (const char* caution : {"about.caution.oxidizer", "about.caution.boat", "about.caution.bin",
                                "about.caution.gates", "about.caution.law", "about.caution.release"}) {
      ui.notice(caution, Tone::warn, words(caution));
      ui.gap(8);
    }
    ui.heading("about/sources", words("about.sources"));
    for (const char* source : {"about.source.sun", "about.source.salts", "about.source.pond",
                               "about.source.oxygen", "about.source.ammonia", "about.source.protocol"}) {
      ui.text(source, words(source));
      ui.gap(8);
    }
    ui.heading("about/disagree", words("about.disagree"));
    ui.text("about/disagree/text", words("about.disagree.text"));
    ui.gap(16);
    ui.heading("about/licences", words("about.licences"));
    ui.text("about/licences/text", words("about.licences.text"));
    ui.gap(8);
    if (ui.button("about/licences/read", words("about.licences.read"))) app.platform().show_licences();
    ui.gap(16);
    ui.end_content();
  }
};

// What else the office does, beside what this device holds: a row each, on the phone over the device's own
// things, on a laptop over the board.
struct OfficeWay {
  std::string_view id, icon, word, about;  // a word that fits beside the others on a laptop
  std::unique_ptr<Screen> (*make)();
};

constexpr OfficeWay kOfficeWays[] = {
    {"office/board", "ponds", "board.title", "", make_board_screen},
    {"office/questions", "guide", "questions.title", "", [] { return make_questions_screen(); }},
    {"office/plan", "rounds", "plan.title", "plan.about", make_plan_screen},
    {"office/stock", "scoop", "stock.title", "stock.short", make_stock_screen},
    {"office/report", "chart", "report.brief", "report.remark", [] { return make_report_screen(); }},
    {"office/things", "settings", "office.things", "", make_office_things_screen},
};

void draw_way(App& app, Ui& ui, const OfficeWay& way) {
  if (ui.button(way.id, ui.words()(way.word), ButtonKind::secondary, true, way.icon)) app.open(way.make());
}

// One of the ways that lead on from a card.
bool lead(Ui& ui, std::string_view id, std::string_view icon, std::string_view title, std::string_view remark,
          bool enabled = true) {
  Ui::Row row;
  row.icon = icon;
  row.title = title;
  row.remark = remark;
  row.enabled = enabled;
  return ui.row(id, row);
}

// On the phone they stand below one another, each with what it is for.
void draw_ways_down(App& app, Ui& ui) {
  const OfficeWay* chosen = nullptr;
  ui.begin_card("office/ways");
  for (const OfficeWay& way : kOfficeWays) {
    if (way.id == "office/things") continue;
    const bool has_ponds = !app.farm().ponds.empty();
    const std::string about = way.about.empty() ? "" : ui.words()(way.about);
    if (lead(ui, way.id, way.icon, ui.words()(way.word), about, has_ponds)) chosen = &way;
  }
  ui.end_card();
  ui.gap(16);
  if (chosen != nullptr) app.open(chosen->make());
}

// On a laptop the ways stand beside one another over the board.
void draw_ways_across(App& app, Ui& ui) {
  constexpr float kWayWidth = 210;
  const int count = static_cast<int>(std::size(kOfficeWays)) - 1;
  const int fit = static_cast<int>(ui.width() / (kWayWidth * ui.text_scale()));
  ui.begin_cells(std::clamp(fit, 1, count));
  bool first = true;
  for (const OfficeWay& way : kOfficeWays) {
    if (way.id == "office/board") continue;
    if (!first) ui.next_cell();
    first = false;
    draw_way(app, ui, way);
  }
  ui.end_cells();
  ui.gap(16);
}

class OfficeThings {
 public:
  // `ways`: with what else the office does on top.
  void draw(App& app, Ui& ui, bool ways) {
    ui.begin_content("office", 0, true);
    draw_alarm(app, ui);
    if (ways && app.farm().set_up) draw_ways_down(app, ui);
    draw_update(app, ui);
    ui.begin_cells(ui.columns(), kColumnGap);
    draw_device(app, ui);
    draw_sync(app, ui);
    draw_file(app, ui);
    ui.next_cell();
    draw_manager(app, ui);
    draw_set_up(app, ui);
    draw_light(app, ui);
    draw_demo(app, ui);
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
  }

 private:
  static void draw_alarm(App& app, Ui& ui) {
    const Words& words = ui.words();
    draw_store_state(app, ui, "office");
    if (draw_damage(app, ui, "office")) {
      if (ui.button("office/damage/out", words("office.out.share"), ButtonKind::secondary))
        take_out_bundle(app);
      ui.gap(8);
      if (ui.button("office/damage/in", words("office.in.pick"), ButtonKind::secondary, app.boot().writer)) {
        app.platform().pick_file();
      }
      ui.gap(16);
    }
    draw_little_room(app, ui, "office");
    draw_pen(app, ui);
    draw_trust_news(app, ui, "office", true);
    if (!app.alarm()) return;
    ui.notice("office/alarm", Tone::alarm, words(app.alarm()->message));
    ui.text("office/alarm/ways", words("witness.ways"));
    if (ui.button("office/new_id", words("witness.new_id"), ButtonKind::danger))
      app.platform().take_new_device_id();
    ui.gap(16);
  }

  static void draw_update(App& app, Ui& ui) {
    if (!app.update_waiting()) return;
    const Words& words = ui.words();
    ui.begin_card("office/update");
    ui.text("office/update/text", words("update.waiting"));
    if (ui.button("office/update/accept", words("update.accept"), ButtonKind::primary, !app.holds_unsaved())) {
      app.platform().accept_update();
    }
    ui.end_card();
    ui.gap(16);
  }

  void draw_device(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("office/device", words("office.device"));
    ui.begin_card("office/device/card");
    ui.fact("office/entries", words("office.entries"),
            words.number(static_cast<double>(app.logbook().size()), 0));
    const DeviceChain chain = app.logbook().chain_of(app.boot().device);
    ui.fact("office/own", words("office.own"), words.number(chain.last_number, 0));
    ui.fact("office/devices", words("office.devices"),
            words.number(static_cast<double>(app.logbook().devices().size()), 0));
    ui.status("office/offline", app.offline_ready() ? Status::done : Status::waiting,
              words(app.offline_ready() ? "office.offline.ready" : "office.offline.not_yet"));
    ui.status("office/persist", app.persisted() == "yes" ? Status::done : Status::unknown,
              words("office.persisted." + app.persisted()));
    if (app.quota_bytes() > 0) {
      ui.fact("office/space", words("office.space"),
              words(Message("office.space.value")
                        .with("used", Quantity{app.used_bytes() / 1e6, 1, "mb"})
                        .with("quota", Quantity{app.quota_bytes() / 1e6, 0, "mb"})));
    }
    ui.end_card();
    for (const Message& problem : app.farm().problems) {
      ui.gap(8);
      ui.notice("office/problem/" + problem.id, Tone::warn, words(problem));
    }
    int chain_fault = 0;
    if (checked_ != app.logbook().size()) {
      checked_ = app.logbook().size();
      chain_faults_ = app.logbook().check_chains();
    }
    for (const ChainProblem& fault : chain_faults_) {
      ui.gap(8);
      ui.notice("office/chain/" + std::to_string(++chain_fault), Tone::warn, words(fault.message));
      if (chain_fault == 5) break;
    }
    ui.gap(16);
  }

  void draw_file(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("office/file", words("office.file"));
    ui.begin_card("office/file/card");
    const bool take_out = lead(ui, "office/out/share", "share", words("office.out.share"),
                               words("office.out.about"), app.logbook().size() > 0);
    const bool table = lead(ui, "office/out/table", "logbook", words("office.out.table"),
                            words("office.out.table.about"), app.logbook().size() > 0);
    const bool lines = lead(ui, "office/out/lines", "note", words("office.out.lines"),
                            words("office.out.lines.about"), app.logbook().size() > 0);
    const bool bring_in = lead(ui, "office/in/pick", "import", words("office.in.pick"),
                               words("office.in.about"), app.boot().writer);
    ui.end_card();
    if (take_out) take_out_bundle(app);
    if (table) take_out_table(app);
    if (lines) take_out_lines(app);
    if (bring_in) {
      brought_in_.reset();
      app.platform().pick_file();
    }
    if (app.incoming() != nullptr) brought_in_ = app.incoming()->report().added;
    draw_incoming(app, ui);
    const bool is_done = app.incoming() == nullptr && app.news().state == SaveNews::State::saved;
    if (is_done && brought_in_) {
      ui.notice("office/in/done", Tone::open, words(Message("import.done").with("count", bare(*brought_in_))));
    }
    ui.gap(16);
  }

  static void draw_manager(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("office/manager", words("office.manager"));
    ui.begin_card("office/manager/card");
    if (lead(ui, "office/products", "flask", words("products.title"), words("products.short"))) {
      app.open(make_products_screen());
    }
    if (lead(ui, "office/protocol", "guide", words("limits.title"), words("limits.short"))) {
      app.open(make_protocol_screen());
    }
    ui.end_card();
    ui.gap(16);
  }

  static void draw_set_up(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("office/settings", words("office.settings"));
    const std::string holder = (app.person().empty() ? words("person.unknown") : app.person()) + " \u00b7 " +
                               words("role." + std::string(name_of(app.role())));
    const bool may = app.can_write();
    ui.begin_card("office/settings/card");
    if (lead(ui, "office/person", "person", words("office.person"), holder, may)) {
      app.open(make_person_setup_screen());
    }
    if (lead(ui, "office/devices/all", "person", words("devices.title"),
             words(Message("devices.count").with("count", bare(app.logbook().devices().size()))))) {
      app.open(make_devices_screen());
    }
    if (lead(ui, "office/farm", "settings", words("office.farm"), app.farm().name, may)) {
      app.open(make_farm_setup_screen());
    }
    if (lead(ui, "office/bin", "bin", words("office.bin"),
             words.quantity({app.farm().bin_limits.bin_volume_l, 0, "l"}), may)) {
      app.open(make_bin_setup_screen());
    }
    if (lead(ui, "office/pond", "plus", words("office.pond"),
             words(Message("pond.so_far").with("count", bare(app.farm().ponds.size()))), may)) {
      app.open(make_pond_setup_screen({}));
    }
    if (lead(ui, "office/reckon", "reckon", words("reckon.title"), words("reckon.title.about"))) {
      app.open(make_reckon_list_screen());
    }
    if (lead(ui, "office/lock", "settings", words("lock.title"),
             words(app.lock().is_set() ? "lock.title.on" : "lock.title.off"))) {
      app.open(make_lock_setup_screen());
    }
    if (lead(ui, "office/privacy", "note", words("privacy.title"), words("privacy.short"))) {
      app.open(make_privacy_screen());
    }
    if (lead(ui, "office/about", "note", words("about.title"), words("about.short"))) {
      app.open(std::make_unique<AboutScreen>());
    }
    ui.end_card();
    ui.gap(16);
  }

  static void draw_light(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("office/light", words("office.theme"));
    std::vector<Option> themes;
    for (const char* theme : {"auto", "day", "night"}) {
      themes.push_back({theme, words(std::string("theme.") + theme), {}, {}});
    }
    if (auto chosen = ui.choice("office/theme", "", themes, app.setting("theme", "auto"))) {
      app.set_setting("theme", *chosen);
    }
    ui.gap(16);
    draw_text_size_choice(app, ui);
    ui.gap(16);
    draw_language_choice(app, ui);
    ui.gap(16);
  }

  static void draw_demo(App& app, Ui& ui) {
    const Words& words = ui.words();
    ui.heading("office/demo/title", words("demo.title"));
    ui.begin_card("office/demo/card");
    if (!app.demo()) {
      if (lead(ui, "office/demo", "ponds", words("welcome.demo"), words("welcome.demo.about"))) {
        app.platform().switch_store("demo", true);
      }
      ui.end_card();
      return;
    }
    ui.text("office/demo/about", words("demo.about"), TextSize::body, Tone::quiet);
    ui.gap(8);
    if (ui.button("office/demo/leave", words("demo.leave"), ButtonKind::primary)) {
      app.platform().switch_store("own", false);
    }
    ui.gap(8);
    if (ui.button("office/demo/fresh", words("demo.fresh"), ButtonKind::quiet)) {
      app.platform().switch_store("demo", true);
    }
    ui.end_card();
  }

  std::optional<std::size_t> brought_in_;

  // A season's chains take too long to be looked through in every frame.
  std::vector<ChainProblem> chain_faults_;
  std::size_t checked_ = 0;  // entries, when they were
};

// The area: on a laptop the board, unless something about this device has to be seen first.
class OfficeScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    app.frame_bars(ui, ui.words()("office.title"));
    if (!ui.wide() || app.alarm() || app.farm().ponds.empty()) {
      things_.draw(app, ui, true);
      return;
    }
    // A file that came is asked about among the things of the device.
    if (app.incoming() != nullptr) app.open(make_office_things_screen());
    board_.draw(app, ui, [&] { draw_ways_across(app, ui); });
  }

 private:
  OfficeThings things_;
  BoardPart board_;
};

class OfficeThingsScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    app.frame_bars(ui, ui.words()("office.things"));
    things_.draw(app, ui, false);
  }

 private:
  OfficeThings things_;
};

}  // namespace

std::unique_ptr<Screen> make_office_screen() { return std::make_unique<OfficeScreen>(); }
std::unique_ptr<Screen> make_office_things_screen() { return std::make_unique<OfficeThingsScreen>(); }

}  // namespace tawny::ui
