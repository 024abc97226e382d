// The office's folder in the app: several phones around one folder, without a network and without a browser.
#include <gtest/gtest.h>

#include <set>

#include "logbook/kinds.h"
#include "logbook/receipts.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

const Instant kMorning{1795605600};  // 2026-11-25 06:20 at the demo farm

// The folder as a carrier gives it: one level at a time, as a web folder does.
class Folder {
 public:
  // Answers the app's steps until it asks for nothing more; gives how many there were. `fault` answers the step
  // of that number instead.
  int serve(AppBench& bench, int fault_at = 0, std::string_view fault = {}) {
    int steps = 0;
    while (bench.platform.carried.ticket != 0) {
      const FakePlatform::Carried step = std::exchange(bench.platform.carried, {});
      ++steps;
      if (steps == fault_at) {
        bench.app->on_carried(step.ticket, fault, "said by the test", "");
      } else if (step.act == "list") {
        bench.app->on_carried(step.ticket, "", "", names_in(step.name));
      } else if (step.act == "get") {
        bench.app->on_carried(step.ticket, "", "", files.at(step.name));
      } else {
        EXPECT_EQ(files.count(step.name), 0u) << "written twice: " << step.name;
        files[step.name] = step.bytes;
        bench.app->on_carried(step.ticket, "", "", "");
      }
      while (!bench.platform.waiting.empty()) bench.answer(SaveOutcome::saved);
    }
    bench.frames(2);
    return steps;
  }

  std::map<std::string, std::string> files;

 private:
  std::string names_in(const std::string& folder) const {
    std::set<std::string> names;
    for (const auto& [name, bytes] : files) {
      if (name.substr(0, folder.size()) != folder) continue;
      const std::size_t end = name.find('/', folder.size());
      names.insert(end == std::string::npos ? name : name.substr(0, end + 1));
    }
    std::string text;
    for (const std::string& name : names) text += name + "\n";
    return text;
  }
};

std::string demo_lines() {
  AppBench demo(kMorning);
  demo.open_demo();
  return demo.app->logbook().to_lines();
}

// A phone with an own store that holds these lines, connected to the folder under this account.
void open(AppBench& bench, const std::string& device, const std::string& lines,
          std::map<std::string, std::string> settings = {}) {
  Boot boot;
  boot.store = "own";
  boot.device = device;
  boot.languages = {"en"};
  boot.settings = std::move(settings);
  bench.app->start(boot);
  bench.app->load_lines(lines);
  bench.app->ready();
  bench.frames(2);
}

std::map<std::string, std::string> connected(const std::string& account) {
  return {{"depot.kind", "webdav"},
          {"depot.address", "https://office.example/depot/"},
          {"depot.user", account},
          {"depot.writer", account},
          {"depot.password", "p"}};
}

void put_note(AppBench& bench, const std::string& text) {
  Draft draft;
  draft.kind = kind::kNote;
  draft.pond = "p1";
  draft.values = {{"text", text}};
  bench.app->put({draft});
  bench.answer(SaveOutcome::saved);
}

class Sync : public ::testing::Test {
 protected:
  // Answers as an object store does, all names at once, until something that came, or a receipt, is in the
  // hands of the store.
  void serve_until_saving(AppBench& bench) const {
    std::string names;
    for (const auto& [name, bytes] : folder.files) names += name + "\n";
    while (bench.platform.waiting.empty()) {
      const FakePlatform::Carried step = std::exchange(bench.platform.carried, {});
      ASSERT_NE(step.ticket, 0);
      ASSERT_NE(step.act, "put");
      const std::string& payload = step.act == "get" ? folder.files.at(step.name) : names;
      bench.app->on_carried(step.ticket, "", "", payload);
    }
  }

  static void say_that_it_is_the_offices(AppBench& bench) {
    Draft says;
    says.kind = kind::kDeviceSetup;
    says.values = {{"person", std::string("Ines")}, {"role", std::string("manager")}, {"office", true}};
    bench.app->put({says});
    bench.answer(SaveOutcome::saved);
  }

  Folder folder;
  std::string lines = demo_lines();
};

