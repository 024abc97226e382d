// Whom a farm believes. The rules are our own (FORMAT.md, "Keys and admission"); no source outside gives them.
#include "logbook/trust.h"

#include <gmock/gmock.h>

#include <algorithm>

#include "core/logbook/keyed_devices.h"
#include "logbook/sha256.h"

namespace tawny {
namespace {

using namespace testing_entries;
using testing::Contains;
using testing::IsEmpty;

// Why an entry does not count, or nothing.
std::string why(const Trust& trust, const Entry& entry) {
  const auto found = trust.left_out.find(entry.id.hash);
  return found == trust.left_out.end() ? "" : std::string(name_of(found->second));
}

std::vector<std::string> problems(const Trust& trust) {
  std::vector<std::string> ids;
  for (const ChainProblem& problem : trust.problems) ids.push_back(problem.message.id);
  return ids;
}

struct Farm3 {
  KeyedDevice office{"office"};
  KeyedDevice second{"second office"};
  KeyedDevice phone{"phone"};
  Farm3() {
    second.joins(office);
    phone.joins(office);
  }
  Logbook logbook() const { return logbook_of(office, second, phone); }
};

TEST(Trust, CountsAnAdmittedDeviceAndLeavesOutOneThatIsNot) {
  Farm3 farm;
  const Entry before = farm.phone.reads(50);
  farm.phone.signs();
  EXPECT_EQ(why(judged(farm.logbook()), before), "not_admitted")
      << "though nothing of the founder has come yet";
  const Entry own = farm.office.reads(40);
  farm.office.signs();
  EXPECT_EQ(why(judged(farm.logbook()), own), "");
  EXPECT_EQ(why(judged(farm.logbook()), before), "not_admitted");
  farm.office.admits(farm.phone);
  farm.office.signs();
  const Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, before), "");
  EXPECT_THAT(trust.left_out, IsEmpty());
  EXPECT_THAT(problems(trust), IsEmpty());
  EXPECT_TRUE(trust.devices.at(farm.office.id()).founder);
  EXPECT_TRUE(trust.is_office(farm.office.id()));
  EXPECT_FALSE(trust.is_office(farm.phone.id()));
}

TEST(Trust, KeepsOfAChainWhatIsSignedToItsEndAndNothingElse) {
  KeyedDevice office{"office"};
  office.reads(40);
  office.signs();
  Logbook logbook = logbook_of(office);
  KeptWalks kept;
  trust_of(logbook, Verdicts(), {}, &kept);
  EXPECT_THAT(kept, IsEmpty()) << "no verdict is in yet";
  trust_of(logbook, checked(logbook), {}, &kept);
  ASSERT_EQ(kept.count(office.id()), 1U);
  EXPECT_EQ(kept.at(office.id()).signature->id.number, office.last_number());

  const std::uint32_t signed_to = office.last_number();
  const Entry more = office.reads(50);
  logbook.add(more);
  EXPECT_EQ(why(trust_of(logbook, checked(logbook), {}, &kept), more), "not_signed");
  EXPECT_EQ(kept.at(office.id()).signature->id.number, signed_to);
  logbook.add(office.signs());
  EXPECT_EQ(why(trust_of(logbook, checked(logbook), {}, &kept), more), "");
  EXPECT_EQ(kept.at(office.id()).signature->id.number, office.last_number());
}

TEST(Trust, AnAdmissionCountsOnlyFromAnOfficeDevice) {
  Farm3 farm;
  farm.office.reads(40);
  farm.office.signs();
  const Entry own_word = farm.phone.admits(farm.phone, true);
  const Entry reading = farm.phone.reads(50);
  farm.phone.signs();
  const Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, own_word), "not_office");
  EXPECT_EQ(why(trust, reading), "not_admitted");
}

TEST(Trust, WhatNobodySignedDoesNotCountButOnTheDeviceThatWroteIt) {
  Farm3 farm;
  farm.office.admits(farm.phone);
  farm.office.signs();
  const Entry signed_one = farm.phone.reads(50);
  farm.phone.signs();
  const Entry tail = farm.phone.reads(51);
  Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, signed_one), "");
  EXPECT_EQ(why(trust, tail), "not_signed");
  EXPECT_THAT(problems(trust), testing::ElementsAre("trust.unsigned"));
  trust = judged(farm.logbook(), farm.phone.id());
  EXPECT_EQ(why(trust, tail), "");
  EXPECT_THAT(problems(trust), IsEmpty());
}

