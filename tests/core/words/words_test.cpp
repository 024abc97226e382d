#include "words/words.h"

#include <gtest/gtest.h>

namespace tawny {
namespace {

constexpr const char* kTable = R"({
  "number.decimal_mark": ".",
  "day.today": "today", "day.yesterday": "yesterday", "day.tomorrow": "tomorrow",
  "day.of_this_year": "{day} {month}", "day.of_another_year": "{day} {month} {year}",
  "day.on": "on {day}", "time.on_day": "{day} {clock}", "time.at": "at {time}",
  "age.now": "just now", "age.minutes": "{count} min ago", "age.hours": "{count} h ago",
  "age.days": {"one": "{count} day ago", "other": "{count} days ago"},
  "month.11": "Nov", "month.1": "Jan",
  "unit.cm": "cm", "unit.mg_l": "mg/L", "unit.d": {"one": "day", "other": "days"},
  "colour.golden": "golden",
  "all": "{pond}: {level}, {colour}, {at}, {on}",
  "bins": {"one": "{count} bin", "other": "{count} bins"},
  "read": "Read {on day}.",
  "seen": "Seen {at time}.",
  "open": "half {open",
  "twice": "{a} and {a}"
})";

// 2026-11-25 10:12 at the farm, 7 h east of Greenwich.
const Instant kNow = *parse_instant("2026-11-25T03:12:00Z");

Words words() {
  Words parsed = *Words::parse(kTable);
  parsed.set_clock(UtcOffset{7 * 60}, kNow);
  return parsed;
}

struct Row {
  const char* what;
  Message message;
  const char* text;
};

TEST(Words, PutIdAndValuesTogether) {
  const Row rows[] = {
      {"every kind of value",
       Message("all")
           .with("pond", Text{"P3"})
           .with("level", Quantity{84.4, 0, "cm"})
           .with("colour", Word{"colour.golden"})
           .with("at", kNow.plus_h(-3))
           .with("on", CivilDay{civil_day(kNow, UtcOffset{420}).plus(1)}),
       "P3: 84 cm, golden, 07:12, tomorrow"},
      {"a value that is missing keeps its name", Message("all").with("pond", Text{"P3"}),
       "P3: {level}, {colour}, {at}, {on}"},
      {"an id that the table lacks", Message("nothing.here"), "nothing.here"},
      {"a word that the table lacks", Message("twice").with("a", Word{"no.word"}), "no.word and no.word"},
      {"one", Message("bins").with("count", Quantity{1, 0, ""}), "1 bin"},
      {"none is other", Message("bins").with("count", Quantity{0, 0, ""}), "0 bins"},
      {"many", Message("bins").with("count", Quantity{6, 0, ""}), "6 bins"},
      {"a measured 1.0 is not one", Message("bins").with("count", Quantity{1, 1, ""}), "1.0 bins"},
      {"a brace that never closes is text", Message("open"), "half {open"},
      {"a typed brace is not a placeholder", Message("twice").with("a", Text{"{a}"}), "{a} and {a}"},
  };
  const Words table = words();
  for (const Row& row : rows) EXPECT_EQ(table(row.message), row.text) << row.what;
}

// Unicode CLDR 42, language plural rules: the sample numbers of "one" and "other" for en, es, pt and id, vi.
TEST(Words, PluralFormsFollowTheRulesOfCldr) {
  const struct {
    const char* language;
    PluralRule rule;
    double count;
    int decimals;
    bool one;
  } rows[] = {
      {"en", PluralRule::only_one, 1, 0, true},     {"en", PluralRule::only_one, 0, 0, false},
      {"en", PluralRule::only_one, 2, 0, false},    {"en", PluralRule::only_one, 16, 0, false},
      {"en", PluralRule::only_one, 1.0, 1, false},  {"en", PluralRule::only_one, 1.5, 1, false},
      {"en", PluralRule::only_one, 1.4, 0, true},  // shown as 1
      {"es", PluralRule::any_one, 1, 0, true},      {"es", PluralRule::any_one, 1.0, 1, true},
      {"es", PluralRule::any_one, 1.0, 3, true},    {"es", PluralRule::any_one, 0, 0, false},
      {"es", PluralRule::any_one, 0.9, 1, false},   {"es", PluralRule::any_one, 1.1, 1, false},
      {"es", PluralRule::any_one, 2, 0, false},     {"pt", PluralRule::below_two, 0, 0, true},
      {"pt", PluralRule::below_two, 1, 0, true},    {"pt", PluralRule::below_two, 0.0, 1, true},
      {"pt", PluralRule::below_two, 1.5, 1, true},  {"pt", PluralRule::below_two, 1.9, 1, true},
      {"pt", PluralRule::below_two, 2, 0, false},   {"pt", PluralRule::below_two, 2.0, 1, false},
      {"pt", PluralRule::below_two, 100, 0, false}, {"id", PluralRule::none, 1, 0, false},
      {"vi", PluralRule::none, 0, 0, false},
  };
  for (const auto& row : rows) {
    EXPECT_EQ(takes_one(row.rule, row.count, row.decimals), row.one)
        << row.language << " " << row.count << " with " << row.decimals << " decimals";
  }
}

