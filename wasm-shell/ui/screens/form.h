// What the set-up forms share: a number that opens our own keys, and the way from a filled form to the logbook.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "ui/app.h"
#include "ui/screens/screens.h"

namespace tawny::ui {

// A number of a form. The form must outlive the number screen, which it does: that screen stands on top of it.
struct NumberField {
  std::string id;    // "pond/bottom_length"; the label is the word "form.<id after the slash>"
  std::string unit;  // unit key
  int decimals = 1;
  std::optional<double> value;
  bool sign = false;
};

void number_field(App& app, Ui& ui, NumberField& field);

// Puts the field's value under `key` when there is one.
void put_number(Draft& draft, std::string_view key, const NumberField& field);

// The draft as an entry that no device has written, so that the core's readers can judge a form before it is
// saved.
Entry as_entry(const Draft& draft);

// Begins the content of a screen that save_footer() ends. Why the last act was not saved stands on top of it,
// where it can be as long as it must.
void begin_form(App& app, Ui& ui, std::string_view id);
// The wide main button in the footer; after a failure, the ways on.
bool save_footer(App& app, Ui& ui, std::string_view label, bool enabled);

}  // namespace tawny::ui
