// What is on hand, worked by hand, and what holds whatever happened.
#include "office/stock.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "core/office/book.h"

namespace tawny {
namespace {

using test::at;
using test::Book;

constexpr const char* kNitrate = "sodium_nitrate";

struct StockStory : Book {
  StockStory() {
    pond(-29, "p1").pond(-29, "p2").start(-1, "one", "p1").start(-1, "one", "p2");
    tell(-28, "09:00", kind::kProductSetup,
         {{"product", std::string(kNitrate)}, {"bag_kg", 25.0}, {"price_per_kg", 0.8}, {"in_use", true}}, "");
  }
  StockStory& delivery(int day, double product_kg, std::optional<double> price = {}, std::string lot = {}) {
    Values values = {{"product", std::string(kNitrate)}, {"product_kg", product_kg}};
    if (price) values.emplace("price_per_kg", *price);
    if (!lot.empty()) values.emplace("lot", lot);
    tell(day, "10:00", kind::kStockDelivery, values, "");
    return *this;
  }
  StockStory& count(int day, double product_kg) {
    tell(day, "11:00", kind::kStockCount, {{"product", std::string(kNitrate)}, {"product_kg", product_kg}}, "");
    return *this;
  }
  StockStory& broadcast(int day, double product_kg, std::string pond_id) {
    tell(day, "14:00", kind::kSoilBroadcast, {{"product", std::string(kNitrate)}, {"product_kg", product_kg}},
         std::move(pond_id));
    return *this;
  }
  StockStory& dose(int day, double product_kg, std::string pond_id, std::string lot = {},
                   std::string_view hh_mm = "07:00") {
    Values values = {{"product", std::string(kNitrate)},
                     {"product_kg", product_kg},
                     {"bins", 2.0},
                     {"started", to_iso(at(day, hh_mm).plus_min(-60))},
                     {"ended", to_iso(at(day, hh_mm))},
                     {"coverage", std::string("whole")},
                     {"dissolved", true},
                     {"area_ha", 1.0}};
    if (!lot.empty()) values.emplace("lot", lot);
    tell(day, hh_mm, kind::kDose, values, std::move(pond_id));
    return *this;
  }
  StockBook read(int day) const {
    const Instant now = at(day, "20:00");
    return read_stock(logbook(), fold(now), now);
  }
  double on_hand(int day) const {
    const StockBook book = read(day);
    const ProductStock* product = book.product(kNitrate);
    return product == nullptr ? 0 : product->on_hand_kg;
  }
};

// By hand; the product's own price is 0.80.
//   day  what                                 on hand   cost
//   0    100 kg of lot A at 0.90                  100
//   1    broadcast 60 kg on p1                     40   60 x 0.90                     =  54.00
//   2    200 kg of lot B at 1.00                  240
//   3    dose 50 kg on p1                         190   40 x 0.90 + 10 x 1.00         =  46.00
//   4    counted 180: 10 less than reckoned       180
//   5    25 kg without lot and price              205
//   6    dose 185 kg on p2                         20   180 x 1.00 + 5 x 0.80         = 184.00
StockStory worked() {
  StockStory story;
  story.delivery(0, 100, 0.90, "A").broadcast(1, 60, "p1").delivery(2, 200, 1.00, "B").dose(3, 50, "p1");
  story.count(4, 180).delivery(5, 25).dose(6, 185, "p2");
  return story;
}

TEST(Stock, GoesOnAsWorkedByHand) {
  const StockBook book = worked().read(7);
  const double on_hand_kg[] = {100, 40, 240, 190, 180, 205, 20};
  const double cost[] = {0, 54, 0, 46, 0, 0, 184};
  ASSERT_EQ(book.moves.size(), 7U);
  for (std::size_t i = 0; i < book.moves.size(); ++i) {
    EXPECT_NEAR(book.moves[i].on_hand_kg, on_hand_kg[i], 1e-9) << i;
    EXPECT_NEAR(book.moves[i].cost, cost[i], 1e-9) << i;
  }
  EXPECT_NEAR(book.moves[4].change_kg, -10, 1e-9) << "the difference to what was reckoned";
  EXPECT_EQ(book.moves[3].lots, (std::vector<std::string>{"A", "B"}));
  const ProductStock* product = book.product(kNitrate);
  ASSERT_NE(product, nullptr);
  EXPECT_NEAR(product->on_hand_kg, 20, 1e-9);
  ASSERT_EQ(product->lots.size(), 1U);
  EXPECT_NEAR(product->lots[0].left_kg, 20, 1e-9);
  EXPECT_NEAR(product->worth, 16, 1e-9);
  ASSERT_TRUE(product->last_count);
  EXPECT_EQ(*product->last_count, 4U);
  EXPECT_TRUE(book.problems.empty());
}

TEST(Stock, CostsByPondHectareAndShareOfProduction) {
  StockStory story = worked();
  story.tell(0, "12:00", kind::kCostSetup,
             {{"currency", std::string("USD")}, {"lead_days", 6.0}, {"production_cost_per_ha", 5000.0}}, "");
  const Instant now = at(7, "20:00");
  const Farm farm = story.fold(now);
  const std::vector<PondCost> costs = cost_of_ponds(read_stock(story.logbook(), farm, now), farm);
  ASSERT_EQ(costs.size(), 2U);
  EXPECT_NEAR(costs[0].product_kg, 110, 1e-9);
  EXPECT_NEAR(costs[0].per_ha(), 100, 1e-9);
  ASSERT_TRUE(costs[0].share && costs[1].share);
  EXPECT_NEAR(*costs[0].share, 0.02, 1e-9);
  EXPECT_NEAR(costs[1].cost, 184, 1e-9);
  EXPECT_NEAR(*costs[1].share, 0.0368, 1e-9);
}

TEST(Stock, OfACycleOnlyWhatWasUsedInIt) {
  StockStory story;
  story.delivery(0, 500, 1.0, "A").dose(1, 30, "p1").end(2, "p1").start(3, "two", "p1");
  story.dose(4, 20, "p1");
  const Instant now = at(5, "20:00");
  const Farm farm = story.fold(now);
  const std::vector<PondCost> costs = cost_of_ponds(read_stock(story.logbook(), farm, now), farm);
  EXPECT_NEAR(costs[0].product_kg, 20, 1e-9);
  EXPECT_EQ(costs[0].cycle, "two");
}

TEST(Stock, ADoseIsDrawnFromTheLotItNames) {
  StockStory story;
  story.delivery(0, 100, 0.90, "A").delivery(1, 100, 1.20, "B").dose(2, 30, "p1", "B");
  const StockBook book = story.read(3);
  EXPECT_NEAR(book.moves.back().cost, 36, 1e-9);
  EXPECT_EQ(book.moves.back().lots, std::vector<std::string>{"B"});
}

TEST(Stock, AVoidTakesTheEffectBackAndACorrectionStandsInstead) {
  StockStory story;
  story.delivery(0, 100).dose(1, 30, "p1");
  const std::string dose = story.last();
  EXPECT_NEAR(story.on_hand(2), 70, 1e-9);
  story.take_back(2, "08:00", dose);
  EXPECT_NEAR(story.on_hand(2), 100, 1e-9);
  story.delivery(3, 50);
  const std::string delivery = story.last();
  story.tell(3, "10:00", kind::kStockDelivery, {{"product", std::string(kNitrate)}, {"product_kg", 40.0}}, "",
             delivery);
  EXPECT_NEAR(story.on_hand(4), 140, 1e-9);
}

TEST(Stock, UnderZeroIsSaidAndTheNextDeliveryPays) {
  StockStory story;
  story.delivery(0, 10, 0.9, "A").dose(1, 30, "p1");
  const StockBook book = story.read(2);
  EXPECT_NEAR(book.product(kNitrate)->on_hand_kg, -20, 1e-9);
  EXPECT_EQ(book.product(kNitrate)->under_zero_since, at(1, "07:00"));
  // 10 x 0.90, and 20 at the product's own 0.80 while no delivery covers them.
  EXPECT_NEAR(book.moves.back().cost, 25, 1e-9);
  story.delivery(3, 100, 2.0, "B");
  const StockBook after = story.read(4);
  EXPECT_NEAR(after.product(kNitrate)->on_hand_kg, 80, 1e-9);
  EXPECT_FALSE(after.product(kNitrate)->under_zero_since);
  EXPECT_NEAR(after.moves[1].cost, 10 * 0.9 + 20 * 2.0, 1e-9);
  EXPECT_NEAR(after.product(kNitrate)->lots.front().left_kg, 80, 1e-9);
}

TEST(Stock, ACountThatFindsMoreMakesALotWithoutAName) {
  StockStory story;
  story.delivery(0, 100, 1.0, "A").count(1, 130);
  const StockBook book = story.read(2);
  ASSERT_EQ(book.product(kNitrate)->lots.size(), 2U);
  EXPECT_NEAR(book.product(kNitrate)->lots[1].left_kg, 30, 1e-9);
  EXPECT_TRUE(book.product(kNitrate)->lots[1].lot.empty());
  EXPECT_NEAR(book.moves.back().change_kg, 30, 1e-9);
}

TEST(Stock, OfADoubleDoseThatWasSettledOnlyTheOneThatIsKeptWentOut) {
  StockStory story;
  story.delivery(0, 100).dose(1, 20, "p1").dose(1, 22, "p1", {}, "07:30");
  const std::string later = story.last();
  EXPECT_NEAR(story.on_hand(1), 58, 1e-9);
  story.tell(2, "09:00", kind::kQuestionSettled,
             {{"question", later}, {"keep", std::string("first")}, {"reason", std::string("told twice")}},
             "p1");
  EXPECT_NEAR(story.on_hand(2), 80, 1e-9);
}

TEST(Stock, AProductOutOfUseStandsThereOnlyOnceItMoved) {
  StockStory story;
  story.tell(-28, "09:10", kind::kProductSetup, {{"product", std::string("urea")}, {"in_use", false}}, "");
  EXPECT_NE(story.read(1).product(kNitrate), nullptr);
  EXPECT_EQ(story.read(1).product("urea"), nullptr);
  story.tell(1, "10:00", kind::kStockDelivery, {{"product", std::string("urea")}, {"product_kg", 50.0}}, "");
  EXPECT_NE(story.read(1).product("urea"), nullptr);
}

TEST(Stock, WhatComesLaterDoesNotCountYet) {
  StockStory story;
  story.delivery(0, 100).delivery(5, 40);
  EXPECT_NEAR(story.on_hand(4), 100, 1e-9);
  EXPECT_NEAR(story.on_hand(5), 140, 1e-9);
}

TEST(Stock, AnOrderIsOpenUntilItsDeliveriesCoverItOrItIsTakenBack) {
  StockStory story;
  const auto order = [&](std::string name, double product_kg, bool cancelled) {
    Values values = {{"order", std::move(name)},
                     {"product", std::string(kNitrate)},
                     {"product_kg", product_kg},
                     {"expected_on", std::string("2026-03-09")}};
    if (cancelled) values.emplace("cancelled", true);
    story.tell(1, "09:00", kind::kStockOrder, values, "");
  };
  order("a", 300, false);
  order("b", 100, false);
  EXPECT_NEAR(story.read(2).product(kNitrate)->on_order_kg, 400, 1e-9);
  story.tell(2, "10:00", kind::kStockDelivery,
             {{"product", std::string(kNitrate)}, {"product_kg", 120.0}, {"order", std::string("a")}}, "");
  EXPECT_NEAR(story.read(3).product(kNitrate)->on_order_kg, 280, 1e-9);
  order("b", 100, true);
  EXPECT_NEAR(story.read(3).product(kNitrate)->on_order_kg, 180, 1e-9);
}

TEST(Stock, WhatCannotBeReadIsSaidAndDoesNotCount) {
  StockStory story;
  story.delivery(0, 100);
  story.tell(1, "10:00", kind::kStockDelivery, {{"product", std::string(kNitrate)}, {"product_kg", -5.0}}, "");
  story.tell(1, "10:10", kind::kStockCount, {{"product_kg", 5.0}}, "");
  story.tell(1, "10:20", kind::kStockOrder,
             {{"order", std::string("a")},
              {"product", std::string(kNitrate)},
              {"product_kg", 5.0},
              {"expected_on", std::string("Friday")}},
             "");
  story.tell(1, "10:30", kind::kCostSetup, {{"lead_days", -1.0}}, "");
  const StockBook book = story.read(2);
  EXPECT_EQ(book.problems.size(), 4U);
  EXPECT_NEAR(book.product(kNitrate)->on_hand_kg, 100, 1e-9);
  EXPECT_TRUE(book.orders.empty());
}

// Properties, over stories from a seed: the order in which the lines came makes no difference, the lots come to
// what is on hand, and a plain sum over what counts comes to the same.
TEST(Stock, ComesToTheSameInWhateverOrderTheEntriesCame) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    std::mt19937 random(seed);
    const auto below = [&](int limit) { return static_cast<int>(random() % static_cast<unsigned>(limit)); };
    StockStory story;
    const std::string set_up = story.last();
    std::vector<std::string> references;
    for (int day = 0; day < 40; ++day) {
      const double product_kg = 1 + below(900) / 10.0;
      switch (below(6)) {
        case 0:
        case 1:
          story.delivery(day, 3 * product_kg,
                         below(2) == 0 ? std::optional(0.5 + below(10) / 10.0) : std::nullopt,
                         below(2) == 0 ? std::string(1, static_cast<char>('A' + below(4))) : std::string());
          break;
        case 2:
          if (below(3) == 0) story.count(day, product_kg);
          break;
        case 3:
          story.broadcast(day, product_kg, "p1");
          break;
        default:
          story.dose(day, product_kg, below(2) == 0 ? "p1" : "p2",
                     below(3) == 0 ? std::string(1, static_cast<char>('A' + below(4))) : std::string());
      }
      if (story.last() != set_up) references.push_back(story.last());
      if (!references.empty() && below(8) == 0) {
        story.take_back(day, "15:00",
                        references[static_cast<std::size_t>(below(static_cast<int>(references.size())))]);
      }
    }
    const Instant now = at(41, "20:00");
    const StockBook book = story.read(41);

