#include <gtest/gtest.h>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::Story;
using test::whole_cycle;

// Each row tells a pond after its first dose (day 4, 25 kg/ha) and asks for one trouble at the end of `day`.
// Limits: the protocol's table of troubles.
struct Case {
  const char* name;
  const char* trouble;
  bool expected;
  int day;
  std::function<void(Story&)> tell;
  const char* what = nullptr;
};

void PrintTo(const Case& one, std::ostream* out) { *out << one.name; }

Story after_first_dose() {
  Story story = whole_cycle();
  story.told.erase(
      std::remove_if(story.told.begin(), story.told.end(), [](const test::Told& one) { return one.day > 4; }),
      story.told.end());
  return story;
}

class Troubles : public ::testing::TestWithParam<Case> {};

TEST_P(Troubles, AreNamedExactlyWhenTheTableSaysSo) {
  const Case& one = GetParam();
  Story story = after_first_dose();
  one.tell(story);
  const PondState state = story.assess_at(one.day, "23:00");
  const Trouble* trouble = test::find(state.troubles, one.trouble);
  ASSERT_EQ(trouble != nullptr, one.expected);
  if (trouble == nullptr) return;
  EXPECT_FALSE(trouble->evidence.empty());
  EXPECT_FALSE(trouble->check_next.empty());
  if (one.what != nullptr) {
    EXPECT_EQ(trouble->what.id, one.what);
  }
  if (trouble->forbids_dose) {
    EXPECT_FALSE(state.dose.advised);
  }
}

void flat_days(Story& s) { s.pair(6, 5, 7.8, 6.4, 7.9).pair(7, 5, 7.8, 6.4, 7.9); }

