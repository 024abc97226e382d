#include "ui/incoming.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "logbook/bundle.h"
#include "logbook/sha256.h"
#include "ui/app_bench.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the demo farm

// The lines of the demo farm, as another phone would hand them over.
std::string demo_lines() {
  AppBench bench(kDawn);
  bench.open_demo();
  return bench.app->logbook().to_lines();
}

// Every size of portion comes to what reading at once comes to, line numbers of faults among it.
TEST(Incoming, PortionsMakeNoDifference) {
  const std::string lines = demo_lines() + "{\"torn\": \n" + demo_lines().substr(0, 5000);
  Logbook at_once;
  const LoadReport whole = at_once.load(lines);
  ASSERT_GT(whole.added, 50U);
  ASSERT_GE(whole.problems.size(), 2U);
  for (const std::size_t bytes : {std::size_t{1}, std::size_t{777}, std::size_t{100000}, lines.size()}) {
    Incoming incoming("a file", lines, Logbook());
    double before = 0;
    while (!incoming.is_read()) {
      incoming.step(bytes);
      ASSERT_GT(incoming.share(), before);
      before = incoming.share();
    }
    EXPECT_EQ(before, 1);
    EXPECT_EQ(incoming.report().lines, whole.lines);
    EXPECT_EQ(incoming.report().added, whole.added);
    EXPECT_EQ(incoming.report().already_there, whole.already_there);
    ASSERT_EQ(incoming.report().problems.size(), whole.problems.size());
    for (std::size_t i = 0; i < whole.problems.size(); ++i) {
      EXPECT_EQ(incoming.report().problems[i].line, whole.problems[i].line);
    }
    EXPECT_EQ(incoming.added_to(Logbook()).size(), at_once.size());
    EXPECT_TRUE(incoming.added_to(at_once).empty());
  }
}

TEST(Incoming, AnEmptyFileIsReadAndAddsNothing) {
  const Incoming incoming("a file", "", Logbook());
  EXPECT_TRUE(incoming.is_read());
  EXPECT_EQ(incoming.report().lines, 0U);
}

std::string demo_bundle() {
  Logbook logbook;
  logbook.load(demo_lines());
  return write_bundle(logbook, kDawn, "demo-device");
}

// An entry of that farm, whatever it says.
std::string line_of_farm(std::string_view farm) {
  DeviceChain chain;
  chain.farm = std::string(farm);
  chain.device = "elsewhere";
  Draft draft;
  draft.kind = "note";
  draft.observed = kDawn;
  draft.values = {{"text", std::string("Rain")}};
  return seal(draft, kDawn, chain)->line + "\n";
}

TEST(Incoming, ABundleReadInPortionsIsABundleReadAtOnce) {
  const std::string bundle = demo_bundle();
  // Cut off within its last third, and one line of it gone.
  std::string hurt = bundle.substr(0, bundle.size() * 2 / 3);
  const std::size_t line = hurt.find('\n', hurt.size() / 2) + 1;
  hurt.erase(line, hurt.find('\n', line) + 1 - line);
  for (const std::string& text : {bundle, hurt}) {
    const BundlePreview whole = read_bundle(text).preview;
    ASSERT_TRUE(whole.has_index);
    ASSERT_EQ(whole.missing.empty(), text == bundle);
    for (const std::size_t bytes : {std::size_t{1}, std::size_t{777}, text.size()}) {
      Incoming incoming("a file", text, Logbook());
      while (!incoming.is_read()) incoming.step(bytes);
      const BundlePreview& preview = incoming.preview();
      EXPECT_EQ(preview.made, kDawn);
      EXPECT_EQ(preview.missing, whole.missing);
      EXPECT_EQ(preview.problems, whole.problems);
      ASSERT_EQ(preview.devices.size(), whole.devices.size());
      for (std::size_t i = 0; i < whole.devices.size(); ++i) {
        EXPECT_EQ(preview.devices[i].device, whole.devices[i].device);
        EXPECT_EQ(preview.devices[i].person, whole.devices[i].person);
        EXPECT_EQ(preview.devices[i].entries, whole.devices[i].entries);
        EXPECT_EQ(preview.devices[i].fresh, whole.devices[i].fresh);
      }
      EXPECT_EQ(incoming.report().added + preview.missing_count(), read_bundle(bundle).report.added);
    }
  }
}

