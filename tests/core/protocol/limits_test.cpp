// Each criterion exactly at its limit, and just beyond it. The manager holds the gate shut, so that what is met
// can be looked at.
#include <gtest/gtest.h>

#include <functional>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::Story;
using test::Told;
using test::whole_cycle;

struct Edge {
  const char* name;
  int stage;
  int day;
  const char* hh_mm;
  const char* id;
  Verdict verdict;
  std::function<void(Story&)> change;
};

void PrintTo(const Edge& one, std::ostream* out) { *out << one.name; }

class Limits : public ::testing::TestWithParam<Edge> {};

TEST_P(Limits, HoldExactlyAndNotBeyond) {
  const Edge& edge = GetParam();
  Story story = whole_cycle();
  edge.change(story);
  story.decide(0, "08:30", edge.stage, false);
  const PondState state = story.assess_at(edge.day, edge.hh_mm);
  ASSERT_EQ(static_cast<int>(state.stage), edge.stage);
  const Criterion* criterion = test::find(state.criteria, edge.id);
  ASSERT_NE(criterion, nullptr);
  EXPECT_EQ(static_cast<int>(criterion->verdict), static_cast<int>(edge.verdict)) << criterion->why.id;
}

constexpr auto kMet = Verdict::met;
constexpr auto kUnmet = Verdict::unmet;
constexpr auto kUnknown = Verdict::unknown;

std::function<void(Story&)> set(int day, std::string_view kind, std::string_view key, Value value) {
  return [=](Story& story) { story.set(day, kind, key, value); };
}
std::function<void(Story&)> level(int day, double cm) { return set(day, kind::kLevelReading, "level_cm", cm); }
std::function<void(Story&)> colour(int day, const char* name) {
  return set(day, kind::kWaterColour, "colour", std::string(name));
}
std::function<void(Story&)> secchi(int day, double cm) {
  return [=](Story& story) { story.forget(day, kind::kSecchiReading).secchi(day, cm); };
}
std::function<void(Story&)> pair(int day, double dawn_do, double dawn_ph, double late_do, double late_ph) {
  return [=](Story& story) {
    story.forget(day, kind::kWaterReading).pair(day, dawn_do, dawn_ph, late_do, late_ph);
  };
}
// The last days of holding the band, one Secchi a day from day 6 on.
std::function<void(Story&)> band(std::vector<double> each_cm) {
  return [=](Story& story) {
    for (int day = 6; day <= 8; ++day) story.forget(day, kind::kSecchiReading);
    int day = 6;
    story.decide(6, "11:00", 7, true);
    for (const double cm : each_cm) story.secchi(day++, cm);
  };
}
std::function<void(Story&)> dawns(double day_8_mg_l, double day_9_mg_l) {
  return [=](Story& story) {
    story.forget(8, kind::kWaterReading).pair(8, day_8_mg_l, 7.8, 8.6, 8.3);
    story.forget(9, kind::kWaterReading).water(9, "06:00", day_9_mg_l, 7.8);
  };
}
std::function<void(Story&)> last_water(std::string_view key, double value) {
  return set(9, kind::kWaterReading, key, value);
}
std::function<void(Story&)> grabs(double with_animals, double of) {
  return [=](Story& story) {
    story.set(8, kind::kBottomGrab, "grabs", of).set(8, kind::kBottomGrab, "grabs_with_animals", with_animals);
  };
}

