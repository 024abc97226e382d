#include "logbook/entry.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "base/decimal.h"
#include "core/logbook/entries.h"
#include "logbook/line_reader.h"

namespace tawny {
namespace {

using namespace testing_entries;

// The worked example of core/logbook/FORMAT.md, byte for byte. Its hash was reckoned with sha256sum of GNU
// coreutils.
constexpr std::string_view kExample =
    R"({"v":1,"farm":"north-farm","device":"phone-1","number":1,"lamport":42,"observed":"2026-11-25T06:12:00Z",)"
    R"("recorded":"2026-11-25T06:12:40Z","who":"Technician","pond":"p1","kind":"secchi_reading",)"
    R"("values":{"depth_at_disc_cm":95.0,"secchi_return_cm":30.0,"secchi_vanish_cm":32.5},)"
    R"("previous":"0000000000000000000000000000000000000000000000000000000000000000",)"
    R"("hash":"d08e19c9949e98c12a4051addd05beb59b81e4310fea87938e5b0bb2c27cc3de"})";

Draft example_draft() {
  Draft draft;
  draft.kind = "secchi_reading";
  draft.pond = "p1";
  draft.who = "Technician";
  draft.observed = kMorning;
  draft.values = {{"secchi_vanish_cm", 32.5}, {"secchi_return_cm", 30.0}, {"depth_at_disc_cm", 95.0}};
  return draft;
}

TEST(Entry, IsWrittenAsTheFormatSays) {
  DeviceChain chain = chain_for("phone-1");
  chain.lamport = 41;
  const Entry entry = sealed(example_draft(), chain, kMorning.plus_s(40));
  EXPECT_EQ(entry.line, kExample);
}

TEST(Entry, IsReadAsTheFormatSays) {
  const Result<Entry> entry = parse_entry(kExample);
  ASSERT_TRUE(entry);
  EXPECT_EQ(entry->format, 1);
  EXPECT_EQ(entry->farm(), "north-farm");
  EXPECT_EQ(entry->id.device, "phone-1");
  EXPECT_EQ(entry->id.number, 1u);
  EXPECT_EQ(entry->id.hash, "d08e19c9949e98c12a4051addd05beb59b81e4310fea87938e5b0bb2c27cc3de");
  EXPECT_EQ(entry->lamport, 42u);
  EXPECT_EQ(entry->observed, kMorning);
  EXPECT_EQ(entry->recorded, kMorning.plus_s(40));
  EXPECT_EQ(entry->who, "Technician");
  EXPECT_EQ(entry->pond, "p1");
  EXPECT_EQ(entry->kind, "secchi_reading");
  EXPECT_EQ(entry->corrects, "");
  EXPECT_EQ(entry->voids, "");
  EXPECT_EQ(entry->previous_hash(), std::string(64, '0'));
  EXPECT_EQ(entry->values, example_draft().values);
  EXPECT_EQ(entry->line, kExample);
}

TEST(Entry, TheHashCoversEverythingBeforeIt) {
  const std::size_t before = kExample.find(",\"hash\":");
  EXPECT_EQ(sha256_hex(kExample.substr(0, before)), hash_of_line(kExample));
}

TEST(Entry, EachFollowsFromTheOneBefore) {
  DeviceChain chain = chain_for("d1");
  const Entry first = sealed(level_draft(80), chain);
  chain.lamport = 500;  // something was brought in from another device
  const Entry second = sealed(level_draft(81), chain);
  EXPECT_EQ(first.id.number, 1u);
  EXPECT_EQ(first.lamport, 1u);
  EXPECT_EQ(second.id.number, 2u);
  EXPECT_EQ(second.lamport, 501u);
  EXPECT_EQ(second.previous_hash(), first.id.hash);
  EXPECT_EQ(chain.last_number, 2u);
  EXPECT_EQ(chain.lamport, 501u);
  EXPECT_EQ(chain.last_hash, second.id.hash);
}

TEST(Entry, EveryShapeOfValueComesBack) {
  Draft draft = level_draft(1);
  draft.values = {{"number", -12.75},
                  {"yes", true},
                  {"no", false},
                  {"text", std::string("\u6c34 \"a\\b\"\n\t\x01/\U0001f990")},
                  {"nul", std::string("a\0b", 3)},
                  {"empty", std::string()},
                  {"hash", std::string(",\"hash\":\"")},
                  {"numbers", std::vector<double>{0, 0.1, -1e-9, 1e300}},
                  {"texts", std::vector<std::string>{"", "east gate", "\u00e9"}}};
  DeviceChain chain = chain_for("d1");
  const Entry entry = sealed(draft, chain);
  EXPECT_EQ(entry.values, draft.values);
  ASSERT_NE(entry.number("number"), nullptr);
  EXPECT_EQ(*entry.number("number"), -12.75);
  ASSERT_NE(entry.flag("yes"), nullptr);
  EXPECT_TRUE(*entry.flag("yes"));
  ASSERT_NE(entry.text("text"), nullptr);
  ASSERT_NE(entry.numbers("numbers"), nullptr);
  ASSERT_NE(entry.texts("texts"), nullptr);
  EXPECT_EQ(entry.line.find('\n'), std::string::npos);
}

TEST(Entry, AKeyOfAnotherTypeOrNoKeyGivesNothing) {
  DeviceChain chain = chain_for("d1");
  Draft draft = level_draft(80);
  draft.values["text"] = std::string("80");
  const Entry entry = sealed(draft, chain);
  EXPECT_EQ(entry.number("text"), nullptr);
  EXPECT_EQ(entry.text("level_cm"), nullptr);
  EXPECT_EQ(entry.flag("level_cm"), nullptr);
  EXPECT_EQ(entry.numbers("level_cm"), nullptr);
  EXPECT_EQ(entry.texts("level_cm"), nullptr);
  EXPECT_EQ(entry.number("none"), nullptr);
}

TEST(Entry, AnEmptyListIsAnEmptyListOfEitherKind) {
  DeviceChain chain = chain_for("d1");
  Draft draft = level_draft(80);
  draft.values["inlets"] = std::vector<std::string>{};
  const Entry entry = sealed(draft, chain);
  ASSERT_NE(entry.texts("inlets"), nullptr);
  EXPECT_TRUE(entry.texts("inlets")->empty());
  ASSERT_NE(entry.numbers("inlets"), nullptr);
  EXPECT_TRUE(entry.numbers("inlets")->empty());
}

TEST(Entry, NumbersAreWrittenAlikeEverywhere) {
  struct NumberRow {
    double number;
    const char* text;
  };
  const double tiny = std::numeric_limits<double>::denorm_min();
  const double huge = std::numeric_limits<double>::max();
  const NumberRow rows[] = {{0, "0.0"},
                            {-0.0, "-0.0"},
                            {18, "18.0"},
                            {18.5, "18.5"},
                            {0.1, "0.1"},
                            {0.7, "0.7"},
                            {1e21, "1e21"},
                            {1.5e-7, "1.5e-7"},
                            {1.0 / 3, "0.3333333333333333"},
                            {huge, "1.7976931348623157e308"},
                            {tiny, "5e-324"},
                            {-2.5e15, "-2500000000000000.0"}};
  for (const NumberRow& row : rows) {
    DeviceChain chain = chain_for("d1");
    Draft draft = level_draft(row.number);
    const Entry entry = sealed(draft, chain);
    EXPECT_NE(entry.line.find(std::string("{\"level_cm\":") + row.text + "}"), std::string::npos) << entry.line;
    ASSERT_NE(entry.number("level_cm"), nullptr);
    EXPECT_EQ(*entry.number("level_cm"), row.number) << row.text;
    EXPECT_EQ(std::signbit(*entry.number("level_cm")), std::signbit(row.number)) << row.text;
  }
}

// RapidJSON's writer promises the same double, not the shortest text; for what people type it gives both.
TEST(Entry, WhatPeopleTypeIsWrittenAsTyped) {
  std::vector<double> typed;
  std::string expected;
  for (int thousandths = 1; thousandths < 100000; thousandths += 3) {
    std::string digits = std::to_string(1000000 + thousandths).substr(1);
    std::string text = digits.substr(0, 3) + "." + digits.substr(3);
    while (text.size() > 1 && text[0] == '0' && text[1] != '.') text.erase(0, 1);
    while (text.back() == '0' && text[text.size() - 2] != '.') text.pop_back();
    typed.push_back(*parse_decimal(text));
    expected += (expected.empty() ? "" : ",") + text;
    if (typed.size() < 5000) continue;
    DeviceChain chain = chain_for("d1");
    Draft draft = level_draft(1);
    draft.values["typed"] = typed;
    EXPECT_NE(sealed(draft, chain).line.find("[" + expected + "]"), std::string::npos);
    typed.clear();
    expected.clear();
  }
}

struct RefusedDraft {
  const char* what;
  void (*spoil)(Draft& draft, Instant& recorded, DeviceChain& chain);
  ProblemKind kind;
  const char* parameter;
};

TEST(Entry, WhatCannotBeWrittenWholeIsNotWritten) {
  static constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
  static constexpr double kInfinity = std::numeric_limits<double>::infinity();
  const RefusedDraft rows[] = {
      {"no kind", [](Draft& d, Instant&, DeviceChain&) { d.kind.clear(); }, ProblemKind::missing, "kind"},
      {"kind", [](Draft& d, Instant&, DeviceChain&) { d.kind = "\xff"; }, ProblemKind::malformed, "kind"},
      {"pond", [](Draft& d, Instant&, DeviceChain&) { d.pond = "\xc0\x80"; }, ProblemKind::malformed, "pond"},
      {"who", [](Draft& d, Instant&, DeviceChain&) { d.who = "\xed\xa0\x80"; }, ProblemKind::malformed, "who"},
      {"not a number", [](Draft& d, Instant&, DeviceChain&) { d.values["x"] = kNan; }, ProblemKind::malformed,
       "x"},
      {"infinite", [](Draft& d, Instant&, DeviceChain&) { d.values["x"] = -kInfinity; }, ProblemKind::malformed,
       "x"},
      {"infinite in a list",
       [](Draft& d, Instant&, DeviceChain&) {
         d.values["x"] = std::vector<double>{1, kInfinity};
       },
       ProblemKind::malformed, "x"},
      {"text", [](Draft& d, Instant&, DeviceChain&) { d.values["x"] = std::string("\x80"); },
       ProblemKind::malformed, "x"},
      {"text in a list",
       [](Draft& d, Instant&, DeviceChain&) {
         d.values["x"] = std::vector<std::string>{"", "\x80"};
       },
       ProblemKind::malformed, "x"},
      {"key", [](Draft& d, Instant&, DeviceChain&) { d.values["\x80"] = 1.0; }, ProblemKind::malformed, "\x80"},
      {"reference", [](Draft& d, Instant&, DeviceChain&) { d.corrects = "d1/1"; }, ProblemKind::malformed,
       "corrects"},
      {"void of nothing", [](Draft& d, Instant&, DeviceChain&) { d.kind = "void"; }, ProblemKind::missing,
       "voids"},
      {"void reference",
       [](Draft& d, Instant&, DeviceChain&) {
         d.kind = "void";
         d.voids = "d1/1/x";
       },
       ProblemKind::malformed, "voids"},
      {"voids without being a void",
       [](Draft& d, Instant&, DeviceChain&) { d.voids = "d1/1/0123456789abcdef"; }, ProblemKind::malformed,
       "voids"},
      {"void that corrects",
       [](Draft& d, Instant&, DeviceChain&) {
         d.kind = "void";
         d.voids = d.corrects = "d1/1/0123456789abcdef";
       },
       ProblemKind::malformed, "corrects"},
      {"observed before 1900", [](Draft& d, Instant&, DeviceChain&) { d.observed = Instant{-2208988801}; },
       ProblemKind::malformed, "observed"},
      {"recorded after 2200", [](Draft&, Instant& at, DeviceChain&) { at = Instant{7289654400}; },
       ProblemKind::malformed, "recorded"},
      {"recorded beyond reckoning",
       [](Draft&, Instant& at, DeviceChain&) { at = Instant{std::numeric_limits<std::int64_t>::max()}; },
       ProblemKind::malformed, "recorded"},
      {"no farm", [](Draft&, Instant&, DeviceChain& c) { c.farm.clear(); }, ProblemKind::missing, "farm"},
      {"farm", [](Draft&, Instant&, DeviceChain& c) { c.farm = "\xff"; }, ProblemKind::malformed, "farm"},
      {"device", [](Draft&, Instant&, DeviceChain& c) { c.device = "a/b"; }, ProblemKind::malformed, "device"},
      {"last hash", [](Draft&, Instant&, DeviceChain& c) { c.last_hash = "0"; }, ProblemKind::malformed,
       "previous"},
      {"numbers used up", [](Draft&, Instant&, DeviceChain& c) { c.last_number = 4294967295u; },
       ProblemKind::malformed, "number"},
      {"counter used up", [](Draft&, Instant&, DeviceChain& c) { c.lamport = kMaxLamport; },
       ProblemKind::malformed, "lamport"},
      {"too long", [](Draft& d, Instant&, DeviceChain&) { d.values["text"] = std::string(kMaxLineBytes, 'x'); },
       ProblemKind::malformed, "line"},
  };
  for (const RefusedDraft& row : rows) {
    Draft draft = level_draft(80);
    Instant recorded = kMorning;
    DeviceChain chain = chain_for("d1");
    row.spoil(draft, recorded, chain);
    const DeviceChain before = chain;
    const Result<Entry> entry = seal(draft, recorded, chain);
    ASSERT_FALSE(entry) << row.what;
    EXPECT_EQ(entry.error().kind, row.kind) << row.what;
    EXPECT_EQ(entry.error().parameter, row.parameter) << row.what;
    EXPECT_EQ(chain.last_number, before.last_number) << row.what;  // a refusal uses up no number
    EXPECT_EQ(chain.last_hash, before.last_hash) << row.what;
  }
}

TEST(Entry, TheFirstAndLastWritableMomentsComeBack) {
  for (const Instant moment : {Instant{-2208988800}, Instant{7289654399}}) {
    DeviceChain chain = chain_for("d1");
    const Entry entry = sealed(level_draft(80, moment), chain, moment);
    EXPECT_EQ(entry.observed, moment);
    EXPECT_EQ(entry.recorded, moment);
  }
}

TEST(Entry, UnknownKeysAndShapesStayInTheLine) {
  const std::string values =
      R"({"level_cm":80.0,"nothing":null,"nested":{"a":[1,{"b":2}]},"mixed":[1,"a"],"flags":[true],"deep":[[1]],)"
      R"("objects":[{"level_cm":1}]})";
  const std::string line = line_of(
      replaced(plain_body(values), R"("who":)", R"("sky_hue":{"x":[1,2,{"y":null}]},"flag":true,"who":)"));
  const Result<Entry> entry = parse_entry(line);
  ASSERT_TRUE(entry) << entry.error().message.id;
  EXPECT_EQ(entry->line, line);
  EXPECT_EQ(entry->values, (Values{{"level_cm", 80.0}}));
}

TEST(Entry, AnyOrderOfKeysAndAnyNumberTextIsRead) {
  const std::string body =
      R"({"v":1,"previous":")" + std::string(64, '0') +
      R"(", "values" : {"b":1e1,"a":[ ],"c":-0}, "kind":"note","who":"","recorded":"2026-11-25T06:12:00Z",)"
      R"("observed":"2026-11-25T06:12:00Z","lamport":9007199254740991,"number":4294967295,"device":"d1","farm":"f")";
  const Result<Entry> entry = parse_entry(line_of(body));
  ASSERT_TRUE(entry) << entry.error().message.id << entry.error().parameter;
  EXPECT_EQ(*entry->number("b"), 10.0);
  EXPECT_EQ(entry->farm(), "f");
  EXPECT_EQ(entry->id.number, 4294967295u);
  EXPECT_EQ(entry->lamport, kMaxLamport);
  EXPECT_EQ(entry->previous_hash(), std::string(64, '0'));
}

