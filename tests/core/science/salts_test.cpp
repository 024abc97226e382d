#include "science/salts.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// CRC Handbook, 98th ed., mass percent of solution [published: via a public table].
TEST(Solubility, MatchesTheHandbook) {
  const double temperatures_c[] = {0, 10, 20, 25, 30, 40};
  struct Row {
    Salt salt;
    double percent[6];
  };
  const Row rows[] = {{Salt::sodium_nitrate, {42.2, 44.4, 46.6, 47.7, 48.8, 51.0}},
                      {Salt::potassium_nitrate, {12.0, 17.6, 24.2, 27.7, 31.3, 38.6}},
                      {Salt::calcium_nitrate, {50.1, 53.1, 56.7, 59.0, 60.9, 65.4}}};
  for (const Row& row : rows) {
    for (int i = 0; i < 6; ++i) {
      EXPECT_NEAR(100 * *solubility_mass_fraction(row.salt, temperatures_c[i]), row.percent[i], 1e-9)
          << static_cast<int>(row.salt) << " at " << temperatures_c[i];
    }
  }
}

// Between the points: the same handbook's molalities [published: via a second public table].
TEST(Solubility, IsNearTheHandbooksMolalitiesBetweenThePoints) {
  struct Row {
    Salt salt;
    double temperature_c, molality, molar_mass_g;
  };
  const Row rows[] = {{Salt::sodium_nitrate, 15, 9.819, 84.994},
                      {Salt::sodium_nitrate, 35, 11.706, 84.994},
                      {Salt::calcium_nitrate, 15, 7.398, 164.086},
                      {Salt::calcium_nitrate, 35, 10.421, 164.086}};
  for (const Row& row : rows) {
    const double salt_g = row.molality * row.molar_mass_g;
    EXPECT_NEAR(*solubility_mass_fraction(row.salt, row.temperature_c), salt_g / (1000 + salt_g), 0.003)
        << static_cast<int>(row.salt) << " at " << row.temperature_c;
  }
}

// g per 100 g water [published: several school tables].
TEST(Solubility, OfPotassiumNitrateMatchesSchoolTables) {
  struct Row {
    double temperature_c, g_per_100_g;
  };
  for (const Row& row : {Row{0, 13.3}, Row{10, 20.9}, Row{20, 31.6}, Row{30, 45.8}, Row{40, 63.9}}) {
    const double w = *solubility_mass_fraction(Salt::potassium_nitrate, row.temperature_c);
    EXPECT_NEAR(100 * w / (1 - w), row.g_per_100_g, 1.1) << row.temperature_c;
  }
}

TEST(Solubility, RefusesTemperaturesOutsideTheTable) {
  EXPECT_FALSE(solubility_mass_fraction(Salt::sodium_nitrate, -0.1));
  EXPECT_FALSE(solubility_mass_fraction(Salt::sodium_nitrate, 40.1));
}

// CRC at 20 C [published: via a public engineering table]; the last two potassium rows from memory.
TEST(SolutionDensity, MatchesTheHandbook) {
  struct Row {
    Salt salt;
    double mass_fraction, density_kg_m3, tolerance_kg_m3;
  };
  const Row rows[] = {
      {Salt::sodium_nitrate, 0.01, 1005.0, 0.2},    {Salt::sodium_nitrate, 0.05, 1032.2, 0.2},
      {Salt::sodium_nitrate, 0.10, 1067.4, 0.2},    {Salt::sodium_nitrate, 0.20, 1142.9, 0.3},
      {Salt::sodium_nitrate, 0.30, 1225.6, 0.5},    {Salt::sodium_nitrate, 0.40, 1317.5, 1.5},
      {Salt::potassium_nitrate, 0.10, 1062.7, 0.2}, {Salt::potassium_nitrate, 0.20, 1132.6, 0.2},
  };
  for (const Row& row : rows) {
    EXPECT_NEAR(*solution_density_kg_m3(row.salt, row.mass_fraction, 20), row.density_kg_m3,
                row.tolerance_kg_m3)
        << static_cast<int>(row.salt) << " " << row.mass_fraction;
  }
}

// [computed: an independent coding of the same parameters]
TEST(SolutionDensity, MatchesTheRegressionTable) {
  struct Row {
    Salt salt;
    double mass_fraction, density_kg_m3;
  };
  const Row rows[] = {{Salt::potassium_nitrate, 0.05, 1029.7}, {Salt::potassium_nitrate, 0.10, 1062.6},
                      {Salt::potassium_nitrate, 0.20, 1132.7}, {Salt::calcium_nitrate, 0.10, 1076.6},
                      {Salt::calcium_nitrate, 0.20, 1163.1},   {Salt::calcium_nitrate, 0.30, 1259.0},
                      {Salt::calcium_nitrate, 0.40, 1365.5},   {Salt::calcium_nitrate, 0.50, 1484.1}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*solution_density_kg_m3(row.salt, row.mass_fraction, 20), row.density_kg_m3, 0.06)
        << static_cast<int>(row.salt) << " " << row.mass_fraction;
  }
}

// Water alone at 25 C: 997.0448954 [published: docstring of a public library].
TEST(SolutionDensity, OfNoSaltIsWater) {
  for (const Salt salt : {Salt::sodium_nitrate, Salt::potassium_nitrate, Salt::calcium_nitrate}) {
    EXPECT_NEAR(*solution_density_kg_m3(salt, 0, 25), 997.0448954, 1e-6);
  }
}

TEST(SolutionDensity, RefusesWhatNoSolutionIs) {
  EXPECT_FALSE(solution_density_kg_m3(Salt::sodium_nitrate, -0.01, 20));
  EXPECT_FALSE(solution_density_kg_m3(Salt::sodium_nitrate, 0.61, 20));
  EXPECT_FALSE(solution_density_kg_m3(Salt::sodium_nitrate, 0.1, 41));
}

