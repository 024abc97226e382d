// Needs and orders, worked by hand on a pond of one hectare that waits for its first dose on 10 March.
#include "office/order.h"

#include <gtest/gtest.h>

#include "core/farm/parts.h"
#include "logbook/kinds.h"

namespace tawny {
namespace {

using farm_test::clock;

constexpr const char* kNitrate = "sodium_nitrate";

CivilDay march(int day) { return civil_day_of({2026, 3, 1})->plus(day - 1); }

Farm farm_with(std::vector<FarmPond> ponds) {
  Farm farm = farm_test::farm_of(std::move(ponds), clock("12:00"));
  FarmProduct product;
  product.product = kNitrate;
  farm.products = {product};
  return farm;
}

std::vector<StockNeed> needs(const Farm& farm, const std::vector<CycleAhead>& ahead = {}) {
  return needs_of_ponds(farm, farm_test::protocol(), farm.at, ahead);
}

struct Sums {
  double least = 0, expected = 0, most = 0;
};
Sums sums(const std::vector<StockNeed>& all) {
  Sums sum;
  for (const StockNeed& need : all) {
    sum.least += need.least_kg;
    sum.expected += need.expected_kg;
    sum.most += need.most_kg;
  }
  return sum;
}

// First dose on the 10th: 25 kg, give or take 10 %. Bloom 3 days, to the 13th; third fill 2, band 4, release 2
// days, early cycle 4 weeks: to 18 April, which is 49 March. Holding doses before that:
//   least     10 kg every 14 days after the first dose: 24, 38                       2 x 10 =  20
//   expected  15 kg every  7 days:                      17, 24, 31, 38, 45           5 x 15 =  75
//   most      20 kg every  3 days:                      13, 16, ... 46              12 x 20 = 240
TEST(Needs, OfAPondThatWaitsForItsFirstDose) {
  const Farm farm = farm_with({farm_test::pond_in(Stage::first_dose)});
  const std::vector<StockNeed> all = needs(farm);
  ASSERT_FALSE(all.empty());
  EXPECT_EQ(all.front().what, StockNeed::What::first_dose);
  EXPECT_EQ(all.front().day, march(10));
  EXPECT_EQ(all.front().product, kNitrate);
  const Sums sum = sums(all);
  EXPECT_NEAR(sum.least, 22.5 + 20, 1e-9);
  EXPECT_NEAR(sum.expected, 25 + 75, 1e-9);
  EXPECT_NEAR(sum.most, 27.5 + 240, 1e-9);
  EXPECT_EQ(all.back().day, march(46));
}

// 8 March + 7 days of drying: 15 March. Nothing was broadcast on this farm: the middle of 25 and 200 is 112.5.
TEST(Needs, OfABottomTheBroadcastToo) {
  const std::vector<StockNeed> all = needs(farm_with({farm_test::pond_in(Stage::bottom)}));
  EXPECT_EQ(all.front().what, StockNeed::What::broadcast);
  EXPECT_EQ(all.front().day, march(15));
  EXPECT_NEAR(all.front().least_kg, 25, 1e-9);
  EXPECT_NEAR(all.front().expected_kg, 112.5, 1e-9);
  EXPECT_NEAR(all.front().most_kg, 200, 1e-9);
  // Fill 2, rest 2, fill 2 days: the first dose on the 21st.
  EXPECT_EQ(all[1].what, StockNeed::What::first_dose);
  EXPECT_EQ(all[1].day, march(21));
}

TEST(Needs, TheFarmsOwnBroadcastsAreTheExpectedOnes) {
  std::vector<FarmPond> ponds = {farm_test::pond_in(Stage::bottom), farm_test::pond_in(Stage::rest, "p2", 2),
                                 farm_test::pond_in(Stage::rest, "p3", 3)};
  for (std::size_t i = 1; i < ponds.size(); ++i) {
    auto broadcast = farm_test::at<SoilBroadcast>(clock("08:00", -5));
    broadcast.product = kNitrate;
    broadcast.product_kg = i == 1 ? 60 : 70;
    ponds[i].history.broadcasts.push_back(broadcast);
  }
  const std::vector<StockNeed> all = needs(farm_with(std::move(ponds)));
  for (const StockNeed& need : all) {
    if (need.what != StockNeed::What::broadcast) continue;
    EXPECT_NEAR(need.expected_kg, 65, 1e-9);
  }
}

TEST(Needs, APondThatIsFinishedOrInNoCycleNeedsNothing) {
  FarmPond done = farm_test::pond_in(Stage::early_cycle);
  done.state.finished = true;
  FarmPond idle = farm_test::pond_in(Stage::bottom, "p2", 2);
  idle.state.in_cycle = false;
  EXPECT_TRUE(needs(farm_with({done, idle})).empty());
}

TEST(Needs, ACycleAheadHasAllOfThem) {
  FarmPond idle = farm_test::pond_in(Stage::bottom);
  idle.state.in_cycle = false;
  const std::vector<StockNeed> all = needs(farm_with({idle}), {{"p1", march(20)}});
  EXPECT_EQ(all.front().what, StockNeed::What::broadcast);
  EXPECT_EQ(all.front().day, march(20));
  EXPECT_EQ(all[1].day, march(26));
  EXPECT_NEAR(sums(all).expected, 112.5 + 25 + 75, 1e-9);
}

TEST(Needs, GoByTheProductOfThePond) {
  FarmPond pond = farm_test::pond_in(Stage::hold_band);
  auto dose = farm_test::at<DoseRecord>(clock("07:00", -4));
  dose.product = "calcium_nitrate_fertilizer";
  dose.product_kg = 15;
  dose.started = dose.ended = dose.at;
  pond.history.doses.push_back(dose);
  Farm farm = farm_with({pond});
  EXPECT_EQ(needs(farm).front().product, kNitrate) << "that product is not in use";
  FarmProduct other;
  other.product = dose.product;
  farm.products.push_back(other);
  EXPECT_EQ(needs(farm).front().product, dose.product);
}

StockBook book_with(double on_hand_kg) {
  StockBook book;
  ProductStock product;
  product.product = kNitrate;
  product.on_hand_kg = on_hand_kg;
  product.bag_kg = 25;
  book.products.push_back(product);
  return book;
}

// 60 kg on hand, 6 days from order to delivery; the needs as above.
//   expected  10th 35, 17th 20, 24th 5, 31st -10, 38th -25, 45th -40: order 2 bags by the 25th
//   least     60 - 42.5 = 17.5 left
//   most      10th 32.5, 13th 12.5, 16th -7.5 ... 60 - 267.5 = -207.5: order 9 bags by the 10th
TEST(Orders, AreAdvisedAsWorkedByHand) {
  const Farm farm = farm_with({farm_test::pond_in(Stage::first_dose)});
  const auto outlooks = look_at_orders(book_with(60), needs(farm), march(10), 6);
  ASSERT_EQ(outlooks.size(), 1U);
  const ProductOutlook& outlook = outlooks.front();
  EXPECT_FALSE(outlook.least);
  ASSERT_TRUE(outlook.expected);
  EXPECT_EQ(outlook.expected->short_on, march(31));
  EXPECT_EQ(outlook.expected->order_by, march(25));
  EXPECT_EQ(outlook.expected->bags, 2);
  EXPECT_NEAR(outlook.expected->product_kg, 40, 1e-9);
  EXPECT_FALSE(outlook.expected->late);
  ASSERT_TRUE(outlook.most);
  EXPECT_EQ(outlook.most->order_by, march(10));
  EXPECT_EQ(outlook.most->bags, 9);
  EXPECT_NEAR(outlook.lowest_kg, -40, 1e-9);
  EXPECT_EQ(outlook.lowest_on, march(45));
  // Ten days from order to delivery: the most would have had to be ordered on the 6th.
  EXPECT_TRUE(look_at_orders(book_with(60), needs(farm), march(10), 10).front().most->late);
}

TEST(Orders, OnTheirWayCountFromTheirDayAndNotOnceThatIsPast) {
  const Farm farm = farm_with({farm_test::pond_in(Stage::first_dose)});
  StockBook book = book_with(60);
  StockOrder order;
  order.order = "a";
  order.product = kNitrate;
  order.ordered_kg = 50;
  order.expected_on = march(20);
  book.orders.push_back(order);
  EXPECT_FALSE(look_at_orders(book, needs(farm), march(10), 6).front().expected) << "60 + 50 - 100";
  EXPECT_TRUE(overdue_orders(book, march(10)).empty());
  book.orders.front().expected_on = march(9);
  EXPECT_TRUE(look_at_orders(book, needs(farm), march(10), 6).front().expected);
  EXPECT_EQ(overdue_orders(book, march(10)).size(), 1U);
  book.orders.front().expected_on = march(40);
  EXPECT_EQ(look_at_orders(book, needs(farm), march(10), 6).front().expected->short_on, march(31))
      << "it comes too late for the 31st";
}

TEST(Orders, WhatWasNeededBeforeAndIsNotUsedIsNeededToday) {
  StockNeed need;
  need.product = kNitrate;
  need.day = march(4);
  need.least_kg = need.expected_kg = need.most_kg = 70;
  const ProductOutlook outlook = look_at_orders(book_with(60), {need}, march(10), 6).front();
  ASSERT_EQ(outlook.days.size(), 1U) << "no day lies before today";
  EXPECT_EQ(outlook.days.front().day, march(10));
  ASSERT_TRUE(outlook.expected);
  EXPECT_EQ(outlook.expected->short_on, march(10));
}

TEST(Orders, AreNotOverdueOnTheDayTheyAreExpected) {
  StockBook book = book_with(60);
  StockOrder order;
  order.order = "a";
  order.product = kNitrate;
  order.ordered_kg = 50;
  order.expected_on = march(10);
  book.orders.push_back(order);
  EXPECT_TRUE(overdue_orders(book, march(10)).empty());
  EXPECT_EQ(overdue_orders(book, march(11)).size(), 1U);
}

TEST(Orders, OfAStockThatIsShortNowAreLate) {
  const auto outlooks = look_at_orders(book_with(-10), {}, march(10), 6);
  ASSERT_TRUE(outlooks.front().expected);
  EXPECT_TRUE(outlooks.front().expected->late);
  EXPECT_EQ(outlooks.front().expected->bags, 1);
}

}  // namespace
}  // namespace tawny
