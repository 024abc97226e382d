// The criteria of each stage's gate, in the order in which they are shown. To add one: write a function of a
// Look in the stage's file, add its line to that file's table, its values to assets/protocol.json and its words
// to the language tables.
#pragma once

#include <span>

#include "protocol/look.h"

namespace tawny {

using CriterionFunction = Criterion (*)(const Look&);

std::span<const CriterionFunction> criteria_of(Stage stage);

// The tables, each beside its functions.
std::span<const CriterionFunction> bottom_criteria();
std::span<const CriterionFunction> first_fill_criteria();
std::span<const CriterionFunction> rest_criteria();
std::span<const CriterionFunction> second_fill_criteria();
std::span<const CriterionFunction> first_dose_criteria();
std::span<const CriterionFunction> bloom_criteria();
std::span<const CriterionFunction> third_fill_criteria();
std::span<const CriterionFunction> hold_band_criteria();
std::span<const CriterionFunction> release_criteria();
std::span<const CriterionFunction> early_cycle_criteria();

// Shared by several stages ------------------------------------------------------------------------------------

// Level inside stage.<stage>.level_low_share .. level_high_share of the volume, by the pond's own curve.
Criterion judge_level_range(const Look& look, std::string_view id);
// The last colour look of this stage is one of stage.<stage>.colours.
Criterion judge_colour(const Look& look, std::string_view id);
// A day's Secchi inside stage.<stage>.secchi_low_cm .. secchi_high_cm.
Criterion judge_band(const Look& look, Answer& answer, const DaySecchi& secchi);
// A paired day's rise from dawn to afternoon, at least so much in oxygen and in pH.
Criterion judge_swing(const Look& look, Answer& answer, const DayWater& day, double do_mg_l, double ph);
// The first level reading at or after `since` that reaches `share` of the volume; null without one or a curve.
const LevelReading* first_reaching(const Look& look, double share, Instant since);
// Why a reading of today does not count: the last one that lies outside its windows, as a message; else
// `missing`.
Message say_why_water_missing(const Look& look, Message missing);
Message say_why_secchi_missing(const Look& look, Message missing);

}  // namespace tawny
