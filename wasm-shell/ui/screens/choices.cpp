#include "ui/screens/choices.h"

namespace tawny::ui {
namespace {

// "group/value" back to "value".
std::string after_slash(const std::string& id) { return id.substr(id.rfind('/') + 1); }

}  // namespace

std::vector<Option> options_of(const Words& words, std::string_view group, std::string_view word,
                               std::initializer_list<std::string_view> names) {
  std::vector<Option> options;
  for (const std::string_view name : names) {
    Option option;
    option.id = std::string(group) + "/" + std::string(name);
    option.label = words(std::string(word) + "." + std::string(name));
    options.push_back(std::move(option));
  }
  return options;
}

void ask(Ui& ui, std::string_view group, std::string_view label, const std::vector<Option>& options,
         std::string& chosen) {
  const std::string selected = chosen.empty() ? "" : std::string(group) + "/" + chosen;
  if (const auto pressed = ui.choice(group, label, options, selected)) chosen = after_slash(*pressed);
}

void take_text(const Entry& entry, std::string_view key, std::string& into) {
  if (const std::string* text = entry.text(key)) into = *text;
}

}  // namespace tawny::ui