TEST(Words, ATableNamesItsPluralRule) {
  const Words portuguese = *Words::parse(
      R"({"number.plural": "below_two", "bags": {"one": "{count} saco", "other": "{count} sacos"}})");
  EXPECT_EQ(portuguese(Message("bags").with("count", bare(0))), "0 saco");
  EXPECT_EQ(portuguese(Message("bags").with("count", bare(2))), "2 sacos");
  EXPECT_FALSE(Words::parse(R"({"number.plural": "dual"})"));
}

TEST(Words, QuantitiesCarryTheirUnit) {
  const Words table = words();
  EXPECT_EQ(table.quantity({4.25, 1, "mg_l"}), "4.3 mg/L");
  EXPECT_EQ(table.quantity({-0.04, 1, "cm"}), "0.0 cm");
  EXPECT_EQ(table.quantity({12, 0, ""}), "12");
  EXPECT_EQ(table.quantity({1, 0, "d"}), "1 day");
  EXPECT_EQ(table.quantity({1.5, 1, "d"}), "1.5 days");
}

TEST(Words, TimesCarryADateOnlyWhenItIsNotToday) {
  const Words table = words();
  EXPECT_EQ(table.time(*parse_instant("2026-11-24T22:42:00Z")), "05:42");
  EXPECT_EQ(table.time(*parse_instant("2026-11-24T16:59:00Z")), "yesterday 23:59");
  EXPECT_EQ(table.time(*parse_instant("2026-11-20T22:42:00Z")), "21 Nov 05:42");
  EXPECT_EQ(table.clock(*parse_instant("2026-11-20T22:42:00Z")), "05:42");
}

TEST(Words, DaysNearTodayHaveNames) {
  const Words table = words();
  const CivilDay today = civil_day(kNow, UtcOffset{420});
  EXPECT_EQ(table.day(today), "today");
  EXPECT_EQ(table.day(today.plus(-1)), "yesterday");
  EXPECT_EQ(table.day(today.plus(1)), "tomorrow");
  EXPECT_EQ(table.day(today.plus(-2)), "23 Nov");
  EXPECT_EQ(table.day(*civil_day_of({2027, 1, 3})), "3 Jan 2027");
}

TEST(Words, OnlyADateTakesAnOn) {
  const Words table = words();
  const CivilDay today = civil_day(kNow, UtcOffset{420});
  EXPECT_EQ(table(Message("read").with("day", today)), "Read today.");
  EXPECT_EQ(table(Message("read").with("day", today.plus(-1))), "Read yesterday.");
  EXPECT_EQ(table(Message("read").with("day", today.plus(-2))), "Read on 23 Nov.");
}

TEST(Words, OnlyATimeOfTodayTakesAnAt) {
  const Words table = words();
  EXPECT_EQ(table(Message("seen").with("time", kNow)), "Seen at 10:12.");
  EXPECT_EQ(table(Message("seen").with("time", kNow.plus_h(-24))), "Seen yesterday 10:12.");
}

TEST(Words, AgesAreWholeUnitsThatHavePassed) {
  const Words table = words();
  struct {
    std::int64_t minutes;
    const char* text;
  } const rows[] = {{-5, "just now"},       {0, "just now"},         {1, "1 min ago"},
                    {89, "89 min ago"},     {90, "1 h ago"},         {179, "2 h ago"},
                    {47 * 60, "47 h ago"},  {48 * 60, "2 days ago"}, {71 * 60, "2 days ago"},
                    {72 * 60, "3 days ago"}};
  for (const auto& row : rows) EXPECT_EQ(table.age(kNow.plus_min(-row.minutes)), row.text) << row.minutes;
}

TEST(Words, TheLanguageChoosesTheDecimalMark) {
  const Words comma = *Words::parse(R"({"number.decimal_mark": ","})");
  EXPECT_EQ(comma.number(4.25, 1), "4,3");
  EXPECT_EQ(comma.decimal_mark(), ',');
}

TEST(Words, BrokenTablesAreRefused) {
  for (const char* json :
       {"", "[]", "{", R"({"a": 1})", R"({"a": {"one": "x"}})", R"({"number.decimal_mark": ";"})"}) {
    const Result<Words> parsed = Words::parse(json);
    ASSERT_FALSE(parsed) << json;
    EXPECT_EQ(parsed.error().kind, ProblemKind::malformed) << json;
  }
}

}  // namespace
}  // namespace tawny
