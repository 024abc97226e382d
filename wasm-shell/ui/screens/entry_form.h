// A form: what one kind of entry asks of a person, and the values that come of it. The entry screen around it
// asks for the time, looks at the values, saves them and says what comes next; it is the same for every kind.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ui/app.h"
#include "ui/screens/typing.h"

namespace tawny::ui {

// Where and for what a form stands.
struct FormPlace {
  App& app;
  const FarmPond* pond = nullptr;  // null: the whole farm
  Act act = Act::water_reading;
  std::string detail;  // an inlet's name, or empty
};

class EntryForm {
 public:
  virtual ~EntryForm() = default;
  virtual std::string_view kind() const = 0;
  // Takes the values of an entry that is being corrected.
  virtual void fill(const Entry& entry) = 0;
  virtual void draw(const FormPlace& place, Ui& ui) = 0;
  // Puts another value in the place of a number that was typed.
  virtual void take(std::string_view /*key*/, double /*value*/) {}
  // What may stand further down, under the buttons where room is short.
  virtual void draw_below(const FormPlace&, Ui&) {}
  // What is still needed before it can be saved; nothing: it can.
  virtual std::optional<Message> missing() const = 0;
  virtual Values values() const = 0;

  // The number that the keys below the form are for; null: no keys.
  virtual Typing* typing() { return nullptr; }
  virtual bool typing_decimals() const { return true; }
  // The label of a button that goes on to the next value; empty: this is the last.
  virtual std::string next_label(const Words&) const { return {}; }
  virtual void next() {}

  // The entry belongs to the whole farm rather than to the pond that the screen was opened for.
  virtual bool farm_wide() const { return false; }
  // Only the manager may put it on record.
  virtual bool manager_only() const { return false; }
  // Under "Saved": what the readings now say together, and a button for one more of the same.
  virtual void draw_after(const FormPlace&, Ui&) {}
  virtual std::string again_label(const Words&) const { return {}; }
  // Another act that follows this one at the same pond.
  virtual std::optional<Act> follow_up() const { return std::nullopt; }
};

// Null for an act that is not an entry of its own (the dose walk, the gate).
std::unique_ptr<EntryForm> make_form(Act act, const FormPlace& place);
// By the kind of an entry that is corrected; null for a kind that is mended by taking it back.
std::unique_ptr<EntryForm> make_form_of_kind(std::string_view kind, const FormPlace& place);
bool has_form_of_kind(std::string_view kind);
// Has a form of its own, or one of the stock's (stock.h).
bool can_be_corrected(std::string_view kind);

// --- made in the files of their names
// -------------------------------------------------------------------------------

// One value of a form that is typed: its key in the entry, and whether the entry can be without it.
struct AskedNumber {
  std::string key;
  bool needed = false;
};
// Numbers one after another (entry_numbers.cpp). At least one value, and all needed ones, make an entry.
// `more`: further values that stay folded away until they are asked for.
std::unique_ptr<EntryForm> make_numbers_form(std::string_view kind, std::vector<AskedNumber> fields,
                                             std::vector<AskedNumber> more = {});
std::unique_ptr<EntryForm> make_secchi_form();                          // entry_secchi.cpp
std::unique_ptr<EntryForm> make_colour_form(std::string_view kind);     // entry_choices.cpp
std::unique_ptr<EntryForm> make_sky_form();                             // entry_choices.cpp
std::unique_ptr<EntryForm> make_pest_form();                            // entry_choices.cpp
std::unique_ptr<EntryForm> make_meter_form();                           // entry_numbers.cpp
std::unique_ptr<EntryForm> make_bottom_form();                          // entry_bottom.cpp
std::unique_ptr<EntryForm> make_broadcast_form();                       // entry_bottom.cpp
std::unique_ptr<EntryForm> make_screen_form(const std::string& inlet);  // entry_inlets.cpp
std::unique_ptr<EntryForm> make_inlet_form(bool open);                  // entry_inlets.cpp
std::unique_ptr<EntryForm> make_cycle_form(const FormPlace& place);     // entry_texts.cpp
std::unique_ptr<EntryForm> make_text_form(std::string_view kind, std::string_view key,
                                          bool needed);                 // entry_texts.cpp
std::unique_ptr<EntryForm> make_question_form(const FormPlace& place);  // entry_texts.cpp
std::unique_ptr<EntryForm> make_dose_record_form();                     // entry_dose.cpp

// An entry screen around a form of this kind, for entries that no Act asks for (a note, water let out).
std::unique_ptr<Screen> make_entry_screen_of_kind(std::string_view kind, const std::string& pond);

}  // namespace tawny::ui