TEST_F(Sync, CarriesAWholeFarmToAFreshPhoneWhichThenHasThatFarm) {
  AppBench old_phone(kMorning);
  open(old_phone, "old", lines, connected("old"));
  EXPECT_GT(folder.serve(old_phone), 3) << "it syncs by itself when the app opens";
  EXPECT_EQ(old_phone.app->sync_news().state, SyncNews::State::done);

  AppBench fresh(kMorning);
  open(fresh, "fresh", "", connected("fresh"));
  folder.serve(fresh);
  EXPECT_TRUE(fresh.app->logbook().to_lines() == old_phone.app->logbook().to_lines());
  EXPECT_TRUE(fresh.app->farm().set_up);
}

TEST_F(Sync, ASecondTimeOnlyLooks) {
  AppBench phone(kMorning);
  open(phone, "old", lines, connected("old"));
  folder.serve(phone);
  const auto files = folder.files;
  phone.platform.clock = kMorning.plus_h(1);
  phone.app->start_sync(false);
  folder.serve(phone);
  EXPECT_EQ(folder.files, files);
  EXPECT_EQ(phone.app->sync_news().tally.entries_up, 0u);
}

TEST_F(Sync, WhatCameDownIsNotThereBeforeTheStoreHasIt) {
  AppBench old_phone(kMorning);
  open(old_phone, "old", lines, connected("old"));
  folder.serve(old_phone);
  AppBench fresh(kMorning);
  open(fresh, "fresh", "", connected("fresh"));
  serve_until_saving(fresh);
  EXPECT_EQ(fresh.app->logbook().size(), 0u);
  const std::size_t came = fresh.platform.waiting.size();
  fresh.answer(SaveOutcome::saved);
  EXPECT_EQ(fresh.app->logbook().size(), came);
}

TEST_F(Sync, AFaultIsSaidInPlainWordsAndTheNextTimeGoesOn) {
  Folder whole;
  AppBench calm(kMorning);
  open(calm, "old", lines, connected("old"));
  whole.serve(calm);
  for (const char* fault : {"offline", "wrong_password", "no_right", "full", "server", "clock", "malformed"}) {
    for (int at = 1; at < 8; ++at) {
      Folder office;
      AppBench phone(kMorning);
      open(phone, "old", lines);
      phone.app->open_tab(Tab::office);
      for (const auto& [key, value] : connected("old")) phone.app->set_setting(key, value);
      phone.app->start_sync(false);
      office.serve(phone, at, fault);
      if (phone.app->sync_news().state == SyncNews::State::failed) {
        EXPECT_NE(phone.find("sync/failed"), nullptr) << fault << " " << at;
        EXPECT_TRUE(phone.shows("said by the test"));
      }
      phone.app->start_sync(false);
      office.serve(phone);
      EXPECT_EQ(phone.app->sync_news().state, SyncNews::State::done) << fault << " " << at;
      AppBench reader(kMorning);
      open(reader, "reader", "", connected("reader"));
      office.serve(reader);
      EXPECT_TRUE(reader.app->logbook().to_lines() == calm.app->logbook().to_lines()) << fault << " " << at;
    }
  }
}

TEST_F(Sync, AtTheOfficeMeansReadByADeviceOfTheOffice) {
  AppBench phone(kMorning);
  open(phone, "old", lines, connected("old"));
  put_note(phone, "Otter on the bank");
  phone.app->start_sync(false);
  folder.serve(phone);
  phone.app->open_tab(Tab::office);
  phone.frames(2);
  EXPECT_EQ(receipts_of(phone.app->logbook()).count("old"), 0u) << "put there, but nobody has read it";

  AppBench office(kMorning);
  open(office, "office", lines, connected("office"));
  folder.serve(office);
  say_that_it_is_the_offices(office);
  office.app->start_sync(false);
  folder.serve(office);
  EXPECT_TRUE(office.app->this_is_office());

  phone.app->start_sync(false);
  folder.serve(phone);
  const Receipts receipts = receipts_of(phone.app->logbook());
  ASSERT_EQ(receipts.count("old"), 1u);
  EXPECT_EQ(receipts.at("old").number, phone.app->logbook().chain_of("old").last_number);
  phone.frames(2);
  EXPECT_TRUE(phone.shows("All entries of this device are at the office"));
}

