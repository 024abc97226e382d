// By hand: oxygen. What the water holds, what the pond makes and uses, what is left at dawn.
#include "science/oxygen.h"

#include "reckon/given.h"

namespace tawny {
namespace {

Result<ReckonAnswer> reckon_saturation(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(pressure_atm, pressure_atm_of(given));
  TAWNY_RECKON_TAKE(saturation_mg_l, oxygen_saturation_mg_l(given.number("temperature_c"),
                                                            given.number("salinity"), pressure_atm));
  ReckonResults results(given);
  results.put("oxygen_saturation_mg_l", saturation_mg_l);
  if (const auto oxygen_mg_l = given.maybe("oxygen_mg_l")) {
    results.put("oxygen_percent", 100 * *oxygen_mg_l / saturation_mg_l);
  }
  return results.done();
}

constexpr ReckonInput kSaturationInputs[] = {
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", kSalinity),
    either_number("pressure_kpa", kPressure_kpa, "air", false),
    either_number("altitude_m", kAltitude_m, "air", false),
    optional_number("oxygen_mg_l", kOxygen_mg_l),
};
constexpr ReckonResult kSaturationResults[] = {
    {"oxygen_saturation_mg_l", "mg_l", 2},
    {"oxygen_percent", "percent", 0},
};

constexpr Reckoning kRows[] = {
    {"oxygen-saturation", ReckonGroup::oxygen, kSaturationInputs, kSaturationResults,
     "Benson & Krause 1984, as in APHA Standard Methods 4500-O; pressure at an altitude: FAO-56, eq. 7",
     "temperature_c=28 salinity=20", reckon_saturation},
};

}  // namespace

std::span<const Reckoning> oxygen_reckonings() { return kRows; }

}  // namespace tawny
