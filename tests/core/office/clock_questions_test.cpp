// Clocks that jumped, on logbooks sealed with the clock of the moment.
#include "office/clock_questions.h"

#include <gtest/gtest.h>

#include "core/farm/parts.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

const Instant kEight{1773129600};  // 2026-03-10T08:00:00Z

class Device {
 public:
  // Seen and saved so many minutes after eight.
  EntryId tell(int observed_min, int recorded_min, std::string_view kind = kind::kNote, Values values = {},
               std::string voids = {}) {
    Draft draft;
    draft.kind = std::string(kind);
    draft.who = "Maren";
    draft.observed = kEight.plus_min(observed_min);
    draft.values = std::move(values);
    draft.voids = std::move(voids);
    if (draft.values.empty() && kind == kind::kNote) draft.values = {{"text", std::string("seen")}};
    const Result<Entry> entry = seal(draft, kEight.plus_min(recorded_min), chain_);
    logbook.add_line(entry->line);
    return entry->id;
  }
  EntryId now(int min) { return tell(min, min); }
  void let_stand(const ClockQuestion& question, int min) {
    tell(min, min, kind::kQuestionSettled,
         {{"question", to_reference(question.settled_by)},
          {"keep", std::string("clock")},
          {"from_number", static_cast<double>(question.from_number)},
          {"reason", std::string("copied from paper")}});
  }
  std::vector<ClockQuestion> ask(bool demo = false) const {
    Farm farm;
    farm.demo = demo;
    farm.people["phone"] = {"Ana", "technician"};
    return clock_questions(logbook, farm, farm_test::protocol());
  }

  Logbook logbook;

 private:
  DeviceChain chain_{"farm", "phone", 0, 0, std::string(64, '0')};
};

std::vector<std::uint32_t> numbers(const std::vector<EntryId>& ids) {
  std::vector<std::uint32_t> all;
  for (const EntryId& id : ids) all.push_back(id.number);
  return all;
}

using Numbers = std::vector<std::uint32_t>;

TEST(ClockQuestions, OfAClockThatRunsForwardThereAreNone) {
  Device phone;
  for (int min = 0; min < 100; min += 10) phone.now(min);
  EXPECT_TRUE(phone.ask().empty());
}

// Two entries by a clock an hour ahead, then right again: numbers 2 and 3 clash with 4 and 5, not with 6.
TEST(ClockQuestions, AJumpBackShowsTheEntriesThatClashOnEitherSide) {
  Device phone;
  phone.now(0);
  phone.now(70);
  phone.now(75);
  phone.now(20);
  phone.now(40);
  phone.now(90);
  const auto found = phone.ask();
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].id, "clock_back");
  EXPECT_EQ(numbers(found[0].earlier), (Numbers{2, 3}));
  EXPECT_EQ(numbers(found[0].later), (Numbers{4, 5}));
  const auto* who = std::get_if<Text>(found[0].what.find("who"));
  ASSERT_NE(who, nullptr);
  EXPECT_EQ(who->text, "Ana");
}

// Ten minutes are what the chain lets pass (FORMAT.md).
TEST(ClockQuestions, AStepBackOfTenMinutesIsNone) {
  Device phone;
  phone.now(20);
  phone.now(10);
  EXPECT_TRUE(phone.ask().empty());
  phone.now(-1);
  EXPECT_EQ(phone.ask().size(), 1U);
}

TEST(ClockQuestions, AreClosedByLettingTheTimesStandAndOpenAgainWithoutThat) {
  Device phone;
  phone.now(60);
  phone.now(0);
  phone.let_stand(phone.ask().at(0), 61);
  EXPECT_TRUE(phone.ask().empty());
  const std::vector<const Entry*> decided = decided_questions(phone.logbook);
  ASSERT_EQ(decided.size(), 1U);
  phone.tell(62, 62, kind::kVoid, {}, to_reference(decided[0]->id));
  EXPECT_EQ(phone.ask().size(), 1U);
  EXPECT_TRUE(decided_questions(phone.logbook).empty());
}

TEST(ClockQuestions, AreClosedByTakingEitherSideBack) {
  for (const bool earlier : {true, false}) {
    Device phone;
    phone.now(60);
    phone.now(0);
    const ClockQuestion question = phone.ask().at(0);
    for (const EntryId& id : earlier ? question.earlier : question.later) {
      phone.tell(70, 70, kind::kVoid, {}, to_reference(id));
    }
    EXPECT_TRUE(phone.ask().empty()) << earlier;
  }
}

// Ten minutes ahead and seven days behind are the default protocol's.
TEST(ClockQuestions, TimesFarFromTheRecordedOnesAreOneQuestionARun) {
  constexpr int kDay = 24 * 60;
  Device phone;
  phone.tell(11, 0);             // 1: ahead
  phone.tell(10, 1);             // 2: not enough
  phone.tell(-7 * kDay, 2);      // 3: seven days and two minutes behind
  phone.tell(-9 * kDay, 3);      // 4
  phone.tell(-7 * kDay + 4, 4);  // 5: seven days exactly
  const auto found = phone.ask();
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].id, "clock_ahead");
  EXPECT_EQ(numbers(found[0].earlier), (Numbers{1}));
  EXPECT_EQ(found[1].id, "clock_behind");
  EXPECT_EQ(numbers(found[1].earlier), (Numbers{3, 4}));
  EXPECT_TRUE(found[1].later.empty());
  phone.let_stand(found[1], 5);
  const auto left = phone.ask();
  ASSERT_EQ(left.size(), 1U);
  EXPECT_EQ(left[0].id, "clock_ahead");
}

TEST(ClockQuestions, TheDemoFarmIsNeverBehind) {
  Device phone;
  phone.tell(-30 * 24 * 60, 0);
  EXPECT_EQ(phone.ask().size(), 1U);
  EXPECT_TRUE(phone.ask(true).empty());
}

}  // namespace
}  // namespace tawny
