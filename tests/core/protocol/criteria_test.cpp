#include <gtest/gtest.h>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::at;
using test::kOpenings;
using test::Opening;
using test::Story;
using test::whole_cycle;

struct Break {
  const char* criterion;
  int stage;
  Verdict expected;
  const char* what;
  std::function<void(Story&)> apply;
  const char* why;
};

void PrintTo(const Break& one, std::ostream* out) { *out << one.criterion << ": " << one.what; }

class EachCriterion : public ::testing::TestWithParam<Break> {};

TEST_P(EachCriterion, HoldsItsGateWhenBroken) {
  const Break& broken = GetParam();
  Story story = whole_cycle();
  broken.apply(story);
  const Opening& opening = kOpenings[broken.stage - 1];
  const PondState state = story.assess_at(at(opening.day, opening.hh_mm).plus_min(1));
  EXPECT_EQ(static_cast<int>(state.stage), broken.stage);
  const Criterion* criterion = test::find(state.criteria, broken.criterion);
  ASSERT_NE(criterion, nullptr);
  EXPECT_EQ(static_cast<int>(criterion->verdict), static_cast<int>(broken.expected)) << criterion->why.id;
  EXPECT_EQ(criterion->why.id, broken.why);
  EXPECT_EQ(state.holds, broken.criterion);
}

TEST_P(EachCriterion, IsMetInTheWholeCycleJustBeforeItsGateOpens) {
  Story story = whole_cycle();
  const int stage = GetParam().stage;
  const Opening& opening = kOpenings[stage - 1];
  story.decide(0, "08:30", stage, false);  // held shut, so that the met criteria can be looked at
  const PondState state = story.assess_at(opening.day, opening.hh_mm);
  ASSERT_EQ(static_cast<int>(state.stage), stage);
  EXPECT_TRUE(state.refused);
  for (const Criterion& criterion : state.criteria) {
    EXPECT_EQ(static_cast<int>(criterion.verdict), static_cast<int>(Verdict::met))
        << criterion.id << " " << criterion.why.id;
  }
}

