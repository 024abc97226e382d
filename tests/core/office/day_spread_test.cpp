#include "office/day_spread.h"

#include <gtest/gtest.h>

#include <cmath>

namespace tawny {
namespace {

TEST(DaySpread, DaysForCertainAreThoseDays) {
  const DaySpread three = DaySpread::exactly(3);
  EXPECT_EQ(three.days_for(0.1), 3);
  EXPECT_EQ(three.days_for(0.9), 3);
  EXPECT_EQ(three.chance_within(2.75), 0);
  EXPECT_EQ(three.chance_within(3), 1);
  EXPECT_TRUE(three.sure_within(3));
  EXPECT_FALSE(three.sure_within(2));
  EXPECT_EQ(three.plus(DaySpread::exactly(0.25)).days_for(0.5), 3.25);
}

// 90 % of a normal law lie under 1.2816 (any table of it); median 10 and late 16 days: sigma = ln 1.6 / 1.2816.
TEST(DaySpread, TheLateDayIsEnoughNineOfTenTimes) {
  const double sigma = sigma_of(10, 16);
  EXPECT_NEAR(sigma, 0.36674, 1e-5);
  const DaySpread spread = DaySpread::log_normal(10, sigma, 0);
  EXPECT_EQ(spread.days_for(0.5), 10);
  EXPECT_EQ(spread.days_for(0.9), 16);
  // Up to the middle between 7 and 7.25 days: z = ln 0.7125 / 0.36674 = -0.9244, whose share is 0.1776.
  EXPECT_NEAR(spread.chance_within(7), 0.1776, 1e-4);
}

TEST(DaySpread, TheLeastDaysAreNeverUndercut) {
  const DaySpread spread = DaySpread::log_normal(10, sigma_of(10, 16), 7);
  EXPECT_EQ(spread.least_d(), 7);
  EXPECT_EQ(spread.chance_within(6.75), 0);
  EXPECT_NEAR(spread.chance_within(7), 0.1776, 1e-4) << "what would be shorter is seven days";
  EXPECT_EQ(DaySpread::log_normal(2, 0, 7).days_for(0.5), 7);
  EXPECT_EQ(DaySpread::exactly(1).at_least(1.1).least_d(), 1.25) << "up to the next quarter day";
}

// Two dice of quarter days: shares 1/2 of 1 and 2 days each give 1/4, 1/2, 1/4 of 2, 3 and 4 days.
TEST(DaySpread, SumsFoldTheShares) {
  const DaySpread one = DaySpread::log_normal(8, sigma_of(8, 14), 3);
  const DaySpread sum = one.plus(one);
  double share = 0;
  for (double days = 0; days <= 40; days += 0.25) {
    const double first = one.chance_within(days) - one.chance_within(days - 0.25);
    share += first * one.chance_within(20 - days);
  }
  EXPECT_NEAR(sum.chance_within(20), share, 1e-9);
  EXPECT_EQ(sum.least_d(), 6);
}

TEST(DaySpread, WhatMayTakeLongerIsNeverCertain) {
  const DaySpread spread = DaySpread::log_normal(8, sigma_of(8, 14), 3);
  EXPECT_FALSE(spread.sure_within(390));
  EXPECT_FALSE(spread.plus(DaySpread::exactly(2)).sure_within(390));
}

// P(X > 9.125 + ...) / P(X > 6), X log-normal with median 8 and sigma 0.43665 (late 14):
//   z(6) = ln 0.75 / 0.43665 = -0.65885, above it 0.74500; z(9.125) = ln 1.140625 / 0.43665 = 0.30132, above it
//   0.38158. After six days three more are enough (to the middle after them) in
//   1 - 0.38158 / 0.74500 = 0.48781.
TEST(DaySpread, DaysThatWerePassedCountForWhatIsLeft) {
  const DaySpread left = DaySpread::log_normal_after(8, sigma_of(8, 14), 3, 6);
  EXPECT_NEAR(left.chance_within(3), 0.48781, 2e-5);
  // Before the least is over nothing is known but the days that passed.
  const DaySpread early = DaySpread::log_normal_after(8, sigma_of(8, 14), 3, 2);
  EXPECT_EQ(early.least_d(), 1);
  EXPECT_NEAR(early.chance_within(6), DaySpread::log_normal(8, sigma_of(8, 14), 3).chance_within(8), 1e-9);
  EXPECT_EQ(DaySpread::log_normal_after(8, sigma_of(8, 14), 3, 0).days_for(0.5), 8);
}

TEST(DaySpread, AStageFarOverItsTimeMayEndAnyDay) {
  const DaySpread left = DaySpread::log_normal_after(2, 0.01, 0, 300);
  EXPECT_GT(left.days_for(0.5), 0);
  EXPECT_TRUE(std::isfinite(left.chance_within(10)));
}

}  // namespace
}  // namespace tawny
