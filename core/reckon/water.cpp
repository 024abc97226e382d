// By hand: what the water is. Ammonia, density, salinity, acclimation, seepage.
#include "reckon/given.h"
#include "science/ammonia.h"
#include "science/seawater.h"

namespace tawny {
namespace {

Result<ReckonAnswer> reckon_ammonia(const ReckonGiven& given) {
  const double ph = given.number("ph");
  const double temperature_c = given.number("temperature_c");
  const double salinity = given.number("salinity");
  const double tan_mg_l = given.number("tan_mg_l");
  TAWNY_RECKON_TAKE(fraction, un_ionized_ammonia_fraction(ph, temperature_c, salinity));
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

constexpr ReckonInput kAmmoniaInputs[] = {
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", kSalinity),
    number_input("ph", {3, 12, "", 2}),
    number_input("tan_mg_l", {0, 500, "mg_l_n", 2}),
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
     "Emerson et al. 1975 below salinity 1; Hampson 1977 from there on; pH on the NBS scale, ammonia as N; "
     "take "
     "±20 %",
     "temperature_c=29 salinity=15 ph=8.4 tan_mg_l=0.6", reckon_ammonia},
    {"seawater-density", ReckonGroup::water, kSeawaterDensityInputs, kSeawaterDensityResults,
     "EOS-80: Millero & Poisson 1981; UNESCO Technical Papers in Marine Science 38 and 44",
     "temperature_c=28 salinity=20", reckon_seawater_density},
};

}  // namespace

std::span<const Reckoning> water_reckonings() { return kRows; }

}  // namespace tawny
