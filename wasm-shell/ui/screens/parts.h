// What several screens show alike: a pond's small picture, a criterion, an age, a brief of an entry, an act's
// icon.
//
// Everything here words and draws what the core gave; nothing is reckoned.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "ui/app.h"
#include "ui/drawings/drawings.h"
#include "words/entry_words.h"
#include "words/protocol_words.h"

namespace tawny::ui {

// --- names ---------------------------------------------------------------------------------------------------
std::string act_word(const Words& words, Act act);
std::string_view act_icon(Act act);
// The pond's name; for an id that is not set up the id itself, for the empty id "the whole farm".
std::string pond_name(const App& app, std::string_view pond);
// "Saved entries as an act": the act whose screen makes entries of this kind; nothing for kinds that no act
// makes.
std::optional<Act> act_of_kind(std::string_view kind);

// --- settings ------------------------------------------------------------------------------------------------
// A choice of two that this device keeps under `setting`: each by its value and the id of its word.
struct SettingOption {
  std::string_view value, word;
};
void setting_choice(App& app, Ui& ui, std::string_view id, std::string_view label, std::string_view setting,
                    const SettingOption& first, const SettingOption& second, bool second_now);

// --- status --------------------------------------------------------------------------------------------------
Status status_of(DueState state);
Status status_of(Verdict verdict);
Tone tone_of(Trouble::Severity severity);

// --- values --------------------------------------------------------------------------------------------------
// The manager left this reading out of everything.
bool is_left_out(const App& app, const Entry& entry);

struct LastValue {
  double value = 0;
  Instant at;
};
// The latest value of `key` among this cycle's entries of `kind`, no later than `now`.
std::optional<LastValue> last_value(const PondHistory& history, std::string_view kind, std::string_view key);
// "last 4.2 mg/L, 22 h ago"; empty where there is none.
std::string last_line(const Words& words, std::string_view key, const std::optional<LastValue>& last);

// "52 cm, 3 h ago" or "more than 48 cm, ..."; empty where there is none.
std::string secchi_line(const Words& words, const FarmPond& pond);
std::string oxygen_line(const Words& words, const FarmPond& pond);

// --- drawn ---------------------------------------------------------------------------------------------------
WaterColumn water_column_of(const App& app, const FarmPond& pond);
// The water column in words, for those who do not see it.
std::string water_column_name(const Words& words, const FarmPond& pond);

// "bright" -> "Bright", where a word of a sentence stands alone: as a heading or on a button.
std::string capitalised(std::string text);

// Width and height of the whole screen in CSS px.
struct ScreenShape {
  float width = 0, height = 0;
  // No room for keys under a number: they stand beside it.
  bool low() const { return height < 560; }
};
ScreenShape screen_shape();

// The lines above everything: a lost store, another tab that writes, a waiting update.
void draw_app_notices(App& app, Ui& ui);

}  // namespace tawny::ui