INSTANTIATE_TEST_SUITE_P(
    Stages, Limits,
    ::testing::Values(
        Edge{"dried 7 days", 1, 0, "12:00", "bottom.dried", kMet, set(0, kind::kBottomLook, "dried_days", 7.0)},
        Edge{"dried 6.9 days", 1, 0, "12:00", "bottom.dried", kUnmet,
             set(0, kind::kBottomLook, "dried_days", 6.9)},
        Edge{"broadcast 24.9", 1, 0, "12:00", "bottom.broadcast", kUnmet,
             set(0, kind::kSoilBroadcast, "product_kg", 24.9)},
        Edge{"broadcast 200.1", 1, 0, "12:00", "bottom.broadcast", kUnmet,
             set(0, kind::kSoilBroadcast, "product_kg", 200.1)},
        Edge{"mesh 500", 1, 0, "12:00", "bottom.screens", kMet, set(0, kind::kScreenCheck, "mesh_um", 500.0)},
        Edge{"mesh 501", 1, 0, "12:00", "bottom.screens", kUnmet, set(0, kind::kScreenCheck, "mesh_um", 501.0)},
        Edge{"screen of 72 h ago", 1, 3, "09:20", "bottom.screens", kMet, [](Story&) {}},
        Edge{"screen of more than 72 h ago", 1, 3, "09:21", "bottom.screens", kUnmet, [](Story&) {}},
        Edge{"source light green", 1, 0, "12:00", "bottom.source", kMet,
             set(0, kind::kSourceLook, "colour", std::string("light_green"))},
        Edge{"source green", 1, 0, "12:00", "bottom.source", kUnmet,
             set(0, kind::kSourceLook, "colour", std::string("green"))},
        Edge{"source dark green", 1, 0, "12:00", "bottom.source", kUnmet,
             set(0, kind::kSourceLook, "colour", std::string("dark_green"))},
        Edge{"source red-brown", 1, 0, "12:00", "bottom.source", kUnmet,
             set(0, kind::kSourceLook, "colour", std::string("red_brown"))},
        Edge{"first fill 20 %", 2, 0, "16:00", "first_fill.level", kMet, level(0, 24)},
        Edge{"first fill below 20 %", 2, 0, "16:00", "first_fill.level", kUnmet, level(0, 23.9)},
        Edge{"first fill 30 %", 2, 0, "16:00", "first_fill.level", kMet, level(0, 36)},
        Edge{"first fill over 30 %", 2, 0, "16:00", "first_fill.level", kUnmet, level(0, 36.1)},
        Edge{"rested 48 h", 3, 2, "15:00", "rest.rested", kMet, [](Story&) {}},
        Edge{"rested a minute less", 3, 2, "14:59", "rest.rested", kUnmet, [](Story&) {}},
        Edge{"paired on the first and the last of three days", 3, 3, "17:00", "rest.pairs", kMet,
             [](Story& s) { s.forget(2, kind::kWaterReading).pair(3, 5, 7.8, 9, 8.2); }},
        Edge{"paired on the first and the last of four days", 3, 4, "17:00", "rest.pairs", kUnknown,
             [](Story& s) { s.forget(2, kind::kWaterReading); }},
        Edge{"rest swing 4 and 0.4", 3, 2, "17:00", "rest.swing", kMet, pair(2, 5.1, 7.8, 9.1, 8.2)},
        Edge{"rest swing 3.9", 3, 2, "17:00", "rest.swing", kUnmet, pair(2, 5.1, 7.8, 9.0, 8.2)},
        Edge{"rest swing 0.3", 3, 2, "17:00", "rest.swing", kUnmet, pair(2, 5.1, 7.8, 9.1, 8.1)},
        Edge{"rest golden", 3, 2, "17:00", "rest.colour", kMet, colour(2, "golden")},
        Edge{"rest golden brown", 3, 2, "17:00", "rest.colour", kMet, colour(2, "golden_brown")},
        Edge{"rest clear", 3, 2, "17:00", "rest.colour", kUnmet, colour(2, "clear")},
        Edge{"rest light green", 3, 2, "17:00", "rest.colour", kUnmet, colour(2, "light_green")},
        Edge{"second fill 50 %", 4, 3, "12:00", "second_fill.level", kMet, level(3, 60)},
        Edge{"second fill below 50 %", 4, 3, "12:00", "second_fill.level", kUnmet, level(3, 59.9)},
        Edge{"second fill 65 %", 4, 3, "12:00", "second_fill.level", kMet, level(3, 78)},
        Edge{"second fill over 65 %", 4, 3, "12:00", "second_fill.level", kUnmet, level(3, 78.1)},
        Edge{"first dose 22.5", 5, 4, "12:00", "first_dose.dose", kMet,
             set(4, kind::kDose, "product_kg", 22.5)},
        Edge{"first dose 22.4", 5, 4, "12:00", "first_dose.dose", kUnmet,
             set(4, kind::kDose, "product_kg", 22.4)},
        Edge{"first dose 27.5", 5, 4, "12:00", "first_dose.dose", kMet,
             set(4, kind::kDose, "product_kg", 27.5)},
        Edge{"first dose 27.6", 5, 4, "12:00", "first_dose.dose", kUnmet,
             set(4, kind::kDose, "product_kg", 27.6)}));

