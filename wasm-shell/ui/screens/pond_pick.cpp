// One pond, or none in particular.
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

// `picked` may point into the screen below, which stays while this one stands on it.
class PondPickScreen : public Screen {
 public:
  PondPickScreen(std::string none, std::function<void(App&, const std::string&)> picked)
      : none_(std::move(none)), picked_(std::move(picked)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("logbook.pick"));
    ui.begin_content("pond_pick");
    std::optional<std::string> chosen;
    if (ui.button("pick/all", words(none_))) chosen = std::string();
    for (const FarmPond& pond : app.farm().ponds) {
      ui.gap(8);
      if (ui.button("pick/" + pond.history.pond.id, pond.history.pond.name)) chosen = pond.history.pond.id;
    }
    ui.gap(16);
    ui.end_content();
    if (chosen) picked_(app, *chosen);
  }

 private:
  std::string none_;
  std::function<void(App&, const std::string&)> picked_;
};

}  // namespace

std::unique_ptr<Screen> make_pond_pick_screen(const std::string& none,
                                              std::function<void(App&, const std::string&)> picked) {
  return std::make_unique<PondPickScreen>(none, std::move(picked));
}

}  // namespace tawny::ui
