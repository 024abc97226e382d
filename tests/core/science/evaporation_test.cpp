#include "science/evaporation.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// FAO-56, example 17: Bangkok, 13 44 N, 2 m, April; the month before was 1 C cooler, so that the ground takes
// 0.14.
DayWeather example_17() {
  DayWeather weather;
  weather.temperature_low_c = 25.6;
  weather.temperature_high_c = 34.8;
  weather.vapour_pressure_kpa = 2.85;
  weather.wind_m_s = 2;
  weather.wind_height_m = 2;
  weather.sunshine_h = 8.5;
  weather.latitude_deg = 13 + 44 / 60.0;
  weather.day_of_year = 105;
  weather.altitude_m = 2;
  weather.ground_heat_mj_m2_d = 0.14;
  return weather;
}

// FAO-56, example 18: Uccle, 50 48 N, 100 m, 6 July.
DayWeather example_18() {
  DayWeather weather;
  weather.temperature_low_c = 12.3;
  weather.temperature_high_c = 21.5;
  weather.vapour_pressure_kpa = 1.409;
  weather.wind_m_s = 2.78;
  weather.wind_height_m = 10;
  weather.sunshine_h = 9.25;
  weather.latitude_deg = 50 + 48 / 60.0;
  weather.day_of_year = 187;
  weather.altitude_m = 100;
  return weather;
}

// [published: FAO-56, via the tests of a public evaporation library; the weather of both from memory]
TEST(Evaporation, MatchesFaoExample17) {
  const Result<Evaporation> day = evaporation(example_17(), 1.05);
  ASSERT_TRUE(day);
  EXPECT_NEAR(day->reference_mm_d, 5.72, 0.01);
  EXPECT_NEAR(day->radiation_mj_m2_d, 22.65, 0.01);
  EXPECT_NEAR(day->clear_sky_radiation_mj_m2_d, 28.54, 0.01);
  EXPECT_NEAR(day->net_long_wave_mj_m2_d, 3.11, 0.01);
  EXPECT_NEAR(day->net_radiation_mj_m2_d, 14.33, 0.01);
  EXPECT_NEAR(day->open_water_mm_d, 1.05 * day->reference_mm_d, 1e-12);
}

TEST(Evaporation, MatchesFaoExample18) {
  const Result<Evaporation> day = evaporation(example_18(), 1.05);
  ASSERT_TRUE(day);
  EXPECT_NEAR(day->reference_mm_d, 3.88, 0.01);
  EXPECT_NEAR(day->wind_at_2_m_s, 2.078, 0.005);
  EXPECT_NEAR(day->net_long_wave_mj_m2_d, 3.71, 0.01);
  EXPECT_NEAR(day->net_radiation_mj_m2_d, 13.28, 0.01);
}

// FAO-56, example 14: 3.2 m/s at 10 m; example 3: 24.5 and 15 C [published: as above].
TEST(Evaporation, MatchesFaoExamplesOfWindAndVapour) {
  DayWeather weather = example_18();
  weather.wind_m_s = 3.2;
  weather.temperature_low_c = 15;
  weather.temperature_high_c = 24.5;
  const Result<Evaporation> day = evaporation(weather, 1.05);
  ASSERT_TRUE(day);
  EXPECT_NEAR(day->wind_at_2_m_s, 2.4, 0.05);
  EXPECT_NEAR(day->saturation_pressure_kpa, 2.39, 0.005);
}

// FAO-56, example 21: a pan of 7.9 mm/d, coefficient 0.85, gives 6.7 mm/d [from memory].
TEST(Evaporation, FromAPanMatchesFaoExample21) {
  EXPECT_NEAR(*pond_evaporation_from_pan_mm_d(7.9, 0.85), 6.7, 0.05);
}

TEST(Evaporation, TakesHumidityOrVapourPressureForTheSameAir) {
  DayWeather weather = example_17();
  const double vapour = *weather.vapour_pressure_kpa;
  const Result<Evaporation> by_vapour = evaporation(weather, 1);
  ASSERT_TRUE(by_vapour);
  weather.vapour_pressure_kpa.reset();
  weather.humidity_percent = 100 * vapour / by_vapour->saturation_pressure_kpa;
  const Result<Evaporation> by_humidity = evaporation(weather, 1);
  ASSERT_TRUE(by_humidity);
  EXPECT_NEAR(by_humidity->reference_mm_d, by_vapour->reference_mm_d, 1e-12);
}

TEST(Evaporation, TakesRadiationOrSunshineForTheSameDay) {
  DayWeather weather = example_17();
  const Result<Evaporation> by_sunshine = evaporation(weather, 1);
  ASSERT_TRUE(by_sunshine);
  weather.sunshine_h.reset();
  weather.radiation_mj_m2_d = by_sunshine->radiation_mj_m2_d;
  const Result<Evaporation> by_radiation = evaporation(weather, 1);
  ASSERT_TRUE(by_radiation);
  EXPECT_NEAR(by_radiation->reference_mm_d, by_sunshine->reference_mm_d, 1e-12);
}

