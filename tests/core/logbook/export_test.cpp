// The table: every entry a row, texts that no spreadsheet runs, numbers that stay numbers.
#include "logbook/export.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "core/logbook/entries.h"

namespace tawny {
namespace {

using namespace testing_entries;

using Cells = std::vector<std::string>;

// Reads RFC 4180, strictly: a quote inside an unquoted cell, a bare line feed or a missing end is a fault.
std::vector<Cells> rows_of(std::string_view csv) {
  std::vector<Cells> rows;
  Cells row;
  std::size_t at = 0;
  while (at < csv.size()) {
    std::string cell;
    if (csv[at] == '"') {
      for (++at;; ++at) {
        if (at >= csv.size()) {
          ADD_FAILURE() << "a quoted cell without an end";
          return rows;
        }
        if (csv[at] != '"') {
          cell.push_back(csv[at]);
        } else if (csv.substr(at, 2) == "\"\"") {
          cell.push_back('"');
          ++at;
        } else {
          ++at;
          break;
        }
      }
    } else {
      for (; at < csv.size() && csv[at] != ',' && csv[at] != '\r'; ++at) {
        EXPECT_NE(csv[at], '"');
        EXPECT_NE(csv[at], '\n');
        cell.push_back(csv[at]);
      }
    }
    row.push_back(std::move(cell));
    if (csv.substr(at, 1) == ",") {
      ++at;
      continue;
    }
    EXPECT_EQ(csv.substr(at, 2), "\r\n");
    at += 2;
    rows.push_back(std::move(row));
    row.clear();
  }
  EXPECT_TRUE(row.empty());
  return rows;
}

constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";

// Each row by the names of the columns.
std::vector<std::map<std::string, std::string>> table_of(const Logbook& logbook) {
  const std::string csv = to_csv(logbook);
  EXPECT_EQ(csv.substr(0, 3), kByteOrderMark);
  const std::vector<Cells> rows = rows_of(std::string_view(csv).substr(3));
  std::vector<std::map<std::string, std::string>> table;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    EXPECT_EQ(rows[i].size(), rows[0].size());
    std::map<std::string, std::string>& named = table.emplace_back();
    for (std::size_t column = 0; column < rows[0].size(); ++column) named[rows[0][column]] = rows[i].at(column);
  }
  return table;
}

Draft draft_of(std::string_view kind, Values values, std::string_view pond = "p1") {
  Draft draft;
  draft.kind = std::string(kind);
  draft.pond = std::string(pond);
  draft.who = "Technician";
  draft.observed = kMorning;
  draft.values = std::move(values);
  return draft;
}

Draft note_of(std::string_view text) { return draft_of(kind::kNote, {{"text", std::string(text)}}); }

std::map<std::string, std::string> row_of(const Draft& draft) {
  DeviceChain chain = chain_for("a1");
  Logbook logbook;
  logbook.add(sealed(draft, chain));
  const auto table = table_of(logbook);
  EXPECT_EQ(table.size(), 1U);
  return table.empty() ? std::map<std::string, std::string>() : table.front();
}

TEST(Csv, OfAnEmptyLogbookIsTheHeadingAlone) {
  EXPECT_TRUE(table_of(Logbook()).empty());
  const std::string csv = to_csv(Logbook());
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 1);
  EXPECT_EQ(csv.substr(0, 23),
            "\xef\xbb\xbf"
            "device,number,lampor");
}

TEST(Csv, NoColumnStandsTwice) {
  const std::string csv = to_csv(Logbook());
  Cells names = rows_of(std::string_view(csv).substr(3)).front();
  EXPECT_EQ(names.size(), 61U);
  std::sort(names.begin(), names.end());
  EXPECT_EQ(std::adjacent_find(names.begin(), names.end()), names.end());
}

