#include "science/seawater.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// UNESCO Technical Papers in Marine Science 44 (1983), Table A3.1, at the surface; temperatures on the scale of
// 1968.
TEST(Seawater, MatchesTheUnescoCheckValues) {
  struct Row {
    double salinity, t68_c, density_kg_m3;
  };
  const Row rows[] = {{0, 5, 999.96675}, {0, 25, 997.04796}, {35, 5, 1027.67547}, {35, 25, 1023.34306}};
  for (const Row& row : rows) {
    const Result<double> density = seawater_density_kg_m3(row.t68_c / 1.00024, row.salinity);
    ASSERT_TRUE(density);
    EXPECT_NEAR(*density, row.density_kg_m3, 5e-6) << row.salinity << ", " << row.t68_c;
  }
}

// TEOS-10 [computed: gsw 3.6.16]; the two equations of state differ by less than 0.005 kg/m3.
TEST(Seawater, AgreesWithTeos10) {
  struct Row {
    double temperature_c, salinity, density_kg_m3;
  };
  const Row rows[] = {{25, 10, 1004.5551}, {25, 20, 1012.0498}, {25, 35, 1023.3436}, {30, 0, 995.6495},
                      {30, 10, 1003.0921}, {30, 20, 1010.5236}, {30, 35, 1021.7261}, {35, 40, 1023.6550}};
  for (const Row& row : rows) {
    EXPECT_NEAR(*seawater_density_kg_m3(row.temperature_c, row.salinity), row.density_kg_m3, 0.005)
        << row.temperature_c << ", " << row.salinity;
  }
}

TEST(Seawater, RefusesWhatTheEquationDoesNotCover) {
  EXPECT_EQ(seawater_density_kg_m3(-2.1, 35).error().parameter, "temperature_c");
  EXPECT_EQ(seawater_density_kg_m3(40.1, 35).error().parameter, "temperature_c");
  EXPECT_EQ(seawater_density_kg_m3(25, -0.1).error().parameter, "salinity");
  EXPECT_EQ(seawater_density_kg_m3(25, 42.1).error().parameter, "salinity");
  EXPECT_TRUE(seawater_density_kg_m3(40, 42));
  EXPECT_TRUE(seawater_density_kg_m3(-2, 0));
}

}  // namespace
}  // namespace tawny