TEST_F(Sync, APersonWhoSavesWhileTheReceiptIsWrittenIsServedNext) {
  AppBench phone(kMorning);
  open(phone, "old", lines, connected("old"));
  folder.serve(phone);
  AppBench office(kMorning);
  open(office, "office", "", connected("office"));
  folder.serve(office);
  say_that_it_is_the_offices(office);
  office.app->start_sync(false);
  serve_until_saving(office);
  Draft note;
  note.kind = kind::kNote;
  note.pond = "p1";
  note.values = {{"text", std::string("Gate greased")}};
  bool told = false;
  office.app->put({note}, [&told] { told = true; });
  EXPECT_EQ(office.app->news().state, SaveNews::State::saving);
  while (!office.platform.waiting.empty()) office.answer(SaveOutcome::saved);
  EXPECT_TRUE(told);
  folder.serve(office);
  EXPECT_TRUE(office.app->logbook().check_chains().empty());
}

TEST_F(Sync, WhatCameDownAndCannotBeKeptEndsTheSyncAndIsSaid) {
  AppBench old_phone(kMorning);
  open(old_phone, "old", lines, connected("old"));
  folder.serve(old_phone);
  AppBench full(kMorning);
  open(full, "full", "", connected("full"));
  serve_until_saving(full);
  full.answer(SaveOutcome::full, "QuotaExceededError");
  folder.serve(full);
  EXPECT_EQ(full.app->sync_news().state, SyncNews::State::failed);
  EXPECT_NE(full.find("sync/failed"), nullptr);
  EXPECT_NE(full.find("sync/store"), nullptr);
  EXPECT_EQ(full.app->logbook().size(), 0u);
  full.app->start_sync(false);
  folder.serve(full);
  EXPECT_TRUE(full.app->logbook().to_lines() == old_phone.app->logbook().to_lines());
}

TEST_F(Sync, StoppedWhileTheStoreIsAtWorkItKeepsWhatCameAndAsksForNoMore) {
  AppBench old_phone(kMorning);
  open(old_phone, "old", lines, connected("old"));
  folder.serve(old_phone);
  AppBench fresh(kMorning);
  open(fresh, "fresh", "", connected("fresh"));
  serve_until_saving(fresh);
  fresh.app->stop_sync();
  const std::size_t came = fresh.platform.waiting.size();
  fresh.answer(SaveOutcome::saved);
  EXPECT_EQ(fresh.platform.carried.ticket, 0);
  EXPECT_EQ(fresh.app->sync_news().state, SyncNews::State::failed);
  EXPECT_EQ(fresh.app->sync_news().fault->fault, CarryFault::cancelled);
  EXPECT_EQ(fresh.app->logbook().size(), came);
}

TEST_F(Sync, SavedSettingsOfAnotherFolderAreUsedAtOnceAlsoInTheMiddleOfASync) {
  AppBench phone(kMorning);
  open(phone, "old", lines, connected("old"));
  EXPECT_EQ(phone.platform.carried.act, "list");
  phone.app->open(make_depot_setup_screen(
      {{"kind", "webdav"}, {"address", "https://other.example/depot/"}, {"user", "new"}, {"password", "q"}}));
  phone.frames(2);
  ASSERT_TRUE(phone.press("save"));
  EXPECT_EQ(phone.platform.stops, 1);
  phone.app->on_carried(std::exchange(phone.platform.carried, {}).ticket, "cancelled", "", "");
  EXPECT_EQ(phone.platform.carried.act, "list") << "it begins again";
  folder.serve(phone);
  EXPECT_EQ(phone.app->sync_news().state, SyncNews::State::done);
  for (const auto& [name, bytes] : folder.files) EXPECT_EQ(name.substr(0, 4), "new/");
}

