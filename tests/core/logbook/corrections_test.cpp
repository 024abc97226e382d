#include <gtest/gtest.h>

#include <algorithm>

#include "core/logbook/entries.h"
#include "logbook/logbook.h"

namespace tawny {
namespace {

using namespace testing_entries;
using Standing = Logbook::Standing;

// Entries of a handful of devices, told apart by the level that they read; voids show as no level.
class Corrections : public ::testing::Test {
 protected:
  Entry put(const Draft& draft, const std::string& device = "d1") {
    DeviceChain chain = logbook_.chain_of(device);
    Entry entry = sealed(draft, chain);
    EXPECT_EQ(logbook_.add(entry), AddOutcome::added);
    return entry;
  }
  std::vector<double> levels() const { return levels_of(logbook_); }
  static std::vector<double> levels_of(const Logbook& logbook) {
    std::vector<double> levels;
    for (const Entry* entry : logbook.effective()) {
      EXPECT_NE(entry->kind, kind::kVoid);
      levels.push_back(entry->number("level_cm") == nullptr ? -1 : *entry->number("level_cm"));
    }
    std::sort(levels.begin(), levels.end());
    return levels;
  }
  Standing standing(const Entry& entry) const { return logbook_.standing(entry.id); }

  Logbook logbook_{"north-farm"};
};

using Levels = std::vector<double>;

TEST_F(Corrections, ACorrectionStandsInPlaceOfTheEntry) {
  const Entry wrong = put(level_draft(80));
  const Entry other = put(level_draft(60));
  const Entry right = put(correction_of(wrong, 81), "d2");
  EXPECT_EQ(levels(), (Levels{60, 81}));
  EXPECT_EQ(standing(wrong), Standing::corrected);
  EXPECT_EQ(standing(right), Standing::stands);
  EXPECT_EQ(standing(other), Standing::stands);
  EXPECT_EQ(logbook_.all().size(), 3u);  // both stay
}

TEST_F(Corrections, AVoidTakesTheEntryOut) {
  const Entry wrong = put(level_draft(80));
  const Entry taken_back = put(void_of(wrong));
  EXPECT_EQ(levels(), Levels{});
  EXPECT_EQ(standing(wrong), Standing::voided);
  EXPECT_EQ(standing(taken_back), Standing::stands);
}

TEST_F(Corrections, ACorrectionOfACorrectionIsTheLastWord) {
  const Entry first = put(level_draft(80));
  const Entry second = put(correction_of(first, 81));
  const Entry third = put(correction_of(second, 82));
  EXPECT_EQ(levels(), (Levels{82}));
  EXPECT_EQ(standing(first), Standing::corrected);
  EXPECT_EQ(standing(second), Standing::corrected);
  EXPECT_EQ(standing(third), Standing::stands);
}

TEST_F(Corrections, AVoidOfACorrectionRestoresTheOriginal) {
  const Entry first = put(level_draft(80));
  const Entry second = put(correction_of(first, 81));
  put(void_of(second));
  EXPECT_EQ(levels(), (Levels{80}));
  EXPECT_EQ(standing(first), Standing::stands);
  EXPECT_EQ(standing(second), Standing::voided);
}

TEST_F(Corrections, AVoidOfTheLastWordRestoresTheOneBefore) {
  const Entry first = put(level_draft(80));
  const Entry second = put(correction_of(first, 81));
  const Entry third = put(correction_of(second, 82));
  put(void_of(third));
  EXPECT_EQ(levels(), (Levels{81}));
  EXPECT_EQ(standing(second), Standing::stands);
}

TEST_F(Corrections, AVoidOfAMiddleWordLeavesTheLastWord) {
  const Entry first = put(level_draft(80));
  const Entry second = put(correction_of(first, 81));
  const Entry third = put(correction_of(second, 82));
  put(void_of(second), "d2");
  EXPECT_EQ(levels(), (Levels{82}));
  EXPECT_EQ(standing(first), Standing::corrected);
  EXPECT_EQ(standing(second), Standing::voided);
  EXPECT_EQ(standing(third), Standing::stands);
  put(void_of(third));
  EXPECT_EQ(levels(), (Levels{80}));
}

TEST_F(Corrections, AVoidOfAVoidRestores) {
  const Entry entry = put(level_draft(80));
  const Entry taken_back = put(void_of(entry));
  const Entry restored = put(void_of(taken_back));
  EXPECT_EQ(levels(), (Levels{80}));
  EXPECT_EQ(standing(entry), Standing::stands);
  EXPECT_EQ(standing(taken_back), Standing::voided);
  put(void_of(restored));
  EXPECT_EQ(levels(), Levels{});
}

TEST_F(Corrections, TwoVoidsNeedTwoVoidsToRestore) {
  const Entry entry = put(level_draft(80));
  const Entry first = put(void_of(entry), "d1");
  const Entry second = put(void_of(entry), "d2");
  put(void_of(first));
  EXPECT_EQ(levels(), Levels{});
  put(void_of(second));
  EXPECT_EQ(levels(), (Levels{80}));
}

TEST_F(Corrections, OfTwoCorrectionsTheLaterWins) {
  const Entry entry = put(level_draft(80));
  const Entry earlier = put(correction_of(entry, 81), "d2");
  const Entry later = put(correction_of(entry, 82), "d1");
  EXPECT_EQ(levels(), (Levels{82}));
  EXPECT_EQ(standing(earlier), Standing::corrected);
  EXPECT_EQ(standing(later), Standing::stands);
  put(void_of(later));
  EXPECT_EQ(levels(), (Levels{81}));
  EXPECT_EQ(standing(earlier), Standing::stands);
}

TEST_F(Corrections, AtTheSameCounterTheDeviceDecides) {
  const Entry entry = put(level_draft(80));
  DeviceChain chain_a = chain_for("a");
  DeviceChain chain_b = chain_for("b");
  chain_a.lamport = chain_b.lamport = 7;
  EXPECT_EQ(logbook_.add(sealed(correction_of(entry, 82), chain_b)), AddOutcome::added);
  EXPECT_EQ(logbook_.add(sealed(correction_of(entry, 81), chain_a)), AddOutcome::added);
  EXPECT_EQ(levels(), (Levels{82}));
}

TEST_F(Corrections, TheLatestWordOfTheWholeTreeWins) {
  const Entry entry = put(level_draft(80));
  const Entry left = put(correction_of(entry, 81));
  const Entry right = put(correction_of(entry, 82));
  const Entry left_again = put(correction_of(left, 83));
  EXPECT_EQ(levels(), (Levels{83}));
  EXPECT_EQ(standing(left), Standing::corrected);
  EXPECT_EQ(standing(right), Standing::corrected);
  put(void_of(left_again));
  EXPECT_EQ(levels(), (Levels{82}));
}

TEST_F(Corrections, AVoidedEntryCanBePutOnRecordAgainByACorrection) {
  const Entry entry = put(level_draft(80));
  put(void_of(entry));
  put(correction_of(entry, 81));
  EXPECT_EQ(levels(), (Levels{81}));
  EXPECT_EQ(standing(entry), Standing::voided);
}

TEST_F(Corrections, WithoutTheEntryACorrectionStandsByItself) {
  DeviceChain elsewhere = chain_for("d9");
  const Entry absent = sealed(level_draft(80), elsewhere);
  const Entry right = put(correction_of(absent, 81));
  EXPECT_EQ(levels(), (Levels{81}));
  // Two corrections of one absent entry are still two words on one thing.
  put(correction_of(absent, 82), "d2");
  EXPECT_EQ(levels(), (Levels{82}));
  EXPECT_EQ(standing(right), Standing::corrected);
  EXPECT_EQ(logbook_.add(absent), AddOutcome::added);
  EXPECT_EQ(levels(), (Levels{82}));
}

TEST_F(Corrections, AVoidWaitsForItsEntry) {
  DeviceChain elsewhere = chain_for("d9");
  const Entry absent = sealed(level_draft(80), elsewhere);
  put(void_of(absent));
  EXPECT_EQ(levels(), Levels{});
  EXPECT_EQ(logbook_.add(absent), AddOutcome::added);
  EXPECT_EQ(levels(), Levels{});
  EXPECT_EQ(standing(absent), Standing::voided);
}

TEST_F(Corrections, OfADoubledNumberOnlyTheOneMeantIsVoided) {
  DeviceChain original = chain_for("d1");
  DeviceChain clone = chain_for("d1");
  const Entry kept = sealed(level_draft(80), original);
  const Entry wrong = sealed(level_draft(70), clone);
  EXPECT_EQ(logbook_.add(kept), AddOutcome::added);
  EXPECT_EQ(logbook_.add(wrong), AddOutcome::conflict);
  EXPECT_EQ(levels(), (Levels{70, 80}));  // both count until someone decides
  put(void_of(wrong), "d2");
  EXPECT_EQ(levels(), (Levels{80}));
  EXPECT_EQ(standing(kept), Standing::stands);
}

TEST_F(Corrections, TheCorrectionsTimeOfObservationCounts) {
  const Entry early = put(level_draft(80, kMorning));
  put(level_draft(60, kMorning.plus_h(1)));
  Draft moved = correction_of(early, 80);
  moved.observed = kMorning.plus_h(2);
  put(moved);
  const auto effective = logbook_.effective();
  ASSERT_EQ(effective.size(), 2u);
  EXPECT_EQ(*effective[0]->number("level_cm"), 60);
  EXPECT_EQ(*effective[1]->number("level_cm"), 80);
}

TEST_F(Corrections, EntriesOfUnknownKindsStand) {
  Draft draft = level_draft(80);
  draft.kind = "net_mended";
  put(draft);
  ASSERT_EQ(logbook_.effective().size(), 1u);
  EXPECT_EQ(logbook_.effective()[0]->kind, "net_mended");
}

TEST_F(Corrections, AnUnknownKindThatVoidsIsAVoid) {
  const Entry entry = put(level_draft(80));
  const std::string line =
      line_of(replaced(replaced(plain_body(), "\"kind\":\"note\"",
                                "\"kind\":\"cleared_away\",\"voids\":\"" + to_reference(entry.id) + "\""),
                       "\"device\":\"d1\"", "\"device\":\"d2\""));
  EXPECT_EQ(logbook_.add_line(line), AddOutcome::added);
  EXPECT_EQ(levels(), Levels{});
  EXPECT_EQ(standing(entry), Standing::voided);
}

TEST_F(Corrections, LongRowsOfThemDoNotExhaustTheStack) {
  constexpr int kRow = 20000;
  DeviceChain chain = chain_for("d1");
  Entry last = sealed(level_draft(0), chain);
  logbook_.add(last);
  for (int i = 1; i <= kRow; ++i) {
    last = sealed(correction_of(last, i), chain);
    logbook_.add(last);
  }
  EXPECT_EQ(levels(), (Levels{kRow}));
  for (int i = 0; i < kRow; ++i) {
    last = sealed(void_of(last), chain);
    logbook_.add(last);
  }
  EXPECT_EQ(levels(), (Levels{kRow}));  // an even number of voids of voids
  logbook_.add(sealed(void_of(last), chain));
  EXPECT_EQ(levels(), (Levels{kRow - 1}));
}

TEST_F(Corrections, ACopyOfALogbookReckonsForItself) {
  const Entry entry = put(level_draft(80));
  EXPECT_EQ(levels(), (Levels{80}));
  Logbook copy = logbook_;
  put(void_of(entry));
  EXPECT_EQ(levels(), Levels{});
  EXPECT_EQ(levels_of(copy), (Levels{80}));
  EXPECT_EQ(copy.standing(entry.id), Standing::stands);
}

}  // namespace
}  // namespace tawny
