#include "farm/series.h"

#include <gtest/gtest.h>

#include <tuple>

#include "logbook/kinds.h"
#include "parts.h"

namespace tawny {
namespace {

using namespace farm_test;

constexpr const char* kDawn = "05:55";
constexpr const char* kAfternoon = "16:20";
constexpr const char* kNoon = "12:10";

WaterReading water(const char* time, int day, std::optional<double> do_mg_l, std::optional<double> ph = {}) {
  auto reading = at<WaterReading>(clock(time, day));
  reading.do_mg_l = do_mg_l;
  reading.ph = ph;
  return reading;
}

SecchiPair disc(const char* time, int day, double vanish_cm, double return_cm) {
  auto pair = at<SecchiPair>(clock(time, day));
  pair.vanish_cm = vanish_cm;
  pair.return_cm = return_cm;
  return pair;
}

LevelReading level(const char* time, int day, double level_cm) {
  auto reading = at<LevelReading>(clock(time, day));
  reading.level_cm = level_cm;
  return reading;
}

FarmPond bloom_pond() {
  FarmPond pond = pond_in(Stage::bloom);
  int day = -8;
  for (const Stage stage :
       {Stage::bottom, Stage::first_fill, Stage::rest, Stage::second_fill, Stage::first_dose}) {
    GateOpened gate;
    gate.stage = stage;
    gate.at = clock("09:00", day++);
    pond.state.gates.push_back(gate);
  }
  return pond;
}

PondSeries of(const FarmPond& pond, Instant now = clock("20:00")) {
  return series_of(pond, protocol(), place(), now);
}

TEST(Series, ADayPairsItsDawnWithItsAfternoonAndTheirDifferenceIsTheSwing) {
  FarmPond pond = bloom_pond();
  pond.history.water = {water(kDawn, -1, 4.2, 7.9), water(kAfternoon, -1, 8.7, 8.5), water(kDawn, 0, 4.0)};
  const PondSeries series = of(pond);
  ASSERT_EQ(series.oxygen.days.size(), 2u);
  EXPECT_EQ(series.oxygen.days[0].day, civil_day(clock(kDawn, -1), place().offset));
  EXPECT_DOUBLE_EQ(series.oxygen.days[0].dawn->value, 4.2);
  EXPECT_EQ(series.oxygen.days[0].dawn->at, clock(kDawn, -1));
  EXPECT_DOUBLE_EQ(*series.oxygen.days[0].swing(), 4.5);
  EXPECT_FALSE(series.oxygen.days[1].swing()) << "a dawn alone has no swing";
  ASSERT_EQ(series.ph.days.size(), 1u) << "no pH was read today";
  EXPECT_NEAR(*series.ph.days[0].swing(), 0.6, 1e-9);
}

TEST(Series, WhatWasReadOutsideTheWindowsOrReadAgainStandsApart) {
  FarmPond pond = bloom_pond();
  pond.history.water = {water(kDawn, 0, 4.2), water("06:10", 0, 4.4), water("11:00", 0, 6.0)};
  const PondSeries series = of(pond);
  ASSERT_EQ(series.oxygen.days.size(), 1u);
  EXPECT_DOUBLE_EQ(series.oxygen.days[0].dawn->value, 4.4) << "the last one of the window counts";
  ASSERT_EQ(series.oxygen.apart.size(), 2u);
  EXPECT_DOUBLE_EQ(series.oxygen.apart[0].value, 4.2);
  EXPECT_DOUBLE_EQ(series.oxygen.apart[1].value, 6.0);
}

TEST(Series, AnImpossibleReadingIsNowhere) {
  FarmPond pond = bloom_pond();
  pond.history.water = {water(kDawn, 0, 400.0), water("11:00", 0, -3.0)};
  const PondSeries series = of(pond);
  EXPECT_TRUE(series.oxygen.days.empty());
  EXPECT_TRUE(series.oxygen.apart.empty());
  EXPECT_TRUE(series.empty());
}

TEST(Series, NothingOfTheFutureStandsInIt) {
  FarmPond pond = bloom_pond();
  pond.history.water = {water(kDawn, 0, 4.2), water(kAfternoon, 0, 9.0), water(kDawn, 1, 4.0)};
  pond.history.levels = {level("07:00", 0, 60), level("07:00", 1, 61)};
  const PondSeries series = of(pond, clock("09:00"));
  ASSERT_EQ(series.oxygen.days.size(), 1u);
  EXPECT_FALSE(series.oxygen.days[0].afternoon);
  EXPECT_TRUE(series.oxygen.apart.empty());
  EXPECT_EQ(series.level.readings.size(), 1u);
}

TEST(Series, TheTrendOfTheSwingIsTheMedianSlopeAndOneWrongDayDoesNotTurnIt) {
  PairedSeries series;
  const CivilDay first = *civil_day_of({2026, 3, 1});
  for (int i = 0; i < 7; ++i) {
    PairedDay day;
    day.day = first.plus(i);
    day.dawn = SeriesReading{clock(kDawn), 4, ""};
    day.afternoon = SeriesReading{clock(kAfternoon), 6 + 0.5 * i, ""};
    series.days.push_back(day);
  }
  EXPECT_NEAR(*swing_trend_per_day(series, first, first.plus(6)), 0.5, 1e-12);
  series.days[3].afternoon->value = 30;
  EXPECT_NEAR(*swing_trend_per_day(series, first, first.plus(6)), 0.5, 1e-12);
  EXPECT_FALSE(swing_trend_per_day(series, first, first.plus(1))) << "two days are no trend";
  series.days.erase(series.days.begin() + 1, series.days.begin() + 3);
  EXPECT_NEAR(*swing_trend_per_day(series, first, first.plus(6)), 0.5, 1e-12)
      << "days are counted, not readings";
}

TEST(Series, OfAVeryLongCycleTheNewestDaysMakeTheTrend) {
  PairedSeries series;
  const CivilDay first = *civil_day_of({2020, 1, 1});
  for (int i = 0; i < 2000; ++i) {
    PairedDay day;
    day.day = first.plus(i);
    day.dawn = SeriesReading{clock(kDawn), 4, ""};
    day.afternoon = SeriesReading{clock(kAfternoon), i < 1800 ? 8 - 0.001 * i : 6 + 0.01 * (i - 1800), ""};
    series.days.push_back(day);
  }
  EXPECT_NEAR(*swing_trend_per_day(series, first, first.plus(1999)), 0.01, 1e-9);
}

TEST(Series, SecchiIsTheMedianOfTheDayAndWhatWasReadOutsideThePeakStandsApart) {
  FarmPond pond = bloom_pond();
  pond.history.secchi = {disc(kNoon, -1, 50, 48), disc("12:20", -1, 52, 50), disc("08:00", 0, 60, 58)};
  auto bottom = at<SecchiPair>(clock(kNoon, 0));
  bottom.seen_on_bottom = true;
  bottom.depth_at_disc_cm = 44;
  pond.history.secchi.push_back(bottom);
  const PondSeries series = of(pond);
  ASSERT_EQ(series.secchi.days.size(), 2u);
  EXPECT_DOUBLE_EQ(series.secchi.days[0].secchi_cm, 50);
  EXPECT_FALSE(series.secchi.days[0].more_than);
  EXPECT_EQ(series.secchi.days[0].at, clock("12:20", -1));
  EXPECT_DOUBLE_EQ(series.secchi.days[1].secchi_cm, 44);
  EXPECT_TRUE(series.secchi.days[1].more_than);
  ASSERT_EQ(series.secchi.apart.size(), 1u);
  EXPECT_DOUBLE_EQ(series.secchi.apart[0].value, 59);
}

TEST(Series, TheBandIsThatOfTheStageAndOfTheProtocolOfThatTime) {
  FarmPond pond = bloom_pond();
  pond.history.protocol_changes.push_back(
      {Observed{clock("08:00", -2), entry(std::string(kind::kProtocolChange), clock("08:00", -2))},
       "stage.bloom.secchi_low_cm", Value(40.0), clock("08:00", -2)});
  const PondSeries series = of(pond);
  ASSERT_EQ(series.secchi.bands.size(), 2u) << "none before the bloom, and one more from the change on";
  EXPECT_EQ(series.secchi.bands[0].from, clock("09:00", -4));
  EXPECT_EQ(series.secchi.bands[0].until, clock("08:00", -2));
  EXPECT_DOUBLE_EQ(series.secchi.bands[0].low_cm, 45);
  EXPECT_DOUBLE_EQ(series.secchi.bands[1].low_cm, 40);
  EXPECT_DOUBLE_EQ(series.secchi.bands[1].high_cm, 55);
  EXPECT_EQ(series.secchi.bands[1].until, clock("20:00"));
}

TEST(Series, AStageWithoutABandKeepsTheLastOne) {
  FarmPond pond = bloom_pond();
  int day = -3;
  for (const Stage stage : {Stage::bloom, Stage::third_fill, Stage::hold_band}) {
    GateOpened gate;
    gate.stage = stage;
    gate.at = clock("09:00", day++);
    pond.state.gates.push_back(gate);
  }
  const PondSeries series = of(pond);
  EXPECT_EQ(series.stages.back().stage, Stage::release);
  ASSERT_EQ(series.secchi.bands.size(), 1u);
  EXPECT_EQ(series.secchi.bands[0].until, clock("20:00"));
}

TEST(Series, ThePlanIsAStepForEachFillAndHoldsUntilTheNextOne) {
  const FarmPond pond = bloom_pond();
  const PondSeries series = of(pond);
  ASSERT_EQ(series.level.planned.size(), 2u);
  EXPECT_EQ(series.level.planned[0].fill, Stage::first_fill);
  EXPECT_EQ(series.level.planned[0].from, clock("09:00", -8)) << "when the bottom's gate opened";
  EXPECT_EQ(series.level.planned[0].until, clock("09:00", -6)) << "through the rest";
  EXPECT_EQ(series.level.planned[1].fill, Stage::second_fill);
  EXPECT_EQ(series.level.planned[1].until, clock("20:00"));
  EXPECT_LT(series.level.planned[0].high_cm, series.level.planned[1].low_cm);
  ASSERT_TRUE(series.level.next);
  EXPECT_EQ(series.level.next->fill, Stage::third_fill);
}

TEST(Series, AJoinEndsWhereADayIsMissing) {
  const CivilDay day = *civil_day_of({2026, 3, 1});
  EXPECT_TRUE(joined(day, day.plus(1), 1));
  EXPECT_FALSE(joined(day, day.plus(2), 1));
  EXPECT_TRUE(joined(clock("06:00"), clock("06:00", 4), 4));
  EXPECT_FALSE(joined(clock("06:00"), clock("06:01", 4), 4));
}

TEST(Series, DosesAreMarkedWithWhatWasGivenAndByWhom) {
  FarmPond pond = bloom_pond();
  auto dose = at<DoseRecord>(clock("06:30", -4));
  dose.product = "sodium_nitrate";
  dose.product_kg = 25;
  dose.rate_kg_ha = 25;
  pond.history.doses.push_back(dose);
  const PondSeries series = of(pond);
  ASSERT_EQ(series.secchi.doses.size(), 1u);
  EXPECT_DOUBLE_EQ(series.secchi.doses[0].product_kg, 25);
  EXPECT_FALSE(series.empty());
}

TEST(Series, APondWithoutACycleHasNone) {
  FarmPond pond;
  pond.history.pond = farm_test::pond();
  const PondSeries series = of(pond);
  EXPECT_TRUE(series.empty());
  EXPECT_TRUE(series.stages.empty());
}

TEST(Series, TemperatureIsOfDawnAndAfternoonAndTheRestStandsApart) {
  FarmPond pond = bloom_pond();
  const auto warm = [&](const char* time, int day, double temperature_c) {
    auto reading = at<WaterReading>(clock(time, day));
    reading.temperature_c = temperature_c;
    pond.history.water.push_back(reading);
  };
  warm(kDawn, -1, 26.1);
  warm(kAfternoon, -1, 29.3);
  warm(kDawn, 0, 26.4);
  warm("06:10", 0, 26.5);
  warm("11:00", 0, 28.0);
  warm("11:30", 0, 280.0);
  const PondSeries series = of(pond);
  ASSERT_EQ(series.temperature.days.size(), 2u);
  EXPECT_DOUBLE_EQ(*series.temperature.days[0].swing(), 29.3 - 26.1);
  EXPECT_DOUBLE_EQ(series.temperature.days[1].dawn->value, 26.5) << "the last one of the window counts";
  ASSERT_EQ(series.temperature.apart.size(), 2u) << "280 is impossible, the rest is kept";
  EXPECT_FALSE(series.empty());
  EXPECT_DOUBLE_EQ(*series.temperature.low_limit, protocol().number("stage.release.temperature_low_c"));
}

TEST(Series, SalinityIsEveryPossibleReading) {
  FarmPond pond = bloom_pond();
  for (const double salinity : {18.0, 18.4, 99.0}) {
    auto reading = at<WaterReading>(clock("11:00", 0).plus_min(static_cast<int>(salinity)));
    reading.salinity = salinity;
    pond.history.water.push_back(reading);
  }
  const PondSeries series = of(pond);
  ASSERT_EQ(series.salinity.readings.size(), 2u);
  EXPECT_DOUBLE_EQ(series.salinity.readings[1].value, 18.4);
}

TEST(Series, TheSkyOfADayIsTheOneSeenLast) {
  FarmPond pond = bloom_pond();
  for (const auto& [time, day, sky] : {std::tuple{"07:00", -1, Sky::dull}, std::tuple{"16:00", -1, Sky::bright},
                                       std::tuple{"07:00", 0, Sky::mixed}, std::tuple{"07:00", 1, Sky::dull}}) {
    auto look = at<SkyLook>(clock(time, day));
    look.sky = sky;
    pond.history.skies.push_back(look);
  }
  const PondSeries series = of(pond);
  ASSERT_EQ(series.sky.size(), 2u) << "tomorrow is not known";
  EXPECT_EQ(series.sky[0].sky, Sky::bright);
  EXPECT_EQ(series.sky[1].sky, Sky::mixed);
  EXPECT_TRUE(series.empty()) << "the farm's sky alone is nothing read of this pond";
}

TEST(Series, ACorrectedAndATakenBackReadingDoNotCount) {
  Logbook book;
  DeviceChain chain;
  chain.farm = "farm";
  chain.device = "device";
  const auto put = [&](Draft draft) {
    Entry sealed = *seal(draft, draft.observed, chain);
    const std::string reference = to_reference(sealed.id);
    book.add(std::move(sealed));
    return reference;
  };
  const auto reading = [&](const char* time, double do_mg_l, const std::string& corrects = {}) {
    Draft draft;
    draft.kind = kind::kWaterReading;
    draft.pond = "p1";
    draft.who = "Ines";
    draft.observed = clock(time);
    draft.corrects = corrects;
    draft.values["do_mg_l"] = do_mg_l;
    return put(std::move(draft));
  };
  Draft start;
  start.kind = kind::kCycleStart;
  start.pond = "p1";
  start.observed = clock("08:00", -9);
  start.values["cycle"] = std::string("dry season");
  put(start);
  const std::string wrong = reading(kDawn, 9.9);
  reading(kDawn, 4.4, wrong);
  const std::string gone = reading(kAfternoon, 8.8);
  Draft taken_back;
  taken_back.kind = kind::kVoid;
  taken_back.pond = "p1";
  taken_back.observed = clock("17:00");
  taken_back.voids = gone;
  taken_back.values["reason"] = std::string("wrong pond");
  put(taken_back);
  FarmPond pond;
  pond.history = build_history(farm_test::pond(), book.effective());
  const PondSeries series = of(pond);
  ASSERT_EQ(series.oxygen.days.size(), 1u);
  EXPECT_DOUBLE_EQ(series.oxygen.days[0].dawn->value, 4.4);
  EXPECT_EQ(series.oxygen.days[0].dawn->who, "Ines");
  EXPECT_FALSE(series.oxygen.days[0].afternoon);
  EXPECT_TRUE(series.oxygen.apart.empty());
}

}  // namespace
}  // namespace tawny
