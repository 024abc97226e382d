#include "outlook/outlook_says.h"

#include <gtest/gtest.h>

#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

DoseOutlook five_days(double median_cm, std::initializer_list<double> in_band, double under_floor = 0.02) {
  DoseOutlook dose;
  for (const double chance : in_band) {
    SecchiForecast day;
    day.day = CivilDay{20000 + static_cast<int>(dose.days.size())};
    day.low_cm = median_cm - 8;
    day.median_cm = median_cm;
    day.high_cm = median_cm + 8;
    day.in_band = chance;
    dose.days.push_back(day);
  }
  dose.most_under_floor = under_floor;
  return dose;
}

Quantity percent(double value) { return {value, 0, "percent"}; }

// Mastrandrea et al. 2010, table 1: likely 66-100 %, about as likely as not 33-66 %, very likely 90-100 %.
TEST(OutlookSays, AChanceHasItsWordFromThePublishedScale) {
  EXPECT_EQ(class_of(0.90, priors()), ChanceClass::very_likely);
  EXPECT_EQ(class_of(0.89, priors()), ChanceClass::likely);
  EXPECT_EQ(class_of(0.66, priors()), ChanceClass::likely);
  EXPECT_EQ(class_of(0.65, priors()), ChanceClass::even);
  EXPECT_EQ(class_of(0.33, priors()), ChanceClass::even);
  EXPECT_EQ(class_of(0.32, priors()), ChanceClass::unlikely);
  EXPECT_EQ(risk_of(0.09, priors()), RiskClass::small);
  EXPECT_EQ(risk_of(0.10, priors()), RiskClass::some);
  EXPECT_EQ(risk_of(0.33, priors()), RiskClass::high);
}

TEST(OutlookSays, NoChanceIsNothingOrCertain) {
  EXPECT_EQ(chance_percent(0), percent(1));
  EXPECT_EQ(chance_percent(1), percent(99));
  EXPECT_EQ(chance_percent(0.725), percent(73));
}

TEST(OutlookSays, TheFirstDayOfTheBestClassIsTold) {
  const DoseOutlook dose = five_days(50, {0.4, 0.7, 0.89, 0.68, 0.5});
  const Message said = band_message(dose, band_rules(), priors());
  EXPECT_EQ(said.id, "outlook.band.likely");
  EXPECT_EQ(std::get<CivilDay>(*said.find("day")), dose.days[1].day);
  EXPECT_EQ(std::get<Quantity>(*said.find("chance")), percent(70));
}

TEST(OutlookSays, WhereTheBandIsUnlikelyTheSideIsTold) {
  EXPECT_EQ(band_message(five_days(70, {0.1, 0.1, 0.1, 0.1, 0.1}), band_rules(), priors()).id,
            "outlook.band.clearer");
  EXPECT_EQ(band_message(five_days(38, {0.1, 0.1, 0.1, 0.1, 0.1}), band_rules(), priors()).id,
            "outlook.band.denser");
}

TEST(OutlookSays, TheProtocolSaysWhatItAdvisesAllowsOrForbids) {
  DoseAdvice advice;
  advice.least_kg_ha = 10;
  advice.most_kg_ha = 20;
  EXPECT_EQ(protocol_message(advice).id, "outlook.protocol.none");
  advice.allowed = true;
  EXPECT_EQ(protocol_message(advice).id, "outlook.protocol.allowed");
  advice.advised = true;
  advice.rate_kg_ha = 12.5;
  const Message said = protocol_message(advice);
  EXPECT_EQ(said.id, "outlook.protocol.advised");
  EXPECT_EQ(std::get<Quantity>(*said.find("rate")), (Quantity{12.5, 1, "kg_ha"}));
}

TEST(OutlookSays, NoAdviceTellsWhatIsMissing) {
  Outlook outlook;
  EXPECT_EQ(no_advice_message(outlook, 2, priors())->id, "outlook.no_advice.few");
  outlook.enough_readings = true;
  EXPECT_EQ(no_advice_message(outlook, 5, priors())->id, "outlook.no_advice.wide");
  outlook.advice = true;
  EXPECT_FALSE(no_advice_message(outlook, 5, priors()));
  EXPECT_FALSE(suggestion_message(outlook));
}

TEST(OutlookSays, ABadRecordIsToldAsPlainlyAsAGoodOne) {
  OutlookScore score;
  EXPECT_EQ(tally_message(score).id, "outlook.tally.none");
  score.judged = 20;
  score.covered = 0.8;
  score.crps_cm = 3;
  score.persistence_crps_cm = 4;
  EXPECT_EQ(tally_message(score).id, "outlook.tally.better");
  EXPECT_EQ(std::get<Quantity>(*tally_message(score).find("skill")), percent(25));
  score.crps_cm = 5;
  EXPECT_EQ(tally_message(score).id, "outlook.tally.worse");
  EXPECT_EQ(std::get<Quantity>(*tally_message(score).find("skill")), percent(25));
}

TEST(OutlookSays, OfABookedDayTheChanceWithoutADoseIsTold) {
  Outlook outlook;
  outlook.doses = {five_days(50, {0.4, 0.7, 0.8, 0.6, 0.5}), five_days(50, {0.9, 0.9, 0.9, 0.9, 0.9})};
  const CivilDay third = outlook.doses[0].days[2].day;
  EXPECT_FALSE(booked_day_message(outlook, third));
  outlook.advice = true;
  EXPECT_EQ(std::get<Quantity>(*booked_day_message(outlook, third)->find("chance")), percent(80));
  EXPECT_FALSE(booked_day_message(outlook, third.plus(3)));
}

TEST(OutlookSays, AnEffectIsToldBesideNoDose) {
  const Message said = effect_message(five_days(46, {0.5}), five_days(58, {0.5}));
  EXPECT_EQ(std::get<Quantity>(*said.find("secchi")), (Quantity{46, 0, "cm"}));
  EXPECT_EQ(std::get<Quantity>(*said.find("without")), (Quantity{58, 0, "cm"}));
}

// protocol.md, "crash": dusk pair tonight, aeration ready.
TEST(OutlookSays, ADawnAtRiskAsksForTheDuskPairUnlessItIsThere) {
  DawnOutlook dawn;
  dawn.under_floor = priors().dawn.risk_high;
  EXPECT_FALSE(is_dawn_at_risk(dawn, priors()));
  dawn.under_floor += 0.01;
  EXPECT_TRUE(is_dawn_at_risk(dawn, priors()));
  EXPECT_EQ(dawn_checks(dawn).front().id, "trouble.crash.check.dusk_pair");
  dawn.way = DawnWay::two_dusk;
  EXPECT_EQ(dawn_checks(dawn).front().id, "trouble.crash.check.aeration");
}

}  // namespace
}  // namespace tawny