std::function<void(Story&)> product(const char* id) { return set(4, kind::kDose, "product", std::string(id)); }

INSTANTIATE_TEST_SUITE_P(
    LaterStages, Limits,
    ::testing::Values(
        Edge{"potassium nitrate", 5, 4, "12:00", "first_dose.dose", kMet, product("potassium_nitrate")},
        Edge{"calcium nitrate tetrahydrate", 5, 4, "12:00", "first_dose.dose", kMet,
             product("calcium_nitrate_tetrahydrate")},
        Edge{"calcium nitrate 15.5-0-0", 5, 4, "12:00", "first_dose.dose", kMet,
             product("calcium_nitrate_fertilizer")},
        Edge{"ammonium nitrate", 5, 4, "12:00", "first_dose.dose", kUnmet, product("ammonium_nitrate")},
        Edge{"bloom 45", 6, 5, "13:00", "bloom.secchi", kMet, secchi(5, 45)},
        Edge{"bloom 44.5", 6, 5, "13:00", "bloom.secchi", kUnmet, secchi(5, 44.5)},
        Edge{"bloom 55", 6, 5, "13:00", "bloom.secchi", kMet, secchi(5, 55)},
        Edge{"bloom 55.5", 6, 5, "13:00", "bloom.secchi", kUnmet, secchi(5, 55.5)},
        Edge{"bloom on the day of the dose", 6, 4, "13:00", "bloom.secchi", kUnknown, secchi(4, 50)},
        Edge{"bloom swing 3 and 0.3", 6, 5, "20:00", "bloom.swing", kMet,
             [](Story& s) { s.forget(4, kind::kWaterReading).pair(5, 5.1, 7.8, 8.1, 8.1); }},
        Edge{"bloom swing 2.9", 6, 5, "20:00", "bloom.swing", kUnmet,
             [](Story& s) { s.forget(4, kind::kWaterReading).pair(5, 5.1, 7.8, 8.0, 8.1); }},
        Edge{"bloom swing 0.2", 6, 5, "20:00", "bloom.swing", kUnmet,
             [](Story& s) { s.forget(4, kind::kWaterReading).pair(5, 5.1, 7.8, 8.1, 8.0); }},
        Edge{"bloom golden brown", 6, 5, "13:00", "bloom.colour", kMet, colour(5, "golden_brown")},
        Edge{"bloom pale gold", 6, 5, "13:00", "bloom.colour", kUnmet, colour(5, "pale_gold")},
        Edge{"third fill 75 %", 7, 6, "13:00", "third_fill.level", kMet, level(6, 90)},
        Edge{"third fill below 75 %", 7, 6, "13:00", "third_fill.level", kUnmet, level(6, 89.9)},
        Edge{"third fill 85 %", 7, 6, "13:00", "third_fill.level", kMet, level(6, 102)},
        Edge{"third fill over 85 %", 7, 6, "13:00", "third_fill.level", kUnmet, level(6, 102.1)},
        Edge{"after the fill 45", 7, 6, "13:00", "third_fill.secchi", kMet, secchi(6, 45)},
        Edge{"after the fill 44.5", 7, 6, "13:00", "third_fill.secchi", kUnmet, secchi(6, 44.5)},
        Edge{"after the fill 55", 7, 6, "13:00", "third_fill.secchi", kMet, secchi(6, 55)},
        Edge{"after the fill 55.5", 7, 6, "13:00", "third_fill.secchi", kUnmet, secchi(6, 55.5)},
        Edge{"three of four in the band", 8, 9, "13:00", "hold_band.secchi", kMet, band({45, 60, 55, 50})},
        Edge{"three of five are not three of four", 8, 10, "13:00", "hold_band.secchi", kUnmet,
             band({50, 50, 60, 60, 50})},
        Edge{"two of two may still be three of four", 8, 7, "13:00", "hold_band.secchi", kUnknown,
             band({50, 50})},
        Edge{"50 copepods", 8, 8, "13:00", "hold_band.grazers", kMet,
             set(8, kind::kGrazerCount, "copepods_per_l", 50.0)},
        Edge{"49 copepods once", 8, 8, "13:00", "hold_band.grazers", kUnknown,
             set(8, kind::kGrazerCount, "copepods_per_l", 49.0)},
        Edge{"animals in 3 of 5", 8, 8, "13:00", "hold_band.bottom_animals", kMet, grabs(3, 5)},
        Edge{"animals in 2 of 5", 8, 8, "13:00", "hold_band.bottom_animals", kUnmet, grabs(2, 5)},
        Edge{"animals in 2 of 4", 8, 8, "13:00", "hold_band.bottom_animals", kUnknown, grabs(2, 4)}));

