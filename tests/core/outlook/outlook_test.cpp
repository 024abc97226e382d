#include "outlook/outlook.h"

#include <gtest/gtest.h>

#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

Outlook looked(BloomRecord record, OutlookRun::Size size = {1000, 200}) {
  OutlookRun run(std::move(record), band_rules(), priors(), tropical_place(), size);
  while (!run.step()) continue;
  return run.outlook();
}

TEST(Outlook, TheSameEntriesGiveTheSameAnswer) {
  const Outlook one = looked(made_pond(4, 20, 0).record);
  const Outlook two = looked(made_pond(4, 20, 0).record);
  ASSERT_EQ(one.doses.size(), two.doses.size());
  for (std::size_t i = 0; i < one.doses.size(); ++i) {
    for (int day = 0; day < kOutlookDays; ++day) {
      EXPECT_EQ(one.doses[i].days[static_cast<std::size_t>(day)].median_cm,
                two.doses[i].days[static_cast<std::size_t>(day)].median_cm);
    }
  }
  EXPECT_EQ(one.score.crps_cm, two.score.crps_cm);
}

TEST(Outlook, TellsOfNoDoseTheLeastAndTheMostForFiveDays) {
  const Outlook outlook = looked(made_pond(4, 20, 0).record);
  ASSERT_EQ(outlook.doses.size(), 3U);
  EXPECT_EQ(outlook.doses[0].rate_kg_ha, 0);
  EXPECT_EQ(outlook.doses[1].rate_kg_ha, 10);
  EXPECT_EQ(outlook.doses[2].rate_kg_ha, 20);
  for (const DoseOutlook& dose : outlook.doses) {
    ASSERT_EQ(dose.days.size(), static_cast<std::size_t>(kOutlookDays));
    for (std::size_t i = 0; i < dose.days.size(); ++i) {
      const SecchiForecast& day = dose.days[i];
      EXPECT_EQ(day.day, outlook.from.plus(static_cast<int>(i) + 1));
      EXPECT_LT(day.low_cm, day.median_cm);
      EXPECT_LT(day.median_cm, day.high_cm);
      EXPECT_GE(day.in_band, 0);
      EXPECT_LE(day.in_band + day.under_floor, 1 + 1e-12);
    }
  }
}

TEST(Outlook, MoreNitrogenNeverClearsTheWater) {
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    const Outlook outlook = looked(made_pond(seed, 20, 0).record, {500, 0});
    for (std::size_t day = 0; day < static_cast<std::size_t>(kOutlookDays); ++day) {
      EXPECT_LE(outlook.doses[2].days[day].median_cm, outlook.doses[1].days[day].median_cm + 1e-9) << seed;
      EXPECT_LE(outlook.doses[1].days[day].median_cm, outlook.doses[0].days[day].median_cm + 1e-9) << seed;
    }
  }
}

TEST(Outlook, GivesNoAdviceBeforeThreeReadingsAndNamesTheReadingThatHelps) {
  BloomRecord record = made_pond(4, 20, 0).record;
  int kept = 0;
  for (BloomDay& day : record.days) {
    if (day.secchi && ++kept > 2) day.secchi.reset();
    day.do_swing_mg_l.reset();
  }
  const Outlook outlook = looked(record);
  EXPECT_FALSE(outlook.enough_readings);
  EXPECT_FALSE(outlook.advice);
  EXPECT_FALSE(outlook.suggested);
  EXPECT_EQ(outlook.helps_most, HelpfulReading::secchi);
  EXPECT_GT(outlook.helps_share, 0.2);
}

TEST(Outlook, HasLearnedNothingWhereNothingWasRead) {
  BloomRecord record = made_pond(4, 20, 0).record;
  for (BloomDay& day : record.days) {
    day.secchi.reset();
    day.do_swing_mg_l.reset();
  }
  EXPECT_NEAR(looked(record).learned, 0, 0.1);
}

TEST(Outlook, NeverSuggestsADoseThatMayDriveThePondUnderTheFloor) {
  int suggested = 0;
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    const Outlook outlook = looked(made_pond(seed, 20, 0).record, {500, 0});
    if (!outlook.suggested) continue;
    ++suggested;
    const DoseOutlook& dose = outlook.doses[*outlook.suggested];
    if (dose.rate_kg_ha > 0) {
      EXPECT_LT(dose.most_under_floor, priors().floor_risk_high) << seed;
    }
  }
  EXPECT_GT(suggested, 10);
}

TEST(Outlook, SuggestsNothingWhereNoDoseMayBeGiven) {
  OutlookRules rules = band_rules();
  rules.least_kg_ha.reset();
  rules.most_kg_ha.reset();
  OutlookRun run(made_pond(4, 20, 0).record, rules, priors(), tropical_place(), {500, 0});
  while (!run.step()) continue;
  EXPECT_EQ(run.outlook().doses.size(), 1U);
  EXPECT_FALSE(run.outlook().suggested);
}

// A reading with its decimal mark forgotten.
TEST(Outlook, OneWildReadingDoesNotTurnThePondRound) {
  BloomRecord record = made_pond(4, 20, 0).record;
  const double before = looked(record, {1000, 0}).doses[0].days[0].median_cm;
  ASSERT_TRUE(record.days.back().secchi);
  record.days.back().secchi->secchi_cm *= 10;
  record.days.back().secchi->more_than = false;
  EXPECT_NEAR(looked(record, {1000, 0}).doses[0].days[0].median_cm / before, 1, 0.25);
}

TEST(OutlookPriors, RefuseWhatCannotBe) {
  EXPECT_FALSE(parse_outlook_priors("{"));
  EXPECT_FALSE(parse_outlook_priors("{}"));
  std::string text(assets::find("outlook.json"));
  // The embedded text has no blanks.
  const std::string low = "\"low\":0.1,\"high\":1,";
  ASSERT_NE(text.find(low), std::string::npos);
  text.replace(text.find(low), low.size(), "\"low\":0.5,\"high\":1,");
  const auto refused = parse_outlook_priors(text);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().message.id, "problem.outlook_row");
}

}  // namespace
}  // namespace tawny