std::vector<Break> breaks() {
  using std::string;
  const auto unmet = Verdict::unmet;
  const auto unknown = Verdict::unknown;
  return {
      // Stage 1 [P, H: protocol table]
      {"bottom.sludge", 1, unmet, "some sludge left",
       [](Story& s) { s.set(0, kind::kBottomLook, "thick_sludge", string("some")); }, "why.sludge_left"},
      {"bottom.sludge", 1, unknown, "nobody looked", [](Story& s) { s.forget(0, kind::kBottomLook); },
       "why.bottom_none"},
      {"bottom.dried", 1, unmet, "dried 6.9 days",
       [](Story& s) { s.set(0, kind::kBottomLook, "dried_days", 6.9); }, "why.dried_short"},
      {"bottom.dried", 1, unknown, "neither dried nor treated",
       [](Story& s) {
         s.mend(0, kind::kBottomLook, [](test::Told& one) {
           one.values.erase("dried_days");
           return true;
         });
       },
       "why.dried_none"},
      {"bottom.broadcast", 1, unmet, "24.9 kg/ha",
       [](Story& s) { s.set(0, kind::kSoilBroadcast, "product_kg", 24.9); }, "why.broadcast_low"},
      {"bottom.broadcast", 1, unmet, "200.1 kg/ha",
       [](Story& s) { s.set(0, kind::kSoilBroadcast, "product_kg", 200.1); }, "why.broadcast_high"},
      {"bottom.broadcast", 1, unmet, "urea",
       [](Story& s) { s.set(0, kind::kSoilBroadcast, "product", string("urea")); }, "why.product_not_allowed"},
      {"bottom.broadcast", 1, unknown, "none", [](Story& s) { s.forget(0, kind::kSoilBroadcast); },
       "why.broadcast_none"},
      {"bottom.screens", 1, unmet, "torn", [](Story& s) { s.set(0, kind::kScreenCheck, "whole", false); },
       "why.screen_torn"},
      {"bottom.screens", 1, unmet, "501 um", [](Story& s) { s.set(0, kind::kScreenCheck, "mesh_um", 501.0); },
       "why.screen_coarse"},
      {"bottom.screens", 1, unknown, "a second inlet without a check",
       [](Story& s) {
         s.pond_setup.inlets = {"gate", "pump"};
       },
       "why.screen_none"},
      {"bottom.source", 1, unmet, "green source",
       [](Story& s) { s.set(0, kind::kSourceLook, "colour", string("green")); }, "why.source_dense"},
      {"bottom.source", 1, unmet, "red-brown source",
       [](Story& s) { s.set(0, kind::kSourceLook, "colour", string("red_brown")); }, "why.source_dense"},
      {"bottom.source", 1, unknown, "not looked at", [](Story& s) { s.forget(0, kind::kSourceLook); },
       "why.source_none"},
      // Stage 2: 20 to 30 % of 120 cm is 24 to 36 cm
      {"first_fill.level", 2, unmet, "23.9 cm",
       [](Story& s) { s.set(0, kind::kLevelReading, "level_cm", 23.9); }, "why.level_low"},
      {"first_fill.level", 2, unmet, "36.1 cm",
       [](Story& s) { s.set(0, kind::kLevelReading, "level_cm", 36.1); }, "why.level_high"},
      {"first_fill.level", 2, unknown, "not read", [](Story& s) { s.forget(0, kind::kLevelReading); },
       "why.level_none"},
      {"first_fill.level", 2, unknown, "no curve", [](Story& s) { s.pond_setup.curve.reset(); },
       "why.no_curve"},
      // Stage 3
      {"rest.rested", 3, unmet, "an inlet open",
       [](Story& s) {
         s.tell(1, "10:00", kind::kInletMoved, {{"position", string("open")}});
       },
       "why.inlet_open"},
      {"rest.rested", 3, unmet, "opened and shut again on day 1",
       [](Story& s) {
         s.tell(1, "10:00", kind::kInletMoved, {{"position", string("open")}});
         s.tell(1, "11:00", kind::kInletMoved, {{"position", string("shut")}});
       },
       "why.resting"},
      {"rest.rested", 3, unknown, "nobody wrote that it is shut",
       [](Story& s) { s.forget(0, kind::kInletMoved); }, "why.inlet_not_recorded"},
      {"rest.pairs", 3, unknown, "day 1 unread", [](Story& s) { s.forget(1, kind::kWaterReading); },
       "why.pairs_missing"},
      {"rest.swing", 3, unmet, "DO swing 3.9",
       [](Story& s) {
         s.mend(2, kind::kWaterReading, [](test::Told& one) {
           if (one.hh_mm == "16:00") one.values["do_mg_l"] = 9.0;
           return true;
         });
       },
       "why.swing_small"},
      {"rest.swing", 3, unmet, "pH swing 0.3",
       [](Story& s) {
         s.mend(2, kind::kWaterReading, [](test::Told& one) {
           if (one.hh_mm == "16:00") one.values["ph"] = 8.1;
           return true;
         });
       },
       "why.swing_small"},
      {"rest.colour", 3, unmet, "clear",
       [](Story& s) { s.set(2, kind::kWaterColour, "colour", string("clear")); }, "why.colour_wrong"},
      {"rest.colour", 3, unknown, "not looked at", [](Story& s) { s.forget(2, kind::kWaterColour); },
       "why.colour_none"},
      // Stage 4: 50 to 65 % of 120 cm is 60 to 78 cm
      {"second_fill.level", 4, unmet, "59.9 cm",
       [](Story& s) { s.set(3, kind::kLevelReading, "level_cm", 59.9); }, "why.level_low"},
      {"second_fill.level", 4, unmet, "78.1 cm",
       [](Story& s) { s.set(3, kind::kLevelReading, "level_cm", 78.1); }, "why.level_high"},
      // Stage 5: 25 kg/ha +- 10 %
      {"first_dose.dose", 5, unmet, "22.4 kg/ha", [](Story& s) { s.set(4, kind::kDose, "product_kg", 22.4); },
       "why.dose_low"},
      {"first_dose.dose", 5, unmet, "27.6 kg/ha", [](Story& s) { s.set(4, kind::kDose, "product_kg", 27.6); },
       "why.dose_high"},
      {"first_dose.dose", 5, unmet, "part of the surface",
       [](Story& s) { s.set(4, kind::kDose, "coverage", string("part")); }, "why.dose_part"},
      {"first_dose.dose", 5, unmet, "not dissolved",
       [](Story& s) { s.set(4, kind::kDose, "dissolved", false); }, "why.dose_not_dissolved"},
      {"first_dose.dose", 5, unmet, "urea", [](Story& s) { s.set(4, kind::kDose, "product", string("urea")); },
       "why.product_not_allowed"},
      {"first_dose.dose", 5, unknown, "no dose", [](Story& s) { s.forget(4, kind::kDose); }, "why.dose_none"},
      {"first_dose.moment", 5, unmet, "begun in the dark",
       [](Story& s) { s.set(4, kind::kDose, "started", to_iso(at(4, "05:00"))); }, "why.moment_outside"},
      {"first_dose.moment", 5, unmet, "ended at noon",
       [](Story& s) { s.set(4, kind::kDose, "ended", to_iso(at(4, "12:00"))); }, "why.moment_outside"},
      {"first_dose.moment", 5, unmet, "mixed sky",
       [](Story& s) {
         s.set(4, kind::kDose, "sky", string("mixed")).set(4, kind::kSky, "sky", string("mixed"));
       },
       "why.sky_not_bright"},
      {"first_dose.moment", 5, unknown, "sky not recorded",
       [](Story& s) {
         s.forget(4, kind::kSky).mend(4, kind::kDose, [](test::Told& one) {
           one.values.erase("sky");
           return true;
         });
       },
       "why.sky_none"},
      // Stage 6
      {"bloom.secchi", 6, unmet, "44 cm", [](Story& s) { s.forget(5, kind::kSecchiReading).secchi(5, 44); },
       "why.secchi_under"},
      {"bloom.secchi", 6, unmet, "56 cm", [](Story& s) { s.forget(5, kind::kSecchiReading).secchi(5, 56); },
       "why.secchi_over"},
      {"bloom.secchi", 6, unknown, "seen on the bottom at 50 cm",
       [](Story& s) { s.forget(5, kind::kSecchiReading).on_bottom(5, 50); }, "why.secchi_bottom"},
      {"bloom.secchi", 6, unknown, "seen on the bottom at 55 cm",
       [](Story& s) { s.forget(5, kind::kSecchiReading).on_bottom(5, 55); }, "why.secchi_bottom"},
      {"bloom.secchi", 6, unmet, "seen on the bottom at 56 cm",
       [](Story& s) { s.forget(5, kind::kSecchiReading).on_bottom(5, 56); }, "why.secchi_bottom_over"},
      {"bloom.secchi", 6, unknown, "read outside the peak window",
       [](Story& s) { s.forget(5, kind::kSecchiReading).secchi(5, 50, "09:00"); }, "why.outside_peak"},
      {"bloom.secchi", 6, unknown, "pairs that differ", [](Story& s) { s.secchi(5, 56, "12:02"); },
       "why.secchi_spread"},
      {"bloom.swing", 6, unmet, "DO swing 2.9 the day before",
       [](Story& s) {
         s.forget(4, kind::kWaterReading).pair(4, 5.0, 7.8, 7.9, 8.2).pair(5, 5.0, 7.8, 7.9, 8.2);
         s.forget(5, kind::kSecchiReading).secchi(5, 50);
         s.told.erase(std::remove_if(s.told.begin(), s.told.end(),
                                     [](const test::Told& one) {
                                       return one.day == 5 && one.kind == kind::kWaterReading &&
                                              one.hh_mm == "06:00";
                                     }),
                      s.told.end());
       },
       "why.swing_small"},
      {"bloom.swing", 6, unknown, "no readings since the dose",
       [](Story& s) { s.forget(4, kind::kWaterReading); }, "why.swing_none"},
      {"bloom.colour", 6, unmet, "pale gold",
       [](Story& s) { s.set(5, kind::kWaterColour, "colour", string("pale_gold")); }, "why.colour_wrong"},
      {"bloom.colour", 6, unknown, "not looked at since the dose",
       [](Story& s) { s.forget(5, kind::kWaterColour); }, "why.colour_none"},
      // Stage 7: 75 to 85 % of 120 cm is 90 to 102 cm
      {"third_fill.level", 7, unmet, "89.9 cm",
       [](Story& s) { s.set(6, kind::kLevelReading, "level_cm", 89.9); }, "why.level_low"},
      {"third_fill.level", 7, unmet, "102.1 cm",
       [](Story& s) { s.set(6, kind::kLevelReading, "level_cm", 102.1); }, "why.level_high"},
      {"third_fill.secchi", 7, unmet, "60 cm after the fill",
       [](Story& s) { s.forget(6, kind::kSecchiReading).secchi(6, 60); }, "why.secchi_over"},
      {"third_fill.secchi", 7, unknown, "not read after the fill",
       [](Story& s) { s.forget(6, kind::kSecchiReading); }, "why.secchi_none"},
      // Stage 8
      {"hold_band.secchi", 8, unknown, "two days only", [](Story& s) { s.forget(7, kind::kSecchiReading); },
       "why.band_days"},
      {"hold_band.grazers", 8, unmet, "none seen",
       [](Story& s) { s.set(8, kind::kGrazerCount, "copepods_per_l", 0.0); }, "why.grazers_not_seen"},
      {"hold_band.grazers", 8, unknown, "one sample of 49",
       [](Story& s) { s.set(8, kind::kGrazerCount, "copepods_per_l", 49.0); }, "why.grazers_one_sample"},
      {"hold_band.grazers", 8, unmet, "falling",
       [](Story& s) {
         s.set(8, kind::kGrazerCount, "copepods_per_l", 20.0);
         s.tell(7, "12:20", kind::kGrazerCount, {{"copepods_per_l", 30.0}});
       },
       "why.grazers_few"},
      {"hold_band.grazers", 8, unknown, "no sample", [](Story& s) { s.forget(8, kind::kGrazerCount); },
       "why.grazers_none"},
      {"hold_band.bottom_animals", 8, unmet, "2 of 5",
       [](Story& s) { s.set(8, kind::kBottomGrab, "grabs_with_animals", 2.0); }, "why.grabs"},
      {"hold_band.bottom_animals", 8, unknown, "2 of 4, one to come",
       [](Story& s) {
         s.set(8, kind::kBottomGrab, "grabs_with_animals", 2.0).set(8, kind::kBottomGrab, "grabs", 4.0);
       },
       "why.grabs"},
      {"hold_band.bottom_animals", 8, unknown, "no grab", [](Story& s) { s.forget(8, kind::kBottomGrab); },
       "why.grabs_none"},
      // Stage 9
      {"release.dawn_do", 9, unmet, "3.9 mg/L on the last day",
       [](Story& s) { s.set(9, kind::kWaterReading, "do_mg_l", 3.9); }, "why.dawn_do_low"},
      {"release.dawn_do", 9, unknown, "last dawn not read", [](Story& s) { s.forget(9, kind::kWaterReading); },
       "why.dawn_do_missing"},
      {"release.dawn_do", 9, unknown, "last dawn read at 08:30",
       [](Story& s) {
         s.mend(9, kind::kWaterReading, [](test::Told& one) {
           one.hh_mm = "08:30";
           return true;
         });
       },
       "why.outside_dawn"},
      {"release.ph", 9, unmet, "pH 8.9 in the afternoon, from 8.2",
       [](Story& s) { s.forget(8, kind::kWaterReading).pair(8, 5.0, 8.2, 8.6, 8.9); }, "why.ph_outside"},
      {"release.ph", 9, unmet, "swing 0.9",
       [](Story& s) { s.forget(8, kind::kWaterReading).pair(8, 5.0, 7.8, 8.6, 8.7); }, "why.ph_swing_large"},
      {"release.temperature", 9, unmet, "36 C",
       [](Story& s) { s.set(9, kind::kWaterReading, "temperature_c", 36.0); }, "why.temperature_outside"},
      {"release.salinity", 9, unmet, "S 40", [](Story& s) { s.set(9, kind::kWaterReading, "salinity", 40.0); },
       "why.salinity_outside"},
      {"release.ammonia", 9, unmet, "2 mg/L TAN at pH 8.3",
       [](Story& s) { s.set(9, kind::kWaterTest, "tan_mg_l", 2.0); }, "why.ammonia_high"},
      {"release.ammonia", 9, unknown, "no ammonia test",
       [](Story& s) {
         s.mend(9, kind::kWaterTest, [](test::Told& one) {
           one.values.erase("tan_mg_l");
           return true;
         });
       },
       "why.ammonia_none"},
      {"release.alkalinity", 9, unmet, "79 mg/L",
       [](Story& s) { s.set(9, kind::kWaterTest, "alkalinity_mg_l", 79.0); }, "why.alkalinity_low"},
      {"release.alkalinity", 9, unknown, "no alkalinity test",
       [](Story& s) {
         s.mend(9, kind::kWaterTest, [](test::Told& one) {
           one.values.erase("alkalinity_mg_l");
           return true;
         });
       },
       "why.alkalinity_none"},
      {"release.pests", 9, unmet, "a few bivalves",
       [](Story& s) { s.set(9, kind::kPestLook, "bivalves", string("few")); }, "why.bivalves_seen"},
      {"release.pests", 9, unmet, "predators",
       [](Story& s) { s.set(9, kind::kPestLook, "predators", string("seen")); }, "why.predators_seen"},
      {"release.pests", 9, unknown, "not looked for", [](Story& s) { s.forget(9, kind::kPestLook); },
       "why.pests_none"},
      {"release.level", 9, unmet, "107 cm, 90 % is 108",
       [](Story& s) { s.set(9, kind::kLevelReading, "level_cm", 107.0); }, "why.stocking_level_low"},
      {"release.decision", 9, unknown, "not signed", [](Story& s) { s.forget(9, kind::kReleaseSigned); },
       "why.release_waits"},
  };
}

INSTANTIATE_TEST_SUITE_P(All, EachCriterion, ::testing::ValuesIn(breaks()));

}  // namespace
}  // namespace tawny