// Cooling of 100 kg of water at 25 C [computed: from published heats and specific heats, an independent
// coding].
TEST(Dissolve, CoolsAsTheTableSays) {
  struct Row {
    Salt salt;
    double salt_kg, cooling_k, tolerance_k;
  };
  const Row rows[] = {
      {Salt::sodium_nitrate, 5, 2.7, 0.06},    {Salt::sodium_nitrate, 10, 5.1, 0.06},
      {Salt::sodium_nitrate, 20, 9.1, 0.06},   {Salt::sodium_nitrate, 30, 12.3, 0.06},
      {Salt::potassium_nitrate, 5, 4.1, 0.06}, {Salt::potassium_nitrate, 10, 8.2, 0.06},
      {Salt::potassium_nitrate, 20, 16, 0.3},
  };
  for (const Row& row : rows) {
    const Result<Dissolving> state = dissolve(row.salt, row.salt_kg, 100, 25);
    ASSERT_TRUE(state);
    EXPECT_TRUE(state->dissolves) << row.salt_kg;
    EXPECT_NEAR(25 - state->final_temperature_c, row.cooling_k, row.tolerance_k)
        << static_cast<int>(row.salt) << " " << row.salt_kg;
  }
}

TEST(Dissolve, TwentyKilosOfPotassiumNitrateJustSaturateAHundredOfWater) {
  const Result<Dissolving> state = dissolve(Salt::potassium_nitrate, 20, 100, 25);
  ASSERT_TRUE(state);
  EXPECT_NEAR(state->final_temperature_c, 9, 0.5);
  EXPECT_GT(state->share_of_saturation, 0.95);
  EXPECT_LE(state->share_of_saturation, 1);
}

TEST(Dissolve, ThirtyKilosOfPotassiumNitrateChillThemselvesOutOfSolution) {
  const Result<Dissolving> state = dissolve(Salt::potassium_nitrate, 30, 100, 25);
  ASSERT_TRUE(state);
  EXPECT_FALSE(state->dissolves);
  EXPECT_NEAR(state->final_temperature_c, 9, 0.5);
  EXPECT_NEAR(state->share_of_saturation, 1, 1e-6);
  // Though the table at the starting temperature would promise 38 kg.
  const double promised = *solubility_mass_fraction(Salt::potassium_nitrate, 25);
  EXPECT_GT(100 * promised / (1 - promised), 38);
}

TEST(Dissolve, WhatStopsDoesNotDependOnHowMuchIsLeftOver) {
  const Dissolving some = *dissolve(Salt::potassium_nitrate, 25, 100, 25);
  const Dissolving much = *dissolve(Salt::potassium_nitrate, 90, 100, 25);
  EXPECT_NEAR(some.final_temperature_c, much.final_temperature_c, 1e-9);
  EXPECT_NEAR(some.solution_volume_l, much.solution_volume_l, 1e-6);
}

TEST(Dissolve, StopsAtFreezing) {
  const Result<Dissolving> state = dissolve(Salt::potassium_nitrate, 12, 100, 5);
  ASSERT_TRUE(state);
  EXPECT_FALSE(state->dissolves);
  EXPECT_NEAR(state->final_temperature_c, 0, 1e-6);
  EXPECT_LT(state->share_of_saturation, 1);
}

TEST(Dissolve, VolumeIsMassOverDensityNotTheWatersVolume) {
  const Dissolving state = *dissolve(Salt::sodium_nitrate, 30, 100, 25);
  const double density = *solution_density_kg_m3(Salt::sodium_nitrate, 30.0 / 130, state.final_temperature_c);
  EXPECT_NEAR(state.solution_volume_l, 130000 / density, 1e-9);
  EXPECT_GT(state.solution_volume_l, 110);
}

TEST(Dissolve, ShareIsSaltPerWaterOverWhatTheChilledWaterWouldHold) {
  const Dissolving state = *dissolve(Salt::sodium_nitrate, 20, 100, 25);
  const double w = *solubility_mass_fraction(Salt::sodium_nitrate, state.final_temperature_c);
  EXPECT_NEAR(state.share_of_saturation, 0.2 * (1 - w) / w, 1e-12);
}

TEST(Dissolve, RefusesNothingAndTheImpossible) {
  EXPECT_EQ(dissolve(Salt::sodium_nitrate, 0, 100, 25).error().parameter, "salt_kg");
  EXPECT_EQ(dissolve(Salt::sodium_nitrate, 10, 0, 25).error().parameter, "water_kg");
  EXPECT_EQ(dissolve(Salt::sodium_nitrate, 10, -5, 25).error().parameter, "water_kg");
  EXPECT_EQ(dissolve(Salt::sodium_nitrate, 10, 100, -1).error().parameter, "temperature_c");
  EXPECT_EQ(dissolve(Salt::sodium_nitrate, 10, 100, 41).error().parameter, "temperature_c");
}

TEST(SaltNamed, KnowsTheThreeAndNoOther) {
  EXPECT_EQ(salt_named("sodium_nitrate"), Salt::sodium_nitrate);
  EXPECT_EQ(salt_named("potassium_nitrate"), Salt::potassium_nitrate);
  EXPECT_EQ(salt_named("calcium_nitrate"), Salt::calcium_nitrate);
  for (const char* name : {"", "ammonium_nitrate", "Sodium_Nitrate", "sodium_nitrate "}) {
    ASSERT_FALSE(salt_named(name)) << name;
    EXPECT_EQ(salt_named(name).error().kind, ProblemKind::unsupported);
  }
}

}  // namespace
}  // namespace tawny