    std::vector<std::string> lines;
    story.logbook().visit([&](const Logbook::Line& line) { lines.emplace_back(line.bytes); });
    std::shuffle(lines.begin(), lines.end(), random);
    Logbook shuffled;
    for (const std::string& line : lines) shuffled.add_line(line);
    const StockBook again = read_stock(shuffled, fold_farm(shuffled, test::protocol(), now), now);
    ASSERT_EQ(again.moves.size(), book.moves.size()) << seed;
    for (std::size_t i = 0; i < book.moves.size(); ++i) {
      EXPECT_EQ(again.moves[i].on_hand_kg, book.moves[i].on_hand_kg) << seed;
      EXPECT_EQ(again.moves[i].cost, book.moves[i].cost) << seed;
    }

    double plain_kg = 0;
    for (const Entry* entry : story.logbook().effective()) {
      const double* product_kg = entry->number("product_kg");
      if (product_kg == nullptr) continue;
      if (entry->kind == kind::kStockDelivery) plain_kg += *product_kg;
      if (entry->kind == kind::kStockCount) plain_kg = *product_kg;
      if (entry->kind == kind::kDose || entry->kind == kind::kSoilBroadcast) plain_kg -= *product_kg;
    }
    const ProductStock* product = book.product(kNitrate);
    ASSERT_NE(product, nullptr) << seed;
    EXPECT_NEAR(product->on_hand_kg, plain_kg, 1e-6) << seed;
    double in_lots_kg = 0;
    for (const StockLot& lot : product->lots) in_lots_kg += lot.left_kg;
    EXPECT_NEAR(in_lots_kg, std::max(product->on_hand_kg, 0.0), 1e-5) << seed;
    for (const StockMove& move : book.moves)
      EXPECT_NEAR(move.unpriced_kg, 0, 1e-9) << "the product has a price";
  }
}

}  // namespace
}  // namespace tawny
