#include "ui/screens/choices.h"

#include "ui/screens/parts.h"

namespace tawny::ui {

std::vector<Option> options_of(const Words& words, std::string_view word,
                               std::initializer_list<std::string_view> names) {
  std::vector<Option> options;
  for (const std::string_view name : names) {
    Option option;
    option.id = name;
    option.label = capitalised(words(std::string(word) + "." + std::string(name)));
    options.push_back(std::move(option));
  }
  return options;
}

void ask(Ui& ui, std::string_view id, std::string_view label, const std::vector<Option>& options,
         std::string& chosen) {
  if (const auto pressed = ui.choice(id, label, options, chosen)) chosen = *pressed;
}

void take_text(const Entry& entry, std::string_view key, std::string& into) {
  if (const std::string* text = entry.text(key)) into = *text;
}

}  // namespace tawny::ui
