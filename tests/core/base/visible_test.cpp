#include "base/visible.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

TEST(Visible, TextThatHidesNothingStaysAsItIs) {
  for (const char* text : {"", "Upper Reed", "ao cá số 3", "two\nlines\tand a tab", "क्\u200dष", "🦐"}) {
    EXPECT_EQ(visible(text), text);
  }
}

TEST(Visible, WhatHidesOrTurnsTextStandsAsItsNumber) {
  EXPECT_EQ(visible("\u202Egnp.exe\u202C"), "[U+202E]gnp.exe[U+202C]");
  EXPECT_EQ(visible("\u2066a\u2069\u200B\u200F"), "[U+2066]a[U+2069][U+200B][U+200F]");
  EXPECT_EQ(visible("\x1b[31m\x7f\u009b"), "[U+001B][31m[U+007F][U+009B]");
  EXPECT_EQ(visible(std::string("a\0b", 3)), "a[U+0000]b");
  EXPECT_EQ(visible("\uFEFF\U000E0041"), "[U+FEFF][U+0E0041]");
  EXPECT_EQ(visible("a\r\nb\rc"), "a\nb\nc");
  EXPECT_EQ(visible("\xff\xc3"), "\uFFFD\uFFFD");
}

// RFC 8259, section 7: a character outside the basic plane is a pair of escapes.
TEST(Visible, JsonIsEscapedInJsonsOwnWay) {
  EXPECT_EQ(visible_json("{\n \"a\": \"x\u202Ey\x7f\U000E0041\"\n}"),
            "{\n \"a\": \"x\\u202Ey\\u007F\\uDB40\\uDC41\"\n}");
  EXPECT_EQ(visible_json("\"ao cá\""), "\"ao cá\"");
}

}  // namespace
}  // namespace tawny
