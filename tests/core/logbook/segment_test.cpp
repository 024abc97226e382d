// Names and bytes of segments.
#include "logbook/segment.h"

#include <gtest/gtest.h>

#include "core/logbook/entries.h"

namespace tawny {
namespace {

using namespace testing_entries;

TEST(SegmentName, IsReadAndWrittenBack) {
  const std::string text = "north-7/phone_1/1/1001-1200-0123456789abcdef.jsonl";
  const std::optional<SegmentName> name = parse_segment_name(text);
  ASSERT_TRUE(name);
  EXPECT_EQ(*name, (SegmentName{"north-7", "phone_1", 1001, 1200, "0123456789abcdef"}));
  EXPECT_EQ(name->thousand(), 1U);
  EXPECT_EQ(name->numbers(), 200U);
  EXPECT_FALSE(name->whole_thousand());
  EXPECT_EQ(to_string(*name), text);
  EXPECT_EQ(folder_of(*name), "north-7/phone_1/1/");
}

TEST(SegmentName, OfTheLastNumberThereCanBe) {
  EXPECT_TRUE(parse_segment_name("w/d/4294967/4294967001-4294967295-0123456789abcdef.jsonl"));
}

TEST(SegmentName, OfAnyOtherFormIsNone) {
  for (const char* text : {
           "",
           "w",
           "w/d/0/",
           "w/d/0/1-5.jsonl",
           "d/0/1-5-0123456789abcdef.jsonl",
           "/d/0/1-5-0123456789abcdef.jsonl",
           "w//0/1-5-0123456789abcdef.jsonl",
           "x/w/d/0/1-5-0123456789abcdef.jsonl",
           "w/d/00/1-5-0123456789abcdef.jsonl",
           "w/d/1/1-5-0123456789abcdef.jsonl",
           "w/d//1-5-0123456789abcdef.jsonl",
           "w/d/0/01-5-0123456789abcdef.jsonl",
           "w/d/0/0-5-0123456789abcdef.jsonl",
           "w/d/0/6-5-0123456789abcdef.jsonl",
           "w/d/0/-5-0123456789abcdef.jsonl",
           "w/d/0/999-1001-0123456789abcdef.jsonl",
           "w/d/4294967/4294967001-4294967296-0123456789abcdef.jsonl",
           "w/d/0/1-99999999999-0123456789abcdef.jsonl",
           "w/d/0/1-5-0123456789ABCDEF.jsonl",
           "w/d/0/1-5-0123456789abcde.jsonl",
           "w/d/0/1-5-0123456789abcdef0.jsonl",
           "w/d/0/1-5-0123456789abcdef.json",
           "w/d/0/1-5-0123456789abcdef.jsonl.part",
           "w/d/0/1-5-0123456789abcdef.jsonl ",
           "w x/d/0/1-5-0123456789abcdef.jsonl",
           "../d/0/1-5-0123456789abcdef.jsonl",
       }) {
    EXPECT_FALSE(parse_segment_name(text)) << text;
  }
}

// The worked example of FORMAT.md; sha256sum says the same.
TEST(SegmentName, IsThatOfTheWorkedExample) {
  Draft draft;
  draft.kind = std::string(kind::kSecchiReading);
  draft.pond = "p1";
  draft.who = "Technician";
  draft.observed = kMorning;
  draft.values = {{"depth_at_disc_cm", 95.0}, {"secchi_return_cm", 30.0}, {"secchi_vanish_cm", 32.5}};
  DeviceChain chain = chain_for("phone-1");
  chain.lamport = 41;
  Logbook logbook("north-farm");
  logbook.add(sealed(draft, chain, kMorning.plus_s(40)));
  const std::string bytes = segment_bytes(logbook, "phone-1", 1, 1);
  EXPECT_EQ(to_string({"phone-1", "phone-1", 1, 1, segment_hash(bytes)}),
            "phone-1/phone-1/0/1-1-b446d466d97e860d.jsonl");
}

TEST(SegmentBytes, AreTheLinesOfTheNumbers) {
  Logbook logbook("north-farm");
  DeviceChain chain = chain_for("d1");
  std::vector<std::string> lines;
  for (int i = 0; i < 5; ++i) {
    const Entry entry = sealed(level_draft(i), chain);
    lines.push_back(entry.line + "\n");
    logbook.add(entry);
  }
  EXPECT_EQ(segment_bytes(logbook, "d1", 2, 4), lines[1] + lines[2] + lines[3]);
  EXPECT_EQ(segment_bytes(logbook, "d1", 1, 5), logbook.to_lines());
  EXPECT_EQ(segment_bytes(logbook, "d1", 5, 6), "");
  EXPECT_EQ(segment_bytes(logbook, "d1", 0, 2), "");
  EXPECT_EQ(segment_bytes(logbook, "d1", 3, 2), "");
  EXPECT_EQ(segment_bytes(logbook, "d2", 1, 1), "");
}

TEST(SegmentBytes, HoldAllLinesOfANumberInConflictAndThoseOfANewerFormat) {
  Logbook logbook("north-farm");
  DeviceChain chain = chain_for("d1");
  DeviceChain clone = chain_for("d1");
  logbook.add(sealed(level_draft(1), chain));
  logbook.add(sealed(level_draft(2), clone));
  logbook.add(sealed(level_draft(3), chain));
  logbook.add_line(line_of(R"({"v":2,"farm":"north-farm","device":"d1","number":2)"));
  EXPECT_EQ(segment_bytes(logbook, "d1", 1, 2), logbook.to_lines());
}

TEST(SegmentBytes, OfNumbersWithAGapAreNone) {
  Logbook logbook("north-farm");
  DeviceChain chain = chain_for("d1");
  const Entry first = sealed(level_draft(1), chain);
  sealed(level_draft(2), chain);
  const Entry third = sealed(level_draft(3), chain);
  logbook.add(third);
  EXPECT_EQ(segment_bytes(logbook, "d1", 1, 3), "");
  logbook.add(first);
  EXPECT_EQ(segment_bytes(logbook, "d1", 1, 3), "");
  EXPECT_EQ(segment_bytes(logbook, "d1", 3, 3), third.line + "\n");
}

}  // namespace
}  // namespace tawny
