// Bundles: what is whole is taken, what is missing is named, whatever happened to the file on its way.
#include "logbook/bundle.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "core/logbook/entries.h"
#include "logbook/line_reader.h"

namespace tawny {
namespace {

using namespace testing_entries;

const Instant kMade{1795603200};  // 2026-11-25T10:40:00Z

void fill(Logbook& logbook, std::string_view device, int count, int from = 1) {
  DeviceChain chain = logbook.chain_of(std::string(device));
  chain.farm = "north-farm";
  for (int i = 0; i < count; ++i) {
    Entry entry = sealed(level_draft(60 + i % 30, kMorning.plus_min(i)), chain, kMorning.plus_min(i));
    if (i + 1 >= from) logbook.add(std::move(entry));
  }
}

Entry setup(DeviceChain& chain, std::string_view person) {
  Draft draft;
  draft.kind = std::string(kind::kDeviceSetup);
  draft.who = std::string(person);
  draft.observed = kMorning;
  draft.values = {{"person", std::string(person)}, {"role", std::string("worker")}};
  return sealed(draft, chain);
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

TEST(Bundle, HoldsTheLinesOfTheLogbookBehindItsIndex) {
  Logbook logbook;
  fill(logbook, "a1", 3);
  const std::string bundle = write_bundle(logbook, kMade, "a1");
  const std::string index = first_line(bundle);
  EXPECT_EQ(bundle, index + "\n" + logbook.to_lines());
  const Result<BundleIndex> parsed = parse_bundle_index(index);
  ASSERT_TRUE(parsed.has_value());
  EXPECT_EQ(parsed->farm, "north-farm");
  EXPECT_EQ(parsed->made, kMade);
  EXPECT_EQ(parsed->by, "a1");
  ASSERT_EQ(parsed->segments.size(), 1U);
  const BundleSegment expected{"a1", 1, 3, sha256_hex(logbook.to_lines()).substr(0, 16),
                               logbook.to_lines().size()};
  EXPECT_EQ(parsed->segments.front(), expected);
  EXPECT_EQ(to_line(*parsed), index);
}

// The index that FORMAT.md shows, byte for byte.
TEST(Bundle, TheIndexIsWrittenAsTheFormatSays) {
  const std::string shown =
      R"({"bundle":1,"farm":"north-farm","made":"2026-11-25T18:00:00Z","by":"phone-1",)"
      R"("segments":[{"device":"phone-1","first":1,"last":1,"hash":"b446d466d97e860d","bytes":429}],)"
      R"("hash":"561bd55a136ffec13e83d80f887271c9eedaf9c6c4a0c28828253774dee0ef5e"})";
  const BundleIndex index{"north-farm",
                          "",
                          *parse_instant("2026-11-25T18:00:00Z"),
                          "phone-1",
                          {BundleSegment{"phone-1", 1, 1, "b446d466d97e860d", 429}}};
  EXPECT_EQ(to_line(index), shown);
  const Result<BundleIndex> read = parse_bundle_index(shown);
  ASSERT_TRUE(read.has_value());
  EXPECT_EQ(*read, index);
}

TEST(Bundle, PlainReadersPassOverTheIndex) {
  Logbook logbook;
  fill(logbook, "a1", 3);
  Logbook plain;
  const LoadReport report = plain.load(write_bundle(logbook, kMade, "a1"));
  EXPECT_EQ(report.lines, 3U);
  EXPECT_EQ(report.added, 3U);
  EXPECT_TRUE(report.problems.empty());
  EXPECT_EQ(plain.to_lines(), logbook.to_lines());
}

TEST(Bundle, SegmentsEndAtThousandsAndAtGaps) {
  Logbook logbook;
  fill(logbook, "a1", 2005, 999);
  Logbook holed;
  logbook.visit([&](const Logbook::Line& line) {
    if (line.number != 1500) holed.add_line(line.bytes);
  });
  fill(holed, "b2", 1);
  const Result<BundleIndex> index = parse_bundle_index(first_line(write_bundle(holed, kMade, "a1")));
  ASSERT_TRUE(index.has_value());
  std::vector<std::tuple<std::string, std::uint32_t, std::uint32_t>> spans;
  for (const BundleSegment& segment : index->segments) {
    spans.emplace_back(segment.device, segment.first, segment.last);
  }
  const std::vector<std::tuple<std::string, std::uint32_t, std::uint32_t>> expected = {
      {"a1", 999, 1000}, {"a1", 1001, 1499}, {"a1", 1501, 2000}, {"a1", 2001, 2005}, {"b2", 1, 1}};
  EXPECT_EQ(spans, expected);
}

TEST(Bundle, OfAnEmptyLogbookIsAnIndexAlone) {
  const std::string bundle = write_bundle(Logbook(), kMade, "a1");
  EXPECT_EQ(std::count(bundle.begin(), bundle.end(), '\n'), 1);
  const BundleContent content = read_bundle(bundle);
  EXPECT_TRUE(content.preview.has_index);
  EXPECT_EQ(content.report.lines, 0U);
  EXPECT_TRUE(content.preview.missing.empty());
  EXPECT_TRUE(content.preview.problems.empty());
  EXPECT_TRUE(content.preview.devices.empty());
}

// A small bundle of two devices, one of them with a number in conflict and a line of a newer format.
class SmallBundle : public ::testing::Test {
 protected:
  SmallBundle() {
    DeviceChain a = chain_for("a1");
    logbook.add(setup(a, "Technician"));
    DeviceChain copy = a;
    logbook.add(sealed(level_draft(61), a));
    logbook.add(sealed(level_draft(62, kMorning.plus_min(5)), copy));
    DeviceChain b = chain_for("b2");
    logbook.add(sealed(level_draft(63, kMorning.plus_min(-60)), b));
    logbook.add_line(line_of(R"({"v":2,"farm":"north-farm","device":"b2","number":2,"news":true)"));
    bundle = write_bundle(logbook, kMade, "a1");
    lines = lines_of(bundle);
  }
  Logbook logbook;
  std::string bundle;
  std::vector<std::string> lines;
};

TEST_F(SmallBundle, CutAtEveryByteGivesTheWholeEntriesAndNamesTheRest) {
  ASSERT_EQ(logbook.size(), 5U);
  const std::size_t index_bytes = lines.front().size();
  for (std::size_t cut = 0; cut < bundle.size(); ++cut) {
    SCOPED_TRACE(cut);
    const BundleContent content = read_bundle(bundle.substr(0, cut));
    std::string expected;
    std::set<std::pair<std::string, std::uint32_t>> numbers;
    bool lacks_variant = false;
    std::size_t end = index_bytes;
    for (std::size_t i = 1; i < lines.size(); ++i) {
      end += 1 + lines[i].size();
      const Result<LineHead> head = read_line_head(lines[i]);
      ASSERT_TRUE(head.has_value());
      if (end <= cut) {
        expected += lines[i] + "\n";
        numbers.insert({head->id.device, head->id.number});
      } else if (head->id.device == "a1" && head->id.number == 2) {
        lacks_variant = true;
      }
    }
    EXPECT_EQ(content.logbook.to_lines(), expected);
    EXPECT_EQ(content.preview.has_index, cut >= index_bytes);
    if (cut < index_bytes) {
      EXPECT_EQ(content.report.problems.size() + content.preview.problems.size(), cut == 0 ? 0U : 1U);
      continue;
    }
    EXPECT_EQ(content.preview.missing_count() + numbers.size(), 4U);
    for (const NumberSpan& span : content.preview.missing) {
      for (std::uint32_t number = span.first; number <= span.last; ++number) {
        EXPECT_FALSE(numbers.count({span.device, number}));
      }
    }
    // The number is there, one of its two entries is not.
    const bool says_segment = numbers.count({"a1", 2}) && lacks_variant;
    EXPECT_EQ(content.preview.problems.size(), says_segment ? 1U : 0U);
  }
  const BundleContent whole = read_bundle(bundle);
  EXPECT_TRUE(whole.preview.missing.empty());
  EXPECT_TRUE(whole.preview.problems.empty());
  EXPECT_EQ(whole.logbook.to_lines(), logbook.to_lines());
}

TEST_F(SmallBundle, EveryAlteredByteIsReportedAndEveryOtherEntryTaken) {
  for (std::size_t at = 0; at < bundle.size(); ++at) {
    for (const char flip : {'\x01', '\x20', '\x80'}) {
      SCOPED_TRACE(at);
      std::string altered = bundle;
      altered[at] = static_cast<char>(altered[at] ^ flip);
      const BundleContent content = read_bundle(altered);
      const auto hurt_line = static_cast<std::size_t>(
          std::count(bundle.begin(), bundle.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
      const bool feed = bundle[at] == '\n';
      std::size_t reported = content.preview.problems.size() + content.preview.missing.size();
      for (const LineProblem& problem : content.report.problems) {
        if (problem.outcome == AddOutcome::refused) {
          ++reported;
          EXPECT_EQ(problem.line, hurt_line + 1);
        }
      }
      // A line feed that became another character hurts the two lines beside it; the last one may be lacking.
      const bool last_feed = feed && at + 1 == bundle.size();
      EXPECT_GE(reported, 1U) << "flip " << static_cast<int>(flip) << (last_feed ? " of the last feed" : "");
      for (std::size_t i = 1; i < lines.size(); ++i) {
        if (i == hurt_line || (feed && i == hurt_line + 1)) continue;
        EXPECT_NE(content.logbook.to_lines().find(lines[i]), std::string::npos) << i;
      }
      EXPECT_LE(content.logbook.size(), logbook.size());
    }
  }
}

TEST_F(SmallBundle, EveryLineLeftOutIsNamed) {
  for (std::size_t left_out = 1; left_out < lines.size(); ++left_out) {
    std::string text;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (i != left_out) text += lines[i] + "\n";
    }
    const BundleContent content = read_bundle(text);
    EXPECT_EQ(content.logbook.size(), logbook.size() - 1);
    EXPECT_EQ(content.preview.missing.size() + content.preview.problems.size(), 1U);
  }
}

TEST_F(SmallBundle, BroughtInTwiceChangesNothing) {
  BundleContent once = read_bundle(bundle);
  EXPECT_EQ(once.report.added, logbook.size());
  const BundleContent twice = read_bundle(bundle, once.logbook);
  EXPECT_EQ(twice.report.added, 0U);
  EXPECT_EQ(twice.report.already_there, logbook.size());
  EXPECT_EQ(twice.logbook.to_lines(), once.logbook.to_lines());
  for (const BundleDevice& device : twice.preview.devices) EXPECT_EQ(device.fresh, 0U);
  // One behind the other in one file, too.
  const BundleContent doubled = read_bundle(bundle + bundle);
  EXPECT_EQ(doubled.logbook.to_lines(), logbook.to_lines());
  EXPECT_TRUE(doubled.preview.missing.empty());
  EXPECT_TRUE(doubled.preview.problems.empty());
}

TEST_F(SmallBundle, SaysWhoWhenAndHowMany) {
  Logbook have;
  have.add_line(lines[1]);
  const BundleContent content = read_bundle(bundle, have);
  ASSERT_EQ(content.preview.devices.size(), 2U);
  const BundleDevice& a = content.preview.devices[0];
  EXPECT_EQ(a.device, "a1");
  EXPECT_EQ(a.person, "Technician");
  EXPECT_EQ(a.entries, 3U);
  EXPECT_EQ(a.fresh, 2U);
  EXPECT_EQ(a.unread, 0U);
  EXPECT_EQ(a.first_observed, kMorning);
  EXPECT_EQ(a.last_observed, kMorning.plus_min(5));
  const BundleDevice& b = content.preview.devices[1];
  EXPECT_EQ(b.person, "Technician");
  EXPECT_EQ(b.entries, 2U);
  EXPECT_EQ(b.fresh, 2U);
  EXPECT_EQ(b.unread, 1U);
  EXPECT_EQ(b.first_observed, kMorning.plus_min(-60));
  EXPECT_EQ(content.preview.farm, "north-farm");
  EXPECT_EQ(content.preview.made, kMade);
}

TEST_F(SmallBundle, CarriageReturnsAndAByteOrderMarkDoNoHarm) {
  std::string text = "\xef\xbb\xbf";
  for (const std::string& line : lines) text += line + "\r\n";
  const BundleContent content = read_bundle(text);
  EXPECT_TRUE(content.preview.has_index);
  EXPECT_EQ(content.logbook.to_lines(), logbook.to_lines());
  EXPECT_TRUE(content.preview.missing.empty());
  EXPECT_TRUE(content.preview.problems.empty());
}

TEST_F(SmallBundle, OfAnotherFarmIsRefusedByItsIndex) {
  BundleReader reader{Logbook("south-farm")};
  reader.take(bundle);
  reader.finish();
  EXPECT_EQ(reader.other_farm(), "north-farm");
  EXPECT_TRUE(reader.is_refused());
  EXPECT_EQ(reader.grown().size(), 0U);
  EXPECT_TRUE(reader.preview().missing.empty());
}

TEST_F(SmallBundle, OfAnotherFarmIsKnownByItsLinesToo) {
  BundleReader reader{Logbook("south-farm")};
  reader.take(logbook.to_lines());
  EXPECT_EQ(reader.other_farm(), "north-farm");
  EXPECT_FALSE(reader.is_refused());
  // One line of ours, and it is no longer the other farm's file.
  DeviceChain chain = chain_for("c3", "south-farm");
  reader.take(sealed(level_draft(50), chain).line);
  EXPECT_EQ(reader.other_farm(), std::nullopt);
  EXPECT_EQ(reader.grown().size(), 1U);
}

TEST_F(SmallBundle, AnEmptyLogbookTakesTheFarmOfTheFile) {
  BundleReader reader{Logbook()};
  reader.take(bundle);
  reader.finish();
  EXPECT_EQ(reader.other_farm(), std::nullopt);
  EXPECT_EQ(reader.grown().farm(), "north-farm");
}

TEST(BundleIndex, NamesTheFarmForPeople) {
  Logbook logbook;
  DeviceChain chain = chain_for("a1");
  Draft draft;
  draft.kind = std::string(kind::kFarmSetup);
  draft.observed = kMorning;
  draft.values = {{"name", std::string("Heron Bend")}};
  logbook.add(sealed(draft, chain));
  const std::string bundle = write_bundle(logbook, kMade, "a1");
  EXPECT_EQ(read_bundle(bundle).preview.farm_name, "Heron Bend");
  EXPECT_EQ(read_bundle(logbook.to_lines()).preview.farm_name, "Heron Bend");
  EXPECT_EQ(read_bundle(logbook.to_lines()).preview.made, std::nullopt);
  BundleReader reader{Logbook("south-farm")};
  reader.take(bundle);
  EXPECT_EQ(reader.other_farm(), "north-farm");
  EXPECT_EQ(reader.preview().farm_name, "Heron Bend");
}

TEST(BundleIndex, IsRefusedWhenItIsNotSound) {
  const std::string sound = R"({"bundle":1,"farm":"f","made":"2026-11-25T10:40:00Z","by":"a","segments":[)";
  const std::string segment = R"({"device":"a1","first":1,"last":2,"hash":"0123456789abcdef","bytes":9})";
  ASSERT_TRUE(parse_bundle_index(line_of(sound + segment + "]")).has_value());
  ASSERT_TRUE(
      parse_bundle_index(line_of(sound + segment + R"(],"more":[true,null,{"a":"1e9\""}])")).has_value());
  const std::string zeros(400, '0');
  const std::string bad[] = {
      sound + segment + "]}",
      line_of(sound + replaced(segment, "\"last\":2", "\"last\":0") + "]"),
      line_of(sound + replaced(segment, "\"first\":1", "\"first\":0") + "]"),
      line_of(sound + replaced(segment, "\"first\":1", "\"first\":3") + "]"),
      line_of(sound + replaced(segment, "\"last\":2", "\"last\":4294967296") + "]"),
      line_of(sound + replaced(segment, "\"last\":2", "\"last\":2.5") + "]"),
      line_of(sound + replaced(segment, "\"bytes\":9", "\"bytes\":1e9") + "]"),
      line_of(sound + replaced(segment, "\"bytes\":9", "\"bytes\":1" + zeros) + "]"),
      line_of(sound + replaced(segment, "\"bytes\":9", "\"bytes\":-9") + "]"),
      line_of(sound + replaced(segment, "abcdef", "ABCDEF") + "]"),
      line_of(sound + replaced(segment, "a1", "../x") + "]"),
      line_of(sound + "7]"),
      line_of(replaced(sound, "\"segments\":[", "\"segments\":7")),
      line_of(replaced(sound, "2026-11-25T10:40:00Z", "yesterday") + "]"),
      line_of(replaced(sound, "\"farm\":\"f\"", "\"farm\":7") + "]"),
      line_of(replaced(sound, "\"bundle\":1", "\"bundle\":0") + "]"),
      line_of(sound + std::string(100000, '[')),
      "{\"bundle\":",
      "",
  };
  for (const std::string& line : bad) {
    const Result<BundleIndex> index = parse_bundle_index(line);
    ASSERT_FALSE(index.has_value()) << line.substr(0, 200);
    EXPECT_EQ(index.error().message.id, "problem.bundle_index");
  }
  const Result<BundleIndex> newer =
      parse_bundle_index(line_of(replaced(sound, "\"bundle\":1", "\"bundle\":2") + "]"));
  ASSERT_FALSE(newer.has_value());
  EXPECT_EQ(newer.error().message.id, "problem.bundle_newer");
}

TEST(Bundle, AHundredThousandEntriesComeBack) {
  Logbook logbook;
  for (const char* device : {"a1", "b2", "c3", "d4"}) fill(logbook, device, 25000);
  ASSERT_EQ(logbook.size(), 100000U);
  const std::string bundle = write_bundle(logbook, kMade, "a1");
  const BundleContent content = read_bundle(bundle);
  EXPECT_EQ(content.report.added, 100000U);
  EXPECT_TRUE(content.preview.missing.empty());
  EXPECT_TRUE(content.preview.problems.empty());
  EXPECT_EQ(content.logbook.to_lines(), logbook.to_lines());
  // A third of it is lost on the way.
  const BundleContent cut = read_bundle(std::string_view(bundle).substr(0, bundle.size() * 2 / 3));
  EXPECT_EQ(cut.logbook.size() + cut.preview.missing_count(), 100000U);
  EXPECT_EQ(cut.preview.missing.size(), 2U);
}

}  // namespace
}  // namespace tawny
