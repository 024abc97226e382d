#include "protocol/check_entry.h"

#include <gtest/gtest.h>

#include "core/protocol/story.h"

namespace tawny {
namespace {

using test::at;
using test::Story;
using test::whole_cycle;

constexpr auto kRefused = Finding::Weight::refused;
constexpr auto kQuestioned = Finding::Weight::questioned;

struct Row {
  const char* name;
  std::string_view kind;
  Values values;
  const char* message;  // null: nothing to find
  Finding::Weight weight = kRefused;
};

void PrintTo(const Row& one, std::ostream* out) { *out << one.name; }

// Day 8, 15:00: the level is 96 cm of 120, Secchi was 52 cm three hours ago, DO 5.0 at dawn.
std::vector<Finding> check(const Draft& draft, Story story = whole_cycle()) {
  const PondHistory history = story.history();
  return check_entry(draft, history, test::protocol(), test::place(), at(8, "15:00"));
}

Draft draft_of(std::string_view kind_name, Values values, Instant observed = at(8, "15:00")) {
  Draft draft;
  draft.kind = kind_name;
  draft.pond = "p1";
  draft.who = "ana";
  draft.observed = observed;
  draft.values = std::move(values);
  return draft;
}

Story until_day_8() {
  Story story = whole_cycle();
  story.told.erase(
      std::remove_if(story.told.begin(), story.told.end(), [](const test::Told& one) { return one.day > 8; }),
      story.told.end());
  return story;
}

class CheckEntry : public ::testing::TestWithParam<Row> {};

TEST_P(CheckEntry, FindsWhatCannotBeAndAsksAboutWhatIsUnlikely) {
  const Row& row = GetParam();
  const std::vector<Finding> findings = check(draft_of(row.kind, row.values), until_day_8());
  if (row.message == nullptr) {
    EXPECT_TRUE(findings.empty()) << findings[0].message.id;
    return;
  }
  const auto found = std::find_if(findings.begin(), findings.end(),
                                  [&](const Finding& one) { return one.message.id == row.message; });
  ASSERT_NE(found, findings.end());
  EXPECT_EQ(static_cast<int>(found->weight), static_cast<int>(row.weight));
}

struct Slip {
  const char* name;
  std::string_view kind;
  Values values;
  std::optional<double> likely;
};

class LikelyValue : public ::testing::TestWithParam<Slip> {};

TEST_P(LikelyValue, IsOfferedWhereThereIsOne) {
  const Slip& row = GetParam();
  const std::vector<Finding> findings = check(draft_of(row.kind, row.values), until_day_8());
  ASSERT_FALSE(findings.empty());
  ASSERT_EQ(findings[0].likely.has_value(), row.likely.has_value());
  if (row.likely) {
    EXPECT_NEAR(*findings[0].likely, *row.likely, 1e-9);
  }
}

INSTANTIATE_TEST_SUITE_P(
    Slips, LikelyValue,
    ::testing::Values(Slip{"a pH without its mark", kind::kWaterReading, {{"ph", 82.0}}, 8.2},
                      Slip{
                          "a pH without its mark, of two decimals", kind::kWaterReading, {{"ph", 815.0}}, 8.15},
                      Slip{"82 F", kind::kWaterReading, {{"temperature_c", 82.4}}, 28.0},
                      Slip{"a Secchi in metres",
                           kind::kSecchiReading,
                           {{"secchi_vanish_cm", 0.45}, {"secchi_return_cm", 0.45}},
                           45.0},
                      Slip{"a level without its mark", kind::kLevelReading, {{"level_cm", 955.0}}, 95.5},
                      Slip{"a level in metres", kind::kLevelReading, {{"level_cm", 0.95}}, 95.0},
                      Slip{"a temperature under the ice", kind::kWaterReading, {{"temperature_c", -3.0}}, {}}),
    [](const auto& info) {
      std::string name = info.param.name;
      std::replace_if(
          name.begin(), name.end(), [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); }, '_');
      return name;
    });

// Water of 25 degrees and salinity 20 holds 7.36 mg/L against the air (Garcia and Gordon 1992, as in science).
TEST(LikelyOxygen, IsTheShareOfWhatTheWaterHolds) {
  const std::vector<Finding> findings =
      check(draft_of(kind::kWaterReading, {{"do_mg_l", 95.0}, {"temperature_c", 25.0}, {"salinity", 20.0}}),
            until_day_8());
  ASSERT_FALSE(findings.empty());
  ASSERT_TRUE(findings[0].likely);
  EXPECT_NEAR(*findings[0].likely, 0.95 * 7.36, 0.03);
}

Values dose_values(std::string product, double kg, Instant started, Instant ended) {
  return {{"product", std::move(product)},
          {"product_kg", kg},
          {"area_ha", 1.0},
          {"started", to_iso(started)},
          {"ended", to_iso(ended)},
          {"coverage", std::string("whole")},
          {"dissolved", true}};
}

Values with_override(Values values, std::string reason) {
  values["manager_override"] = true;
  values["reason"] = std::move(reason);
  return values;
}

Values walk_values(double kg) {
  return {{"walk", std::string("w")}, {"product", std::string("sodium_nitrate")},
          {"rate_kg_ha", kg},         {"area_ha", 1.0},
          {"product_kg", kg},         {"bins", 2.0}};
}

Values secchi(double vanish_cm, double return_cm) {
  return {{"secchi_vanish_cm", vanish_cm}, {"secchi_return_cm", return_cm}};
}

INSTANTIATE_TEST_SUITE_P(
    Limits, CheckEntry,
    ::testing::Values(
        // Refused: protocol, "Usable readings"
        Row{"DO under 0", kind::kWaterReading, {{"do_mg_l", -0.1}}, "finding.out_of_range"},
        Row{"DO 0 can be", kind::kWaterReading, {{"do_mg_l", 0.0}}, nullptr},
        Row{"DO over 40 looks like percent", kind::kWaterReading, {{"do_mg_l", 40.1}}, "finding.do_percent"},
        Row{"pH under 3", kind::kWaterReading, {{"ph", 2.9}}, "finding.out_of_range"},
        Row{"pH over 12", kind::kWaterReading, {{"ph", 12.1}}, "finding.out_of_range"},
        Row{"temperature over 45 looks like Fahrenheit",
            kind::kWaterReading,
            {{"temperature_c", 82.0}},
            "finding.fahrenheit"},
        Row{"temperature under 0", kind::kWaterReading, {{"temperature_c", -1.0}}, "finding.out_of_range"},
        Row{"salinity under 0", kind::kWaterReading, {{"salinity", -1.0}}, "finding.out_of_range"},
        Row{"salinity over 80", kind::kWaterReading, {{"salinity", 80.1}}, "finding.out_of_range"},
        Row{"Secchi in metres", kind::kSecchiReading, secchi(0.5, 0.48), "finding.metres"},
        Row{"Secchi over 400", kind::kSecchiReading, secchi(401, 399), "finding.out_of_range"},
        Row{"Secchi deeper than the water", kind::kSecchiReading, secchi(97, 95), "finding.secchi_too_deep"},
        Row{"Secchi deeper than the depth at the disc",
            kind::kSecchiReading,
            {{"secchi_vanish_cm", 62.0}, {"secchi_return_cm", 60.0}, {"depth_at_disc_cm", 48.0}},
            "finding.secchi_too_deep"},
        Row{"seen on the bottom without a depth",
            kind::kSecchiReading,
            {{"seen_on_bottom", true}},
            "finding.bottom_needs_depth"},
        Row{"level over the gauge", kind::kLevelReading, {{"level_cm", 120.5}}, "finding.off_gauge"},
        Row{"level under the gauge", kind::kLevelReading, {{"level_cm", -1.0}}, "finding.off_gauge"},
        Row{"half a Secchi pair", kind::kSecchiReading, {{"secchi_vanish_cm", 50.0}}, "finding.incomplete"},
        Row{"nothing typed", kind::kWaterReading, {}, "finding.incomplete"},
        Row{"ammonia under 0", kind::kWaterTest, {{"tan_mg_l", -0.1}}, "finding.negative"},
        Row{"more grabs with animals than grabs",
            kind::kBottomGrab,
            {{"grabs", 2.0}, {"grabs_with_animals", 3.0}},
            "finding.more_than_grabs"},
        // Questioned
        Row{"DO over 250 % of saturation",
            kind::kWaterReading,
            {{"do_mg_l", 18.0}, {"temperature_c", 30.0}, {"salinity", 20.0}},
            "finding.do_above_saturation",
            kQuestioned},
        Row{"DO under 250 % of saturation",
            kind::kWaterReading,
            {{"do_mg_l", 16.5}, {"temperature_c", 30.0}, {"salinity", 20.0}},
            nullptr},
        Row{"pH under 6.5", kind::kWaterReading, {{"ph", 6.4}}, "finding.ph_unusual", kQuestioned},
        Row{"pH over 10", kind::kWaterReading, {{"ph", 10.1}}, "finding.ph_unusual", kQuestioned},
        Row{"pH 10", kind::kWaterReading, {{"ph", 10.0}}, nullptr},
        Row{"Secchi 26 cm more in a day", kind::kSecchiReading, secchi(79, 77), "finding.secchi_change",
            kQuestioned},
        Row{"Secchi 25 cm more in a day", kind::kSecchiReading, secchi(78, 76), nullptr},
        Row{"Secchi in decimetres", kind::kSecchiReading, secchi(4.9, 4.7), "finding.unit", kQuestioned},
        Row{"level falls 5 cm a day", kind::kLevelReading, {{"level_cm", 85.0}}, nullptr},
        Row{"level falls more", kind::kLevelReading, {{"level_cm", 84.0}}, "finding.level_fall", kQuestioned},
        Row{"level in metres", kind::kLevelReading, {{"level_cm", 0.95}}, "finding.unit", kQuestioned},
        // Products and doses
        Row{"urea", kind::kDose, dose_values("urea", 10, at(8, "06:10"), at(8, "07:00")),
            "finding.product_forbidden"},
        Row{"urea without a reason", kind::kDose,
            with_override(dose_values("urea", 10, at(8, "06:10"), at(8, "07:00")), " "),
            "finding.product_forbidden"},
        Row{"urea by the manager", kind::kDose,
            with_override(dose_values("urea", 10, at(8, "06:10"), at(8, "07:00")), "was in the store"),
            "finding.product_by_manager", kQuestioned},
        Row{"molasses on the soil",
            kind::kSoilBroadcast,
            {{"product", std::string("molasses")}, {"product_kg", 10.0}},
            "finding.product_forbidden"},
        Row{"four days after the first dose", kind::kDose,
            dose_values("sodium_nitrate", 20, at(8, "06:10"), at(8, "07:00")), nullptr},
        Row{"20.1 kg/ha was spread", kind::kDose,
            dose_values("sodium_nitrate", 20.1, at(8, "06:10"), at(8, "07:00")), "finding.dose_too_large"},
        Row{"20.1 kg/ha was spread on the manager's word", kind::kDose,
            with_override(dose_values("sodium_nitrate", 20.1, at(8, "06:10"), at(8, "07:00")), "bags were wet"),
            "finding.dose_too_large", kQuestioned},
        Row{"an override without the manager's reason", kind::kDose,
            with_override(dose_values("sodium_nitrate", 20.1, at(8, "06:10"), at(8, "07:00")), ""),
            "finding.dose_too_large"},
        Row{"a dose of nothing", kind::kDose, dose_values("sodium_nitrate", 0, at(8, "06:10"), at(8, "07:00")),
            "finding.dose_of_nothing"},
        Row{"a dose that ends in the future", kind::kDose,
            dose_values("sodium_nitrate", 10, at(8, "14:30"), at(8, "15:30")), "finding.future"},
        Row{"20.1 kg/ha is planned", kind::kDoseWalkStart, walk_values(20.1), "finding.dose_too_large"},
        Row{"20.1 kg/ha is planned by the manager", kind::kDoseWalkStart,
            with_override(walk_values(20.1), "bags were wet"), "finding.dose_too_large", kQuestioned},
        Row{"ended before it started", kind::kDose,
            dose_values("sodium_nitrate", 20, at(8, "07:10"), at(8, "07:00")),
            "finding.ended_before_started"}));

TEST(CheckEntryTime, TheFutureAndTheTimeBeforeTheCycleAreRefused) {
  const Values level{{"level_cm", 96.0}};
  EXPECT_EQ(check(draft_of(kind::kLevelReading, level, at(8, "15:01")))[0].message.id, "finding.future");
  EXPECT_TRUE(check(draft_of(kind::kLevelReading, level, at(8, "15:00"))).empty());
  EXPECT_EQ(check(draft_of(kind::kLevelReading, level, at(0, "07:59")))[0].message.id, "finding.before_cycle");
  EXPECT_EQ(check(draft_of(kind::kLevelReading, level), Story())[0].message.id, "finding.no_cycle");
}

TEST(CheckEntrySame, TheSameValueThreeTimesRunningIsQuestioned) {
  Story story = until_day_8();
  story.tell(8, "14:00", kind::kWaterReading, {{"do_mg_l", 6.13}});
  const Draft draft = draft_of(kind::kWaterReading, {{"do_mg_l", 6.13}});
  EXPECT_TRUE(check(draft, story).empty());
  story.tell(8, "14:30", kind::kWaterReading, {{"do_mg_l", 6.13}});
  ASSERT_EQ(check(draft, story).size(), 1U);
  EXPECT_EQ(check(draft, story)[0].message.id, "finding.same_value");
  EXPECT_EQ(check(draft, story)[0].key, "do_mg_l");
}

TEST(CheckEntryDose, ASecondDoseInsideTheProtocolsDaysNeedsTheManager) {
  Story story = until_day_8();
  story.dose(6, 10);
  EXPECT_EQ(check(draft_of(kind::kDoseWalkStart, walk_values(10)), story)[0].message.id,
            "finding.dose_too_soon");
  EXPECT_EQ(check(draft_of(kind::kDoseWalkStart, walk_values(10)), story)[0].weight, kRefused);
  Values spread = dose_values("sodium_nitrate", 10, at(8, "06:10"), at(8, "07:00"));
  EXPECT_EQ(check(draft_of(kind::kDose, spread), story)[0].message.id, "finding.dose_too_soon");
  EXPECT_EQ(check(draft_of(kind::kDose, spread), story)[0].weight, kRefused);
  EXPECT_EQ(check(draft_of(kind::kDose, with_override(spread, "sky was right")), story)[0].weight, kQuestioned);
}

// While the boat was out, another phone's dose came in: what was spread goes on record all the same.
TEST(CheckEntryDose, TheEndOfAStartedWalkIsQuestionedAndNotRefused) {
  Story story = until_day_8();
  story.tell(8, "06:00", kind::kDoseWalkStart, walk_values(10)).dose(7, 10);
  Values spread = dose_values("sodium_nitrate", 10, at(8, "06:10"), at(8, "07:00"));
  spread["walk"] = std::string("w");
  EXPECT_EQ(check(draft_of(kind::kDose, spread), story)[0].message.id, "finding.dose_too_soon");
  EXPECT_EQ(check(draft_of(kind::kDose, spread), story)[0].weight, kQuestioned);
  spread["walk"] = std::string("another");
  EXPECT_EQ(check(draft_of(kind::kDose, spread), story)[0].weight, kRefused);
}

// A first dose that did not count (a part of the pond only) is followed by a first dose of full size.
TEST(CheckEntryDose, AsLongAsTheFirstDoseDoesNotCountTheNextIsOneToo) {
  Story story = until_day_8();
  story.told.erase(
      std::remove_if(story.told.begin(), story.told.end(), [](const test::Told& one) { return one.day > 4; }),
      story.told.end());
  story.set(4, kind::kDose, "coverage", std::string("part")).set(4, kind::kDose, "product_kg", 10.0);
  EXPECT_TRUE(check(draft_of(kind::kDoseWalkStart, walk_values(25), at(7, "06:10")), story).empty());
  EXPECT_EQ(check(draft_of(kind::kDoseWalkStart, walk_values(28), at(7, "06:10")), story)[0].message.id,
            "finding.dose_too_large");
}

TEST(CheckEntryCorrection, IsNotHeldAgainstWhatItCorrects) {
  Story story = until_day_8();
  story.dose(8, 10);
  const PondHistory history = story.history();
  Draft draft = draft_of(kind::kDose, dose_values("sodium_nitrate", 12, at(8, "06:10"), at(8, "07:00")));
  draft.corrects = to_reference(history.doses.back().entry->id);
  EXPECT_TRUE(check_entry(draft, history, test::protocol(), test::place(), at(8, "15:00")).empty());
}

TEST(CheckEntryOrder, RefusedComesBeforeQuestioned) {
  const auto findings = check(draft_of(kind::kWaterReading, {{"ph", 6.0}, {"salinity", 90.0}}), until_day_8());
  ASSERT_EQ(findings.size(), 2U);
  EXPECT_EQ(findings[0].weight, kRefused);
  EXPECT_EQ(findings[0].key, "salinity");
}

}  // namespace
}  // namespace tawny
