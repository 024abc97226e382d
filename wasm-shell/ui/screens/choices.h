// Asking for one of a few words, and reading texts back, as the forms do.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/entry.h"
#include "ui/widgets.h"

namespace tawny::ui {

// Options by those names, worded "word.name".
std::vector<Option> options_of(const Words& words, std::string_view word,
                               std::initializer_list<std::string_view> names);
// A choice among them; `chosen` holds the name.
void ask(Ui& ui, std::string_view id, std::string_view label, const std::vector<Option>& options,
         std::string& chosen);
// The text of that key, if the entry has it.
void take_text(const Entry& entry, std::string_view key, std::string& into);

}  // namespace tawny::ui
