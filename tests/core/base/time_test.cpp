#include "base/time.h"

#include <gtest/gtest.h>

#include "base/problem.h"

namespace tawny {
namespace {

TEST(CivilDay, CountsFromTheUnixEpoch) {
  struct Row {
    const char* text;
    int days;
  };
  const Row rows[] = {
      {"1970-01-01", 0},     {"1969-12-31", -1},     {"2000-02-29", 11016}, {"2024-02-29", 19782},
      {"2026-11-25", 20782}, {"1900-01-01", -25567}, {"2200-12-31", 84370},
  };
  for (const Row& row : rows) {
    const Result<CivilDay> day = parse_civil_day(row.text);
    ASSERT_TRUE(day) << row.text;
    EXPECT_EQ(day->days, row.days) << row.text;
    EXPECT_EQ(to_iso(*day), row.text);
  }
}

TEST(CivilDay, RefusesDaysThatDoNotExist) {
  for (const char* text : {"2026-02-29", "1900-02-29", "2026-00-10", "2026-13-01", "2026-04-31", "2026-01-00",
                           "1899-12-31", "2201-01-01", "0000-01-01"}) {
    const Result<CivilDay> day = parse_civil_day(text);
    ASSERT_FALSE(day) << text;
    EXPECT_EQ(day.error().kind, ProblemKind::out_of_range) << text;
  }
}

TEST(CivilDay, RefusesTextThatIsNoDate) {
  for (const char* text :
       {"", "2026-1-1", "2026/01/01", "20260101", "2026-01-01 ", "2026-01-0x", "-026-01-01"}) {
    const Result<CivilDay> day = parse_civil_day(text);
    ASSERT_FALSE(day) << text;
    EXPECT_EQ(day.error().kind, ProblemKind::malformed) << text;
  }
}

// A calendar that keeps months and days in one byte takes 257 for 1.
TEST(CivilDay, MonthAndDayDoNotWrapAround) {
  EXPECT_FALSE(civil_day_of({2026, 257, 1}));
  EXPECT_FALSE(civil_day_of({2026, 1, 257}));
  EXPECT_FALSE(civil_day_of({2026, -255, 1}));
  EXPECT_FALSE(civil_day_of({67562, 1, 1}));
}

TEST(CivilDay, LeapYearsFollowTheGregorianRule) {
  EXPECT_TRUE(civil_day_of({2000, 2, 29}));
  EXPECT_FALSE(civil_day_of({2100, 2, 29}));
  EXPECT_TRUE(civil_day_of({2028, 2, 29}));
}

TEST(CivilDay, IsTheFarmsDateNotGreenwichs) {
  const Instant instant = *parse_instant("2026-11-25T20:30:00Z");
  EXPECT_EQ(to_iso(civil_day(instant, UtcOffset{0})), "2026-11-25");
  EXPECT_EQ(to_iso(civil_day(instant, UtcOffset{7 * 60})), "2026-11-26");
  EXPECT_EQ(to_iso(civil_day(instant, UtcOffset{-12 * 60})), "2026-11-25");
  EXPECT_EQ(to_iso(civil_day(instant, UtcOffset{14 * 60})), "2026-11-26");
  EXPECT_EQ(to_hh_mm(instant, UtcOffset{5 * 60 + 30}), "02:00");
}

TEST(CivilDay, StartsAtTheFarmsMidnight) {
  const UtcOffset offset{-5 * 60};
  const CivilDay day = *parse_civil_day("2026-03-01");
  const Instant midnight = instant_at(day, 0, offset);
  EXPECT_EQ(to_iso(midnight), "2026-03-01T05:00:00Z");
  EXPECT_EQ(civil_day(midnight, offset), day);
  EXPECT_EQ(second_of_day(midnight, offset), 0);
  EXPECT_EQ(civil_day(midnight.plus_s(-1), offset), day.plus(-1));
  EXPECT_EQ(second_of_day(midnight.plus_s(-1), offset), 86399);
}

TEST(CivilDay, SecondsBeyondTheDayReachItsNeighbours) {
  const CivilDay day = *parse_civil_day("2026-03-01");
  EXPECT_EQ(civil_day(instant_at(day, 86400, UtcOffset{60}), UtcOffset{60}), day.plus(1));
  EXPECT_EQ(civil_day(instant_at(day, -1, UtcOffset{60}), UtcOffset{60}), day.plus(-1));
}

TEST(CivilDay, HoldsBeforeTheEpoch) {
  const Instant instant{-1};
  EXPECT_EQ(to_iso(instant), "1969-12-31T23:59:59Z");
  EXPECT_EQ(year_month_day(civil_day(instant, UtcOffset{0})), (YearMonthDay{1969, 12, 31}));
}

TEST(InstantText, GoesThereAndBack) {
  for (const char* text : {"1970-01-01T00:00:00Z", "2026-11-25T10:12:59Z", "1900-01-01T00:00:00Z",
                           "2200-12-31T23:59:59Z", "2024-02-29T12:00:00Z"}) {
    const Result<Instant> instant = parse_instant(text);
    ASSERT_TRUE(instant) << text;
    EXPECT_EQ(to_iso(*instant), text);
  }
  EXPECT_EQ(parse_instant("2001-09-09T01:46:40Z")->unix_s, 1000000000);
}

TEST(InstantText, RefusesOtherForms) {
  for (const char* text : {"", "2026-11-25", "2026-11-25T10:12:00", "2026-11-25T10:12Z", "2026-11-25 10:12:00Z",
                           "2026-11-25T10:12:00+00", "2026-11-25T24:00:00Z", "2026-11-25T10:60:00Z",
                           "2026-11-25T10:12:60Z", "2026-11-25T10:12:00.5Z", "2026-02-30T10:12:00Z"}) {
    EXPECT_FALSE(parse_instant(text)) << text;
  }
}

TEST(InstantArithmetic, KeepsToWholeSeconds) {
  const Instant start{1000};
  EXPECT_EQ(start.plus_min(-2).unix_s, 880);
  EXPECT_EQ(start.plus_h(2.5).unix_s, 10000);
  // 4.1 h is 14759.999999999998 s in doubles; cutting it off would lose the second.
  EXPECT_EQ(start.plus_h(4.1).unix_s, 15760);
  EXPECT_EQ(start.plus_h(-4.1).unix_s, -13760);
  EXPECT_DOUBLE_EQ(hours_between(start, start.plus_min(90)), 1.5);
  EXPECT_DOUBLE_EQ(hours_between(start.plus_min(90), start), -1.5);
}

}  // namespace
}  // namespace tawny
