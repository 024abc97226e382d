// The lock: what a person without the PIN sees (nothing of the farm), the waits after wrong tries, and that nothing is
// lost that was under way. And wiping: what it asks for first.
#include <gtest/gtest.h>

#include "logbook/kinds.h"
#include "logbook/sha256.h"
#include "ui/app_bench.h"
#include "ui/screens/entry_form.h"
#include "ui/screens/screens.h"
#include "ui/screens/wipe.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795605000};  // 2026-11-25 06:10 at the demo farm
constexpr int kMinuteS = 60;

// The demo farm's entries, as a person's own.
const std::string& farm_lines() {
  static const std::string kLines = [] {
    AppBench demo(kMorning);
    demo.open_demo();
    std::string lines;
    for (const std::string& line : demo.platform.stored) lines += line + "\n";
    return lines;
  }();
  return kLines;
}

class LockScreens : public ::testing::Test {
 protected:
  explicit LockScreens() { start(kMorning); }

  // The app started anew with what the device kept.
  void start(Instant now, bool can_lock = true) {
    // Before the bench: one drawing context at a time.
    const std::string& lines = farm_lines();
    const std::map<std::string, std::string> kept = bench ? bench->platform.settings : settings;
    bench.reset();
    bench = std::make_unique<AppBench>(now);
    bench->platform.settings = kept;
    Boot boot;
    boot.device = "demo-device";
    boot.settings = kept;
    boot.can_lock = can_lock;
    bench->app->start(boot);
    bench->app->load_lines(lines);
    bench->app->ready();
    bench->frames(2);
  }

  void answer_pin() {
    const FakePlatform::Derived& asked = bench->platform.derived;
    bench->app->lock().on_derived(asked.ticket, sha256_hex(asked.pin + asked.salt));
    bench->frames(2);
  }
  void type_pin(const std::string& pin) {
    ASSERT_TRUE(bench->type("lock/keys", pin));
    ASSERT_TRUE(bench->press("lock/open"));
  }
  void set_pin(const std::string& pin) {
    bench->app->open(make_lock_setup_screen());
    bench->frames(2);
    ASSERT_TRUE(bench->press("lock/choose"));
    type_pin(pin);
    type_pin(pin);
    answer_pin();
    ASSERT_TRUE(bench->app->lock().is_set());
    bench->app->back();
    bench->frames(2);
  }
  void try_pin(const std::string& pin) {
    type_pin(pin);
    answer_pin();
  }
  void away(int minutes) {
    bench->app->on_seen(false);
    bench->platform.clock = bench->platform.clock.plus_min(minutes);
    bench->app->on_seen(true);
    bench->frames(2);
  }
  bool locked() const { return bench->app->lock().locked(); }

  std::map<std::string, std::string> settings;
  std::unique_ptr<AppBench> bench;
};

TEST_F(LockScreens, OnlySaltIterationsAndHashAreKept) {
  set_pin("040711");
  EXPECT_EQ(bench->platform.derived.iterations, 600000);
  EXPECT_EQ(bench->platform.derived.pin, "040711");  // with its nought
  EXPECT_EQ(bench->platform.derived.salt.size(), 32U);
  for (const auto& [key, value] : bench->platform.settings) {
    EXPECT_EQ(value.find("040711"), std::string::npos) << key;
  }
}

TEST_F(LockScreens, TwoPinsThatDifferAreAskedForAnew) {
  bench->app->open(make_lock_setup_screen());
  bench->frames(2);
  ASSERT_TRUE(bench->press("lock/choose"));
  ASSERT_TRUE(bench->type("lock/keys", "123"));
  EXPECT_FALSE(bench->press("lock/open"));  // too short
  ASSERT_TRUE(bench->type("lock/keys", "4"));
  ASSERT_TRUE(bench->press("lock/open"));
  type_pin("1235");
  EXPECT_NE(bench->find("lock/differs"), nullptr);
  EXPECT_FALSE(bench->app->lock().is_set());
}

