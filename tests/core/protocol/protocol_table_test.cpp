// The default protocol, value by value and mark by mark, as the farm's handbook of this tool has it. A change
// of assets/protocol.json that is not meant fails here; one that is meant is written down twice.
#include <gtest/gtest.h>

#include <cstdio>

#include "core/protocol/story.h"

namespace tawny {
namespace {

struct Row {
  const char* path;
  const char* value;  // a list with commas
  const char* mark;   // P common practice, H handbook or standard, E our own estimate
};

// Windows in minutes from sunrise (dawn, dose), solar noon (peak, start of the afternoon) and sunset (end of
// the afternoon, dusk); "clock": minutes of the day. The refused limits of readings, and those not in a
// handbook, are ours; sources stand in the file itself.
constexpr Row kRows[] = {
    {"windows.dawn.from_min", "-60", "E"},
    {"windows.dawn.until_min", "60", "E"},
    {"windows.dose.from_min", "-45", "E"},
    {"windows.dose.until_min", "150", "E"},
    {"windows.peak.from_min", "-120", "H"},
    {"windows.peak.until_min", "120", "H"},
    {"windows.afternoon.from_min", "150", "E"},
    {"windows.afternoon.until_min", "-30", "E"},
    {"windows.dusk.from_min", "0", "H"},
    {"windows.dusk.until_min", "60", "H"},
    {"windows.dusk.again_from_min", "120", "H"},
    {"windows.dusk.again_until_min", "180", "H"},
    {"windows.dawn.clock_from_min", "300", "E"},
    {"windows.dawn.clock_until_min", "420", "E"},
    {"windows.dose.clock_from_min", "315", "E"},
    {"windows.dose.clock_until_min", "510", "E"},
    {"windows.peak.clock_from_min", "600", "P"},
    {"windows.peak.clock_until_min", "840", "P"},
    {"windows.afternoon.clock_from_min", "870", "E"},
    {"windows.afternoon.clock_until_min", "1050", "E"},
    {"usable.secchi.spread_cm", "5", "H"},
    {"usable.secchi.spread_share", "0.1", "E"},
    {"usable.secchi.pairs_enough", "3", "E"},
    {"entry.refused.do_low_mg_l", "0", "E"},
    {"entry.refused.do_high_mg_l", "40", "E"},
    {"entry.refused.ph_low", "3", "E"},
    {"entry.refused.ph_high", "12", "E"},
    {"entry.refused.temperature_low_c", "0", "E"},
    {"entry.refused.temperature_high_c", "45", "E"},
    {"entry.refused.salinity_low", "0", "E"},
    {"entry.refused.salinity_high", "80", "E"},
    {"entry.refused.secchi_low_cm", "1", "E"},
    {"entry.refused.secchi_high_cm", "400", "E"},
    {"entry.questioned.do_percent", "250", "E"},
    {"entry.questioned.ph_low", "6.5", "E"},
    {"entry.questioned.ph_high", "10", "E"},
    {"entry.questioned.secchi_change_cm", "25", "E"},
    {"entry.questioned.level_fall_cm", "5", "E"},
    {"entry.questioned.same_value_times", "3", "E"},
    {"entry.questioned.same_value_keys", "do_mg_l,ph", "E"},
    {"entry.questioned.secchi_unit_below_cm", "5", "E"},
    {"entry.questioned.level_unit_below_cm", "3", "E"},
    {"stage.bottom.dried_days", "7", "H"},
    {"stage.bottom.broadcast_low_kg_ha", "25", "P"},
    {"stage.bottom.broadcast_high_kg_ha", "200", "P"},
    {"stage.bottom.mesh_high_um", "500", "P"},
    {"stage.bottom.screen_age_days", "3", "P"},
    {"stage.bottom.source_colours_refused", "green,dark_green,red_brown", "P"},
    {"stage.first_fill.level_low_share", "0.2", "P"},
    {"stage.first_fill.level_high_share", "0.3", "P"},
    {"stage.rest.rest_h", "48", "P"},
    {"stage.rest.paired_days", "2", "E"},
    {"stage.rest.paired_days_of", "3", "E"},
    {"stage.rest.do_swing_mg_l", "4", "E"},
    {"stage.rest.ph_swing", "0.4", "E"},
    {"stage.rest.colours", "pale_gold,golden,golden_brown", "P"},
    {"stage.second_fill.level_low_share", "0.5", "P"},
    {"stage.second_fill.level_high_share", "0.65", "P"},
    {"stage.first_dose.rate_kg_ha", "25", "P"},
    {"stage.first_dose.rate_tolerance_share", "0.1", "P"},
    {"stage.bloom.days_after_dose", "1", "P"},
    {"stage.bloom.days_normal", "3", "P"},
    {"stage.bloom.secchi_low_cm", "45", "P"},
    {"stage.bloom.secchi_high_cm", "55", "P"},
    {"stage.bloom.do_swing_mg_l", "3", "E"},
    {"stage.bloom.ph_swing", "0.3", "E"},
    {"stage.bloom.colours", "golden,golden_brown", "P"},
    {"stage.third_fill.level_low_share", "0.75", "P"},
    {"stage.third_fill.level_high_share", "0.85", "P"},
    {"stage.third_fill.level_aim_share", "0.8", "P"},
    {"stage.third_fill.secchi_low_cm", "45", "P"},
    {"stage.third_fill.secchi_high_cm", "55", "P"},
    {"stage.hold_band.secchi_low_cm", "45", "P"},
    {"stage.hold_band.secchi_high_cm", "55", "P"},
    {"stage.hold_band.band_days", "3", "E"},
    {"stage.hold_band.band_days_of", "4", "E"},
    {"stage.hold_band.copepods_per_l", "50", "E"},
    {"stage.hold_band.grabs_with_animals", "3", "E"},
    {"stage.hold_band.grabs", "5", "E"},
    {"stage.release.dawn_do_mg_l", "4", "H"},
    {"stage.release.dawn_do_days", "2", "H"},
    {"stage.release.ph_low", "7.5", "H"},
    {"stage.release.ph_high", "8.8", "H"},
    {"stage.release.ph_swing", "0.8", "E"},
    {"stage.release.ph_swing_stocked", "0.5", "H"},
    {"stage.release.temperature_low_c", "20", "H"},
    {"stage.release.temperature_high_c", "35", "H"},
    {"stage.release.salinity_low", "1", "H"},
    {"stage.release.salinity_high", "35", "H"},
    {"stage.release.ammonia_n_mg_l", "0.1", "H"},
    {"stage.release.alkalinity_mg_l", "80", "H"},
    {"stage.release.reading_age_days", "2", "E"},
    {"stage.release.look_age_days", "3", "E"},
    {"stage.release.level_share", "0.9", "E"},
    {"stage.early_cycle.weeks", "4", "E"},
    {"dose.products_allowed",
     "sodium_nitrate,potassium_nitrate,calcium_nitrate_tetrahydrate,calcium_nitrate_fertilizer", "P"},
    {"dose.area_counted", "nominal", "P"},
    {"dose.days_between", "3", "E"},
    {"dose.days_over_band", "2", "P"},
    {"dose.low_kg_ha", "10", "P"},
    {"dose.middle_kg_ha", "15", "E"},
    {"dose.high_kg_ha", "20", "P"},
    {"dose.low_up_to_cm", "60", "E"},
    {"dose.middle_up_to_cm", "70", "E"},
    {"dose.most_at_once_kg_ha", "20", "P"},
    {"dose.secchi_warn_cm", "40", "P"},
    {"dose.secchi_age_days", "2", "E"},
    {"dose.sky_age_days", "1", "E"},
    {"dose.double_within_h", "12", "E"},
    {"trouble.current_days", "3", "E"},
    {"trouble.clear.secchi_cm", "60", "E"},
    {"trouble.clear.days_after_dose", "3", "E"},
    {"trouble.clear.dose_kg_ha", "20", "E"},
    {"trouble.flat.do_swing_mg_l", "1.5", "E"},
    {"trouble.flat.ph_swing", "0.2", "E"},
    {"trouble.flat.days", "2", "E"},
    {"trouble.too_dense.secchi_cm", "45", "P"},
    {"trouble.too_dense.alarm_cm", "40", "P"},
    {"trouble.too_dense.falling_days", "2", "E"},
    {"trouble.crash.rise_cm", "20", "E"},
    {"trouble.crash.within_days", "2", "E"},
    {"trouble.crash.swing_share", "0.5", "E"},
    {"trouble.crash.fill_rise_cm", "2", "E"},
    {"trouble.crash.dawn_do_mg_l", "3", "H"},
    {"trouble.drifting.moves", "2", "P"},
    {"trouble.stratified.do_mg_l", "3", "E"},
    {"trouble.stratified.temperature_c", "2", "E"},
    {"trouble.losing_water.loss_cm_d", "1.5", "E"},
    {"trouble.losing_water.reading_error_cm", "1", "E"},
    {"trouble.losing_water.least_h", "18", "E"},
    {"trouble.losing_water.look_back_days", "4", "E"},
    {"trouble.meter.do_percent", "400", "E"},
    {"trouble.meter.same_times", "3", "E"},
    {"trouble.meter.air_percent", "10", "E"},
    {"rounds.screens_every_days", "3", "P"},
    {"rounds.grazers_every_days", "3", "E"},
    {"rounds.bottom_grab_every_days", "7", "E"},
    {"rounds.water_test_every_days", "2", "E"},
    {"rounds.pest_look_every_days", "2", "E"},
    {"rounds.sky_days_after_dose", "3", "E"},
    {"series.gap.water_days", "1", "E"},
    {"series.gap.secchi_days", "1", "E"},
    {"series.gap.level_days", "4", "E"},
    {"stock.lead_days", "7", "E"},
    {"stock.fill_days", "2", "E"},
    {"stock.dose_every_days", "7", "E"},
    {"stock.dose_seldom_days", "14", "E"},
    {"bin.volume_l", "200", "P"},
    {"bin.fill_share", "0.85", "E"},
    {"bin.lift_kg", "50", "E"},
    {"bin.boat_load_kg", "300", "E"},
    {"bin.saturation_share", "0.5", "E"},
    {"bin.lane_spacing_m", "10", "P"},
    {"screen.approach_velocity_m_s", "0.08", "E"},
    {"screen.open_share", "0.38", "E"},
    {"screen.clogging_factor", "2", "E"},
    {"filling.gate_coefficient", "0.61", "H"},
    {"filling.evaporation_mm_d", "5", "E"},
    {"filling.seepage_mm_d", "5", "E"},
    {"metabolism.reading_error_mg_l", "0.15", "E"},
    {"metabolism.exchange_error_share", "0.3", "E"},
    {"acclimation.salinity_per_h", "2", "H"},
    {"acclimation.temperature_c_per_h", "2", "H"},
    {"acclimation.ph_per_h", "0.5", "H"},
    {"acclimation.temperature_total_c", "4", "H"},
    {"acclimation.young_days", "10", "H"},
    {"acclimation.young_lowest_salinity", "4", "H"},
    {"acclimation.older_days", "15", "H"},
    {"acclimation.older_lowest_salinity", "1", "H"},
    {"light.secchi_coefficient", "1.44", "H"},
    {"light.secchi_coefficient_low", "1.1", "E"},
    {"light.secchi_coefficient_high", "1.9", "E"},
    {"light.lit_share", "0.01", "H"},
    {"evaporation.open_water_factor", "1.05", "H"},
    {"evaporation.pan_coefficient", "0.81", "H"},
};

std::string told(const ProtocolValue& value) {
  if (const auto* number = std::get_if<double>(&value.value)) {
    char text[32];
    std::snprintf(text, sizeof text, "%.10g", *number);
    return text;
  }
  if (const auto* text = std::get_if<std::string>(&value.value)) return *text;
  std::string joined;
  if (const auto* list = std::get_if<std::vector<std::string>>(&value.value)) {
    for (const std::string& item : *list) joined += (joined.empty() ? "" : ",") + item;
  }
  return joined;
}

TEST(ProtocolTable, HoldsEachValueAndMark) {
  for (const Row& row : kRows) {
    const ProtocolValue* value = test::protocol().find(row.path);
    ASSERT_NE(value, nullptr) << row.path;
    EXPECT_EQ(told(*value), row.value) << row.path;
    EXPECT_EQ(value->mark, row.mark) << row.path;
  }
  EXPECT_EQ(test::protocol().values().size(), std::size(kRows));
}

}  // namespace
}  // namespace tawny
