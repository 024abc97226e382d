// Keys and admission in the app: several phones of a farm with keys, without a browser. Signatures are pretended
// (core/logbook/keyed_devices.h).
#include <gtest/gtest.h>

#include "core/logbook/keyed_devices.h"
#include "ui/app_bench.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

using namespace testing_entries;

const Instant kNow{1795605600};  // 2026-11-25 11:20 UTC

// What the browser says to whatever the app asks of it.
void serve(AppBench& bench, const std::string& public_key) {
  FakePlatform& platform = bench.platform;
  while (true) {
    if (const int ticket = std::exchange(platform.check_ticket, 0); ticket != 0) {
      std::string verdicts;
      for (const SignatureCheck& check : platform.to_check) {
        verdicts += check.signature == pretended_signature(check.public_key, check.text) ? '1' : '0';
      }
      bench.app->on_checked(ticket, verdicts);
    } else if (const int asked = std::exchange(platform.sign_ticket, 0); asked != 0) {
      bench.app->on_signed(asked, pretended_signature(public_key, platform.to_sign));
    } else if (!platform.waiting.empty()) {
      bench.answer(SaveOutcome::saved);
    } else {
      break;
    }
  }
  bench.frames(2);
}

void open(AppBench& bench, const KeyedDevice& device, const Logbook& logbook,
          std::optional<Witness> witness = std::nullopt) {
  Boot boot;
  boot.store = "own";
  boot.device = device.id();
  boot.public_key = device.public_key;
  boot.languages = {"en"};
  boot.witness = std::move(witness);
  bench.app->start(boot);
  bench.app->load_lines(logbook.to_lines());
  bench.app->ready();
  serve(bench, device.public_key);
}

Draft farm_draft() {
  Draft draft;
  draft.kind = std::string(kind::kFarmSetup);
  draft.values = {{"name", std::string("Heron Bend")},
                  {"latitude_deg", -2.2},
                  {"longitude_deg", -80.0},
                  {"utc_offset_min", -300.0}};
  return draft;
}

Draft person_draft(const std::string& person, const std::string& role) {
  Draft draft;
  draft.kind = std::string(kind::kDeviceSetup);
  draft.values = {{"person", person}, {"role", role}};
  return draft;
}

// An office phone with the farm on it, and a technician's phone that has joined.
struct TwoPhones {
  KeyedDevice office{"office"};
  KeyedDevice phone{"phone"};
  TwoPhones() {
    office.put(farm_draft());
    office.put(person_draft("Mara", "manager"));
    office.signs();
    phone.joins(office).put(person_draft("Tomo", "technician"));
    phone.reads(50);
    phone.signs();
  }
};

std::size_t count_of(const Logbook& logbook, std::string_view kind) {
  std::size_t count = 0;
  for (const Entry* entry : logbook.all()) count += entry->kind == kind ? 1 : 0;
  return count;
}

TEST(TrustOnScreen, TheFirstActOfAFarmCarriesTheKeyAndIsSigned) {
  AppBench bench(kNow);
  const KeyedDevice device("founder");
  open(bench, device, Logbook());
  bench.app->put({farm_draft()});
  serve(bench, device.public_key);
  const Logbook& logbook = bench.app->logbook();
  EXPECT_EQ(logbook.farm(), device.id());
  ASSERT_EQ(logbook.size(), 3U);
  EXPECT_EQ(logbook.all().size(), 3U);
  EXPECT_EQ(count_of(logbook, kind::kDeviceKey), 1U);
  EXPECT_TRUE(chain_is_signed(logbook, device.id()));
  EXPECT_EQ(bench.app->news().ids.size(), 1U) << "the person made one entry";
  EXPECT_TRUE(bench.app->may_decide());
}

// Its own signature tells a phone nothing new about what counts.
TEST(TrustOnScreen, ADecisionIsFoldedOnceThoughItsSignatureIsCheckedAfterwards) {
  AppBench bench(kNow);
  const TwoPhones farm;
  open(bench, farm.office, logbook_of(farm.office));
  for (int i = 0; i < 3; ++i) {
    const int folds = bench.app->folds();
    const std::size_t lines = bench.app->logbook().size();
    bench.app->put({bench.app->admission(farm.phone.id(), false)});
    serve(bench, farm.office.public_key);
    EXPECT_EQ(bench.app->logbook().size(), lines + 2) << "the decision and its signature";
    EXPECT_EQ(bench.app->folds(), folds + 1);
    EXPECT_EQ(bench.app->trust().devices.at(farm.office.id()).signed_to, lines + 1) << "but it is known";
  }
}