struct BadLine {
  const char* from;
  const char* to;
  const char* message;
  const char* parameter;
};

// The hash fits every one of these lines; what is wrong is what it says.
TEST(Entry, ALineThatBreaksTheRulesIsRefusedEvenWhenItsHashFits) {
  const BadLine rows[] = {
      {"\"v\":1,", "\"v\":0,", "problem.line_key_wrong", "v"},
      {"\"v\":1,", "\"v\":-1,", "problem.line_key_wrong", "v"},
      {"\"v\":1,", "\"v\":1.5,", "problem.line_key_wrong", "v"},
      {"\"v\":1,", "\"v\":\"1\",", "problem.line_key_wrong", "v"},
      {"\"v\":1,", "\"v\":null,", "problem.line_key_wrong", "v"},
      {"\"v\":1,", "\"v\":1,\"v\":1,", "problem.line_key_twice", "v"},
      {"\"farm\":\"north-farm\"", "\"farm\":\"\"", "problem.line_key_wrong", "farm"},
      {"\"farm\":\"north-farm\"", "\"farm\":7", "problem.line_key_wrong", "farm"},
      {"\"farm\":\"north-farm\",", "", "problem.line_key_missing", "farm"},
      {"\"device\":\"d1\"", "\"device\":\"d/1\"", "problem.line_key_wrong", "device"},
      {"\"device\":\"d1\",", "", "problem.line_key_missing", "device"},
      {"\"number\":1", "\"number\":0", "problem.line_key_wrong", "number"},
      {"\"number\":1", "\"number\":4294967296", "problem.line_key_wrong", "number"},
      {"\"number\":1", "\"number\":1.0", "problem.line_key_wrong", "number"},
      {"\"number\":1", "\"number\":[1]", "problem.line_key_wrong", "number"},
      {"\"number\":1", "\"number\":{\"a\":1}", "problem.line_key_wrong", "number"},
      {"\"lamport\":1", "\"lamport\":0", "problem.line_key_wrong", "lamport"},
      {"\"lamport\":1", "\"lamport\":9007199254740992", "problem.line_key_wrong", "lamport"},
      {"\"observed\":\"2026-11-25T06:12:00Z\"", "\"observed\":\"2026-11-25 06:12\"", "problem.line_key_wrong",
       "observed"},
      {"\"recorded\":\"2026-11-25T06:12:00Z\"", "\"recorded\":\"2026-02-30T06:12:00Z\"",
       "problem.line_key_wrong", "recorded"},
      {"\"who\":\"Technician\"", "\"who\":true", "problem.line_key_wrong", "who"},
      {"\"kind\":\"note\"", "\"kind\":\"\"", "problem.line_key_wrong", "kind"},
      {"\"kind\":\"note\"", "\"kind\":\"note\",\"corrects\":\"d1/1\"", "problem.line_key_wrong", "corrects"},
      {"\"kind\":\"note\"", "\"kind\":\"note\",\"voids\":\"\"", "problem.line_key_wrong", "voids"},
      {"\"kind\":\"note\"", "\"kind\":\"note\",\"hash\":\"x\"", "problem.line_key_twice", "hash"},
      {"\"kind\":\"note\"", "\"kind\":\"note\",\"new\":1,\"new\":2", "problem.line_key_twice", "new"},
      {"\"values\":{}", "\"values\":[]", "problem.line_key_wrong", "values"},
      {"\"values\":{}", "\"values\":\"\"", "problem.line_key_wrong", "values"},
      {"\"values\":{}", "\"values\":{\"a\":1,\"a\":1}", "problem.line_key_twice", "a"},
      {"\"values\":{}", "\"values\":{\"a\":null,\"a\":1}", "problem.line_key_twice", "a"},
      {"\"values\":{}", "\"values\":{\"a\":1,\"a\":{}}", "problem.line_key_twice", "a"},
      {"\"values\":{}", "\"values\":{\"a\":1.7976931348623159e308}", "problem.line_key_wrong", "a"},
      {"\"values\":{}", "\"values\":{\"a\":[1,1.7976931348623159e308]}", "problem.line_key_wrong", "a"},
      {"\"values\":{}", "\"values\":{\"a\":1e309}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{\"a\":NaN}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{\"a\":1,}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{\"a\":01}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{\"a\":\"\t\"}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{/**/}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{}}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{\"a\":\"\\udc00\"}", "problem.line_not_text", "a"},
      {"\"values\":{}", "\"values\":{\"a\":\"\\ud800\"}", "problem.line_not_json", "line"},
      {"\"values\":{}", "\"values\":{\"a\":\"\xff\"}", "problem.line_not_text", "line"},
      {"\"values\":{}", "\"values\":{\"a\":\"\xed\xa0\x80\"}", "problem.line_not_text", "line"},
      {"\"values\":{}", "\"values\":{\"a\":1", "problem.line_not_json", "line"},
      {"\"values\":{},", "\"values\":{},,", "problem.line_not_json", "line"},
      {"\"values\":{},", "\"values\":{}},", "problem.line_not_json", "line"},
      {"\"kind\":\"note\"", "\"kind\":\"note\",\"previous\":\"x\"", "problem.line_key_twice", "previous"},
      {"\"previous\":\"0", "\"previous\":\"A", "problem.line_key_wrong", "previous"},
      {"\"previous\":\"0", "\"previous\":\"", "problem.line_key_wrong", "previous"},
  };
  for (const BadLine& row : rows) {
    const Result<Entry> entry = parse_entry(line_of(replaced(plain_body(), row.from, row.to)));
    ASSERT_FALSE(entry) << row.to;
    EXPECT_EQ(entry.error().kind, ProblemKind::malformed) << row.to;
    EXPECT_EQ(entry.error().message.id, row.message) << row.to;
    EXPECT_EQ(entry.error().parameter, row.parameter) << row.to;
  }
  EXPECT_TRUE(parse_entry(line_of(plain_body())));
}

TEST(Entry, ANewerFormatIsNeverMisread) {
  const std::string line = line_of(
      R"({"v":2,"farm":"north-farm","device":"d1","number":7,"lamport":"c9","observed":12,"values":[1])");
  const Result<Entry> entry = parse_entry(line);
  ASSERT_FALSE(entry);
  EXPECT_EQ(entry.error().kind, ProblemKind::unsupported);
  const Result<LineHead> head = read_line_head(line);
  ASSERT_TRUE(head);
  EXPECT_EQ(head->format, 2);
  EXPECT_EQ(head->id, (EntryId{"d1", 7, std::string(hash_of_line(line))}));
  EXPECT_EQ(head->farm, "north-farm");
  EXPECT_EQ(head->lamport, 0u);
}

}  // namespace
}  // namespace tawny