// OWASP, "CSV Injection": cells that begin with = + - @, tab, carriage return or line feed, and the full-width
// forms, get an apostrophe in front. The rest of the rows is our own rule: texts that do not begin so stay as
// they are, and an apostrophe in front is doubled, so that taking one away always gives the text again.
TEST(Csv, TextsThatASpreadsheetWouldRunAreMadeHarmless) {
  struct Case {
    std::string text, cell;
  };
  const Case cases[] = {
      {"=1+1", "'=1+1"},
      {"=HYPERLINK(\"http://x\",\"y\")", "'=HYPERLINK(\"http://x\",\"y\")"},
      {"+49 1", "'+49 1"},
      {"-5", "'-5"},
      {"-", "'-"},
      {"@SUM(A1)", "'@SUM(A1)"},
      {"\t=1", "'\t=1"},
      {"\r=1", "'\r=1"},
      {"\n=1", "'\n=1"},
      {"\uff1d1+1", "'\uff1d1+1"},
      {"\uff0b1", "'\uff0b1"},
      {"\uff0d1", "'\uff0d1"},
      {"\uff20A", "'\uff20A"},
      {"'quoted", "''quoted"},
      {"1-2", "1-2"},
      {"a=b", "a=b"},
      // Some programs trim the blanks, or never see the others.
      {" =1", "' =1"},
      {"\u00a0 @A1", "'\u00a0 @A1"},
      {"\u200b\ufeff=1", "'\u200b\ufeff=1"},
      {"  two blanks", "  two blanks"},
      {"", ""},
      {"rain, wind; \"strong\"", "rain, wind; \"strong\""},
      {"two\nlines\r\nand three", "two\nlines\r\nand three"},
      {"\",=1+1", "\",=1+1"},
      {"N\u01b0\u1edbc trong, kh\u00f4ng c\u00f3 m\u00f9i",
       "N\u01b0\u1edbc trong, kh\u00f4ng c\u00f3 m\u00f9i"},
      {std::string("a\0b", 3),
       "a\uFFFD"
       "b"},
  };
  for (const Case& each : cases) EXPECT_EQ(row_of(note_of(each.text)).at("text"), each.cell);
}

TEST(Csv, EveryTextOfARowIsMadeHarmless) {
  Draft draft = draft_of("=kind", {{"colour", std::string("=1")}, {"=key", std::string("x")}}, "=pond");
  draft.who = "=who";
  const auto row = row_of(draft);
  for (const char* column : {"who", "pond", "kind", "colour"}) {
    EXPECT_EQ(row.at(column).substr(0, 2), "'=") << column;
  }
  EXPECT_EQ(row.at("other_values"), R"({"=key":"x"})");
  DeviceChain chain = chain_for("-a1", "=farm");
  Logbook logbook;
  logbook.add(sealed(note_of("x"), chain));
  const auto table = table_of(logbook);
  EXPECT_EQ(table.at(0).at("device"), "'-a1");
  EXPECT_EQ(table.at(0).at("farm"), "'=farm");
  EXPECT_EQ(table.at(0).at("reference").substr(0, 4), "'-a1");
}

TEST(Csv, NumbersStayNumbers) {
  const std::pair<double, std::string> cases[] = {
      {18, "18"},       {-5, "-5"},     {0, "0"},     {32.5, "32.5"}, {0.1, "0.1"},
      {-0.25, "-0.25"}, {1e21, "1e21"}, {100, "100"}, {1e-7, "1e-7"}, {123456789, "123456789"},
  };
  for (const auto& [value, cell] : cases) {
    EXPECT_EQ(row_of(draft_of(kind::kLevelReading, {{"level_cm", value}})).at("level_cm"), cell);
  }
}

TEST(Csv, EveryKindOfValueHasItsPlace) {
  const auto row = row_of(draft_of("made_up", {{"dissolved", true},
                                               {"product", std::string("urea")},
                                               {"times", std::vector<std::string>{"a", "b\"c"}},
                                               {"levels_cm", std::vector<double>{1, 2.5}},
                                               {"kind", std::string("pump")},
                                               {"colour", std::vector<std::string>{"golden"}}}));
  EXPECT_EQ(row.at("kind"), "made_up");
  EXPECT_EQ(row.at("dissolved"), "true");
  EXPECT_EQ(row.at("product"), "urea");
  EXPECT_EQ(row.at("colour"), R"(["golden"])");
  EXPECT_EQ(row.at("other_values"), R"({"kind":"pump","levels_cm":[1.0,2.5],"times":["a","b\"c"]})");
}

