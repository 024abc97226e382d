#include "science/oxygen.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/open_data.h"
#include "science/seawater.h"

namespace tawny {
namespace {

// EN 25814 / ISO 5814, fresh water at 101.325 kPa [published: via an instrument's manual].
TEST(Oxygen, MatchesTheIsoTable) {
  struct Row {
    double temperature_c, oxygen_mg_l;
  };
  const Row rows[] = {{16, 9.87}, {18, 9.47}, {20, 9.09}, {22, 8.74}, {24, 8.42},
                      {25, 8.26}, {26, 8.11}, {28, 7.83}, {30, 7.56}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*oxygen_saturation_mg_l(row.temperature_c, 0, 1), row.oxygen_mg_l, 0.0051) << row.temperature_c;
  }
}

// APHA Standard Methods 4500-O, three decimals [from memory].
TEST(Oxygen, MatchesTheAphaThirdDecimals) {
  struct Row {
    double temperature_c, oxygen_mg_l;
  };
  const Row rows[] = {{0, 14.621}, {5, 12.770}, {10, 11.288}, {15, 10.084}, {20, 9.092},
                      {25, 8.263}, {30, 7.559}, {35, 6.949},  {40, 6.412}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*oxygen_saturation_mg_l(row.temperature_c, 0, 1), row.oxygen_mg_l, 0.0015) << row.temperature_c;
  }
}

// [computed: an independent coding; Garcia & Gordon by gsw 3.6.16 agrees to 0.003]
TEST(Oxygen, MatchesTheRegressionTable) {
  const double salinities[] = {0, 5, 10, 20, 30, 35, 40};
  struct Row {
    double temperature_c;
    double oxygen_mg_l[7];
  };
  const Row rows[] = {
      {0, {14.621, 14.118, 13.633, 12.712, 11.853, 11.446, 11.052}},
      {10, {11.288, 10.933, 10.589, 9.933, 9.317, 9.024, 8.740}},
      {20, {9.092, 8.828, 8.572, 8.080, 7.617, 7.396, 7.181}},
      {25, {8.263, 8.032, 7.807, 7.375, 6.967, 6.772, 6.582}},
      {30, {7.559, 7.354, 7.155, 6.772, 6.410, 6.237, 6.068}},
      {35, {6.949, 6.767, 6.589, 6.248, 5.924, 5.769, 5.617}},
      {40, {6.413, 6.249, 6.090, 5.784, 5.493, 5.353, 5.216}},
  };
  for (const Row& row : rows) {
    for (int i = 0; i < 7; ++i) {
      EXPECT_NEAR(*oxygen_saturation_mg_l(row.temperature_c, salinities[i], 1), row.oxygen_mg_l[i], 0.0006)
          << row.temperature_c << ", " << salinities[i];
    }
  }
}

// [computed: an independent coding]. Taking theta with kelvin moves the first by 0.0013.
TEST(Oxygen, PressureTermTakesDegreesCelsius) {
  EXPECT_NEAR(*oxygen_saturation_mg_l(20, 0, 0.90), 8.162292, 2e-6);
  EXPECT_NEAR(*oxygen_saturation_mg_l(30, 20, 0.98), 6.631005, 2e-6);
  EXPECT_NEAR(*oxygen_saturation_mg_l(25, 15, 1), 7.587823, 2e-6);
}

// Benson & Krause with the second pressure term taken in kelvin, as some public codes have it.
double pressure_factor(double temperature_c, double theta_temperature, double pressure_atm) {
  const double kelvin = temperature_c + 273.15;
  const double vapour = std::exp(11.8571 - 3840.70 / kelvin - 216961 / (kelvin * kelvin));
  const double theta =
      0.000975 - 1.426e-5 * theta_temperature + 6.436e-8 * theta_temperature * theta_temperature;
  return (pressure_atm - vapour) * (1 - theta * pressure_atm) / ((1 - vapour) * (1 - theta));
}

// At 20 C and 0.9 atm the factor is 0.897702, in kelvin 0.897847 [computed: an independent coding].
TEST(Oxygen, PressureFactorIsThatOfCelsiusNotOfKelvin) {
  EXPECT_NEAR(pressure_factor(20, 20, 0.9), 0.897702, 5e-7);
  EXPECT_NEAR(pressure_factor(20, 293.15, 0.9), 0.897847, 5e-7);
  EXPECT_NEAR(*oxygen_saturation_mg_l(20, 0, 0.9) / *oxygen_saturation_mg_l(20, 0, 1), 0.897702, 5e-7);
}

// Garcia & Gordon 1992, Limnol. Oceanogr. 37:1307, eq. 8 fitted to the data of Benson & Krause, umol/kg. The
// paper prints one term too many, A3 Ts^2 beside A2 Ts^2 [published: comment in a port]; it stays out.
double garcia_gordon_umol_kg(double temperature_c, double salinity) {
  const double a[] = {5.80871, 3.20291, 4.17887, 5.10006, -9.86643e-2, 3.80369};
  const double b[] = {-7.01577e-3, -7.70028e-3, -1.13864e-2, -9.51519e-3};
  const double ts = std::log((298.15 - temperature_c) / (273.15 + temperature_c));
  double fresh = 0;
  for (int i = 5; i >= 0; --i) fresh = fresh * ts + a[i];
  double salt = 0;
  for (int i = 3; i >= 0; --i) salt = salt * ts + b[i];
  return std::exp(fresh + salinity * salt - 2.75915e-7 * salinity * salinity);
}