TEST_F(LockScreens, NothingOfTheFarmIsShownOrSaidWhileLocked) {
  set_pin("4711");
  start(kMorning);
  ASSERT_TRUE(locked());
  const Farm& farm = bench->app->farm();
  ASSERT_FALSE(farm.name.empty());
  EXPECT_FALSE(bench->shows(farm.name));
  EXPECT_EQ(bench->platform.mirrored.find(farm.name), std::string::npos);  // its title too
  for (const FarmPond& pond : farm.ponds) {
    EXPECT_EQ(bench->platform.mirrored.find(pond.history.pond.name), std::string::npos);
  }
  EXPECT_EQ(bench->find("tab/office"), nullptr);
  bench->platform.announced.clear();
  Draft note;
  note.kind = kind::kNote;
  note.values = {{"text", std::string("seen")}};
  bench->app->put({std::move(note)});
  bench->answer(SaveOutcome::saved);
  EXPECT_EQ(bench->platform.announced, "");
  try_pin("4711");
  EXPECT_FALSE(locked());
  EXPECT_EQ(bench->platform.locked, false);
  EXPECT_NE(bench->platform.mirrored.find(farm.name), std::string::npos);
}

TEST_F(LockScreens, WrongTriesHaveToWaitAlsoAfterAReloadAndWithTheClockSetBack) {
  set_pin("4711");
  start(kMorning);
  for (int i = 0; i < 3; ++i) {
    const bool last = i == 2;
    try_pin("0000");
    EXPECT_EQ(bench->find(last ? "lock/wait" : "lock/wrong") != nullptr, true) << i;
  }
  EXPECT_EQ(bench->app->lock().wait_s(), kMinuteS);
  ASSERT_TRUE(bench->type("lock/keys", "4711"));
  EXPECT_FALSE(bench->press("lock/open"));
  start(kMorning.plus_s(30));
  EXPECT_EQ(bench->app->lock().wait_s(), 30);
  start(kMorning.plus_min(-60));
  EXPECT_EQ(bench->app->lock().wait_s(), kMinuteS);
  start(kMorning.plus_min(-59));
  EXPECT_EQ(bench->app->lock().wait_s(), 0);
  try_pin("0000");
  EXPECT_EQ(bench->app->lock().wait_s(), 5 * kMinuteS);
  start(kMorning.plus_min(10));
  try_pin("4711");
  EXPECT_FALSE(locked());
  EXPECT_EQ(bench->app->lock().wait_s(), 0);
}

// A page that is closed before the answer has had its try.
TEST_F(LockScreens, ATryThatWasCutShortCounts) {
  set_pin("4711");
  for (int i = 0; i < 3; ++i) {
    start(kMorning);
    type_pin("0000");
  }
  start(kMorning);
  EXPECT_EQ(bench->app->lock().wait_s(), kMinuteS);
}

TEST_F(LockScreens, LocksAfterTheChosenTimeInTheBackground) {
  set_pin("4711");
  away(4);
  EXPECT_FALSE(locked());
  away(5);
  EXPECT_TRUE(locked());
  try_pin("4711");
  bench->app->lock().set_after("30");
  away(29);
  EXPECT_FALSE(locked());
  away(30);
  EXPECT_TRUE(locked());
  try_pin("4711");
  away(-60);
  EXPECT_TRUE(locked());  // the clock was set back
  try_pin("4711");
  bench->app->lock().set_after("0");
  away(600);
  EXPECT_FALSE(locked());
}

// The phone comes out of the pocket in the middle of a form: behind the lock everything stands as it was.
TEST_F(LockScreens, WhatWasUnderWayIsThereAfterTheLock) {
  set_pin("4711");
  bench->app->open(make_entry_screen_of_kind(kind::kNote, {}));
  bench->frames(2);
  ASSERT_NE(bench->find("entry/text"), nullptr);
  away(10);
  ASSERT_TRUE(locked());
  EXPECT_EQ(bench->find("entry/text"), nullptr);
  // The page had its text field open, and hands over what stood there.
  bench->app->on_text("entry/text", "Heron on the bank");
  bench->frames(2);
  EXPECT_FALSE(bench->shows("Heron on the bank"));
  try_pin("4711");
  ASSERT_NE(bench->find("entry/text"), nullptr);
  EXPECT_EQ(bench->find("entry/text")->value, "Heron on the bank");
}

