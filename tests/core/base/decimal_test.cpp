#include "base/decimal.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace tawny {
namespace {

TEST(ParseDecimal, ReadsWhatPeopleType) {
  struct Row {
    const char* text;
    double value;
  };
  const Row rows[] = {
      {"0", 0},
      {"12", 12},
      {"-3.5", -3.5},
      {"3,5", 3.5},
      {"007", 7},
      {".5", 0.5},
      {"5.", 5},
      {"0.1", 0.1},
      {"2.675", 2.675},
      {"0.000000000000001", 1e-15},
      {"123456789012345", 123456789012345.0},
      {"0.123456789012345", 0.123456789012345},
  };
  for (const Row& row : rows) {
    const Result<double> value = parse_decimal(row.text);
    ASSERT_TRUE(value) << row.text;
    EXPECT_EQ(*value, row.value) << row.text;
  }
}

TEST(ParseDecimal, RefusesWhatIsNoNumber) {
  const char* texts[] = {"",
                         "-",
                         ".",
                         ",",
                         "1.2.3",
                         "1,2.3",
                         "1e3",
                         "+1",
                         " 1",
                         "1 ",
                         "--1",
                         "1-",
                         "0x1",
                         "nan",
                         "inf",
                         "twelve",
                         "1'000",
                         "\u0661",
                         "1234567890123456",
                         "0.0000000000000001"};
  for (const char* text : texts) {
    const Result<double> value = parse_decimal(text);
    ASSERT_FALSE(value) << text;
    EXPECT_EQ(value.error().kind, ProblemKind::malformed) << text;
    EXPECT_EQ(value.error().message.id, "problem.not_a_number") << text;
  }
}

TEST(FormatDecimal, RoundsToTheDecimalsAskedFor) {
  struct Row {
    double value;
    int decimals;
    const char* text;
  };
  const Row rows[] = {
      {0, 0, "0"},
      {0, 2, "0.00"},
      {12.34, 1, "12.3"},
      {12.35, 1, "12.4"},
      {-12.35, 1, "-12.4"},
      {0.5, 0, "1"},
      {1.5, 0, "2"},
      {2.5, 0, "3"},
      {-0.5, 0, "-1"},
      {0.05, 2, "0.05"},
      {9.999, 2, "10.00"},
      {1e6, 0, "1000000"},
      {7.0, 9, "7.000000000"},
      {123456.789, 3, "123456.789"},
  };
  for (const Row& row : rows) {
    EXPECT_EQ(format_decimal(row.value, row.decimals), row.text) << row.value << " to " << row.decimals;
  }
}

TEST(FormatDecimal, HalvesRoundAsTyped) {
  EXPECT_EQ(format_decimal(0.285, 2), "0.29");
  EXPECT_EQ(format_decimal(1.005, 2), "1.01");
  EXPECT_EQ(format_decimal(-2.675, 2), "-2.68");
  EXPECT_EQ(format_decimal(0.2849, 2), "0.28");
}

TEST(FormatDecimal, NothingIsNeverMinus) {
  EXPECT_EQ(format_decimal(-0.0, 1), "0.0");
  EXPECT_EQ(format_decimal(-0.04, 1), "0.0");
  EXPECT_EQ(format_decimal(-0.06, 1), "-0.1");
}

TEST(FormatDecimal, UsesTheMarkOfTheLanguage) { EXPECT_EQ(format_decimal(3.25, 2, ','), "3,25"); }

TEST(FormatDecimal, ShowsADashForWhatIsNoNumber) {
  EXPECT_EQ(format_decimal(std::numeric_limits<double>::quiet_NaN(), 1), "\u2013");
  EXPECT_EQ(format_decimal(std::numeric_limits<double>::infinity(), 1), "\u2013");
  EXPECT_EQ(format_decimal(1e18, 1), "\u2013");
}

TEST(FormatDecimal, KeepsItsDecimalsInsideZeroToNine) {
  EXPECT_EQ(format_decimal(1.5, -3), "2");
  EXPECT_EQ(format_decimal(1.5, 20), "1.500000000");
}

}  // namespace
}  // namespace tawny
