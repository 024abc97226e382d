// By hand: oxygen. What the water holds, what the pond makes and uses, what is left at dawn.
#include "science/oxygen.h"

#include <algorithm>
#include <iterator>

#include "base/decimal.h"
#include "reckon/given.h"
#include "science/dawn_oxygen.h"
#include "science/gas_exchange.h"
#include "science/metabolism.h"
#include "science/metabolism_series.h"

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

// Of the wind where and how high it was read.
Result<double> wind_10_of(const ReckonGiven& given) {
  return wind_at_10_m_m_s(given.number("wind_m_s"), given.number("wind_height_m"));
}

Result<ReckonAnswer> reckon_gas_exchange(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(wind_10, wind_10_of(given));
  TAWNY_RECKON_TAKE(schmidt, schmidt_number_oxygen(given.number("temperature_c"), given.number("salinity")));
  TAWNY_RECKON_TAKE(k600, gas_exchange_600_m_d(wind_10));
  TAWNY_RECKON_TAKE(exchange,
                    oxygen_exchange_m_d(given.number("temperature_c"), given.number("salinity"), wind_10));
  return ReckonResults(given)
      .put("oxygen_exchange_m_d", exchange)
      .put("k600_m_d", k600)
      .put("schmidt_number", schmidt)
      .put("wind_10_m_s", wind_10)
      .done();
}

Result<ReckonAnswer> reckon_dawn_oxygen(const ReckonGiven& given) {
  EveningPair pair;
  pair.first_mg_l = given.number("first_mg_l");
  pair.second_mg_l = given.number("second_mg_l");
  pair.hours_between = given.number("hours_between");
  pair.hours_to_dawn = given.number("hours_to_dawn");
  pair.temperature_c = given.number("temperature_c");
  pair.salinity = given.number("salinity");
  pair.depth_m = given.number("depth_m");
  TAWNY_RECKON_TAKE(wind_10, wind_10_of(given));
  pair.wind_10_m_s = wind_10;
  TAWNY_RECKON_TAKE(pressure_atm, pressure_atm_of(given));
  pair.pressure_atm = pressure_atm;
  const double floor_mg_l = given.number("floor_mg_l");
  TAWNY_RECKON_TAKE(dawn, dawn_oxygen(pair, floor_mg_l));
  ReckonResults results(given);
  results.put("low_mg_l", dawn.low_mg_l)
      .put("high_mg_l", dawn.high_mg_l)
      .put("linear_mg_l", dawn.linear_mg_l)
      .put("exponential_mg_l", dawn.exponential_mg_l)
      .put("respiration_diffusion_mg_l", dawn.respiration_diffusion_mg_l)
      .put("respiration_mg_l_h", dawn.respiration_mg_l_h);
  // The first of the three ways to come to the floor, if that is before dawn.
  std::optional<double> soonest_h;
  for (const auto& way : {dawn.linear_hours_to_floor, dawn.exponential_hours_to_floor,
                          dawn.respiration_diffusion_hours_to_floor}) {
    if (way && *way <= pair.hours_to_dawn && (!soonest_h || *way < *soonest_h)) soonest_h = way;
  }
  if (soonest_h) {
    results.put("hours_to_floor", *soonest_h);
    results.note(Message("reckon.note.dawn_floor").with("floor", Quantity{floor_mg_l, 1, "mg_l"}));
  }
  if (dawn.none_left) results.note(Message("reckon.note.none_left"));
  return results.done();
}

void put_rate(ReckonResults& results, const std::string& name, const DailyRate& rate) {
  results.put(name + "_mg_l_d", rate.mg_l_d)
      .put(name + "_low_mg_l_d", rate.low_mg_l_d)
      .put(name + "_high_mg_l_d", rate.high_mg_l_d)
      .put(name + "_g_m2_d", rate.g_m2_d);
}

void put_metabolism(ReckonResults& results, const Metabolism& day) {
  put_rate(results, "gpp", day.gpp);
  results.put("gpp_verdict", day.gpp_resolvable ? "resolved" : "not_resolvable");
  put_rate(results, "er", day.er);
  results.put("er_verdict", day.er_resolvable ? "resolved" : "not_resolvable");
  put_rate(results, "nep", day.nep);
  if (!day.gpp_resolvable || !day.er_resolvable) results.note(Message("reckon.note.not_resolvable"));
}

// By day and by night: with fewer a mean says nothing.
constexpr int kLeastIntervals = 3;

Result<ReckonAnswer> reckon_metabolism(const ReckonGiven& given) {
  ThreeReadings readings;
  readings.dawn_mg_l = given.number("dawn_mg_l");
  readings.dawn_h = given.number("dawn_h");
  readings.afternoon_mg_l = given.number("afternoon_mg_l");
  readings.afternoon_h = given.number("afternoon_h");
  readings.next_dawn_mg_l = given.number("next_dawn_mg_l");
  readings.next_dawn_h = given.number("next_dawn_h");
  readings.sunrise_h = given.number("sunrise_h");
  readings.sunset_h = given.number("sunset_h");
  readings.temperature_c = given.number("temperature_c");
  readings.salinity = given.number("salinity");
  readings.depth_m = given.number("depth_m");
  TAWNY_RECKON_TAKE(wind_10, wind_10_of(given));
  readings.wind_10_m_s = wind_10;
  TAWNY_RECKON_TAKE(pressure_atm, pressure_atm_of(given));
  readings.pressure_atm = pressure_atm;
  readings.reading_error_mg_l = given.number("reading_error_mg_l");
  readings.exchange_error_share = given.number("exchange_error_share");
  TAWNY_RECKON_TAKE(day, metabolism_of_three(readings));
  ReckonResults results(given);
  put_metabolism(results, day);
  return results.done();
}