TEST_F(LockScreens, ThePresentPinIsAskedForBeforeItIsChangedOrTakenOff) {
  set_pin("4711");
  bench->app->open(make_lock_setup_screen());
  bench->frames(2);
  ASSERT_TRUE(bench->press("lock/change"));
  type_pin("0000");
  type_pin("998877");
  type_pin("998877");
  answer_pin();
  EXPECT_NE(bench->find("lock/wrong"), nullptr);
  type_pin("4711");
  type_pin("998877");
  type_pin("998877");
  answer_pin();  // the present one
  answer_pin();  // the new one
  EXPECT_NE(bench->find("lock/done"), nullptr);
  ASSERT_TRUE(bench->press("lock/off"));
  try_pin("998877");
  EXPECT_FALSE(bench->app->lock().is_set());
  start(kMorning);
  EXPECT_FALSE(locked());
}

TEST_F(LockScreens, WithoutASecurePageNoPinIsOffered) {
  start(kMorning, false);
  bench->app->open(make_lock_setup_screen());
  bench->frames(2);
  EXPECT_NE(bench->find("lock/insecure"), nullptr);
  EXPECT_EQ(bench->find("lock/choose"), nullptr);
}

TEST(SameSecret, ComparesWhole) {
  EXPECT_TRUE(same_secret("abc", "abc"));
  EXPECT_FALSE(same_secret("abc", "abd"));
  EXPECT_FALSE(same_secret("abc", "ab"));
  EXPECT_TRUE(same_secret("", ""));
}

// --- wiping

TEST_F(LockScreens, WipingAsksForTheNameAndForABundle) {
  bench->app->open(make_wipe_screen());
  bench->frames(2);
  const std::size_t all = bench->app->logbook().size();
  EXPECT_EQ(entries_only_here(*bench->app), all);
  ASSERT_NE(bench->find("wipe/only_here"), nullptr);
  const std::string count = bench->app->ui().words().number(static_cast<double>(all), 0);
  EXPECT_TRUE(bench->shows(count + " entries are nowhere else")) << bench->find("wipe/only_here")->name;
  bench->app->on_text("wipe/name", bench->app->farm().name);
  bench->frames(2);
  EXPECT_FALSE(bench->press("wipe/now"));
  ASSERT_TRUE(bench->press("wipe/out"));
  EXPECT_EQ(entries_only_here(*bench->app), all);  // the share sheet is still open
  bench->app->on_shared(bench->platform.shared_name);
  bench->frames(2);
  EXPECT_EQ(entries_only_here(*bench->app), 0U);
  bench->app->on_text("wipe/name", bench->app->farm().name + ".");
  bench->frames(2);
  EXPECT_FALSE(bench->press("wipe/now"));
  bench->app->on_text("wipe/name", bench->app->farm().name);
  bench->frames(2);
  ASSERT_TRUE(bench->press("wipe/now"));
  EXPECT_EQ(bench->platform.wipes, 1);
}

TEST_F(LockScreens, AnEntryAfterTheBundleIsNamed) {
  bench->app->open(make_wipe_screen());
  bench->frames(2);
  ASSERT_TRUE(bench->press("wipe/out"));
  bench->app->on_shared(bench->platform.shared_name);
  Draft note;
  note.kind = kind::kNote;
  note.values = {{"text", std::string("seen")}};
  bench->app->put({std::move(note)});
  bench->answer(SaveOutcome::saved);
  EXPECT_EQ(entries_only_here(*bench->app), 1U);
  bench->app->on_text("wipe/name", bench->app->farm().name);
  bench->frames(2);
  EXPECT_FALSE(bench->press("wipe/now"));
  ASSERT_TRUE(bench->press("wipe/loses"));
  ASSERT_TRUE(bench->press("wipe/now"));
}

TEST_F(LockScreens, AForgottenPinLeadsToWipingWithoutAWordOfTheFarm) {
  set_pin("4711");
  start(kMorning);
  ASSERT_TRUE(bench->press("lock/forgot"));
  EXPECT_EQ(bench->platform.mirrored.find(bench->app->farm().name), std::string::npos);
  EXPECT_EQ(bench->find("wipe/out"), nullptr);
  ASSERT_TRUE(bench->press("back"));
  EXPECT_NE(bench->find("lock/title"), nullptr);
}

}  // namespace
}  // namespace tawny::ui