std::vector<Case> cases() {
  using std::string;
  return {
      {"61 cm and flat, 3 days after the dose", "clear_and_flat", true, 7,
       [](Story& s) {
         flat_days(s);
         s.secchi(7, 61);
       },
       "trouble.clear_and_flat.what"},
      {"60 cm is not clear", "clear_and_flat", false, 7,
       [](Story& s) {
         flat_days(s);
         s.secchi(7, 60);
       }},
      {"2 days after the dose is too early", "clear_and_flat", false, 6,
       [](Story& s) { s.pair(5, 5, 7.8, 6.4, 7.9).pair(6, 5, 7.8, 6.4, 7.9).secchi(6, 61); }},
      {"seen on the bottom at 61 cm", "clear_and_flat", true, 7,
       [](Story& s) {
         flat_days(s);
         s.on_bottom(7, 61);
       },
       "trouble.clear_and_flat.what_bottom"},
      {"seen on the bottom at 60 cm tells nothing", "clear_and_flat", false, 7,
       [](Story& s) {
         flat_days(s);
         s.on_bottom(7, 60);
       }},
      {"DO swing 1.5 is a swing", "clear_and_flat", false, 7,
       [](Story& s) { s.pair(6, 5, 7.8, 6.5, 7.9).pair(7, 5, 7.8, 6.4, 7.9).secchi(7, 61); }},
      {"pH swing 0.2 is a swing", "clear_and_flat", false, 7,
       [](Story& s) { s.pair(6, 5, 7.8, 6.4, 8.0).pair(7, 5, 7.8, 6.4, 7.9).secchi(7, 61); }},
      {"one flat day is not enough", "clear_and_flat", false, 7,
       [](Story& s) { s.pair(7, 5, 7.8, 6.4, 7.9).secchi(7, 61); }},
      {"a dose of 10 kg/ha does not count", "clear_and_flat", false, 7,
       [](Story& s) {
         s.set(4, kind::kDose, "product_kg", 10.0);
         flat_days(s);
         s.secchi(7, 61);
       }},
      {"flat on dull days is a slow start", "slow_start", true, 7,
       [](Story& s) {
         flat_days(s);
         s.sky(6, "dull").sky(7, "dull").secchi(7, 61);
       },
       "trouble.slow_start.what_dull"},
      {"flat on one dull day is not", "slow_start", false, 7,
       [](Story& s) {
         flat_days(s);
         s.sky(6, "dull").sky(7, "bright").secchi(7, 61);
       }},
      {"swing there and Secchi still falls", "slow_start", true, 7,
       [](Story& s) { s.pair(7, 5, 7.8, 8, 8.1).secchi(6, 75).secchi(7, 65); }, "trouble.slow_start.what"},
      {"swing there and Secchi stands", "slow_start", false, 7,
       [](Story& s) { s.pair(7, 5, 7.8, 8, 8.1).secchi(6, 65).secchi(7, 65); }},
      {"44 cm after two falls", "too_dense", true, 7,
       [](Story& s) { s.secchi(5, 52).secchi(6, 48).secchi(7, 44); }, "trouble.too_dense.what"},
      {"44 cm after one fall", "too_dense", false, 7,
       [](Story& s) { s.secchi(5, 48).secchi(6, 48).secchi(7, 44); }},
      {"45 cm after two falls", "too_dense", false, 7,
       [](Story& s) { s.secchi(5, 52).secchi(6, 48).secchi(7, 45); }},
      {"39 cm is an alarm at once", "too_dense", true, 7, [](Story& s) { s.secchi(7, 39); },
       "trouble.too_dense.what_alarm"},
      {"40 cm is not", "too_dense", false, 7, [](Story& s) { s.secchi(7, 40); }},
      {"seen on the bottom at 35 cm is not dense", "too_dense", false, 7, [](Story& s) { s.on_bottom(7, 35); }},
      {"39 cm four days ago is over", "too_dense", false, 11, [](Story& s) { s.secchi(7, 39); }},
      {"Secchi up 20 cm in 2 days and swing halved", "crash", true, 8,
       [](Story& s) { s.secchi(6, 45).secchi(8, 65).pair(6, 5, 7.8, 9, 8.3).pair(8, 5, 7.8, 7, 8.1); },
       "trouble.crash.what"},
      {"up 19 cm is none", "crash", false, 8,
       [](Story& s) { s.secchi(6, 45).secchi(8, 64).pair(6, 5, 7.8, 9, 8.3).pair(8, 5, 7.8, 7, 8.1); }},
      {"in 3 days is none", "crash", false, 9,
       [](Story& s) { s.secchi(6, 45).secchi(9, 65).pair(6, 5, 7.8, 9, 8.3).pair(9, 5, 7.8, 7, 8.1); }},
      {"with a fill is none", "crash", false, 8,
       [](Story& s) {
         s.secchi(6, 45).secchi(8, 65).pair(6, 5, 7.8, 9, 8.3).pair(8, 5, 7.8, 7, 8.1);
         s.level(6, "09:00", 70).level(7, "09:00", 95);
       }},
      {"swing not halved is none", "crash", false, 8,
       [](Story& s) { s.secchi(6, 45).secchi(8, 65).pair(6, 5, 7.8, 9, 8.3).pair(8, 5, 7.8, 7.1, 8.1); }},
      {"dawn DO 2.9", "crash", true, 6, [](Story& s) { s.water(6, "06:00", 2.9, 7.8); },
       "trouble.crash.what_dawn"},
      {"dawn DO 3.0 is none", "crash", false, 6, [](Story& s) { s.water(6, "06:00", 3.0, 7.8); }},
      {"DO 2.9 at 09:00 is no dawn", "crash", false, 6, [](Story& s) { s.water(6, "09:00", 2.9, 7.8); }},
      {"two moves towards green", "drifting_green", true, 7,
       [](Story& s) { s.colour(5, "golden").colour(6, "light_green").colour(7, "green"); },
       "trouble.drifting_green.what"},
      {"one move is none", "drifting_green", false, 7,
       [](Story& s) { s.colour(5, "golden").colour(6, "light_green").colour(7, "light_green"); }},
      {"light green to dark green at once", "drifting_green", true, 7,
       [](Story& s) { s.colour(6, "light_green").colour(7, "dark_green"); }},
      {"back to golden is none", "drifting_green", false, 8,
       [](Story& s) { s.colour(5, "golden").colour(6, "light_green").colour(7, "green").colour(8, "golden"); }},
      {"darker gold is not green", "drifting_green", false, 7,
       [](Story& s) { s.colour(5, "golden_brown").colour(6, "golden").colour(7, "pale_gold"); }},
      {"red-brown", "red_brown", true, 5, [](Story& s) { s.colour(5, "red_brown"); }},
      {"golden brown is not red-brown", "red_brown", false, 5, [](Story& s) { s.colour(5, "golden_brown"); }},
      {"DO differs by 3.1", "stratified", true, 5,
       [](Story& s) {
         s.tell(5, "16:00", kind::kWaterReading, {{"do_mg_l", 8.1}, {"do_bottom_mg_l", 5.0}});
       },
       "trouble.stratified.what_do"},
      {"DO differs by 3.0", "stratified", false, 5,
       [](Story& s) {
         s.tell(5, "16:00", kind::kWaterReading, {{"do_mg_l", 8.1}, {"do_bottom_mg_l", 5.1}});
       }},
      {"temperature differs by 2.1", "stratified", true, 5,
       [](Story& s) {
         s.tell(5, "16:00", kind::kWaterReading, {{"temperature_c", 30.1}, {"temperature_bottom_c", 28.0}});
       },
       "trouble.stratified.what_temperature"},
      {"temperature differs by 2.0", "stratified", false, 5,
       [](Story& s) {
         s.tell(5, "16:00", kind::kWaterReading, {{"temperature_c", 30.1}, {"temperature_bottom_c", 28.1}});
       }},
      {"level falls 3 cm in a day", "losing_water", true, 6,
       [](Story& s) { s.level(5, "06:00", 69).level(6, "06:00", 66); }, "trouble.losing_water.what"},
      {"2.5 cm in a day is seepage, evaporation and reading", "losing_water", false, 6,
       [](Story& s) { s.level(5, "06:00", 69).level(6, "06:00", 66.5); }},
      {"water let out", "losing_water", false, 6,
       [](Story& s) { s.level(5, "06:00", 69).tell(5, "12:00", kind::kOutflow, {}).level(6, "06:00", 60); }},
      {"DO at five times saturation", "doubtful_meter", true, 5, [](Story& s) { s.water(5, "16:00", 36, 8.2); },
       "trouble.doubtful_meter.what_impossible"},
      {"the same DO three times running", "doubtful_meter", true, 6,
       [](Story& s) { s.pair(5, 6.13, 7.8, 6.13, 8.0).water(6, "06:00", 6.13, 7.9); },
       "trouble.doubtful_meter.what_stuck"},
      {"the same DO twice", "doubtful_meter", false, 6,
       [](Story& s) { s.pair(5, 6.13, 7.8, 6.13, 8.0).water(6, "06:00", 6.14, 7.9); }},
      {"89 % in air", "doubtful_meter", true, 5,
       [](Story& s) {
         s.tell(5, "05:30", kind::kMeterCheck, {{"do_percent_in_air", 89.0}}, "");
       },
       "trouble.doubtful_meter.what_air"},
      {"90 % in air", "doubtful_meter", false, 5,
       [](Story& s) {
         s.tell(5, "05:30", kind::kMeterCheck, {{"do_percent_in_air", 90.0}}, "");
       }},
      {"a good check after the stuck readings", "doubtful_meter", false, 6,
       [](Story& s) {
         s.pair(5, 6.13, 7.8, 6.13, 8.0).water(6, "06:00", 6.13, 7.9);
         s.tell(6, "08:00", kind::kMeterCheck, {{"do_percent_in_air", 101.0}}, "");
       }},
  };
}