INSTANTIATE_TEST_SUITE_P(
    Release, Limits,
    ::testing::Values(
        Edge{"dawn 4 on both days", 9, 9, "09:30", "release.dawn_do", kMet, dawns(4.0, 4.0)},
        Edge{"dawn 3.9 today", 9, 9, "09:30", "release.dawn_do", kUnmet, dawns(5.0, 3.9)},
        Edge{"dawn 3.9 yesterday", 9, 9, "09:30", "release.dawn_do", kUnmet, dawns(3.9, 5.0)},
        Edge{"pH 7.5", 9, 9, "09:30", "release.ph", kMet, pair(8, 5.0, 7.5, 8.6, 8.3)},
        Edge{"pH 7.4", 9, 9, "09:30", "release.ph", kUnmet, pair(8, 5.0, 7.4, 8.6, 8.0)},
        Edge{"pH 8.8", 9, 9, "09:30", "release.ph", kMet, pair(8, 5.0, 8.2, 8.6, 8.8)},
        Edge{"pH 8.9", 9, 9, "09:30", "release.ph", kUnmet, pair(8, 5.0, 8.2, 8.6, 8.9)},
        Edge{"pH swing 0.8", 9, 9, "09:30", "release.ph", kMet, pair(8, 5.0, 7.7, 8.6, 8.5)},
        Edge{"pH swing 0.9", 9, 9, "09:30", "release.ph", kUnmet, pair(8, 5.0, 7.7, 8.6, 8.6)},
        Edge{"20 degrees", 9, 9, "09:30", "release.temperature", kMet, last_water("temperature_c", 20.0)},
        Edge{"19.9 degrees", 9, 9, "09:30", "release.temperature", kUnmet, last_water("temperature_c", 19.9)},
        Edge{"35 degrees", 9, 9, "09:30", "release.temperature", kMet, last_water("temperature_c", 35.0)},
        Edge{"35.1 degrees", 9, 9, "09:30", "release.temperature", kUnmet, last_water("temperature_c", 35.1)},
        Edge{"a temperature of 48 h ago", 9, 11, "06:00", "release.temperature", kMet, [](Story&) {}},
        Edge{"a temperature of more than 48 h ago", 9, 11, "06:01", "release.temperature", kUnknown,
             [](Story&) {}},
        Edge{"salinity 1", 9, 9, "09:30", "release.salinity", kMet, last_water("salinity", 1.0)},
        Edge{"salinity 0.9", 9, 9, "09:30", "release.salinity", kUnmet, last_water("salinity", 0.9)},
        Edge{"salinity 35", 9, 9, "09:30", "release.salinity", kMet, last_water("salinity", 35.0)},
        Edge{"salinity 35.1", 9, 9, "09:30", "release.salinity", kUnmet, last_water("salinity", 35.1)},
        Edge{"alkalinity 80", 9, 9, "09:30", "release.alkalinity", kMet,
             set(9, kind::kWaterTest, "alkalinity_mg_l", 80.0)},
        Edge{"alkalinity 79", 9, 9, "09:30", "release.alkalinity", kUnmet,
             set(9, kind::kWaterTest, "alkalinity_mg_l", 79.0)},
        Edge{"a test of 72 h ago", 9, 12, "09:00", "release.alkalinity", kMet, [](Story&) {}},
        Edge{"a test of more than 72 h ago", 9, 12, "09:01", "release.alkalinity", kUnknown, [](Story&) {}},
        Edge{"level 90 %", 9, 9, "09:30", "release.level", kMet, level(9, 108)},
        Edge{"level below 90 %", 9, 9, "09:30", "release.level", kUnmet, level(9, 107.9)}));

}  // namespace
}  // namespace tawny