TEST(Trust, OneSignatureSpeaksForAllBeforeItHoweverTheyArrive) {
  Farm3 farm;
  farm.office.admits(farm.phone);
  farm.office.signs();
  for (int i = 0; i < 20; ++i) farm.phone.reads(i);
  farm.phone.signs();
  // The last thousandth first, then the first, with a gap between until the end.
  Logbook logbook = logbook_of(farm.office);
  std::vector<Entry> lines = farm.phone.entries;
  std::rotate(lines.begin(), lines.begin() + 12, lines.end());
  for (const Entry& line : lines) {
    logbook.add(line);
    const Trust trust = judged(logbook);
    for (const auto& [hash, reason] : trust.left_out) EXPECT_EQ(reason, LeftOutFor::not_signed);
  }
  EXPECT_THAT(judged(logbook).left_out, IsEmpty());
  // Only the last of a chain's signatures is asked about.
  farm.phone.reads(99);
  farm.phone.signs();
  EXPECT_EQ(signatures_to_check(farm.logbook(), {}).size(), 2U);
}

TEST(Trust, NamesALineThatWasChangedAndGivenAFittingHash) {
  Farm3 farm;
  farm.office.admits(farm.phone);
  farm.office.signs();
  const Entry real = farm.phone.reads(50);
  farm.phone.reads(51);
  farm.phone.signs();
  const std::string body = real.line.substr(0, real.line.find(",\"hash\""));
  Logbook logbook = logbook_of(farm.office);
  for (const Entry& entry : farm.phone.entries) {
    logbook.add_line(entry.id == real.id ? line_of(replaced(body, "50.0", "90.0")) : entry.line);
  }
  const Trust trust = judged(logbook);
  EXPECT_THAT(problems(trust), Contains("trust.forged"));
  const auto forged = std::find_if(trust.problems.begin(), trust.problems.end(),
                                   [](const ChainProblem& one) { return one.message.id == "trust.forged"; });
  EXPECT_EQ(forged->number, real.id.number);
  for (const Entry* entry : logbook.all()) {
    if (entry->id.number == real.id.number && entry->id.device == farm.phone.id()) {
      EXPECT_EQ(why(trust, *entry), "not_signed");
    }
  }
  // The real one beside it is believed, the other one is not.
  logbook.add(real);
  EXPECT_EQ(why(judged(logbook), real), "");
  EXPECT_EQ(judged(logbook).left_out.size(), 1U);
}

TEST(Trust, ASignatureOfAnotherKeyOrOfAnotherPlaceIsNamed) {
  Farm3 farm;
  farm.office.admits(farm.phone);
  farm.office.signs();
  farm.phone.reads(50);
  const Entry good = farm.phone.signs();
  const Entry later = farm.phone.reads(60);
  // The signature of an earlier place, written down again.
  const Entry replayed = farm.phone.put(chain_signed_draft(*good.text("signature")));
  Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, later), "not_signed");
  ASSERT_THAT(problems(trust), Contains("trust.bad_signature"));
  EXPECT_EQ(trust.problems.front().number, replayed.id.number);

  farm.phone.put(chain_signed_draft(
      pretended_signature(farm.office.public_key, text_to_sign(farm.phone.chain.last_hash))));
  EXPECT_EQ(why(judged(farm.logbook()), later), "not_signed");
  farm.phone.put(chain_signed_draft("00"));
  EXPECT_EQ(why(judged(farm.logbook()), later), "not_signed");
}

TEST(Trust, NobodyElseCanWriteUnderTheIdOfADevice) {
  Farm3 farm;
  farm.office.admits(farm.phone);
  farm.office.signs();
  farm.phone.reads(50);
  farm.phone.signs();
  // Another key goes on with the chain, and says that it is the key of this device.
  KeyedDevice thief("thief");
  thief.chain = farm.phone.chain;
  thief.entries = farm.phone.entries;
  thief.put(device_key_draft(thief.public_key));
  const Entry forged = thief.reads(500);
  thief.signs();
  const Trust trust = judged(logbook_of(farm.office, thief));
  EXPECT_EQ(why(trust, forged), "not_signed");
  EXPECT_THAT(problems(trust), Contains("trust.bad_signature"));
}