TEST(Incoming, ABundleOfAnotherFarmIsKnownByItsIndexAndNotReadOn) {
  Incoming incoming("a file", demo_bundle(), Logbook("south-farm"));
  incoming.step(1);
  EXPECT_TRUE(incoming.is_read());
  EXPECT_TRUE(incoming.other_farm().has_value());
  EXPECT_EQ(incoming.report().added, 0U);
  EXPECT_FALSE(incoming.takes_farm());
}

TEST(Incoming, LinesOfANewerFormatAreBroughtInToo) {
  const std::string body = R"({"v":2,"farm":"north-farm","device":"b2","number":2,"news":true)";
  const std::string line = body + ",\"hash\":\"" + sha256_hex(body) + "\"}";
  Incoming incoming("a file", line + "\n" + line_of_farm("north-farm"), Logbook());
  while (!incoming.is_read()) incoming.step(1);
  const std::vector<Entry> entries = incoming.added_to(Logbook());
  ASSERT_EQ(entries.size(), 2U);
  Logbook logbook;
  for (const Entry& entry : entries) logbook.add(entry);
  EXPECT_EQ(logbook.unread_count(), 1U);
  EXPECT_EQ(logbook.to_lines(), line + "\n" + line_of_farm("north-farm"));
  EXPECT_TRUE(incoming.added_to(logbook).empty());
}

TEST(BringIn, ShowsWhoWhenHowManyAndWhatIsMissing) {
  const std::string bundle = demo_bundle();
  const BundleContent cut = read_bundle(std::string_view(bundle).substr(0, bundle.size() * 2 / 3));
  ASSERT_FALSE(cut.preview.missing.empty());
  AppBench bench(kDawn);
  bench.open_new(-300);
  bench.app->on_file("farm.txt", std::string_view(bundle).substr(0, bundle.size() * 2 / 3));
  bench.frames(4);
  for (const BundleDevice& device : cut.preview.devices) {
    const Node* node = bench.find("incoming/device/" + device.device);
    ASSERT_NE(node, nullptr) << device.device;
    EXPECT_EQ(node->name, device.person);
    const std::string facts = bench.find("incoming/device/" + device.device + "/facts")->name;
    const std::string entries = std::to_string(device.entries);
    EXPECT_EQ(facts.rfind(entries + " new of " + entries, 0), 0U) << facts;
    EXPECT_NE(facts.find(" \u00b7 "), std::string::npos) << facts;
  }
  ASSERT_NE(bench.find("incoming/incomplete"), nullptr);
  EXPECT_NE(bench.find("incoming/incomplete")->name.find(std::to_string(cut.preview.missing_count())),
            std::string::npos);
  EXPECT_NE(bench.find("incoming/missing/1"), nullptr);
  // An empty phone takes the farm of the file, and says so before.
  EXPECT_TRUE(bench.shows(cut.preview.farm_name));
  ASSERT_NE(bench.find("incoming/takes_farm"), nullptr);
  ASSERT_TRUE(bench.press("incoming/accept"));
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bench.app->logbook().size(), cut.report.added);
  // The whole file then brings the rest, and a third time nothing.
  for (const std::size_t fresh : {cut.preview.missing_count(), std::uint64_t{0}}) {
    bench.app->open_tab(Tab::office);
    bench.app->on_file("farm.txt", bundle);
    bench.frames(4);
    EXPECT_EQ(bench.find("incoming/incomplete"), nullptr);
    EXPECT_EQ(bench.find("incoming/takes_farm"), nullptr);
    EXPECT_EQ(bench.app->incoming()->report().added, fresh);
    EXPECT_EQ(bench.press("incoming/accept"), fresh > 0);
    if (fresh > 0) bench.answer(SaveOutcome::saved);
  }
}

TEST(BringIn, RefusesTheFileOfAnotherFarm) {
  AppBench bench(kDawn);
  bench.open_demo();
  bench.app->open_tab(Tab::office);
  Logbook theirs;
  theirs.load(line_of_farm("elsewhere"));
  const std::size_t before = bench.app->logbook().size();
  for (const std::string& text : {write_bundle(theirs, kDawn, "x"), theirs.to_lines()}) {
    bench.app->on_file("theirs.txt", text);
    bench.frames(4);
    const Node* notice = bench.find("incoming/other_farm");
    ASSERT_NE(notice, nullptr);
    EXPECT_NE(notice->name.find("elsewhere"), std::string::npos);
    EXPECT_NE(notice->name.find(bench.app->farm().name), std::string::npos);
    EXPECT_FALSE(bench.press("incoming/accept"));
    ASSERT_TRUE(bench.press("incoming/drop"));
  }
  EXPECT_EQ(bench.app->logbook().size(), before);
  EXPECT_EQ(bench.platform.saves, 1);
}