// 274.610 umol/kg at 10 C, S 35 [published: via the documentation of a port]. With the misprint it is 0.4 off.
TEST(Oxygen, CrossCheckItselfMatchesItsPaper) {
  EXPECT_NEAR(garcia_gordon_umol_kg(10, 35), 274.610, 0.0005);
  const double ts = std::log((298.15 - 10) / (273.15 + 10));
  const double misprinted = garcia_gordon_umol_kg(10, 35) * std::exp(5.10006 * ts * ts);
  EXPECT_GT(std::fabs(misprinted - 274.610), 0.1);
}

// Two fits to the same data: over the whole range they stay within 0.003 mg/L.
TEST(Oxygen, AgreesWithGarciaAndGordon) {
  Differences differences;
  for (double t = 0; t <= 40; t += 0.5) {
    for (double s = 0; s <= 40; s += 0.5) {
      const double umol_kg = garcia_gordon_umol_kg(t, s);
      differences.add(*oxygen_saturation_mg_l(t, s, 1) - umol_kg * 31.9988e-6 * *seawater_density_kg_m3(t, s));
    }
  }
  EXPECT_EQ(differences.count, 81 * 81);
  EXPECT_LT(differences.largest, 0.003);
}

// Sondes of an estuary, warm and brackish (Grand Bay, Mississippi, 2021; NOAA NERRS): they print mg/L to 0.1,
// whose rounding alone is 0.1 / 12^(1/2) = 0.0289. Sondes reckon mg/L from %, so that this checks coding and
// units.
TEST(Oxygen, OfFieldSondesIsTheirOwnFromPercent) {
  const std::optional<OpenData::Table> sonde = open_data("grand-bay-2021-sonde.csv");
  if (!sonde) GTEST_SKIP() << kNoOpenData;
  const std::vector<double> temperature_c = sonde->column("temperature_c");
  const std::vector<double> salinity = sonde->column("salinity");
  const std::vector<double> percent = sonde->column("oxygen_percent");
  const std::vector<double> shown_mg_l = sonde->column("oxygen_mg_l");
  Differences differences;
  for (std::size_t i = 0; i < sonde->rows(); ++i) {
    if (std::isnan(temperature_c[i] + salinity[i] + percent[i] + shown_mg_l[i])) continue;
    const Result<double> saturation = oxygen_saturation_mg_l(temperature_c[i], salinity[i], 1);
    ASSERT_TRUE(saturation) << i;
    differences.add(percent[i] / 100 * *saturation - shown_mg_l[i]);
  }
  EXPECT_EQ(differences.count, 5332);
  EXPECT_NEAR(differences.mean, -0.006, 0.0005);
  EXPECT_NEAR(differences.sd, 0.0291, 0.0003);
  EXPECT_LT(differences.largest, 0.07);
}

// An instrument's manual, one decimal, coarse [published].
TEST(Oxygen, FallsWithPressureAsTheMeterTableSays) {
  struct Row {
    double mmhg, at_0_c, at_20_c;
  };
  const Row rows[] = {{775, 14.9, 9.3}, {750, 14.4, 9.1}, {700, 13.5, 8.4}, {650, 12.5, 7.8}, {625, 12.0, 7.5}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*oxygen_saturation_mg_l(0, 0, row.mmhg / 760), row.at_0_c, 0.14) << row.mmhg;
    EXPECT_NEAR(*oxygen_saturation_mg_l(20, 0, row.mmhg / 760), row.at_20_c, 0.14) << row.mmhg;
  }
}

TEST(Oxygen, RefusesWhatTheFitDoesNotCover) {
  EXPECT_EQ(oxygen_saturation_mg_l(-0.1, 0, 1).error().parameter, "temperature_c");
  EXPECT_EQ(oxygen_saturation_mg_l(40.1, 0, 1).error().parameter, "temperature_c");
  EXPECT_EQ(oxygen_saturation_mg_l(20, 40.1, 1).error().parameter, "salinity");
  EXPECT_EQ(oxygen_saturation_mg_l(20, 0, 0.49).error().parameter, "pressure_atm");
  EXPECT_EQ(oxygen_saturation_mg_l(20, 0, 101.3).error().parameter, "pressure_atm");
}

// FAO-56, example 2: 81.8 kPa at 1800 m [published: via PyETo tests].
TEST(Pressure, MatchesTheFaoExample) {
  EXPECT_NEAR(*pressure_at_altitude_atm(1800) * 101.325, 81.8, 0.05);
  EXPECT_NEAR(*pressure_at_altitude_atm(0), 101.3 / 101.325, 1e-12);
  EXPECT_FALSE(pressure_at_altitude_atm(-401));
  EXPECT_FALSE(pressure_at_altitude_atm(5001));
}

TEST(Pressure, OfEveryAltitudeIsOneThatOxygenTakes) {
  EXPECT_TRUE(oxygen_saturation_mg_l(20, 0, *pressure_at_altitude_atm(5000)));
  EXPECT_TRUE(oxygen_saturation_mg_l(20, 0, *pressure_at_altitude_atm(-400)));
}

}  // namespace
}  // namespace tawny
