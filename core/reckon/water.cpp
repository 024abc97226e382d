// By hand: what the water is. Ammonia, density, salinity, acclimation, seepage.
#include "reckon/given.h"
#include "science/acclimation.h"
#include "science/ammonia.h"
#include "science/salinity.h"
#include "science/seawater.h"
#include "science/seepage.h"

namespace tawny {
namespace {

Result<ReckonAnswer> reckon_ammonia(const ReckonGiven& given) {
  const double ph = given.number("ph");
  const double temperature_c = given.number("temperature_c");
  const double salinity = given.number("salinity");
  const double tan_mg_l = given.number("tan_mg_l");
  TAWNY_RECKON_TAKE(fraction, given.text("ph_scale") == "total"
                                  ? un_ionized_ammonia_fraction_total_scale(ph, temperature_c, salinity)
                                  : un_ionized_ammonia_fraction(ph, temperature_c, salinity));
  return ReckonResults(given)
      .put("unionized_fraction", fraction)
      .put("unionized_ammonia_mg_l", fraction * tan_mg_l)
      .done();
}

Result<ReckonAnswer> reckon_seawater_density(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(density_kg_m3,
                    seawater_density_kg_m3(given.number("temperature_c"), given.number("salinity")));
  return ReckonResults(given).put("density_kg_m3", density_kg_m3).done();
}

Result<ReckonAnswer> reckon_salinity(const ReckonGiven& given) {
  const double temperature_c = given.number("temperature_c");
  const auto conductivity = given.maybe("conductivity_ms_cm");
  TAWNY_RECKON_TAKE(salinity, conductivity ? salinity_from_conductivity(*conductivity, temperature_c)
                                           : salinity_from_specific_conductance(
                                                 given.number("specific_conductance_ms_cm"), temperature_c));
  return ReckonResults(given).put("salinity", salinity).done();
}

Result<ReckonAnswer> reckon_acclimation(const ReckonGiven& given) {
  const AcclimationWater bag{given.number("bag_temperature_c"), given.number("bag_salinity"),
                             given.number("bag_ph")};
  const AcclimationWater pond{given.number("pond_temperature_c"), given.number("pond_salinity"),
                              given.number("pond_ph")};
  const AcclimationRates rates{given.number("salinity_per_h"), given.number("temperature_c_per_h"),
                               given.number("ph_per_h")};
  TAWNY_RECKON_TAKE(hours, acclimation(bag, pond, rates, given.number("temperature_total_c")));
  ReckonResults results(given);
  results.put("hours", hours.hours)
      .put("governs", name_of(hours.governs))
      .put("salinity_h", hours.salinity_h)
      .put("temperature_h", hours.temperature_h)
      .put("ph_h", hours.ph_h);
  if (const auto pl_age_days = given.maybe("pl_age_days")) {
    const Protocol& protocol = given.protocol();
    const PlSalinity rule{
        protocol.number("acclimation.young_days"), protocol.number("acclimation.young_lowest_salinity"),
        protocol.number("acclimation.older_days"), protocol.number("acclimation.older_lowest_salinity")};
    TAWNY_RECKON_TAKE(lowest, pl_lowest_salinity(*pl_age_days, rule));
    results.put("lowest_salinity", lowest);
    if (pond.salinity < lowest) {
      results.note(Message("reckon.note.too_fresh").with("lowest", Quantity{lowest, 1, ""}));
    }
  }
  if (hours.temperature_too_far) results.note(Message("reckon.note.temperature_too_far"));
  results.note(Message("reckon.note.release"));
  return results.done();
}

Result<ReckonAnswer> reckon_seepage(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(seepage, seepage_mm_d(given.number("level_fall_mm_d"), given.number("evaporation_mm_d"),
                                          given.number("rain_mm_d")));
  ReckonResults results(given);
  results.put("seepage_mm_d", seepage);
  if (const auto area_m2 = given.maybe("area_m2")) results.put("seepage_m3_d", seepage / 1000 * *area_m2);
  return results.done();
}

Result<ReckonAnswer> reckon_soil_seepage(const ReckonGiven& given) {
  const double area_ha = given.number("area_ha");
  TAWNY_RECKON_TAKE(volume_m3_d, seepage_m3_d(given.number("conductivity_mm_h"), area_ha));
  return ReckonResults(given)
      .put("seepage_mm_d", volume_m3_d / (10 * area_ha))
      .put("seepage_m3_d", volume_m3_d)
      .done();
}

constexpr Range kConductivity_ms_cm{0, 100, "ms_cm", 3};
constexpr Range kPh{3, 12, "", 2};
constexpr Range kBagSalinity{0, 60, "", 1};

constexpr ReckonInput kSalinityInputs[] = {
    either_number("conductivity_ms_cm", kConductivity_ms_cm, "meter", true),
    either_number("specific_conductance_ms_cm", kConductivity_ms_cm, "meter", true),
    number_input("temperature_c", kTemperature_c),
};
constexpr ReckonResult kSalinityResults[] = {{"salinity", "", 2}};

constexpr ReckonInput kAcclimationInputs[] = {
    number_input("bag_temperature_c", kTemperature_c),
    number_input("bag_salinity", kBagSalinity),
    number_input("bag_ph", kPh),
    number_input("pond_temperature_c", kTemperature_c),
    number_input("pond_salinity", kBagSalinity),
    number_input("pond_ph", kPh),
    optional_number("pl_age_days", {1, 60, "days", 0}),
    protocol_number("salinity_per_h", {0.05, 50, "per_h", 2}, "acclimation.salinity_per_h"),
    protocol_number("temperature_c_per_h", {0.05, 20, "c_per_h", 2}, "acclimation.temperature_c_per_h"),
    protocol_number("ph_per_h", {0.01, 5, "per_h", 2}, "acclimation.ph_per_h"),
    protocol_number("temperature_total_c", {0.1, 40, "c", 1}, "acclimation.temperature_total_c"),
};
constexpr ReckonResult kAcclimationResults[] = {
    {"hours", "h", 1},      {"governs", "", 0, ReckonResult::Kind::choice},
    {"salinity_h", "h", 1}, {"temperature_h", "h", 1},
    {"ph_h", "h", 1},       {"lowest_salinity", "", 0},
};

constexpr Range kEvaporationOfAir_mm_d{0, 40, "mm_d", 1};
constexpr ReckonInput kSeepageInputs[] = {
    number_input("level_fall_mm_d", {-500, 500, "mm_d", 1}),
    number_input("evaporation_mm_d", kEvaporationOfAir_mm_d),
    number_or("rain_mm_d", {0, 1000, "mm_d", 1}, 0),
    optional_number("area_m2", {1, 1e7, "m2", 0}),
};
constexpr ReckonInput kSoilSeepageInputs[] = {
    number_input("conductivity_mm_h", {0, 500, "mm_h", 2}),
    number_input("area_ha", {0.001, 1000, "ha", 3}),
};
constexpr ReckonResult kSeepageResults[] = {{"seepage_mm_d", "mm_d", 1}, {"seepage_m3_d", "m3_d", 0}};

constexpr std::string_view kPhScales[] = {"nbs", "total"};

constexpr ReckonInput kAmmoniaInputs[] = {
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", kSalinity),
    number_input("ph", {3, 12, "", 2}),
    number_input("tan_mg_l", {0, 500, "mg_l_n", 2}),
    choice_input("ph_scale", kPhScales),
};
constexpr ReckonResult kAmmoniaResults[] = {
    {"unionized_fraction", "share", 4},
    {"unionized_ammonia_mg_l", "mg_l_n", 3},
};

constexpr ReckonInput kSeawaterDensityInputs[] = {
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", {0, 42, "", 1}),
};
constexpr ReckonResult kSeawaterDensityResults[] = {{"density_kg_m3", "kg_m3", 2}};

constexpr Reckoning kRows[] = {
    {"ammonia", ReckonGroup::water, kAmmoniaInputs, kAmmoniaResults,
     "Emerson et al. 1975 below salinity 1, Hampson 1977 from there on, for a pH in NBS buffers; Clegg & "
     "Whitfield 1995 "
     "for the total scale; ammonia as N; take ±20 %",
     "temperature_c=29 salinity=15 ph=8.4 tan_mg_l=0.6", reckon_ammonia},
    {"seawater-density", ReckonGroup::water, kSeawaterDensityInputs, kSeawaterDensityResults,
     "EOS-80: Millero & Poisson 1981; UNESCO Technical Papers in Marine Science 38 and 44",
     "temperature_c=28 salinity=20", reckon_seawater_density},
    {"salinity", ReckonGroup::water, kSalinityInputs, kSalinityResults,
     "PSS-78: Lewis 1980, UNESCO 44; below 2 Hill et al. 1986; a meter's compensation of 0.0191 per degree "
     "undone",
     "specific_conductance_ms_cm=20 temperature_c=30", reckon_salinity},
    {"acclimation", ReckonGroup::water, kAcclimationInputs, kAcclimationResults,
     "difference over rate, the longest governs; rates of handbooks, from memory",
     "bag_temperature_c=25 bag_salinity=30 bag_ph=7.8 pond_temperature_c=29 pond_salinity=18 pond_ph=8.4",
     reckon_acclimation},
    {"seepage", ReckonGroup::water, kSeepageInputs, kSeepageResults,
     "water balance of a still pond: fall of the level less evaporation, plus rain",
     "level_fall_mm_d=14 evaporation_mm_d=5", reckon_seepage},
    {"soil-seepage", ReckonGroup::water, kSoilSeepageInputs, kSeepageResults,
     "V = 240 K A, as in the documentation of SWAT+; an upper bound", "conductivity_mm_h=0.2 area_ha=0.5",
     reckon_soil_seepage},
};

}  // namespace

std::span<const Reckoning> water_reckonings() { return kRows; }

}  // namespace tawny
