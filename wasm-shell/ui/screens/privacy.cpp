// What is stored where, and who can read it; and the way to wiping this device.
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

class PrivacyScreen : public Screen {
 public:
  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("privacy.title"));
    ui.begin_content("privacy");
    draw_place(ui, "phone", {"privacy.phone.database", "privacy.phone.settings", "privacy.phone.cache"});
    draw_place(ui, "office", {app.has_depot() ? "privacy.office.folder" : "privacy.office.none"});
    draw_place(ui, "files", {"privacy.files.shared"});
    draw_place(ui, "else", {"privacy.else.nothing", "privacy.else.position", "privacy.else.people"});
    draw_place(ui, "readers", {"privacy.readers.phone", "privacy.readers.office", "privacy.readers.lock"});
    if (!app.demo()) {
      ui.gap();
      if (ui.button("privacy/wipe", words("wipe.title"), ButtonKind::danger)) app.open(make_wipe_screen());
    }
    ui.gap(16);
    ui.end_content();
  }

 private:
  static void draw_place(Ui& ui, const std::string& place, std::initializer_list<const char*> points) {
    const Words& words = ui.words();
    ui.heading("privacy/" + place, words("privacy." + place));
    ui.begin_card("privacy/" + place + "/card");
    for (const char* point : points) ui.point(point, words(point));
    ui.end_card();
    ui.gap(16);
  }
};

}  // namespace

std::unique_ptr<Screen> make_privacy_screen() { return std::make_unique<PrivacyScreen>(); }

}  // namespace tawny::ui