TEST(Trust, DecisionsCountOnlyFromAnOfficeDevice) {
  for (const std::string_view kind : {kind::kGatePassed, kind::kGateRefused, kind::kReleaseSigned,
                                      kind::kProtocolChange, kind::kQuestionSettled, kind::kOfficeReceipt}) {
    Farm3 farm;
    farm.office.admits(farm.phone);
    const Entry of_office = farm.office.decides(kind);
    farm.office.signs();
    const Entry of_phone = farm.phone.decides(kind);
    const Entry reading = farm.phone.reads(50);
    const Entry takes_back = farm.phone.put(void_of(of_office));
    farm.phone.signs();
    const Trust trust = judged(farm.logbook());
    EXPECT_EQ(why(trust, of_office), "") << kind;
    EXPECT_EQ(why(trust, of_phone), "not_office") << kind;
    EXPECT_EQ(why(trust, takes_back), "not_office") << kind;
    EXPECT_EQ(why(trust, reading), "") << kind;
  }
}

TEST(Trust, WhatDoesNotCountTakesNothingBackAndReplacesNothing) {
  Farm3 farm;
  const Entry reading = farm.office.reads(50);
  farm.office.signs();
  const Entry voids = farm.phone.put(void_of(reading));
  farm.phone.put(correction_of(reading, 70));
  farm.phone.signs();
  Logbook logbook = farm.logbook();
  EXPECT_EQ(logbook.standing(reading.id), Logbook::Standing::voided);
  logbook.leave_out(judged(logbook).left_out_hashes());
  EXPECT_EQ(logbook.standing(reading.id), Logbook::Standing::stands);
  EXPECT_EQ(logbook.standing(voids.id), Logbook::Standing::not_counted);
  std::vector<double> levels;
  for (const Entry* entry : logbook.effective()) {
    if (const double* level = entry->number("level_cm")) levels.push_back(*level);
  }
  EXPECT_EQ(levels, std::vector<double>{50});
  EXPECT_EQ(logbook.size(), farm.logbook().size()) << "all of it is kept and passed on";
}

TEST(Trust, ASecondOfficeDeviceDecidesFromTheNumberThatItWasAskedFrom) {
  Farm3 farm;
  const Entry early = farm.second.decides();
  Draft word;
  word.kind = std::string(kind::kDeviceAdmitted);
  word.values = {{"device", farm.second.id()},
                 {"office", true},
                 {"office_from_number", static_cast<double>(farm.second.last_number() + 1)}};
  farm.office.put(word);
  farm.office.signs();
  farm.second.has_seen(farm.office);
  const Entry late = farm.second.decides();
  farm.second.admits(farm.phone);
  farm.second.signs();
  const Entry reading = farm.phone.reads(50);
  farm.phone.signs();
  const Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, early), "not_office");
  EXPECT_EQ(why(trust, late), "");
  EXPECT_EQ(why(trust, reading), "") << "admitted by the second office device";
}

TEST(Trust, ARevokedDeviceCountsUpToItsNumberAndNoFurther) {
  Farm3 farm;
  farm.office.admits(farm.phone);
  const Entry kept = farm.phone.reads(50);
  const std::uint32_t last = farm.phone.last_number();
  farm.phone.signs();
  farm.office.has_seen(farm.phone);
  farm.office.revokes(farm.phone, last);
  farm.office.signs();
  // Whoever found it goes on, with an old clock and an old counter.
  const Entry stolen = farm.phone.reads(51);
  farm.phone.signs();
  Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, kept), "");
  EXPECT_EQ(why(trust, stolen), "revoked");
  EXPECT_EQ(why(judged(farm.logbook(), farm.phone.id()), stolen), "revoked") << "and the phone itself says so";
  // The office had the wrong phone in mind.
  farm.office.admits(farm.phone);
  farm.office.signs();
  EXPECT_EQ(why(judged(farm.logbook()), stolen), "");
}

