#include "ui/screens/pond_acts.h"

#include <initializer_list>
#include <utility>

#include "logbook/kinds.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

class PondActsScreen : public Screen {
 public:
  explicit PondActsScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, pond_name(app, pond_));
    ui.begin_content("pond_acts");
    group(app, ui, "acts.water",
          {Act::water_reading, Act::secchi_reading, Act::water_colour, Act::level_reading, Act::water_test});
    group(app, ui, "acts.life", {Act::grazer_count, Act::bottom_grab, Act::pest_look});
    group(app, ui, "acts.inlets", {Act::screen_check, Act::fill, Act::shut_inlets, Act::source_look});
    kind(app, ui, kind::kOutflow, "gate");
    group(app, ui, "acts.bottom", {Act::bottom_look, Act::soil_broadcast});
    group(app, ui, "acts.farm", {Act::sky, Act::meter_check});
    ui.heading("acts.other", words("acts.other"));
    kind(app, ui, kind::kNote, "note");
    act(app, ui, Act::start_cycle);
    ui.gap(16);
    ui.end_content();
  }

 private:
  // The entry takes this list's place, so that "Done" leads back to the pond.
  void act(App& app, Ui& ui, Act act) const {
    const std::string id = "act/" + std::string(name_of(act));
    if (ui.button(id, act_word(ui.words(), act), ButtonKind::secondary, true, act_icon(act))) {
      app.replace(make_entry_screen(act, pond_));
    }
    ui.gap();
  }
  void kind(App& app, Ui& ui, std::string_view kind, std::string_view icon) const {
    const std::string id = "act/" + std::string(kind);
    if (ui.button(id, ui.words()("kind." + std::string(kind)), ButtonKind::secondary, true, icon)) {
      app.replace(make_entry_screen_of_kind(kind, pond_));
    }
    ui.gap();
  }
  void group(App& app, Ui& ui, std::string_view title, std::initializer_list<Act> acts) const {
    ui.heading(title, ui.words()(title));
    for (const Act one : acts) act(app, ui, one);
  }

  std::string pond_;
};

}  // namespace

std::unique_ptr<Screen> make_pond_acts_screen(const std::string& pond) {
  return std::make_unique<PondActsScreen>(pond);
}

}  // namespace tawny::ui