TEST(Csv, AReadingThatTheManagerLeftOutNamesTheDecision) {
  DeviceChain chain = chain_for("a1");
  Logbook logbook;
  const Entry odd = sealed(level_draft(600), chain);
  const Entry good = sealed(level_draft(60), chain);
  const auto say = [&](const Entry& reading, std::string keep, std::string_view pond = "p1") {
    const Entry word =
        sealed(draft_of(kind::kQuestionSettled,
                        {{"question", to_reference(reading.id)}, {"keep", std::move(keep)}}, pond),
               chain);
    logbook.add(word);
    return to_reference(word.id);
  };
  for (const Entry& entry : {odd, good}) logbook.add(entry);
  say(good, "none", "p2");
  EXPECT_EQ(table_of(logbook)[1].at("left_out"), "") << "a word of another pond";
  const std::string word = say(odd, "none");
  EXPECT_EQ(table_of(logbook)[0].at("left_out"), word);
  EXPECT_EQ(table_of(logbook)[0].at("stands"), "yes");
  EXPECT_EQ(table_of(logbook)[1].at("left_out"), "");
  say(odd, "reading");
  EXPECT_EQ(table_of(logbook)[0].at("left_out"), "") << "the latest word counts";
  say(odd, "none");
  logbook.add(sealed(void_of(odd), chain));
  EXPECT_EQ(table_of(logbook)[0].at("left_out"), "") << "it does not stand any more";
}

TEST(Csv, TellsWhatStandsAndNamesPondsAndTheFarmsOwnTime) {
  DeviceChain chain = chain_for("a1");
  Logbook logbook;
  logbook.add(sealed(
      draft_of(kind::kFarmSetup, {{"name", std::string("Farm")}, {"utc_offset_min", -300.0}}, ""), chain));
  logbook.add(sealed(draft_of(kind::kPondSetup, {{"name", std::string("East, 1")}}), chain));
  const Entry wrong = sealed(level_draft(60), chain);
  const Entry right = sealed(correction_of(wrong, 62), chain);
  const Entry gone = sealed(level_draft(70), chain);
  const Entry taking_back = sealed(void_of(gone), chain);
  for (const Entry& entry : {wrong, right, gone, taking_back}) logbook.add(entry);
  logbook.add_line(line_of(R"({"v":2,"farm":"north-farm","device":"b2","number":7,"news":true)"));
  const auto table = table_of(logbook);
  ASSERT_EQ(table.size(), 7U);
  EXPECT_EQ(table[2].at("stands"), "corrected");
  EXPECT_EQ(table[2].at("level_cm"), "60");
  EXPECT_EQ(table[2].at("pond"), "p1");
  EXPECT_EQ(table[2].at("pond_name"), "East, 1");
  EXPECT_EQ(table[2].at("observed"), "2026-11-25T06:12:00Z");
  EXPECT_EQ(table[2].at("observed_at_farm"), "2026-11-25 01:12:00");
  EXPECT_EQ(table[3].at("stands"), "yes");
  EXPECT_EQ(table[3].at("corrects"), to_reference(wrong.id));
  EXPECT_EQ(table[4].at("stands"), "voided");
  EXPECT_EQ(table[5].at("voids"), to_reference(gone.id));
  EXPECT_EQ(table[6].at("device"), "b2");
  EXPECT_EQ(table[6].at("number"), "7");
  EXPECT_EQ(table[6].at("stands"), "unread");
  EXPECT_EQ(table[6].at("format"), "2");
}

TEST(Csv, AnOffsetThatNoPlaceHasGivesNoTimeOfTheFarm) {
  for (const double minutes : {1e300, -1e300, 841.0}) {
    const auto row = row_of(draft_of(kind::kFarmSetup, {{"utc_offset_min", minutes}}, ""));
    EXPECT_EQ(row.at("observed_at_farm"), "");
  }
}

}  // namespace
}  // namespace tawny
