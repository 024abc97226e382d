// What an office says it holds.
#include "logbook/receipts.h"

#include <gtest/gtest.h>

#include "core/logbook/entries.h"
#include "core/logbook/fake_depot.h"

namespace tawny {
namespace {

using namespace testing_entries;
using testing_depot::FakeDevice;

void write_levels(FakeDevice& device, int count) {
  for (int i = 0; i < count; ++i) device.write(level_draft(i));
}

Draft device_setup(bool office) {
  Draft draft;
  draft.kind = std::string(kind::kDeviceSetup);
  draft.observed = kMorning;
  draft.values = {{"person", std::string("Ines")}, {"role", std::string("manager")}, {"office", office}};
  return draft;
}

TEST(Receipts, SayUpToWhichNumberTheOfficeHoldsADevicesEntries) {
  FakeDevice a("a", "wa"), office("o", "wo");
  write_levels(a, 3);
  office.logbook.merge(a.logbook);
  const std::optional<Values> due = receipt_due(office.logbook, "o");
  ASSERT_TRUE(due);
  EXPECT_EQ(std::get<std::vector<std::string>>(due->find("devices")->second), std::vector<std::string>{"a"});
  EXPECT_EQ(std::get<std::vector<double>>(due->find("numbers")->second), std::vector<double>{3});
  EXPECT_EQ(std::get<std::vector<std::string>>(due->find("hashes")->second),
            std::vector<std::string>{a.logbook.chain_of("a").last_hash.substr(0, 16)});
  office.write_receipt();
  EXPECT_FALSE(receipt_due(office.logbook, "o"));
  EXPECT_TRUE(receipts_of(a.logbook).empty()) << "the device has not heard of it yet";
  a.logbook.merge(office.logbook);
  write_levels(a, 1);
  const Receipts receipts = receipts_of(a.logbook);
  ASSERT_EQ(receipts.count("a"), 1U);
  EXPECT_EQ(receipts.find("a")->second.number, 3U);
  EXPECT_EQ(receipts.find("a")->second.by, "o");
  EXPECT_EQ(receipts.find("a")->second.when, kMorning);
}

TEST(Receipts, NameOnlyWhatIsNew) {
  FakeDevice a("a", "wa"), b("b", "wb"), office("o", "wo");
  write_levels(a, 2);
  write_levels(b, 2);
  office.logbook.merge(a.logbook);
  office.logbook.merge(b.logbook);
  office.write_receipt();
  write_levels(b, 1);
  office.logbook.merge(b.logbook);
  const std::optional<Values> due = receipt_due(office.logbook, "o");
  ASSERT_TRUE(due);
  EXPECT_EQ(std::get<std::vector<std::string>>(due->find("devices")->second), std::vector<std::string>{"b"});
}

TEST(Receipts, StopAtAGap) {
  FakeDevice a("a", "wa"), office("o", "wo");
  DeviceChain chain = chain_for("a");
  const Entry first = sealed(level_draft(1), chain);
  const Entry second = sealed(level_draft(2), chain);
  const Entry third = sealed(level_draft(3), chain);
  office.logbook.add(third);
  EXPECT_FALSE(receipt_due(office.logbook, "o"));
  office.logbook.add(first);
  EXPECT_EQ(std::get<std::vector<double>>(receipt_due(office.logbook, "o")->find("numbers")->second),
            std::vector<double>{1});
  office.logbook.add(second);
  EXPECT_EQ(std::get<std::vector<double>>(receipt_due(office.logbook, "o")->find("numbers")->second),
            std::vector<double>{3});
}

TEST(Receipts, TwoOfficesDoNotAnswerEachOtherForEver) {
  FakeDevice a("a", "wa"), one("o1", "w1"), two("o2", "w2");
  write_levels(a, 2);
  int written = 0;
  for (int round = 0; round < 6; ++round) {
    for (FakeDevice* office : {&one, &two}) {
      office->logbook.merge(a.logbook);
      office->logbook.merge(office == &one ? two.logbook : one.logbook);
      const std::size_t before = office->logbook.size();
      office->write_receipt();
      written += office->logbook.size() > before ? 1 : 0;
    }
  }
  EXPECT_EQ(written, 2);
}

TEST(Receipts, WithAHashThatFitsNoEntryHereDoNotCount) {
  FakeDevice a("a", "wa"), clone("a", "wa"), office("o", "wo");
  a.write(level_draft(1));
  clone.write(level_draft(2));
  office.logbook.merge(clone.logbook);
  office.write_receipt();
  // Only the office's own entry reaches a.
  office.logbook.visit("o", 1, 9, [&](const Logbook::Line& line) { a.logbook.add_line(line.bytes); });
  EXPECT_TRUE(receipts_of(a.logbook).empty());
  EXPECT_EQ(receipts_of(clone.logbook).size(), 0U);
  clone.logbook.merge(office.logbook);
  EXPECT_EQ(receipts_of(clone.logbook).find("a")->second.number, 1U);
}

TEST(Receipts, OfANumberInConflictCountOnlyWhenTheyNameAllItsLinesHere) {
  FakeDevice a("a", "wa"), office("o", "wo");
  write_levels(a, 2);
  FakeDevice clone = a;
  write_levels(a, 2);
  clone.write(level_draft(77));
  office.logbook.merge(a.logbook);
  office.write_receipt();
  a.logbook.merge(office.logbook);
  EXPECT_EQ(receipts_of(a.logbook).find("a")->second.number, 4U);
  a.logbook.merge(clone.logbook);
  EXPECT_EQ(receipts_of(a.logbook).count("a"), 0U) << "the clone's entry 3 has not been seen at the office";
  office.logbook.merge(clone.logbook);
  office.write_receipt();
  a.logbook.merge(office.logbook);
  EXPECT_EQ(receipts_of(a.logbook).find("a")->second.number, 4U);
}

TEST(Receipts, TheFirstToAcknowledgeANumberIsNamed) {
  FakeDevice a("a", "wa"), one("o1", "w1"), two("o2", "w2");
  write_levels(a, 1);
  for (FakeDevice* office : {&one, &two}) {
    office->logbook.merge(a.logbook);
    Draft draft;
    draft.kind = std::string(kind::kOfficeReceipt);
    draft.observed = kMorning;
    draft.values = *receipt_due(office->logbook, office->name);
    office->write(draft, kMorning.plus_min(office == &one ? 90 : 30));
  }
  a.logbook.merge(one.logbook);
  a.logbook.merge(two.logbook);
  EXPECT_EQ(receipts_of(a.logbook).find("a")->second.by, "o2");
  EXPECT_EQ(receipts_of(a.logbook).find("a")->second.when, kMorning.plus_min(30));
  EXPECT_EQ(receipts_of(a.logbook, "o2").find("a")->second.by, "o1");
}

TEST(Receipts, ThatAreNotWellFormedOrWereVoidedAreNone) {
  FakeDevice a("a", "wa"), office("o", "wo");
  write_levels(a, 2);
  const std::string hash = a.logbook.chain_of("a").last_hash.substr(0, 16);
  Draft draft;
  draft.kind = std::string(kind::kOfficeReceipt);
  draft.observed = kMorning;
  using Texts = std::vector<std::string>;
  using Numbers = std::vector<double>;
  for (const Values& values : std::vector<Values>{
           {},
           {{"devices", Texts{"a"}}, {"numbers", Numbers{2}}},
           {{"devices", Texts{"a"}}, {"numbers", Numbers{2, 3}}, {"hashes", Texts{hash}}},
           {{"devices", Texts{"a"}}, {"numbers", Numbers{2.5}}, {"hashes", Texts{hash}}},
           {{"devices", Texts{"a"}}, {"numbers", Numbers{-1}}, {"hashes", Texts{hash}}},
           {{"devices", Texts{"a"}}, {"numbers", Numbers{1e300}}, {"hashes", Texts{hash}}},
           {{"devices", Texts{"a"}}, {"numbers", Numbers{2}}, {"hashes", Texts{""}}},
           {{"devices", std::string("a")}, {"numbers", 2.0}, {"hashes", hash}},
       }) {
    draft.values = values;
    office.write(draft);
  }
  draft.values = {{"devices", Texts{"a"}}, {"numbers", Numbers{2}}, {"hashes", Texts{hash}}};
  DeviceChain chain = office.logbook.chain_of("o");
  const Entry good = sealed(draft, chain);
  office.logbook.add(good);
  a.logbook.merge(office.logbook);
  EXPECT_EQ(receipts_of(a.logbook).find("a")->second.number, 2U);
  office.write(void_of(good));
  a.logbook.merge(office.logbook);
  EXPECT_TRUE(receipts_of(a.logbook).empty());
}

TEST(Receipts, OfMoreDevicesThanALineHoldsComeOneAfterAnother) {
  FakeDevice office("o", "wo");
  for (int i = 0; i < 700; ++i) {
    DeviceChain chain =
        chain_for("device-with-a-rather-long-name-of-64-letters-that-is-allowed-" + std::to_string(i));
    office.logbook.add(sealed(level_draft(i), chain));
  }
  int written = 0;
  while (receipt_due(office.logbook, "o") && written < 9) {
    office.write_receipt();
    ++written;
  }
  EXPECT_EQ(written, 3);
  EXPECT_EQ(receipts_of(office.logbook).size(), 700U);
}

TEST(Receipts, AreWrittenByADeviceWhoseLatestSetupSaysOffice) {
  FakeDevice a("a", "wa"), b("b", "wb");
  EXPECT_FALSE(is_office(a.logbook, "a"));
  Draft plain = device_setup(true);
  plain.values.erase("office");
  a.write(plain);
  EXPECT_FALSE(is_office(a.logbook, "a"));
  a.write(device_setup(true));
  EXPECT_TRUE(is_office(a.logbook, "a"));
  EXPECT_FALSE(is_office(a.logbook, "b"));
  b.write(device_setup(false));
  a.logbook.merge(b.logbook);
  EXPECT_TRUE(is_office(a.logbook, "a")) << "another's setup is not this device's";
  a.write(device_setup(false));
  EXPECT_FALSE(is_office(a.logbook, "a"));
}

}  // namespace
}  // namespace tawny
