#include <gtest/gtest.h>

#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kDawn{1795603200};  // 2026-11-25 05:40 at the demo farm

class OfStore : public ::testing::Test {
 protected:
  OfStore() : bench(kDawn) { bench.open_demo(); }
  void tab(Tab tab) {
    bench.app->open_tab(tab);
    bench.frames(2);
  }
  std::string said(std::string_view id) const {
    const Node* node = bench.find(id);
    return node == nullptr ? std::string() : node->name + node->value;
  }
  AppBench bench;
};

TEST_F(OfStore, DamageIsSaidWithHowMuchItHeldAndAWayOut) {
  tab(Tab::office);
  EXPECT_EQ(bench.find("office/damage"), nullptr);
  bench.app->on_store_damage({1, 1000, 3});
  bench.frames(2);
  EXPECT_NE(said("office/damage").find("1000"), std::string::npos) << said("office/damage");
  EXPECT_NE(said("office/damage").find("Missing: 3"), std::string::npos) << said("office/damage");
  ASSERT_TRUE(bench.press("office/damage/out"));
  Logbook taken_out;
  taken_out.load(bench.platform.shared_text);
  EXPECT_EQ(taken_out.to_lines(), bench.app->logbook().to_lines());
  EXPECT_NE(bench.find("office/damage/in"), nullptr);
  tab(Tab::rounds);
  EXPECT_NE(bench.find("notice/damage"), nullptr);
  bench.app->on_store_damage({});
  bench.frames(2);
  EXPECT_EQ(bench.find("notice/damage"), nullptr) << "everything came back";
}

TEST_F(OfStore, LittleRoomIsSaidBelowTwentyMegabytesAndNotAbove) {
  for (const Tab where : {Tab::rounds, Tab::office}) {
    const char* id = where == Tab::rounds ? "notice/little_room" : "office/little_room";
    tab(where);
    bench.app->on_storage("yes", 80e6, 100e6);
    bench.frames(2);
    EXPECT_EQ(bench.find(id), nullptr);
    bench.app->on_storage("yes", 80.1e6, 100e6);
    bench.frames(2);
    EXPECT_NE(said(id).find("19.9"), std::string::npos) << said(id);
    bench.app->on_storage("unknown", 0, 0);
    bench.frames(2);
    EXPECT_EQ(bench.find(id), nullptr) << "where the browser does not say, nothing is said";
  }
}

TEST_F(OfStore, ATabThatReadsAlongAsksForThePenAndWritesWhenItHasIt) {
  bench.app->on_pen("reading");
  EXPECT_FALSE(bench.app->can_write());
  tab(Tab::office);
  ASSERT_TRUE(bench.press("office/pen/ask"));
  EXPECT_EQ(bench.platform.pen_asked, 1);
  EXPECT_FALSE(bench.press("office/pen/ask")) << "one question at a time";
  for (const char* answer : {"not_now", "no_answer"}) {
    bench.app->on_pen(answer);
    bench.frames(2);
    EXPECT_NE(bench.find("office/pen/answer"), nullptr) << answer;
    EXPECT_FALSE(bench.app->can_write());
  }
  ASSERT_TRUE(bench.press("office/pen/ask"));
  bench.app->on_pen("writing");
  bench.frames(2);
  EXPECT_TRUE(bench.app->can_write());
  EXPECT_EQ(bench.find("office/pen/ask"), nullptr);
  EXPECT_EQ(bench.find("office/pen"), nullptr);
}

TEST_F(OfStore, ATabThatCannotGiveThePenSaysWhoAsksUntilItsEntryIsSaved) {
  bench.app->open(make_entry_screen(Act::level_reading, "p5"));
  bench.frames(2);
  ASSERT_TRUE(bench.type("keys", "124"));
  EXPECT_TRUE(bench.app->holds_unsaved());
  bench.app->on_pen("asked");
  bench.frames(2);
  EXPECT_NE(bench.find("entry/pen/asked"), nullptr);
  bench.press("save");
  if (bench.find("entry/sure") != nullptr) bench.press("save");
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bench.find("entry/pen/asked"), nullptr);
}

TEST(AStoreThatDoesNotOpen, IsSaidPlainlyAndIsNotTakenForALostOne) {
  for (const auto& [state, words] :
       {std::pair(SaveOutcome::newer, "newer version"), std::pair(SaveOutcome::failed, "does not open"),
        std::pair(SaveOutcome::refused, "private window")}) {
    AppBench bench(kDawn);
    Boot boot;
    boot.device = "a1";
    boot.witness = Witness{"a1", 40, std::string(64, 'a')};
    boot.store_state = state;
    bench.app->start(boot);
    bench.app->ready();
    bench.frames(2);
    ASSERT_NE(bench.find("welcome/store"), nullptr);
    EXPECT_TRUE(bench.shows(words)) << words;
    EXPECT_FALSE(bench.app->can_write());
    EXPECT_FALSE(bench.app->alarm());
    EXPECT_EQ(bench.find("welcome/new_id"), nullptr) << "no going on without what could not be read";
  }
}

// An app whose page gave it these lines as kept ones.
void open_kept(AppBench& bench, const std::string& lines) {
  Boot boot;
  boot.device = "d1";
  boot.languages = {"en"};
  bench.app->start(boot);
  bench.app->load_lines(lines, Hashes::later);
  bench.app->ready();
}

// How many frames it wants by itself until it rests.
int frames_until_rest(AppBench& bench) {
  int frames = 0;
  while (frames < 2000 && bench.app->frames_wanted() > 0) {
    bench.frames(1);
    ++frames;
  }
  return frames;
}

TEST_F(OfStore, KeptLinesAreShownAtOnceAndHeldAgainstTheirHashesAfterwards) {
  const std::string lines = bench.app->logbook().to_lines();
  AppBench again(kDawn);
  again.platform.ms_per_look = 5;  // more than a frame may give to it
  open_kept(again, lines);
  EXPECT_EQ(again.app->logbook().to_lines(), lines);
  const int frames = frames_until_rest(again);
  EXPECT_GT(frames, 2) << "a little of " << lines.size() << " bytes in each";
  EXPECT_LT(frames, 2000);
  EXPECT_EQ(again.platform.starts_with_hashes, 0);
}

TEST_F(OfStore, AKeptLineThatWasChangedMakesThePageStartAgainOnce) {
  std::string lines = bench.app->logbook().to_lines();
  const std::size_t at = lines.find("_cm\":") + 5;
  lines[at] = lines[at] == '9' ? '8' : '9';
  AppBench again(kDawn);
  open_kept(again, lines);
  EXPECT_EQ(again.platform.starts_with_hashes, 0) << "not before the first screen";
  frames_until_rest(again);
  EXPECT_EQ(again.platform.starts_with_hashes, 1);
}

}  // namespace
}  // namespace tawny::ui