TEST(BringIn, TellsTwoFarmsOfOneNameApart) {
  AppBench bench(kDawn);
  bench.open_demo();
  bench.app->open_tab(Tab::office);
  BundleIndex index;
  index.farm = "elsewhere";
  index.farm_name = bench.app->farm().name;
  bench.app->on_file("theirs.txt", to_line(index) + "\n");
  bench.frames(4);
  const Node* notice = bench.find("incoming/other_farm");
  ASSERT_NE(notice, nullptr);
  for (const std::string& id : {std::string("elsewhere"), bench.app->logbook().farm()}) {
    EXPECT_NE(notice->name.find(index.farm_name + " (" + id + ")"), std::string::npos) << notice->name;
  }
}

TEST(TakeOut, GivesABundleATableAndTheLines) {
  AppBench bench(kDawn);
  bench.open_demo();
  bench.app->open_tab(Tab::office);
  bench.frames(2);
  ASSERT_TRUE(bench.press("office/out/share"));
  EXPECT_EQ(bench.platform.shared_name.substr(bench.platform.shared_name.size() - 15), "-2026-11-25.txt");
  const BundleContent content = read_bundle(bench.platform.shared_text);
  EXPECT_TRUE(content.preview.has_index);
  EXPECT_EQ(content.preview.farm_name, bench.app->farm().name);
  EXPECT_EQ(content.logbook.to_lines(), bench.app->logbook().to_lines());
  ASSERT_TRUE(bench.press("office/out/table"));
  EXPECT_EQ(bench.platform.shared_name.substr(bench.platform.shared_name.size() - 4), ".csv");
  const std::string& table = bench.platform.shared_text;
  EXPECT_GT(std::count(table.begin(), table.end(), '\n'),
            static_cast<std::ptrdiff_t>(bench.app->logbook().size()));
  ASSERT_TRUE(bench.press("office/out/lines"));
  EXPECT_EQ(bench.platform.shared_name.substr(bench.platform.shared_name.size() - 6), ".jsonl");
  EXPECT_EQ(bench.platform.shared_text, bench.app->logbook().to_lines());
}

class LongFile : public ::testing::Test {
 protected:
  LongFile() : lines(demo_lines()), bench(kDawn) {
    bench.open_new(-300);
    // The same lines again and again: many to read, few to add.
    std::string text;
    while (text.size() < 3'000'000) text += lines;
    bench.app->on_file("season.txt", text);
  }
  const std::string lines;  // one bench at a time, so before the other
  AppBench bench;
};

TEST_F(LongFile, ShowsHowFarItIsAndEnds) {
  bench.frames(1);
  const Node* bar = bench.find("incoming/read");
  ASSERT_NE(bar, nullptr);
  EXPECT_EQ(bar->role, NodeRole::progress);
  const std::string first = bar->value;
  EXPECT_GE(bench.app->frames_wanted(), 1) << "it goes on without a touch";
  EXPECT_EQ(bench.find("incoming/accept")->state, "disabled");
  bench.frames(2);
  EXPECT_NE(bench.find("incoming/read")->value, first);
  bench.frames(40);
  EXPECT_EQ(bench.find("incoming/read"), nullptr);
  ASSERT_TRUE(bench.press("incoming/accept"));
  EXPECT_TRUE(bench.platform.stored.empty());
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bench.platform.stored.size(), bench.app->logbook().size());
  EXPECT_GT(bench.app->farm().ponds.size(), 0U);
}

TEST_F(LongFile, CanBeStopped) {
  bench.frames(2);
  ASSERT_TRUE(bench.press("incoming/drop"));
  EXPECT_EQ(bench.app->incoming(), nullptr);
  EXPECT_EQ(bench.find("incoming/file"), nullptr);
  EXPECT_EQ(bench.app->logbook().size(), 0U);
  EXPECT_EQ(bench.platform.saves, 0);
}

}  // namespace
}  // namespace tawny::ui
