// From the names and keys that a person types to the published value: that the table hands the right number to
// the right place, in the right unit. The full tables of values are tested beside each reckoning.
#include "core/reckon/bench.h"

namespace tawny {
namespace {

struct Row {
  const char* name;
  const char* given;
  const char* key;
  double value;
  double tolerance;
  const char* source;
};

// "from memory": nobody could look it up.
const Row kRows[] = {
    {"oxygen-saturation", "temperature_c=25 salinity=0", "oxygen_saturation_mg_l", 8.26, 0.005,
     "EN 25814 / ISO 5814, table"},
    {"oxygen-saturation", "temperature_c=20 salinity=0 pressure_kpa=91.1925", "oxygen_saturation_mg_l",
     8.162292, 1e-6, "Benson & Krause at 0.90 atm, computed"},
    {"oxygen-saturation", "temperature_c=20 salinity=0 altitude_m=1800 oxygen_mg_l=7.3",
     "oxygen_saturation_mg_l", 7.31, 0.02, "Benson & Krause at 81.8 kPa (FAO-56, example 2)"},
    {"ammonia", "temperature_c=25 salinity=0 ph=8 tan_mg_l=2", "unionized_ammonia_mg_l", 0.1076, 0.0002,
     "Emerson et al. 1975, table: 5.38 % (from memory)"},
    {"ammonia", "temperature_c=20 salinity=34 ph=8 tan_mg_l=1", "unionized_fraction", 0.0298, 0.0025,
     "Bower & Bidwell 1978: 2.98 %"},
    {"seawater-density", "temperature_c=5 salinity=35", "density_kg_m3", 1027.67547, 0.002, "UNESCO 44, t68 5"},
    {"salinity", "conductivity_ms_cm=42.914 temperature_c=14.9964", "salinity", 35, 0.0001,
     "UNESCO 44, t68 15"},
    {"salinity", "conductivity_ms_cm=30 temperature_c=25", "salinity", 18.5699, 0.0005,
     "gsw 3.6.16, SP_from_C"},
    {"acclimation",
     "bag_temperature_c=25 bag_salinity=30 bag_ph=7.8 pond_temperature_c=29 pond_salinity=18 pond_ph=8.4",
     "hours", 6, 1e-9, "12 of salinity at 2 an hour: its own check"},
    {"acclimation",
     "bag_temperature_c=28 bag_salinity=20 bag_ph=8 pond_temperature_c=28 pond_salinity=10 pond_ph=8 "
     "pl_age_days=12",
     "lowest_salinity", 4, 1e-9, "McGraw et al. 2002: PL10 down to 4, PL15 to PL20 down to 1"},
    {"soil-seepage", "conductivity_mm_h=0.2 area_ha=0.5", "seepage_m3_d", 24, 1e-9, "SWAT+: V = 240 K A"},
    {"sun", "latitude_deg=10.03 longitude_deg=105.79 date=2024-09-22 utc_offset_h=7", "noon_elevation_deg",
     80.101, 0.02, "SPA (Reda & Andreas), with refraction"},
    {"dawn-oxygen",
     "first_mg_l=9 second_mg_l=7.5 hours_between=3 hours_to_dawn=11.5 temperature_c=29 salinity=20 depth_m=1 "
     "wind_m_s=2",
     "linear_mg_l", 3.25, 1e-9, "unit case, computed"},
    {"dawn-oxygen",
     "first_mg_l=9 second_mg_l=7.5 hours_between=3 hours_to_dawn=11.5 temperature_c=29 salinity=20 depth_m=1 "
     "wind_m_s=2",
     "exponential_mg_l", 4.474, 0.0005, "unit case, computed"},
    {"dawn-oxygen",
     "first_mg_l=9 second_mg_l=7.5 hours_between=3 hours_to_dawn=11.5 temperature_c=29 salinity=20 depth_m=1 "
     "wind_m_s=2",
     "respiration_diffusion_mg_l", 4.0375, 5e-5, "unit case, computed"},
    {"metabolism",
     "dawn_mg_l=4.7995 dawn_h=6 afternoon_mg_l=8.2259 afternoon_h=15 next_dawn_mg_l=4.7995 next_dawn_h=30 "
     "temperature_c=29 salinity=20 depth_m=1 wind_m_s=2",
     "gpp_mg_l_d", 6.87549, 0.001, "closed case, computed by Runge-Kutta"},
    {"metabolism",
     "dawn_mg_l=4.7995 dawn_h=6 afternoon_mg_l=8.2259 afternoon_h=15 next_dawn_mg_l=4.7995 next_dawn_h=30 "
     "temperature_c=29 salinity=20 depth_m=1 wind_m_s=2",
     "er_mg_l_d", 7.2, 0.001, "closed case, computed by Runge-Kutta"},
    {"gas-exchange", "temperature_c=29 salinity=20 wind_m_s=3", "k600_m_d", 0.24 * 3.461697, 1e-6,
     "LakeMetabolizer 1.5.6"},
    {"light", "secchi_cm=50", "attenuation_per_m", 2.88, 1e-9, "c 1.44 of Holmes 1970 over 0.5 m"},
    {"light", "secchi_cm=50", "lit_depth_m", 1.60, 0.005, "4.605 / 2.88"},
    {"radiation", "latitude_deg=-20 date=2026-09-03", "extraterrestrial_radiation_mj_m2_d", 32.2, 0.05,
     "FAO-56, example 8"},
    {"radiation", "latitude_deg=50.8 day_of_year=187 altitude_m=100", "clear_sky_radiation_mj_m2_d", 30.90,
     0.05, "FAO-56, example 18"},
    {"evaporation",
     "latitude_deg=13.7333 date=2026-04-15 temperature_low_c=25.6 temperature_high_c=34.8 "
     "vapour_pressure_kpa=2.85 "
     "wind_m_s=2 sunshine_h=8.5 altitude_m=2",
     "reference_mm_d", 5.72, 0.1, "FAO-56, example 17 (with G 0.14, here 0)"},
    {"pan-evaporation", "pan_mm_d=7.9 pan_coefficient=0.85", "open_water_mm_d", 6.7, 0.05,
     "FAO-56, example 21 (from memory)"},
    {"pond", "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 share=0.25", "level_for_share_m",
     0.3178, 5e-5, "bisection of the prismoid, computed"},
    {"pond", "bottom_length_m=94 bottom_width_m=44 depth_m=1.5 bank_slope=2", "volume_m3", 6843.0, 0.05,
     "100 x 50 m at the top, prismoid, computed"},
    {"fill-time", "volume_m3=5000 inflow_l_s=100 area_m2=5000 loss_mm_d=10", "hours", 13.970, 0.0005,
     "balance of water, computed"},
    {"weir-flow", "shape=v_notch_90 head_up_m=0.2", "flow_l_s", 24.682, 0.0005, "ISO 1438 form, computed"},
    {"weir-flow", "shape=open_flume width_m=0.3 head_up_m=0.45", "flow_l_s", 150, 0.5,
     "FAO ADCP/REP/84/21, example 3"},
    {"weir-flow", "shape=rectangular width_m=1 crest_height_m=0.5 head_up_m=0.2", "flow_m3_s", 0.168, 5e-6,
     "Kindsvater & Carter, computed"},
    {"screen-area", "flow_l_s=28.316847 approach_velocity_m_s=0.100584 clogging_factor=1", "gross_area_m2",
     0.2787, 0.003, "California DFG 2000: 1.0 cfs / 0.33 ft/s = 3.0 ft2"},
    {"screen-mesh", "mesh_um=200 wire_um=125", "open_share", 0.379, 0.0005, "geometry, computed"},
    {"solubility", "product=sodium_nitrate temperature_c=25", "mass_fraction", 0.477, 1e-9,
     "CRC Handbook, 98th ed."},
    {"solubility", "product=potassium_nitrate temperature_c=20", "grams_per_100_g_water", 31.6, 0.4,
     "school tables"},
    {"solution-density", "product=sodium_nitrate mass_fraction=0.2 temperature_c=20", "density_kg_m3", 1142.9,
     0.3, "CRC Handbook"},
    {"dissolving", "product=sodium_nitrate salt_kg=10 water_kg=100 temperature_c=25", "final_temperature_c",
     19.9, 0.1, "integral heat at strength, computed: -5.1 K"},
    {"dose",
     "area_ha=1 rate_kg_ha=25 product=sodium_nitrate mean_depth_m=0.6 bag_kg=25 bin_l=200 temperature_c=28 "
     "lift_kg=50 "
     "boat_load_kg=300",
     "nitrate_n_mg_l", 0.687, 0.0005, "IUPAC atomic weights, computed"},
    {"dose",
     "area_ha=1 rate_kg_ha=25 product=potassium_nitrate mean_depth_m=0.6 bag_kg=25 bin_l=200 temperature_c=28 "
     "lift_kg=50 boat_load_kg=300",
     "nitrate_n_mg_l", 0.577, 0.0005, "IUPAC atomic weights, computed"},
};

TEST(Reckonings, GivePublishedValuesByTheirNames) {
  for (const Row& row : kRows) {
    const auto answer = reckon_test::reckon_by(row.name, row.given);
    ASSERT_TRUE(answer) << row.name << " " << row.given << ": " << answer.error().message.id;
    const ReckonValue* value = answer->result(row.key);
    ASSERT_NE(value, nullptr) << row.name << " " << row.key;
    EXPECT_NEAR(std::get<double>(*value), row.value, row.tolerance)
        << row.name << " " << row.given << " " << row.source;
  }
}

TEST(Reckonings, TellTheSunAsAnAlmanacDoes) {
  // 10.03 N 105.79 E, 2024-09-22: 22:46:04, 04:49:31, 10:52:50 UTC (NOAA form; SPA and public almanac codes
  // within 4 s).
  const auto answer =
      reckon_test::reckon_by("sun", "latitude_deg=10.03 longitude_deg=105.79 date=2024-09-22 utc_offset_h=7");
  ASSERT_TRUE(answer);
  EXPECT_EQ(std::get<std::string>(*answer->result("sunrise")), "05:46:04");
  EXPECT_EQ(std::get<std::string>(*answer->result("solar_noon")), "11:49:31");
  EXPECT_EQ(std::get<std::string>(*answer->result("sunset")), "17:52:50");
  EXPECT_NEAR(std::get<double>(*answer->result("day_length_h")), 12.1128, 0.0005);
}

TEST(Reckonings, ABagIsCountedWholeAndInPart) {
  const auto answer = reckon_test::reckon_by("dose",
                                             "area_ha=1.2 rate_kg_ha=25 product=sodium_nitrate "
                                             "mean_depth_m=0.6 bag_kg=25 temperature_c=28 price_per_kg=2 "
                                             "production_cost=6000");
  ASSERT_TRUE(answer);
  EXPECT_EQ(std::get<double>(*answer->result("product_kg")), 30);
  EXPECT_EQ(std::get<double>(*answer->result("bags")), 1.2);
  EXPECT_EQ(std::get<double>(*answer->result("whole_bags")), 1);
  EXPECT_EQ(std::get<double>(*answer->result("part_bag_kg")), 5);
  EXPECT_EQ(std::get<double>(*answer->result("cost")), 60);
  EXPECT_EQ(std::get<double>(*answer->result("cost_share")), 0.01);
}

// A pump alone: t = integral of A dh / (Q - A loss), by Simpson over the basin's own area.
TEST(Reckonings, AFillingByPumpTakesTheHoursOfItsIntegral) {
  const auto answer = reckon_test::reckon_by("filling",
                                             "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 "
                                             "to_level_m=0.8 pump_l_s=60 evaporation_mm_d=6 "
                                             "seepage_mm_d=9 start=2026-11-26T06:00");
  ASSERT_TRUE(answer) << answer.error().message.id;
  const auto slowness = [](double h) {
    const double area = (94 + 4 * h) * (44 + 4 * h);
    return area / (0.060 - area * 0.015 / 86400) / 3600;
  };
  const int n = 200;
  double hours = slowness(0) + slowness(0.8);
  for (int i = 1; i < n; ++i) hours += (i % 2 ? 4 : 2) * slowness(0.8 * i / n);
  hours *= 0.8 / n / 3;
  EXPECT_NEAR(std::get<double>(*answer->result("hours")), hours, 0.001 * hours);
  EXPECT_EQ(std::get<bool>(*answer->result("reached")), true);
}

TEST(Reckonings, AFillingStartsInTimeForWhenItMustBeReady) {
  const std::string pond =
      "bottom_length_m=94 bottom_width_m=44 depth_m=1.2 bank_slope=2 to_share=0.25 pump_l_s=60 ";
  const auto backward = reckon_test::reckon_by("filling", pond + "ready_by=2026-11-26T06:00");
  ASSERT_TRUE(backward) << backward.error().message.id;
  const std::string start = std::get<std::string>(*backward->result("start_at"));
  const auto forward = reckon_test::reckon_by("filling", pond + "start=" + start);
  ASSERT_TRUE(forward) << start;
  EXPECT_LE(std::get<std::string>(*forward->result("ended_at")), "2026-11-26T06:00");
  EXPECT_GE(std::get<std::string>(*forward->result("ended_at")), "2026-11-26T05:30");
}

}  // namespace
}  // namespace tawny
