#include <gtest/gtest.h>

#include <set>

#include "core/logbook/entries.h"
#include "logbook/line_reader.h"
#include "logbook/logbook.h"

namespace tawny {
namespace {

using namespace testing_entries;

// Three good lines of one device.
struct Three {
  Three() {
    DeviceChain chain = chain_for("d1");
    for (Entry& entry : entries) {
      entry = sealed(level_draft(80 + chain.last_number), chain);
      text += entry.line + "\n";
    }
  }
  Entry entries[3];
  std::string text;
};

std::string with_second_line(const Three& three, std::string_view line) {
  return three.entries[0].line + "\n" + std::string(line) + "\n" + three.entries[2].line + "\n";
}

TEST(Damage, ALogbookCutOffAnywhereKeepsEveryWholeLine) {
  const Three three;
  const std::size_t first_end = three.entries[0].line.size();
  const std::size_t second_end = first_end + 1 + three.entries[1].line.size();
  for (std::size_t length = 0; length < three.text.size() - 1; ++length) {
    Logbook logbook;
    const LoadReport report = logbook.load(three.text.substr(0, length));
    const std::size_t whole = length >= second_end ? 2 : length >= first_end ? 1 : 0;
    ASSERT_EQ(logbook.size(), whole) << length;
    const bool ends_with_whole_line = length == 0 || length == first_end || length == first_end + 1 ||
                                      length == second_end || length == second_end + 1;
    ASSERT_EQ(report.problems.size(), ends_with_whole_line ? 0u : 1u) << length;
    if (ends_with_whole_line) continue;
    EXPECT_EQ(report.problems[0].line, whole + 1) << length;
    EXPECT_EQ(report.problems[0].outcome, AddOutcome::refused) << length;
    EXPECT_FALSE(report.problems[0].excerpt.empty()) << length;
  }
}

TEST(Damage, OneBitFlippedAnywhereInALineIsSeen) {
  const Three three;
  const std::string& line = three.entries[1].line;
  for (std::size_t at = 0; at < line.size(); ++at) {
    for (int bit = 0; bit < 8; ++bit) {
      std::string flipped = line;
      flipped[at] = static_cast<char>(flipped[at] ^ (1 << bit));
      Logbook logbook;
      const LoadReport report = logbook.load(with_second_line(three, flipped));
      ASSERT_EQ(logbook.size(), 2u) << at << " " << bit;
      ASSERT_FALSE(report.problems.empty()) << at << " " << bit;
      EXPECT_EQ(report.problems[0].line, 2u) << at << " " << bit;
    }
  }
}

TEST(Damage, OneCharacterMoreOrLessAnywhereInALineIsSeen) {
  const Three three;
  const std::string& line = three.entries[1].line;
  for (std::size_t at = 0; at < line.size(); ++at) {
    EXPECT_FALSE(parse_entry(std::string(line).erase(at, 1))) << at;
    EXPECT_FALSE(parse_entry(std::string(line).insert(at, 1, '0'))) << at;
    EXPECT_FALSE(parse_entry(std::string(line).insert(at, 1, ' '))) << at;
  }
  EXPECT_FALSE(parse_entry(line + " "));
}

struct DamageRow {
  const char* what;
  std::string line;
  AddOutcome outcome;
  const char* message;
};

TEST(Damage, EachKindIsNamedWithItsLineAndTheRestLoads) {
  const Three three;
  const std::string& line = three.entries[1].line;
  std::string deep_lists = plain_body("{\"a\":" + std::string(30000, '[') + std::string(30000, ']') + "}");
  std::string deep_open = plain_body("{\"a\":" + std::string(60000, '['));
  std::string deep_objects = "{\"a\":";
  for (int i = 0; i < 9000; ++i) deep_objects += "{\"b\":";
  DeviceChain other_farm = chain_for("d1", "south-farm");
  const DamageRow rows[] = {
      {"words", "these are words", AddOutcome::refused, "problem.line_not_entry"},
      {"other JSON", "{\"a\":1}", AddOutcome::refused, "problem.line_not_entry"},
      {"only blanks", "   ", AddOutcome::refused, "problem.line_not_entry"},
      {"NUL bytes", std::string(500, '\0'), AddOutcome::refused, "problem.line_not_entry"},
      {"binary", "\xff\xfe\x80", AddOutcome::refused, "problem.line_not_entry"},
      {"start only", "{\"v\":", AddOutcome::refused, "problem.line_cut_off"},
      {"cut off", line.substr(0, 200), AddOutcome::refused, "problem.line_cut_off"},
      {"a hash of capitals", line.substr(0, line.size() - 66) + std::string(64, 'A') + "\"}",
       AddOutcome::refused, "problem.line_changed"},
      {"value changed", replaced(line, "\"level_cm\":81.0", "\"level_cm\":91.0"), AddOutcome::refused,
       "problem.line_changed"},
      {"two lines run together", line + line, AddOutcome::refused, "problem.line_changed"},
      {"NUL inside", line_of(replaced(plain_body(), "Tech", std::string("T\0ch", 4))), AddOutcome::refused,
       "problem.line_not_text"},
      {"not UTF-8", line_of(replaced(plain_body(), "Tech", "T\xc3\x28h")), AddOutcome::refused,
       "problem.line_not_text"},
      {"not JSON", line_of("{\"v\":1,,"), AddOutcome::refused, "problem.line_not_json"},
      {"endless nesting", line_of(deep_open), AddOutcome::refused, "problem.line_not_json"},
      {"endless objects", line_of(plain_body(deep_objects)), AddOutcome::refused, "problem.line_not_json"},
      {"huge", line_of(plain_body("{\"a\":\"" + std::string(70000, 'x') + "\"}")), AddOutcome::refused,
       "problem.line_too_long"},
      {"of another farm", sealed(level_draft(1), other_farm).line, AddOutcome::other_farm,
       "problem.other_farm"},
      {"of a newer format", line_of(R"({"v":9,"farm":"north-farm","device":"d9","number":1)"),
       AddOutcome::kept_unread, "problem.newer_format"},
      {"of a newer format and another farm", line_of(R"({"v":9,"farm":"south-farm","device":"d9","number":1)"),
       AddOutcome::other_farm, "problem.other_farm"},
      {"of a newer format, without its number", line_of(R"({"v":9,"farm":"north-farm","device":"d9")"),
       AddOutcome::refused, "problem.line_key_missing"},
      {"of a number that is taken", line_of(plain_body()), AddOutcome::conflict, "problem.number_twice"},
      {"deeply nested, yet whole", line_of(replaced(deep_lists, "\"number\":1,", "\"number\":2,")),
       AddOutcome::added, nullptr},
      {"doubled", three.entries[0].line, AddOutcome::already_there, nullptr},
  };
  for (const DamageRow& row : rows) {
    Logbook logbook;
    const LoadReport report = logbook.load(with_second_line(three, row.line));
    const bool in = row.outcome == AddOutcome::added || row.outcome == AddOutcome::conflict ||
                    row.outcome == AddOutcome::kept_unread;
    EXPECT_EQ(report.lines, 3u) << row.what;
    EXPECT_EQ(report.added, in ? 3u : 2u) << row.what;
    EXPECT_EQ(logbook.size(), in ? 3u : 2u) << row.what;
    EXPECT_NE(logbook.find(to_reference(three.entries[0].id)), nullptr) << row.what;
    EXPECT_NE(logbook.find(to_reference(three.entries[2].id)), nullptr) << row.what;
    EXPECT_EQ(report.already_there, row.outcome == AddOutcome::already_there ? 1u : 0u) << row.what;
    if (row.message == nullptr) {
      EXPECT_TRUE(report.problems.empty()) << row.what;
      continue;
    }
    ASSERT_EQ(report.problems.size(), 1u) << row.what;
    EXPECT_EQ(report.problems[0].line, 2u) << row.what;
    EXPECT_EQ(report.problems[0].outcome, row.outcome) << row.what;
    EXPECT_EQ(report.problems[0].message.id, row.message) << row.what;
    EXPECT_LE(report.problems[0].excerpt.size(), 3u * 60 + 3) << row.what;
  }
}

TEST(Damage, LinesOutOfOrderAreNoDamage) {
  const Three three;
  Logbook logbook;
  const LoadReport report =
      logbook.load(three.entries[2].line + "\n" + three.entries[0].line + "\n" + three.entries[1].line);
  EXPECT_TRUE(report.problems.empty());
  EXPECT_EQ(logbook.to_lines(), three.text);
}

TEST(Damage, WhatMailAndEditorsDoToATextIsPassedOver) {
  const Three three;
  Logbook logbook;
  const LoadReport report =
      logbook.load("\xef\xbb\xbf" + three.entries[0].line + "\r\n\r\n\n" + three.entries[1].line + "\r\n" +
                   "damaged\r\n" + three.entries[2].line);
  EXPECT_EQ(report.lines, 4u);
  EXPECT_EQ(report.added, 3u);
  ASSERT_EQ(report.problems.size(), 1u);
  EXPECT_EQ(report.problems[0].line, 5u);
  EXPECT_EQ(report.problems[0].excerpt, "damaged");
  EXPECT_EQ(logbook.to_lines(), three.text);
}

TEST(Damage, AFileOfRubbishIsCountedWithoutListingItAll) {
  std::string rubbish;
  for (int i = 0; i < 2500; ++i) rubbish += "x\n";
  Logbook logbook;
  const LoadReport report = logbook.load(rubbish + line_of(plain_body()));
  EXPECT_EQ(report.lines, 2501u);
  EXPECT_EQ(report.added, 1u);
  EXPECT_EQ(report.problems.size(), 1000u);
  EXPECT_EQ(report.problems_not_listed, 1500u);
}

}  // namespace
}  // namespace tawny