TEST(TrustOnScreen, WithoutASignatureTheActIsSavedAllTheSame) {
  AppBench bench(kNow);
  const KeyedDevice device("founder");
  open(bench, device, Logbook());
  bench.app->put({farm_draft()});
  bench.app->on_signed(bench.platform.sign_ticket, "");
  bench.answer(SaveOutcome::saved);
  EXPECT_EQ(bench.app->logbook().size(), 2U);
  EXPECT_EQ(bench.app->news().state, SaveNews::State::saved);
}

TEST(TrustOnScreen, TheOfficeAdmitsAPhoneByItsSixWords) {
  const TwoPhones two;
  AppBench bench(kNow);
  open(bench, two.office, logbook_of(two.office, two.phone));
  EXPECT_FALSE(bench.app->trust().left_out.empty());
  EXPECT_TRUE(bench.shows("1 phone waits to be admitted"));
  ASSERT_TRUE(bench.press("rounds/phones"));
  ASSERT_TRUE(bench.press("device/" + two.phone.id()));
  const auto six = fingerprint_words(two.phone.id());
  for (const std::string& word : *six) EXPECT_TRUE(bench.shows(word)) << word;
  EXPECT_TRUE(bench.shows("Tomo")) << "said though what it writes does not count yet";
  ASSERT_TRUE(bench.press("device/admit"));
  ASSERT_TRUE(bench.press("save"));
  serve(bench, two.office.public_key);
  EXPECT_TRUE(bench.app->trust().left_out.empty());
  EXPECT_TRUE(chain_is_signed(bench.app->logbook(), two.office.id()));
  EXPECT_FALSE(bench.app->trust().is_office(two.phone.id()));
}

TEST(TrustOnScreen, AnOfficePhoneDecidesFromThenOn) {
  TwoPhones two;
  const Entry early = two.phone.decides();
  two.phone.signs();
  AppBench bench(kNow);
  open(bench, two.office, logbook_of(two.office, two.phone));
  bench.app->put({bench.app->admission(two.phone.id(), true)});
  serve(bench, two.office.public_key);
  EXPECT_TRUE(bench.app->trust().is_office(two.phone.id()));
  EXPECT_EQ(bench.app->left_out(early.id), LeftOutFor::not_office);
}

TEST(TrustOnScreen, AnUnadmittedPhoneSaysSoAndItsEntriesCountThere) {
  const TwoPhones two;
  AppBench bench(kNow);
  open(bench, two.phone, logbook_of(two.office, two.phone));
  EXPECT_TRUE(bench.shows("The office has not admitted this phone yet"));
  EXPECT_TRUE(bench.app->trust().left_out.empty());
  EXPECT_FALSE(bench.app->may_decide());
  EXPECT_EQ(bench.app->person(), "Tomo");
  ASSERT_TRUE(bench.press("rounds/phones"));
  EXPECT_TRUE(bench.shows("Read these six words aloud to the office"));
  EXPECT_EQ(bench.find("device/admit"), nullptr);
}

TEST(TrustOnScreen, APlainPhoneIsToldThatItsDecisionWouldNotCount) {
  TwoPhones two;
  two.phone.put(person_draft("Tomo", "manager"));
  two.office.admits(two.phone);
  two.office.signs();
  AppBench bench(kNow);
  open(bench, two.phone, logbook_of(two.office, two.phone));
  const std::size_t before = bench.app->logbook().size();
  Draft draft;
  draft.kind = std::string(kind::kProtocolChange);
  draft.values = {{"path", std::string("x")}};
  bench.app->put({draft});
  serve(bench, two.phone.public_key);
  ASSERT_TRUE(bench.app->news().problem);
  EXPECT_EQ(bench.app->news().problem->message.id, "trust.not_office");
  EXPECT_EQ(bench.app->logbook().size(), before);
  bench.app->clear_news();
  bench.app->open(make_protocol_screen());
  bench.frames(2);
  EXPECT_TRUE(bench.shows("count only from an office phone"));
}

TEST(TrustOnScreen, ARevokedPhoneIsOutFromTheChosenMoment) {
  TwoPhones two;
  two.office.admits(two.phone);
  two.office.signs();
  AppBench bench(kNow);
  open(bench, two.office, logbook_of(two.office, two.phone));
  ASSERT_TRUE(bench.app->trust().left_out.empty());
  bench.app->open(make_device_screen(two.phone.id()));
  bench.frames(2);
  ASSERT_TRUE(bench.press("device/revoke"));
  EXPECT_FALSE(bench.press("save")) << "a reason goes on record";
  bench.app->on_text("device/reason", "Fell into the canal");
  bench.frames(2);
  ASSERT_TRUE(bench.press("save"));
  serve(bench, two.office.public_key);
  EXPECT_TRUE(bench.app->trust().left_out.empty()) << "all of it is from before";
  const DeviceTrust& trust = bench.app->trust().devices.at(two.phone.id());
  EXPECT_TRUE(trust.revoked);
  EXPECT_EQ(trust.last_number, two.phone.last_number());
  EXPECT_TRUE(bench.shows("Shut out"));
}