TEST_F(Sync, AFolderThatThePageMayNotAskIsAskedOnceThePageHasStartedAgain) {
  AppBench phone(kMorning);
  open(phone, "old", lines);
  phone.platform.is_bound_elsewhere = true;
  phone.app->open(make_depot_setup_screen(
      {{"kind", "webdav"}, {"address", "https://other.example/depot/"}, {"user", "new"}, {"password", "q"}}));
  phone.frames(2);
  ASSERT_TRUE(phone.press("save"));
  EXPECT_EQ(phone.platform.restarts, 1);
  EXPECT_EQ(phone.platform.carried.ticket, 0) << "nothing is asked before";
  EXPECT_EQ(phone.platform.settings["depot.address"], "https://other.example/depot/");
  EXPECT_EQ(phone.platform.settings["depot.password"], "q");

  AppBench again(kMorning);
  Boot boot;
  boot.device = "demo-device";
  boot.languages = {"en"};
  boot.settings = phone.platform.settings;
  boot.depot_saved = true;
  again.app->start(boot);
  again.app->load_lines(lines);
  again.app->ready();
  again.frames(2);
  EXPECT_EQ(again.platform.carried.act, "list") << "it syncs as was asked";
  EXPECT_NE(again.find("sync/stop"), nullptr) << "and shows how it goes";
}

TEST_F(Sync, AForgottenFolderIsNoLongerWithinReach) {
  AppBench phone(kMorning);
  open(phone, "old", lines, connected("old"));
  folder.serve(phone);
  phone.platform.is_bound_elsewhere = true;
  phone.app->open(make_depot_setup_screen());
  phone.frames(2);
  ASSERT_TRUE(phone.press("depot/forget"));
  EXPECT_EQ(phone.platform.restarts, 1);
  EXPECT_EQ(phone.platform.settings["depot.password"], "");
}

TEST_F(Sync, TheCodeBringsTheSettingsToAnotherPhone) {
  AppBench office(kMorning);
  open(office, "office", lines, connected("office"));
  folder.serve(office);
  office.app->open(make_depot_code_screen());
  office.frames(2);
  office.app->on_text("code/user", "phone-7");
  office.frames(2);
  office.app->on_text("code/password", "q");
  office.frames(3);
  EXPECT_NE(office.find("code/picture"), nullptr);
  EXPECT_NE(office.platform.coded.find("\"user\":\"phone-7\""), std::string::npos);
  EXPECT_EQ(office.platform.coded.find("\"password\":\"p\""), std::string::npos)
      << "the office's own stays here";

  AppBench phone(kMorning);
  Boot boot;
  boot.device = "phone-7";
  boot.languages = {"en"};
  boot.brought_depot = {
      {"kind", "webdav"}, {"address", "https://office.example/depot/"}, {"user", "phone-7"}, {"password", "q"}};
  phone.app->start(boot);
  phone.app->ready();
  phone.frames(2);
  EXPECT_TRUE(phone.platform.settings.empty()) << "nothing is kept before the person says so";
  ASSERT_TRUE(phone.press("save"));
  EXPECT_EQ(phone.platform.settings["depot.writer"], "phone-7");
  folder.serve(phone);
  EXPECT_TRUE(phone.app->logbook().to_lines() == office.app->logbook().to_lines());
}

TEST_F(Sync, APasswordIsNotShownAndStaysWhenItsFieldIsLeftEmpty) {
  AppBench phone(kMorning);
  open(phone, "old", lines, connected("old"));
  folder.serve(phone);
  phone.app->open(make_depot_setup_screen());
  phone.frames(2);
  EXPECT_NE(phone.find("depot/password")->value, "p");
  phone.app->on_text("depot/password", "");
  phone.frames(2);
  ASSERT_TRUE(phone.press("save"));
  EXPECT_EQ(phone.platform.settings["depot.password"], "p");
}

TEST_F(Sync, AnAddressThatAnybodyCouldReadIsRefused) {
  AppBench phone(kMorning);
  open(phone, "old", lines);
  phone.app->open(make_depot_setup_screen(
      {{"kind", "webdav"}, {"address", "http://office.example/depot/"}, {"user", "old"}, {"password", "p"}}));
  phone.frames(2);
  ASSERT_TRUE(phone.press("save"));
  EXPECT_NE(phone.find("depot/fault"), nullptr);
  EXPECT_TRUE(phone.platform.settings.empty());
}

}  // namespace
}  // namespace tawny::ui