TEST(Trust, ALostOfficeDeviceIsRevokedByTheOtherEvenTheFounder) {
  Farm3 farm;
  farm.office.admits(farm.second, true);
  const std::uint32_t last = farm.office.last_number();
  farm.office.signs();
  farm.second.has_seen(farm.office);
  farm.second.revokes(farm.office, last);
  farm.second.admits(farm.phone);
  farm.second.signs();
  const Entry of_thief = farm.office.decides();
  farm.office.admits(KeyedDevice("another thief"), true);
  farm.office.signs();
  const Entry reading = farm.phone.reads(50);
  farm.phone.signs();
  const Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, of_thief), "revoked");
  EXPECT_EQ(why(trust, reading), "");
  EXPECT_TRUE(trust.is_office(farm.second.id()));
  EXPECT_FALSE(trust.is_office(farm.office.id()));
}

TEST(Trust, AStolenJuniorDoesNotUnseatTheFounderByAnOldCounter) {
  Farm3 farm;
  farm.office.admits(farm.second, true);
  farm.office.signs();
  farm.second.reads(10);
  const std::uint32_t before_theft = farm.second.last_number();
  farm.second.signs();
  for (int i = 0; i < 50; ++i) farm.office.reads(i);
  farm.office.revokes(farm.second, before_theft);
  const Entry decision = farm.office.decides();
  farm.office.signs();
  // The thief's counter is far behind: by it alone, this word would be the earlier one.
  farm.second.revokes(farm.office, 4);
  farm.second.signs();
  const Trust trust = judged(farm.logbook());
  EXPECT_EQ(why(trust, decision), "");
  EXPECT_TRUE(trust.is_office(farm.office.id()));
  EXPECT_FALSE(trust.is_office(farm.second.id()));
}

TEST(Trust, WhereBothRevokeEachOtherTheFoundersWordGoesFirst) {
  Farm3 farm;
  farm.office.admits(farm.second, true);
  farm.office.signs();
  farm.second.has_seen(farm.office);
  farm.second.revokes(farm.office, farm.office.last_number());
  farm.second.signs();
  farm.office.revokes(farm.second, 0);
  farm.office.signs();
  const Trust trust = judged(farm.logbook());
  EXPECT_TRUE(trust.is_office(farm.office.id()));
  EXPECT_FALSE(trust.is_office(farm.second.id()));
}

TEST(Trust, ARevocationThatWouldUnseatItsOwnWriterIsPassedOver) {
  Farm3 farm;
  farm.office.reads(1);
  farm.office.admits(farm.second, true);
  farm.office.signs();
  farm.second.revokes(farm.office, 1);
  farm.second.signs();
  EXPECT_TRUE(judged(farm.logbook()).is_office(farm.office.id()));
}

TEST(Trust, OfAWordThatCannotBeReadNothingCounts) {
  for (const double number : {-1.0, 0.5, 1e10}) {
    Farm3 farm;
    farm.office.admits(farm.phone);
    Draft draft;
    draft.kind = std::string(kind::kDeviceRevoked);
    draft.values = {{"device", farm.phone.id()}, {"last_number", number}};
    farm.office.put(draft);
    farm.office.signs();
    const Entry reading = farm.phone.reads(50);
    farm.phone.signs();
    EXPECT_EQ(why(judged(farm.logbook()), reading), "") << number;
  }
}

TEST(Trust, AFarmWithoutKeysBelievesEverybody) {
  DeviceChain chain = chain_for("old-phone");
  Logbook logbook;
  logbook.add(sealed(level_draft(50), chain));
  const Trust trust = judged(logbook);
  EXPECT_FALSE(trust.enforced);
  EXPECT_THAT(trust.left_out, IsEmpty());
  EXPECT_THAT(trust.problems, IsEmpty());
}

TEST(Trust, InAFarmWithKeysADeviceWithoutOneIsLeftOut) {
  KeyedDevice office("office");
  office.reads(1);
  office.signs();
  DeviceChain chain = chain_for("old-phone", office.id());
  const Entry entry = sealed(level_draft(50), chain);
  Logbook logbook = logbook_of(office);
  logbook.add(entry);
  EXPECT_EQ(why(judged(logbook), entry), "no_key");
}

}  // namespace
}  // namespace tawny
