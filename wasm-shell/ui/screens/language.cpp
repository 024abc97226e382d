#include "ui/screens/language.h"

namespace tawny::ui {

void draw_language_choice(App& app, Ui& ui) {
  const Words& words = ui.words();
  std::vector<Option> languages;
  for (const std::string& code : app.boot().languages) {
    languages.push_back({code, words("language." + code), {}, {}});
  }
  const std::string& shown = app.coming_language().empty() ? app.language() : app.coming_language();
  if (auto chosen = ui.choice("language", words("office.language"), languages, shown))
    app.choose_language(*chosen);
  if (!app.coming_language().empty()) {
    ui.text("language/coming", words("language.coming"), TextSize::body, Tone::quiet);
  } else if (app.language_not_here()) {
    ui.notice("language/not_here", Tone::warn, words("language.not_here"));
  }
}

void draw_text_size_choice(App& app, Ui& ui) {
  const Words& words = ui.words();
  std::vector<Option> sizes;
  for (const char* size : {"100", "150", "200"}) {
    sizes.push_back({size, words("text_size." + std::string(size)), {}, {}});
  }
  if (auto chosen = ui.choice("text_size", words("office.text_size"), sizes, app.setting("text_size", "100"))) {
    app.set_setting("text_size", *chosen);
  }
}

}  // namespace tawny::ui
