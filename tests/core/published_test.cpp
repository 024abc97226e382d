// Core beside independent libraries: tables that the scripts of tests/published made with them.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>

#include "base/time.h"
#include "core/open_data.h"
#include "science/oxygen.h"
#include "science/salinity.h"
#include "science/seawater.h"
#include "science/sun.h"

namespace tawny {
namespace {

constexpr double kOxygen_g_mol = 31.9988;

// gsw scales the correction of Hill et al. so that it meets the scale at 2; the plain one leaves a step there.
TEST(Published, SalinityIsThatOfGsw) {
  const OpenData::Table table = published_table("salinity_gsw.csv");
  const std::vector<double> conductivity_ms_cm = table.column("conductivity_ms_cm");
  const std::vector<double> temperature_c = table.column("temperature_c");
  const std::vector<double> salinity = table.column("salinity");
  Differences low;
  Differences rest;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const Result<double> ours = salinity_from_conductivity(conductivity_ms_cm[i], temperature_c[i]);
    ASSERT_TRUE(ours) << conductivity_ms_cm[i] << ", " << temperature_c[i];
    (salinity[i] < 2.01 ? low : rest).add(*ours - salinity[i]);
  }
  EXPECT_GT(low.count, 50);
  EXPECT_GT(rest.count, 190);
  EXPECT_LT(rest.largest, 1e-7);
  EXPECT_LT(low.largest, 3.5e-4);
}

TEST(Published, DensityIsThatOfTeos10) {
  const OpenData::Table table = published_table("seawater_gsw.csv");
  const std::vector<double> temperature_c = table.column("temperature_c");
  const std::vector<double> salinity = table.column("salinity");
  const std::vector<double> density = table.column("density_kg_m3");
  Differences differences;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const Result<double> ours = seawater_density_kg_m3(temperature_c[i], salinity[i]);
    ASSERT_TRUE(ours);
    differences.add(*ours - density[i]);
  }
  EXPECT_EQ(differences.count, 180);
  EXPECT_LT(differences.largest, 0.0085);
}

// Garcia & Gordon 1992 by gsw, brought to mg/L with TEOS-10 density, beside Benson & Krause.
TEST(Published, OxygenIsThatOfGsw) {
  const OpenData::Table table = published_table("seawater_gsw.csv");
  const std::vector<double> temperature_c = table.column("temperature_c");
  const std::vector<double> salinity = table.column("salinity");
  const std::vector<double> density = table.column("density_kg_m3");
  const std::vector<double> oxygen_umol_kg = table.column("oxygen_umol_kg");
  Differences differences;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const Result<double> ours = oxygen_saturation_mg_l(temperature_c[i], salinity[i], 1);
    ASSERT_TRUE(ours);
    differences.add(*ours - oxygen_umol_kg[i] * 1e-6 * kOxygen_g_mol * density[i]);
  }
  EXPECT_EQ(differences.count, 180);
  EXPECT_LT(differences.largest, 0.003);
}

TEST(Published, SunRisesPeaksAndSetsWithPyEphem) {
  const OpenData::Table table = published_table("sun_ephem.csv");
  const std::vector<double> latitude_deg = table.column("latitude_deg");
  const std::vector<double> longitude_deg = table.column("longitude_deg");
  const std::vector<double> offset_h = table.column("utc_offset_h");
  const std::vector<std::string> date = table.text("date");
  const std::vector<std::string> sunrise = table.text("sunrise");
  const std::vector<std::string> noon = table.text("solar_noon");
  const std::vector<std::string> sunset = table.text("sunset");
  Differences differences_s;
  for (std::size_t i = 0; i < table.rows(); ++i) {
    const UtcOffset offset{static_cast<std::int32_t>(60 * offset_h[i])};
    const Result<SunDay> ours = sun_day(*parse_civil_day(date[i]), latitude_deg[i], longitude_deg[i], offset);
    ASSERT_TRUE(ours) << date[i];
    const auto hold = [&](Instant our_instant, const std::string& its) {
      const double apart_s = static_cast<double>(our_instant.unix_s - parse_instant(its)->unix_s);
      EXPECT_LE(std::fabs(apart_s), 4) << latitude_deg[i] << ", " << date[i] << " " << its;
      differences_s.add(apart_s);
    };
    hold(ours->sunrise, sunrise[i]);
    hold(ours->solar_noon, noon[i]);
    hold(ours->sunset, sunset[i]);
  }
  EXPECT_EQ(differences_s.count, 150);
}

}  // namespace
}  // namespace tawny