// "0/6.3,0.5/6.1": hours since midnight, and the oxygen then.
Result<std::vector<OxygenReading>> readings_of(const ReckonGiven& given, double wind_10_m_s) {
  const std::string text = given.text("readings");
  std::vector<OxygenReading> readings;
  std::size_t at = 0;
  while (at <= text.size()) {
    const std::size_t end = std::min(text.find(',', at), text.size());
    const std::string item = text.substr(at, end - at);
    const std::size_t slash = std::min(item.find('/'), item.size());
    const Result<double> time_h = parse_decimal(item.substr(0, slash));
    const Result<double> oxygen_mg_l = parse_decimal(slash == item.size() ? "" : item.substr(slash + 1));
    if (!time_h || !oxygen_mg_l) {
      return refuse(ProblemKind::malformed, "readings",
                    Message("problem.not_an_oxygen_reading").with("text", Text{item}));
    }
    readings.push_back(
        {*time_h, *oxygen_mg_l, given.number("temperature_c"), given.number("salinity"), wind_10_m_s});
    at = end + 1;
  }
  return readings;
}

Result<ReckonAnswer> reckon_metabolism_series(const ReckonGiven& given) {
  TAWNY_RECKON_TAKE(wind_10, wind_10_of(given));
  TAWNY_RECKON_TAKE(readings, readings_of(given, wind_10));
  SeriesPlace place;
  place.sunrise_h = given.number("sunrise_h");
  place.sunset_h = given.number("sunset_h");
  place.depth_m = given.number("depth_m");
  TAWNY_RECKON_TAKE(pressure_atm, pressure_atm_of(given));
  place.pressure_atm = pressure_atm;
  place.longest_interval_h = given.number("longest_interval_h");
  place.reading_error_mg_l = given.number("reading_error_mg_l");
  place.exchange_error_share = given.number("exchange_error_share");
  place.least_intervals = kLeastIntervals;
  TAWNY_RECKON_TAKE(days, metabolism_of_series(readings, place));
  ReckonResults results(given);
  put_metabolism(results, days);
  results.put("day_intervals", static_cast<double>(days.day_intervals))
      .put("night_intervals", static_cast<double>(days.night_intervals))
      .put("gaps", static_cast<double>(days.gaps))
      .put("longest_gap_h", days.longest_gap_h);
  return results.done();
}

constexpr ReckonInput kWindHeight = number_or("wind_height_m", {0.5, 30, "m", 1}, 10);
constexpr Range kHours{0, 24, "h", 2};

constexpr ReckonInput kGasExchangeInputs[] = {
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", kSalinity),
    number_input("wind_m_s", kWind_m_s),
    kWindHeight,
};
constexpr ReckonResult kGasExchangeResults[] = {
    {"oxygen_exchange_m_d", "m_d", 2},
    {"k600_m_d", "m_d", 2},
    {"schmidt_number", "", 0},
    {"wind_10_m_s", "m_s", 1},
};

constexpr ReckonInput kDawnInputs[] = {
    number_input("first_mg_l", kOxygen_mg_l),
    number_input("second_mg_l", kOxygen_mg_l),
    number_input("hours_between", {0.25, 12, "h", 2}),
    number_input("hours_to_dawn", {0.25, 24, "h", 2}),
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", kSalinity),
    number_input("depth_m", kDepth_m),
    number_input("wind_m_s", kWind_m_s),
    kWindHeight,
    protocol_number("floor_mg_l", kOxygen_mg_l, "stage.release.dawn_do_mg_l"),
    either_number("pressure_kpa", kPressure_kpa, "air", false),
    either_number("altitude_m", kAltitude_m, "air", false),
};
constexpr ReckonResult kDawnResults[] = {
    {"low_mg_l", "mg_l", 1},
    {"high_mg_l", "mg_l", 1},
    {"linear_mg_l", "mg_l", 2},
    {"exponential_mg_l", "mg_l", 2},
    {"respiration_diffusion_mg_l", "mg_l", 2},
    {"respiration_mg_l_h", "mg_l_h", 2},
    {"hours_to_floor", "h", 1},
};

