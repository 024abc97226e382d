#include "logbook/json_number.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <limits>
#include <string>

namespace tawny {
namespace {

// The C library reads to the nearest double; here it is the second opinion.
TEST(JsonNumber, GivesTheNearestDouble) {
  const char* rows[] = {"0",
                        "1",
                        "-1",
                        "18.5",
                        "0.1",
                        "0.30000000000000004",
                        "123456789012345",
                        "1234567890123456",
                        "9007199254740993",
                        "9007199254740992.5",
                        "1e22",
                        "1e23",
                        "1E+2",
                        "12e-3",
                        "0.000001",
                        "1.7976931348623157e308",
                        "2.2250738585072014e-308",
                        "2.2250738585072011e-308",
                        "4.9406564584124654e-324",
                        "5e-324",
                        "8.5e-324",
                        "0.12345678901234567e-307",
                        "-0.12345678901234567e-306",
                        "123456789012345678901234567890",
                        "0.0000000000000000000000000000000000000000000000000000000000001",
                        "100000000000000000000000000000000000000000000000000000000000000"};
  for (const char* row : rows) {
    const auto number = read_json_number(row);
    ASSERT_TRUE(number) << row;
    EXPECT_EQ(*number, std::strtod(row, nullptr)) << row;
  }
}

TEST(JsonNumber, KeepsTheSignOfZero) {
  for (const char* row : {"-0", "-0.0", "-0e5", "-1e-400"}) {
    const auto number = read_json_number(row);
    ASSERT_TRUE(number) << row;
    EXPECT_EQ(*number, 0.0) << row;
    EXPECT_TRUE(std::signbit(*number)) << row;
  }
}

TEST(JsonNumber, WhatIsTooSmallIsZeroHoweverFar) {
  const char* rows[] = {"1e-325", "0.12345678901234567e-341", "1e-99999999999999999999", "0.00001e-323",
                        "123456789012345678901234567890e-400"};
  for (const char* row : rows) EXPECT_EQ(read_json_number(row), 0.0) << row;
}

TEST(JsonNumber, WhatIsTooLargeOrTooLongIsRefused) {
  const char* rows[] = {"1e309", "1.7976931348623159e308", "-1e999999999999", "123e307"};
  for (const char* row : rows) EXPECT_FALSE(read_json_number(row)) << row;
  EXPECT_TRUE(read_json_number("0." + std::string(62, '1')));
  EXPECT_FALSE(read_json_number("0." + std::string(63, '1')));
}

TEST(JsonNumber, AWholeNumberHasDigitsOnlyAndALimit) {
  EXPECT_EQ(read_json_whole("0", 10), 0u);
  EXPECT_EQ(read_json_whole("10", 10), 10u);
  EXPECT_EQ(read_json_whole("9007199254740991", std::numeric_limits<std::uint64_t>::max()), 9007199254740991u);
  for (const char* row : {"", "11", "-1", "1.0", "1e1", "01", "99999999999999999999"}) {
    EXPECT_FALSE(read_json_whole(row, 10)) << row;
  }
}

}  // namespace
}  // namespace tawny