TEST(TrustOnScreen, AFileIsHandedOnOnlyWithASignedChain) {
  TwoPhones two;
  two.office.put(person_draft("Mara Two", "manager"));
  AppBench bench(kNow);
  open(bench, two.office, logbook_of(two.office));
  bench.app->open_tab(Tab::office);
  bench.frames(2);
  ASSERT_TRUE(bench.press("office/out/share"));
  EXPECT_EQ(bench.platform.shared_text, "") << "the signature comes first";
  serve(bench, two.office.public_key);
  const BundleContent shared = read_bundle(bench.platform.shared_text);
  EXPECT_TRUE(chain_is_signed(shared.logbook, two.office.id()));
  EXPECT_TRUE(judged(shared.logbook).left_out.empty());
  EXPECT_EQ(bench.app->news().state, SaveNews::State::none) << "nobody asked for an entry";
}

TEST(TrustOnScreen, LinesInThisPhonesNameThatItDidNotWriteAreNotTaken) {
  TwoPhones two;
  const Logbook before = logbook_of(two.office, two.phone);
  AppBench bench(kNow);
  open(bench, two.phone, before);
  two.phone.reads(500);
  bench.app->on_file("file.txt", two.phone.entries.back().line);
  bench.frames(4);
  bench.app->bring_in([] {});
  serve(bench, two.phone.public_key);
  EXPECT_EQ(bench.app->logbook().size(), before.size());
  // After a loss of the store they are its own, as far as the witness has seen them.
  AppBench lost(kNow);
  open(lost, two.phone, before, Witness{two.phone.id(), two.phone.last_number(), two.phone.chain.last_hash});
  ASSERT_TRUE(lost.app->alarm());
  lost.app->on_file("file.txt", two.phone.entries.back().line);
  lost.frames(4);
  lost.app->bring_in([] {});
  serve(lost, two.phone.public_key);
  EXPECT_EQ(lost.app->logbook().size(), before.size() + 1);
}

TEST(TrustOnScreen, APhoneWhoseKeyIsGoneWritesNothingAndSaysWhy) {
  const TwoPhones two;
  AppBench bench(kNow);
  KeyedDevice without = two.phone;
  without.public_key.clear();
  open(bench, without, logbook_of(two.office, two.phone));
  EXPECT_TRUE(bench.app->key_lost());
  EXPECT_FALSE(bench.app->can_write());
  EXPECT_TRUE(bench.shows("key was lost with its store"));
  EXPECT_NE(bench.find("rounds/new_name"), nullptr);
}

TEST(TrustOnScreen, ABrowserThatCannotCheckBelievesNoOther) {
  const TwoPhones two;
  AppBench bench(kNow);
  Boot boot;
  boot.device = two.phone.id();
  boot.public_key = two.phone.public_key;
  bench.app->start(boot);
  bench.app->load_lines(logbook_of(two.office, two.phone).to_lines());
  bench.app->ready();
  EXPECT_EQ(bench.app->rounds().has_value(), false) << "not before it is known whom to believe";
  bench.app->on_checked(bench.platform.check_ticket, "");
  bench.frames(2);
  EXPECT_TRUE(bench.app->checks_refused());
  EXPECT_FALSE(bench.app->farm().set_up);
}

TEST(TrustOnScreen, AForgedLineIsNamedAmongThePhones) {
  TwoPhones two;
  two.office.admits(two.phone);
  two.office.signs();
  Logbook logbook = logbook_of(two.office);
  for (const Entry& entry : two.phone.entries) {
    const bool reading = entry.kind == kind::kLevelReading;
    const std::string body = entry.line.substr(0, entry.line.find(",\"hash\""));
    logbook.add_line(reading ? line_of(replaced(body, "50.0", "90.0")) : entry.line);
  }
  AppBench bench(kNow);
  open(bench, two.office, logbook);
  bench.app->open(make_devices_screen());
  bench.frames(2);
  EXPECT_TRUE(bench.shows("is not the one that the phone signed"));
}

}  // namespace
}  // namespace tawny::ui
