#include "logbook/utf8.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

// Bounds of every row of table 3-7 of the Unicode Standard (well-formed UTF-8 byte sequences).
TEST(Utf8, AcceptsTheFirstAndLastCharacterOfEachLength) {
  const char* rows[] = {"",
                        "a",
                        "\x7f",
                        "\xc2\x80",
                        "\xdf\xbf",
                        "\xe0\xa0\x80",
                        "\xed\x9f\xbf",
                        "\xee\x80\x80",
                        "\xef\xbf\xbf",
                        "\xf0\x90\x80\x80",
                        "\xf4\x8f\xbf\xbf",
                        "\u0e01\u1780\u4e2d\U0001f990"};
  for (const char* row : rows) EXPECT_TRUE(is_utf8(row)) << row;
}

TEST(Utf8, RefusesWhatIsNotWellFormed) {
  const char* rows[] = {"\x80",              // continuation without a lead
                        "\xc0\x80",          // overlong
                        "\xc1\xbf",          // overlong
                        "\xe0\x9f\xbf",      // overlong
                        "\xf0\x8f\xbf\xbf",  // overlong
                        "\xed\xa0\x80",      // surrogate
                        "\xed\xbf\xbf",      // surrogate
                        "\xf4\x90\x80\x80",  // above U+10FFFF
                        "\xf5\x80\x80\x80",
                        "\xff",
                        "\xc3",
                        "\xe1\x80",
                        "\xf1\x80\x80",
                        "\xc3(",
                        "\xe1\x80(",
                        "a\xf1\x80\x80"};
  for (const char* row : rows) EXPECT_FALSE(is_utf8(row));
}

TEST(Utf8, AnExcerptIsAlwaysFitToBeShown) {
  EXPECT_EQ(excerpt_of("short", 10), "short");
  EXPECT_EQ(excerpt_of("0123456789", 10), "0123456789");
  EXPECT_EQ(excerpt_of("0123456789a", 10), "0123456789\u2026");
  EXPECT_EQ(excerpt_of("ab\u4e2d", 4), "ab\u2026");  // no character is cut in two
  EXPECT_EQ(excerpt_of(std::string("a\0b\x1f\x7f\xff", 6), 10), "a\ufffdb\ufffd\ufffd\ufffd");
  EXPECT_EQ(excerpt_of("\xe1\x80(", 10), "\ufffd\ufffd(");
}

}  // namespace
}  // namespace tawny
