#include "ui/screens/language.h"

namespace tawny::ui {

void draw_language_choice(App& app, Ui& ui) {
  const Words& words = ui.words();
  std::vector<Option> languages;
  for (const char* code : {"en", "es", "pt-BR", "id", "vi"}) {
    languages.push_back({code, words("language." + std::string(code)), {}, {}});
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

}  // namespace tawny::ui
