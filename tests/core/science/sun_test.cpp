#include "science/sun.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <string>

namespace tawny {
namespace {

CivilDay day_of(const std::string& text) { return *parse_civil_day(text); }
Instant at(const std::string& text) { return *parse_instant(text); }

std::int64_t apart_s(Instant a, Instant b) { return std::llabs(a.unix_s - b.unix_s); }

// USNO almanac minutes, through a public solar library's tests [published: USNO via pvlib test_spa].
TEST(Sun, MatchesTheAlmanacToAMinute) {
  struct Row {
    double latitude_deg, longitude_deg;
    int offset_h;
    const char *day, *rise, *set;
  };
  const Row rows[] = {
      {39.0, -105.0, -7, "2015-01-02", "07:19", "16:49"},
      {39.0, -105.0, -7, "2015-04-02", "05:43", "18:24"},
      {39.0, -105.0, -7, "2015-08-02", "05:01", "19:10"},
      {39.0, -105.0, -7, "2015-12-02", "07:01", "16:38"},
      {39.917, 116.383, 8, "2015-01-02", "07:36", "17:00"},
      {39.917, 116.383, 8, "2015-04-02", "05:58", "18:39"},
      {39.917, 116.383, 8, "2015-08-02", "05:13", "19:28"},
      {39.917, 116.383, 8, "2015-12-02", "07:17", "16:50"},
  };
  for (const Row& row : rows) {
    const UtcOffset offset{60 * row.offset_h};
    const Result<SunDay> sun = sun_day(day_of(row.day), row.latitude_deg, row.longitude_deg, offset);
    ASSERT_TRUE(sun) << row.day;
    const auto minute = [&](const char* hh_mm) {
      return at(std::string(row.day) + "T" + hh_mm + ":00Z").plus_min(-offset.minutes);
    };
    EXPECT_LE(apart_s(sun->sunrise, minute(row.rise)), 60) << row.day << " " << to_iso(sun->sunrise);
    EXPECT_LE(apart_s(sun->sunset, minute(row.set)), 60) << row.day << " " << to_iso(sun->sunset);
  }
}

// Low latitudes [computed: the same formulas in another language; within 4 s of astronomy-engine 2.1.19,
// PyEphem 4.1.4 and the SPA].
TEST(Sun, MatchesLowLatitudeCasesToSeconds) {
  struct Row {
    double latitude_deg, longitude_deg;
    int offset_h;
    const char *day, *rise, *noon, *set;
  };
  const Row rows[] = {
      {-2.19, -79.89, -5, "2024-03-20", "2024-03-20T11:23:33Z", "2024-03-20T17:26:47Z", "2024-03-20T23:29:59Z"},
      {-2.19, -79.89, -5, "2024-06-20", "2024-06-20T11:21:26Z", "2024-06-20T17:21:19Z", "2024-06-20T23:21:12Z"},
      {-2.19, -79.89, -5, "2024-12-21", "2024-12-21T11:10:26Z", "2024-12-21T17:17:59Z", "2024-12-21T23:25:33Z"},
      {13.08, 80.27, 5, "2024-06-20", "2024-06-20T00:13:39Z", "2024-06-20T06:40:35Z", "2024-06-20T13:07:31Z"},
      {13.08, 80.27, 5, "2024-12-21", "2024-12-21T00:56:24Z", "2024-12-21T06:37:08Z", "2024-12-21T12:17:52Z"},
      {10.03, 105.79, 7, "2024-09-22", "2024-09-21T22:46:04Z", "2024-09-22T04:49:31Z", "2024-09-22T10:52:50Z"},
      {29.10, -110.95, -7, "2024-06-20", "2024-06-20T12:25:22Z", "2024-06-20T19:25:34Z",
       "2024-06-21T02:25:47Z"},
      {0, 0, 0, "2024-03-20", "2024-03-20T06:04:02Z", "2024-03-20T12:07:17Z", "2024-03-20T18:10:33Z"},
      {0, 0, 0, "2025-02-11", "2025-02-11T06:10:48Z", "2025-02-11T12:14:14Z", "2025-02-11T18:17:39Z"},
      {0, 0, 0, "2025-11-03", "2025-11-03T05:40:03Z", "2025-11-03T11:43:31Z", "2025-11-03T17:46:58Z"},
      {-12.46, 130.84, 9, "2024-12-21", "2024-12-20T20:48:55Z", "2024-12-21T03:14:47Z", "2024-12-21T09:40:39Z"},
  };
  for (const Row& row : rows) {
    const Result<SunDay> sun =
        sun_day(day_of(row.day), row.latitude_deg, row.longitude_deg, UtcOffset{60 * row.offset_h});
    ASSERT_TRUE(sun) << row.day;
    EXPECT_LE(apart_s(sun->sunrise, at(row.rise)), 2) << row.day << " " << to_iso(sun->sunrise);
    EXPECT_LE(apart_s(sun->solar_noon, at(row.noon)), 2) << row.day << " " << to_iso(sun->solar_noon);
    EXPECT_LE(apart_s(sun->sunset, at(row.set)), 2) << row.day << " " << to_iso(sun->sunset);
  }
}

// Refracted elevation at solar noon [computed: SPA].
TEST(Sun, NoonStandsAsHighAsTheSpaSays) {
  struct Row {
    double latitude_deg, longitude_deg;
    const char* noon;
    double elevation_deg;
  };
  const Row rows[] = {
      {-2.19, -79.89, "2024-03-20T17:26:47Z", 87.574},  {-2.19, -79.89, "2024-06-20T17:21:19Z", 64.379},
      {13.08, 80.27, "2024-06-20T06:40:35Z", 79.645},   {13.08, 80.27, "2024-12-21T06:37:08Z", 53.492},
      {10.03, 105.79, "2024-09-22T04:49:31Z", 80.101},  {29.10, -110.95, "2024-06-20T19:25:34Z", 84.340},
      {0, 0, "2024-03-20T12:07:17Z", 89.851},           {0, 0, "2025-11-03T11:43:31Z", 74.780},
      {-12.46, 130.84, "2024-12-21T03:14:47Z", 79.025},
  };
  for (const Row& row : rows) {
    EXPECT_NEAR(solar_elevation_deg(at(row.noon), row.latitude_deg, row.longitude_deg), row.elevation_deg, 0.02)
        << row.noon;
  }
}

// The worked case of Reda & Andreas, NREL/TP-560-34302 [published: via pvlib test_spa; times from memory].
TEST(Sun, MatchesTheSpaWorkedCase) {
  const double latitude_deg = 39.742476;
  const double longitude_deg = -105.1786;
  EXPECT_NEAR(solar_elevation_deg(at("2003-10-17T19:30:30Z"), latitude_deg, longitude_deg), 90 - 50.11162,
              0.02);
  EXPECT_NEAR(equation_of_time_min(at("2003-10-17T19:30:30Z")), 14.641511, 0.01);
  const Result<SunDay> sun = sun_day(day_of("2003-10-17"), latitude_deg, longitude_deg, UtcOffset{-420});
  ASSERT_TRUE(sun);
  EXPECT_LE(apart_s(sun->sunrise, at("2003-10-17T13:12:43Z")), 10);
}

// The SPA works on the UTC day: its "sunset 17:20:19" of 17 October is the one of the evening before at UTC-7.
// Ours belongs to the farm's day, so that evening has it, and the 17th is some 90 s earlier.
TEST(Sun, EventsBelongToTheFarmsDayNotToTheUtcDay) {
  const Result<SunDay> sixteenth = sun_day(day_of("2003-10-16"), 39.742476, -105.1786, UtcOffset{-420});
  const Result<SunDay> seventeenth = sun_day(day_of("2003-10-17"), 39.742476, -105.1786, UtcOffset{-420});
  ASSERT_TRUE(sixteenth && seventeenth);
  EXPECT_LE(apart_s(sixteenth->sunset, at("2003-10-17T00:20:19Z")), 10);
  EXPECT_LE(apart_s(seventeenth->sunset, at("2003-10-18T00:18:51Z")), 10);
}

TEST(Sun, NoonStaysOnTheFarmsDayWhateverItsOffset) {
  for (const int offset_min : {-720, -420, 0, 330, 420, 600, 840}) {
    // A farm whose clock noon is the sun's.
    const double longitude_deg = offset_min / 4.0 > 180 ? offset_min / 4.0 - 360 : offset_min / 4.0;
    const UtcOffset offset{offset_min};
    const Result<SunDay> sun = sun_day(day_of("2026-03-01"), 10, longitude_deg, offset);
    ASSERT_TRUE(sun) << offset_min;
    EXPECT_EQ(to_iso(civil_day(sun->sunrise, offset)), "2026-03-01") << offset_min;
    EXPECT_EQ(to_iso(civil_day(sun->solar_noon, offset)), "2026-03-01") << offset_min;
    EXPECT_EQ(to_iso(civil_day(sun->sunset, offset)), "2026-03-01") << offset_min;
    EXPECT_NEAR(second_of_day(sun->solar_noon, offset), 12 * 3600 + 12 * 60, 180) << offset_min;
  }
}

// Meeus, example 25.a: declination -7.78507 deg on 1992-10-13.0 [from memory]; at the pole it is the elevation,
// less the refraction that stands below the horizon.
TEST(Sun, DeclinationMatchesMeeusExample25a) {
  const double elevation_deg = solar_elevation_deg(at("1992-10-13T00:00:00Z"), 90, 0);
  const double refraction_deg = -20.774 / std::tan(-7.78507 * 3.14159265358979 / 180) / 3600;
  EXPECT_NEAR(elevation_deg - refraction_deg, -7.78507, 1e-4);
}

TEST(Sun, PolarDayAndNightAreImpossible) {
  for (const char* text : {"2026-06-21", "2026-12-21"}) {
    const Result<SunDay> sun = sun_day(day_of(text), 70, 20, UtcOffset{60});
    ASSERT_FALSE(sun) << text;
    EXPECT_EQ(sun.error().kind, ProblemKind::impossible) << text;
    EXPECT_EQ(sun.error().message.id, "problem.no_sunrise");
  }
  EXPECT_TRUE(sun_day(day_of("2026-03-21"), 70, 20, UtcOffset{60}));
}

TEST(Sun, RefusesPlacesAndYearsOutOfRange) {
  const CivilDay day = day_of("2026-03-01");
  EXPECT_EQ(sun_day(day, 72.1, 0, UtcOffset{0}).error().parameter, "latitude_deg");
  EXPECT_EQ(sun_day(day, -72.1, 0, UtcOffset{0}).error().parameter, "latitude_deg");
  EXPECT_EQ(sun_day(day, 0, 180.1, UtcOffset{0}).error().parameter, "longitude_deg");
  EXPECT_EQ(sun_day(day, 0, 0, UtcOffset{841}).error().parameter, "utc_offset_min");
  EXPECT_EQ(sun_day(day_of("2101-01-01"), 0, 0, UtcOffset{0}).error().parameter, "year");
  EXPECT_TRUE(sun_day(day_of("2100-12-31"), 0, 180, UtcOffset{720}));
  EXPECT_TRUE(sun_day(day_of("1900-01-01"), 0, -180, UtcOffset{-720}));
}

TEST(Sun, IsDownAtNightAndRefractedAtTheHorizon) {
  EXPECT_LT(solar_elevation_deg(at("2024-03-20T00:00:00Z"), 0, 0), -80);
  const Result<SunDay> sun = sun_day(day_of("2024-03-20"), 10, 0, UtcOffset{0});
  ASSERT_TRUE(sun);
  // The true centre 0.833 deg under the horizon, lifted by 20.774 / tan 0.833 deg seconds of arc.
  EXPECT_NEAR(solar_elevation_deg(sun->sunrise, 10, 0), -0.833 + 0.397, 0.005);
  EXPECT_NEAR(solar_elevation_deg(sun->sunset, 10, 0), -0.833 + 0.397, 0.005);
}

}  // namespace
}  // namespace tawny
