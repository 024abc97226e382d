// First run: set up a farm, look at the demo, or join a farm by a file from another phone. Then who holds this
// phone.
#include "logbook/kinds.h"
#include "protocol/windows.h"
#include "ui/screens/bring_in.h"
#include "ui/screens/form.h"
#include "ui/screens/language.h"
#include "ui/screens/screens.h"
#include "ui/screens/store_news.h"
#include "ui/screens/sync.h"

namespace tawny::ui {
namespace {

constexpr float kArt = 64;

class WelcomeScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    ui.top_bar(words("app.name"), false);
    ui.begin_content("welcome");
    ui.gap(8);
    const Rect art = ui.picture("welcome/art", words("welcome.art"), kArt);
    ui.icon("app", Rect{art.x, art.y, kArt, kArt}, ui.theme().act);
    ui.gap(8);
    ui.heading("welcome/title", words("welcome.title"), 1);
    ui.text("welcome/what", words("welcome.what"));
    ui.gap(8);
    draw_language_choice(app, ui);
    ui.gap(8);
    draw_text_size_choice(app, ui);
    ui.gap(8);
    ui.notice("welcome/install", Tone::quiet, words("welcome.install"));
    ui.gap(8);
    draw_store_state(app, ui, "welcome");
    if (!app.can_write()) ui.notice("welcome/pen", Tone::warn, words("store.cannot_write"));
    if (app.alarm()) {
      ui.notice("welcome/alarm", Tone::alarm, words(app.alarm()->message));
      ui.text("welcome/alarm/ways", words("witness.ways"));
      if (ui.button("welcome/new_id", words("witness.new_id"), ButtonKind::danger)) {
        app.platform().take_new_device_id();
      }
      ui.gap(16);
    }
    if (ui.button("welcome/own", words("welcome.own"), ButtonKind::primary, app.can_write())) {
      app.open(make_farm_setup_screen());
    }
    ui.gap(8);
    if (ui.button("welcome/demo", words("welcome.demo"))) app.platform().switch_store("demo", true);
    ui.text("welcome/demo/about", words("welcome.demo.about"), TextSize::body, Tone::quiet);
    ui.gap(16);
    if (app.has_depot()) {
      draw_sync(app, ui);
    } else if (ui.button("welcome/depot", words("sync.connect"), ButtonKind::secondary, app.can_write())) {
      app.open(make_depot_setup_screen());
    }
    ui.text("welcome/depot/about", words("welcome.depot.about"), TextSize::body, Tone::quiet);
    ui.gap(16);
    if (ui.button("welcome/join", words("welcome.join"), ButtonKind::secondary)) app.platform().pick_file();
    ui.text("welcome/join/about", words("welcome.join.about"), TextSize::body, Tone::quiet);
    draw_incoming(app, ui, [&app] { app.show_first_screen(); });
    ui.gap(16);
    ui.end_content();
  }
};

class PersonSetupScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) {
      started_ = true;
      name_ = app.person();
      role_ = name_of(app.role());
    }
    app.frame_bars(ui, words("person.title"));
    begin_form(app, ui, "person");
    draw_person_fields(ui, name_, role_);
    ui.end_content();
    if (save_footer(app, ui, words("form.save"), !name_.empty())) {
      Draft draft;
      draft.kind = kind::kDeviceSetup;
      draft.who = name_;
      draft.values = {{"person", name_}, {"role", role_}};
      app.put({std::move(draft)}, [&app] { app.show_first_screen(); });
    }
  }

  static void draw_person_fields(Ui& ui, std::string& name, std::string& role) {
    const Words& words = ui.words();
    if (auto typed =
            ui.text_field("person/name", words("form.person"), name, words("form.person.hint"), "name", 40)) {
      name = *typed;
    }
    ui.gap(8);
    std::vector<Option> roles;
    for (const Role each : {Role::worker, Role::technician, Role::manager}) {
      Option option;
      option.id = name_of(each);
      option.label = words("role." + option.id);
      roles.push_back(std::move(option));
    }
    if (auto chosen = ui.choice("person/role", words("form.role"), roles, role)) role = *chosen;
    ui.text("person/role/about", words("role." + role + ".about"), TextSize::body, Tone::quiet);
  }

 private:
  bool started_ = false;
  std::string name_;
  std::string role_ = "technician";
};

class FarmSetupScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    if (!started_) start(app);
    if (app.position()) {
      latitude_.value = app.position()->first;
      longitude_.value = app.position()->second;
      app.position().reset();
    }
    app.frame_bars(ui, words("farm.title"));
    begin_form(app, ui, "farm");
    if (auto typed = ui.text_field("farm/name", words("form.farm_name"), name_, words("form.farm_name.hint"),
                                   "name", 40)) {
      name_ = *typed;
    }
    ui.gap(16);
    ui.heading("farm/position", words("farm.position"));
    ui.text("farm/position/about", words("farm.position.about"), TextSize::body, Tone::quiet);
    if (ui.button("farm/locate", words("farm.locate"))) app.platform().ask_position();
    ui.gap(8);
    number_field(app, ui, latitude_);
    ui.gap(8);
    number_field(app, ui, longitude_);
    ui.gap(8);
    number_field(app, ui, offset_h_);
    draw_sun(app, ui);
    ui.gap(16);
    if (!already_set_up_) {
      ui.heading("farm/person", words("farm.person"));
      PersonSetupScreen::draw_person_fields(ui, person_, role_);
    }
    if (problem_) ui.notice("farm/problem", Tone::alarm, words(problem_->message));
    ui.end_content();
    const std::string_view needs = still_needed();
    const std::string_view label = needs.empty() ? (already_set_up_ ? "form.save" : "form.next") : needs;
    if (save_footer(app, ui, words(label), needs.empty())) save(app);
  }
  bool holds_unsaved() const override { return !name_.empty(); }

 private:
  void start(App& app) {
    started_ = true;
    already_set_up_ = app.farm().set_up;
    offset_h_.value = app.boot().utc_offset_min / 60.0;
    if (!already_set_up_) return;
    name_ = app.farm().name;
    latitude_.value = app.farm().place.latitude_deg;
    longitude_.value = app.farm().place.longitude_deg;
    offset_h_.value = app.farm().place.offset.minutes / 60.0;
  }

  // The word of the first thing that is missing; empty when nothing is.
  std::string_view still_needed() const {
    if (name_.empty()) return "farm.needs.name";
    if (!latitude_.value || !longitude_.value || !offset_h_.value) return "farm.needs.position";
    if (!already_set_up_ && person_.empty()) return "farm.needs.person";
    return {};
  }

  Draft farm_draft() const {
    Draft farm;
    farm.kind = kind::kFarmSetup;
    farm.values = {{"name", name_},
                   {"latitude_deg", *latitude_.value},
                   {"longitude_deg", *longitude_.value},
                   {"utc_offset_min", *offset_h_.value * 60.0}};
    return farm;
  }

  // Everybody knows when the sun rises: a wrong sign or a clock set wrong is seen at once.
  void draw_sun(App& app, Ui& ui) const {
    if (!latitude_.value || !longitude_.value || !offset_h_.value) return;
    const Words& words = ui.words();
    const Result<FarmPlace> place = read_farm_setup(as_entry(farm_draft()));
    if (!place) return;
    const Result<DayWindows> day = windows_of(civil_day(app.now(), place->offset), *place, app.protocol());
    if (!day) return;
    Message value("farm.sun.value");
    value.with("sunrise", Text{to_hh_mm(day->sun.sunrise, place->offset)});
    value.with("sunset", Text{to_hh_mm(day->sun.sunset, place->offset)});
    ui.gap(8);
    ui.begin_card("farm/sun/card");
    ui.fact("farm/sun", words("farm.sun"), words(value));
    ui.text("farm/sun/about", words("farm.sun.about"), TextSize::body, Tone::quiet);
    ui.end_card();
  }

  void save(App& app) {
    Draft farm = farm_draft();
    if (app.farm().set_up && app.demo()) farm.values.emplace("demo", true);
    farm.who = person_;
    if (const Result<FarmPlace> place = read_farm_setup(as_entry(farm)); !place) {
      problem_ = place.error();
      return;
    }
    problem_.reset();
    if (already_set_up_) {
      app.put({std::move(farm)}, [&app] { app.back(); });
      return;
    }
    Draft device;
    device.kind = kind::kDeviceSetup;
    device.who = person_;
    device.values = {{"person", person_}, {"role", role_}};
    app.put({std::move(farm), std::move(device)}, [&app] { app.replace(make_pond_setup_screen({})); });
  }

  bool started_ = false;
  bool already_set_up_ = false;
  std::string name_, person_;
  std::string role_ = "manager";
  NumberField latitude_{"farm/latitude", "deg", 4, {}, true};
  NumberField longitude_{"farm/longitude", "deg", 4, {}, true};
  NumberField offset_h_{"farm/utc_offset", "h", 2, {}, true};
  std::optional<Problem> problem_;
};

}  // namespace

std::unique_ptr<Screen> make_welcome_screen() { return std::make_unique<WelcomeScreen>(); }
std::unique_ptr<Screen> make_farm_setup_screen() { return std::make_unique<FarmSetupScreen>(); }
std::unique_ptr<Screen> make_person_setup_screen() { return std::make_unique<PersonSetupScreen>(); }

}  // namespace tawny::ui