TEST(Evaporation, GrowsWithSunWindAndDryAir) {
  const double before = evaporation(example_17(), 1)->reference_mm_d;
  DayWeather weather = example_17();
  weather.sunshine_h = 11;
  EXPECT_GT(evaporation(weather, 1)->reference_mm_d, before);
  weather = example_17();
  weather.wind_m_s = 4;
  EXPECT_GT(evaporation(weather, 1)->reference_mm_d, before);
  weather = example_17();
  weather.vapour_pressure_kpa = 2.0;
  EXPECT_GT(evaporation(weather, 1)->reference_mm_d, before);
}

TEST(Evaporation, OfAGloomySkyLosesLittleHeatButNeverGains) {
  DayWeather weather = example_17();
  weather.sunshine_h.reset();
  weather.radiation_mj_m2_d = 1;
  const Result<Evaporation> day = evaporation(weather, 1);
  ASSERT_TRUE(day);
  EXPECT_GT(day->net_long_wave_mj_m2_d, 0);
}

TEST(Evaporation, AsksForOneOfTwo) {
  DayWeather weather = example_17();
  weather.humidity_percent = 70;
  EXPECT_EQ(evaporation(weather, 1).error().kind, ProblemKind::conflict);
  weather.humidity_percent.reset();
  weather.vapour_pressure_kpa.reset();
  EXPECT_EQ(evaporation(weather, 1).error().kind, ProblemKind::missing);
  EXPECT_EQ(evaporation(weather, 1).error().parameter, "humidity_percent");
  weather = example_17();
  weather.radiation_mj_m2_d = 20;
  EXPECT_EQ(evaporation(weather, 1).error().kind, ProblemKind::conflict);
  weather.radiation_mj_m2_d.reset();
  weather.sunshine_h.reset();
  EXPECT_EQ(evaporation(weather, 1).error().kind, ProblemKind::missing);
  EXPECT_EQ(evaporation(weather, 1).error().parameter, "radiation_mj_m2_d");
}

TEST(Evaporation, RefusesWhatCannotBe) {
  const auto refused = [](auto change) {
    DayWeather weather = example_17();
    change(weather);
    const Result<Evaporation> day = evaporation(weather, 1);
    return day ? std::string("nothing") : day.error().parameter;
  };
  EXPECT_EQ(refused([](DayWeather& w) { w.temperature_low_c = -10.1; }), "temperature_low_c");
  EXPECT_EQ(refused([](DayWeather& w) { w.temperature_high_c = 50.1; }), "temperature_high_c");
  EXPECT_EQ(refused([](DayWeather& w) { w.temperature_high_c = 25.5; }), "temperature_high_c");
  EXPECT_EQ(refused([](DayWeather& w) { w.vapour_pressure_kpa = 4.5; }), "vapour_pressure_kpa");
  EXPECT_EQ(refused([](DayWeather& w) { w.vapour_pressure_kpa = -0.1; }), "vapour_pressure_kpa");
  EXPECT_EQ(refused([](DayWeather& w) {
              w.vapour_pressure_kpa.reset();
              w.humidity_percent = 101;
            }),
            "humidity_percent");
  EXPECT_EQ(refused([](DayWeather& w) {
              w.vapour_pressure_kpa.reset();
              w.humidity_percent = 0.5;
            }),
            "humidity_percent");
  EXPECT_EQ(refused([](DayWeather& w) { w.wind_m_s = -0.1; }), "wind_m_s");
  EXPECT_EQ(refused([](DayWeather& w) { w.wind_m_s = 41; }), "wind_m_s");
  EXPECT_EQ(refused([](DayWeather& w) { w.wind_height_m = 0.4; }), "wind_height_m");
  EXPECT_EQ(refused([](DayWeather& w) { w.wind_height_m = 101; }), "wind_height_m");
  EXPECT_EQ(refused([](DayWeather& w) { w.sunshine_h = 12.4; }), "sunshine_h");
  EXPECT_EQ(refused([](DayWeather& w) {
              w.sunshine_h.reset();
              w.radiation_mj_m2_d = 38.2;
            }),
            "radiation_mj_m2_d");
  EXPECT_EQ(refused([](DayWeather& w) { w.latitude_deg = 67; }), "latitude_deg");
  EXPECT_EQ(refused([](DayWeather& w) { w.day_of_year = 0; }), "day_of_year");
  EXPECT_EQ(refused([](DayWeather& w) { w.altitude_m = 5001; }), "altitude_m");
  EXPECT_EQ(refused([](DayWeather& w) { w.ground_heat_mj_m2_d = 5.1; }), "ground_heat_mj_m2_d");
  EXPECT_EQ(evaporation(example_17(), 0.49).error().parameter, "open_water_factor");
  EXPECT_EQ(evaporation(example_17(), 2.01).error().parameter, "open_water_factor");
  EXPECT_EQ(pond_evaporation_from_pan_mm_d(-0.1, 0.81).error().parameter, "pan_mm_d");
  EXPECT_EQ(pond_evaporation_from_pan_mm_d(40.1, 0.81).error().parameter, "pan_mm_d");
  EXPECT_EQ(pond_evaporation_from_pan_mm_d(5, 0.29).error().parameter, "pan_coefficient");
  EXPECT_EQ(pond_evaporation_from_pan_mm_d(5, 1.21).error().parameter, "pan_coefficient");
}

}  // namespace
}  // namespace tawny
