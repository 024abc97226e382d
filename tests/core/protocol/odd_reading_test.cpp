// Odd readings and the manager's word on them. What is odd: docs of the protocol, "Questioned"; the limits are
// the default protocol's.
#include "protocol/odd_reading.h"

#include <gtest/gtest.h>

#include <map>

#include "core/protocol/same_state.h"

namespace tawny {
namespace {

using test::at;
using test::Story;
using test::word_on;

std::vector<Question> odd(Story& story, int day, std::string_view hh_mm) {
  std::vector<Question> found;
  for (Question& one : story.assess_at(day, hh_mm).questions) {
    if (one.id == "odd_reading") found.push_back(std::move(one));
  }
  return found;
}

std::vector<std::uint32_t> numbers(const std::vector<EntryId>& ids) {
  std::vector<std::uint32_t> all;
  for (const EntryId& id : ids) all.push_back(id.number);
  return all;
}

struct OddCase {
  const char* name;
  std::function<void(Story&)> tell;
  const char* what;                     // id of the message; empty: not odd
  std::vector<std::uint32_t> evidence;  // numbers of the entries: 1 is the cycle's start
};

// Worked by hand from the limits: 250 %, pH 6.5 to 10, 25 cm and 5 cm a day, three times running.
const OddCase kCases[] = {
    {"pH10", [](Story& s) { s.water(1, "06:00", 5, 10.0); }, "", {}},
    {"pH10_1", [](Story& s) { s.water(1, "06:00", 5, 10.1); }, "finding.ph_unusual", {2}},
    {"pH6_4", [](Story& s) { s.water(1, "06:00", 5, 6.4); }, "finding.ph_unusual", {2}},
    // Fresh-to-brackish water of 28 C and salinity 20 holds about 7.0 mg/L: 2.5 times that is about 17.5.
    {"Oxygen17", [](Story& s) { s.water(1, "16:00", 17.0, 8); }, "", {}},
    {"Oxygen18_5", [](Story& s) { s.water(1, "16:00", 18.5, 8); }, "finding.do_above_saturation", {2}},
    {"Secchi25ADay", [](Story& s) { s.secchi(1, 50).secchi(2, 75); }, "", {}},
    {"Secchi26ADay", [](Story& s) { s.secchi(1, 50).secchi(2, 76); }, "finding.secchi_change", {2, 3}},
    {"Secchi26InTwoDays", [](Story& s) { s.secchi(1, 50).secchi(3, 76); }, "", {}},
    {"BottomBetween", [](Story& s) { s.secchi(1, 50).on_bottom(2, 60).secchi(2, 80, "12:30"); }, "", {}},
    {"LevelFalls5", [](Story& s) { s.level(1, "08:00", 90).level(2, "08:00", 85); }, "", {}},
    {"LevelFalls6",
     [](Story& s) { s.level(1, "08:00", 90).level(2, "08:00", 84); },
     "finding.level_fall",
     {2, 3}},
    {"LetOut",
     [](Story& s) { s.level(1, "08:00", 90).tell(1, "12:00", kind::kOutflow, {}).level(2, "08:00", 84); },
     "",
     {}},
    {"SameTwice", [](Story& s) { s.water(1, "06:00", 5, 8).water(1, "16:00", 5, 8.1); }, "", {}},
    {"SameThrice",
     [](Story& s) { s.water(1, "06:00", 5, 7.8).water(1, "16:00", 5, 8.1).water(2, "06:00", 5, 7.9); },
     "finding.same_value",
     {2, 3, 4}},
};

class Odd : public ::testing::TestWithParam<OddCase> {};

TEST_P(Odd, IsAskedAboutExactlyWhenTheTableSaysSo) {
  Story story;
  story.start();
  GetParam().tell(story);
  const std::vector<Question> found = odd(story, 3, "20:00");
  if (*GetParam().what == '\0') {
    EXPECT_TRUE(found.empty()) << found.front().what.id;
    return;
  }
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found.front().what.id, GetParam().what);
  EXPECT_EQ(numbers(found.front().evidence), GetParam().evidence);
}

INSTANTIATE_TEST_SUITE_P(Table, Odd, ::testing::ValuesIn(kCases),
                         [](const auto& each) { return std::string(each.param.name); });

TEST(OddReading, IsNotAskedAboutWhenItsDaysArePast) {
  Story story;
  story.start().water(1, "06:00", 5, 10.4);
  EXPECT_EQ(odd(story, 15, "20:00").size(), 1U);  // fourteen days after day 1
  EXPECT_EQ(odd(story, 16, "20:00").size(), 0U);
}

TEST(OddReading, AStuckMeterIsOneQuestionAboutAllOfItsReadings) {
  Story story;
  story.start();
  for (int day = 1; day <= 3; ++day)
    story.water(day, "06:00", 4.4, 7.5 + 0.1 * day).water(day, "16:00", 4.4, 8);
  const std::vector<Question> found = odd(story, 3, "20:00");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(numbers(found.front().asks), (std::vector<std::uint32_t>{2, 3, 4, 5, 6, 7}));
}

TEST(OddReading, ThatWasKeptIsAskedAboutOnlyWhenItsRunGoesOn) {
  Story story;
  story.start().water(1, "06:00", 5, 7.8).water(1, "16:00", 5, 8.1).water(2, "06:00", 5, 7.9);
  for (const std::uint32_t number : {2U, 3U, 4U}) word_on(story, number, "reading", 2, "10:00");
  EXPECT_TRUE(odd(story, 2, "12:00").empty());
  story.water(2, "16:00", 5, 8.2);
  const std::vector<Question> found = odd(story, 2, "20:00");
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(numbers(found.front().asks), (std::vector<std::uint32_t>{8}));
  EXPECT_EQ(numbers(found.front().evidence), (std::vector<std::uint32_t>{2, 3, 4, 8}));
}

TEST(LeftOut, CountsForNothingAsIfItHadBeenTakenBack) {
  const Story whole = test::whole_cycle();
  for (std::uint32_t number = 1; number <= whole.told.size(); ++number) {
    const auto& one = whole.told[number - 1];
    if (!is_reading(one.kind)) continue;
    Story out = whole;
    word_on(out, number, "none", 9, "22:00");
    Story taken_back = whole;
    test::silence(taken_back, number);
    for (const int day : {1, 3, 5, 8, 9, 20}) {
      EXPECT_EQ(test::told_of(out.assess_at(day, "23:00")), test::told_of(taken_back.assess_at(day, "23:00")))
          << "entry " << number << ", " << one.kind << ", on day " << day;
    }
  }
}

TEST(LeftOut, IsKeptInSightWithTheDecision) {
  Story story = test::whole_cycle();
  story.told.clear();
  story.start().secchi(1, 50);
  word_on(story, 2, "none", 2, "09:00");
  const PondHistory history = story.history();
  ASSERT_EQ(history.left_out.size(), 1U);
  EXPECT_EQ(history.left_out.front().entry->id.number, 2U);
  EXPECT_EQ(history.left_out.front().decision->id.number, 3U);
  EXPECT_TRUE(history.secchi.empty());
}

TEST(LeftOut, ComesBackWithALaterWord) {
  Story story;
  story.start().secchi(1, 50);
  word_on(story, 2, "none", 2, "09:00");
  word_on(story, 2, "reading", 2, "10:00");
  EXPECT_EQ(story.history().secchi.size(), 1U);
  EXPECT_TRUE(story.history().left_out.empty());
}

TEST(LeftOut, NeedsAReadingOfTheSamePond) {
  Story story;
  story.start().dose(1, 25).decide(1, "09:00", 1, true);
  word_on(story, 2, "none", 2, "09:00");
  word_on(story, 3, "none", 2, "09:00");
  EXPECT_EQ(story.history().doses.size(), 1U);
  EXPECT_EQ(story.history().gate_decisions.size(), 1U);
  story.secchi(1, 50);
  word_on(story, 6, "none", 2, "09:00", "p2");
  EXPECT_EQ(story.history().secchi.size(), 1U);
}

}  // namespace
}  // namespace tawny