constexpr ReckonInput kMetabolismInputs[] = {
    number_input("dawn_mg_l", kOxygen_mg_l),
    number_input("dawn_h", kHours),
    number_input("afternoon_mg_l", kOxygen_mg_l),
    number_input("afternoon_h", kHours),
    number_input("next_dawn_mg_l", kOxygen_mg_l),
    number_input("next_dawn_h", {24, 36, "h", 2}),
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", kSalinity),
    number_input("depth_m", kDepth_m),
    number_input("wind_m_s", kWind_m_s),
    kWindHeight,
    number_or("sunrise_h", kHours, 6),
    number_or("sunset_h", kHours, 18),
    protocol_number("reading_error_mg_l", {0, 5, "mg_l", 2}, "metabolism.reading_error_mg_l"),
    protocol_number("exchange_error_share", {0, 1, "share", 2}, "metabolism.exchange_error_share"),
    either_number("pressure_kpa", kPressure_kpa, "air", false),
    either_number("altitude_m", kAltitude_m, "air", false),
};

constexpr ReckonInput kSeriesInputs[] = {
    plain_input("readings", ReckonInput::Kind::text),
    number_input("temperature_c", kTemperature_c),
    number_input("salinity", kSalinity),
    number_input("depth_m", kDepth_m),
    number_input("wind_m_s", kWind_m_s),
    kWindHeight,
    number_or("sunrise_h", kHours, 6),
    number_or("sunset_h", kHours, 18),
    number_or("longest_interval_h", {0.01, 6, "h", 2}, 2),
    protocol_number("reading_error_mg_l", {0, 5, "mg_l", 2}, "metabolism.reading_error_mg_l"),
    protocol_number("exchange_error_share", {0, 1, "share", 2}, "metabolism.exchange_error_share"),
    either_number("pressure_kpa", kPressure_kpa, "air", false),
    either_number("altitude_m", kAltitude_m, "air", false),
};
constexpr ReckonResult kSeriesResults[] = {
    {"gpp_mg_l_d", "mg_l_d", 2},
    {"gpp_low_mg_l_d", "mg_l_d", 2},
    {"gpp_high_mg_l_d", "mg_l_d", 2},
    {"gpp_g_m2_d", "g_m2_d", 2},
    {"gpp_verdict", "", 0, ReckonResult::Kind::choice},
    {"er_mg_l_d", "mg_l_d", 2},
    {"er_low_mg_l_d", "mg_l_d", 2},
    {"er_high_mg_l_d", "mg_l_d", 2},
    {"er_g_m2_d", "g_m2_d", 2},
    {"er_verdict", "", 0, ReckonResult::Kind::choice},
    {"nep_mg_l_d", "mg_l_d", 2},
    {"nep_low_mg_l_d", "mg_l_d", 2},
    {"nep_high_mg_l_d", "mg_l_d", 2},
    {"nep_g_m2_d", "g_m2_d", 2},
    {"day_intervals", "", 0},
    {"night_intervals", "", 0},
    {"gaps", "", 0},
    {"longest_gap_h", "h", 1},
};
// Three readings answer the same, but for what is told of the series.
constexpr std::span<const ReckonResult> kMetabolismResults =
    std::span(kSeriesResults).first<std::size(kSeriesResults) - 4>();

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
    {"dawn-oxygen", ReckonGroup::oxygen, kDawnInputs, kDawnResults,
     "line: Boyd, Romaire & Johnston 1978 (from memory); exponential and respiration-diffusion: Madenjian, "
     "Rogers & Fast "
     "1987; both readings after dusk; hours to dawn count from the first",
     "first_mg_l=9 second_mg_l=7.5 hours_between=3 hours_to_dawn=11.5 temperature_c=29 salinity=20 depth_m=1 "
     "wind_m_s=2",
     reckon_dawn_oxygen},
    {"metabolism", ReckonGroup::oxygen, kMetabolismInputs, kMetabolismResults,
     "balance of oxygen: Odum 1956; production as half a sine of the day; exchange: Cole & Caraco 1998, "
     "Wanninkhof 2014; "
     "80 % ranges from the errors of meter and exchange",
     "dawn_mg_l=4.8 dawn_h=6 afternoon_mg_l=8.2 afternoon_h=15 next_dawn_mg_l=4.8 next_dawn_h=30 "
     "temperature_c=29 "
     "salinity=20 depth_m=1 wind_m_s=2",
     reckon_metabolism},
    {"metabolism-series", ReckonGroup::oxygen, kSeriesInputs, kSeriesResults,
     "bookkeeping: Odum 1956, Cole et al. 2000, Staehr et al. 2010; exchange: Cole & Caraco 1998, Wanninkhof "
     "2014; 80 % "
     "ranges from the errors of meter and exchange",
     "readings=0/6.3,2/5.8,4/5.3,6/4.8,8/5.1,10/5.9,12/6.8,14/7.8,16/8.4,18/8.2,20/7.5,22/6.9,24/6.3 "
     "temperature_c=29 "
     "salinity=20 depth_m=1 wind_m_s=2",
     reckon_metabolism_series},
    {"gas-exchange", ReckonGroup::oxygen, kGasExchangeInputs, kGasExchangeResults,
     "Cole & Caraco 1998 (wind); Wanninkhof 2014 (Schmidt number); Arya 1988 (wind at 10 m)",
     "temperature_c=29 salinity=20 wind_m_s=2", reckon_gas_exchange},
};

}  // namespace

std::span<const Reckoning> oxygen_reckonings() { return kRows; }

}  // namespace tawny