INSTANTIATE_TEST_SUITE_P(Table, Troubles, ::testing::ValuesIn(cases()));

TEST(TroublesOfAPond, NoneInACycleThatGoesAsAsked) {
  Story story = whole_cycle();
  for (int day = 0; day < 10; ++day) {
    const PondState state = story.assess_at(day, "23:00");
    EXPECT_TRUE(state.troubles.empty()) << day << " " << (state.troubles.empty() ? "" : state.troubles[0].id);
  }
}

TEST(TroublesOfAPond, TheMostSevereComesFirst) {
  Story story = after_first_dose();
  story.tell(5, "05:30", kind::kMeterCheck, {{"do_percent_in_air", 80.0}}, "");
  story.water(5, "06:00", 2.0, 7.8);
  const PondState state = story.assess_at(5, "12:00");
  ASSERT_EQ(state.troubles.size(), 2U);
  EXPECT_EQ(state.troubles[0].id, "crash");
  EXPECT_EQ(state.troubles[1].id, "doubtful_meter");
}

TEST(TroublesOfAPond, ClearAndFlatPointsAtTornScreensAndShells) {
  Story story = after_first_dose();
  flat_days(story);
  story.secchi(7, 70);
  story.tell(6, "09:00", kind::kScreenCheck,
             {{"inlet", std::string("gate")}, {"mesh_um", 500.0}, {"whole", false}});
  story.tell(6, "09:10", kind::kPestLook,
             {{"bivalves", std::string("many")}, {"predators", std::string("none")}});
  const PondState state = story.assess_at(7, "20:00");
  const Trouble* trouble = test::find(state.troubles, "clear_and_flat");
  ASSERT_NE(trouble, nullptr);
  EXPECT_TRUE(test::says(trouble->check_next, "trouble.clear_and_flat.check.walls_seen"));
  EXPECT_TRUE(test::says(trouble->check_next, "trouble.clear_and_flat.check.screens_torn"));
  EXPECT_TRUE(test::says(trouble->check_next, "trouble.clear_and_flat.check.spread_whole"));
}

}  // namespace
}  // namespace tawny
