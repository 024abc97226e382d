#include "office/finished_blooms.h"

#include <gtest/gtest.h>

#include "core/office/book.h"
#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

using test::at;
using test::Book;

std::vector<BloomRecord> finished(const Book& book, int day, OutlookPriors with = priors()) {
  const Instant now = at(day, "12:00");
  const Farm farm = book.fold(now);
  return finished_blooms(all_cycles(book.logbook(), farm, test::protocol(), now), farm.place,
                         *parse_products(assets::find("products.json")), with);
}

Book farm() {
  Book book;
  book.pond(-1, "p1").pond(-1, "p2");
  book.start(0, "A").level(1, 30).end(10);
  book.start(5, "B", "p2").level(7, 40, "p2").end(15, "p2");
  book.start(20, "C").level(21, 33);
  book.start(20, "D", "p2").end(22, "p2");
  return book;
}

TEST(FinishedBlooms, AreThoseOfCyclesThatAreOverAndHadWaterLastEndedFirst) {
  const std::vector<BloomRecord> records = finished(farm(), 25);
  ASSERT_EQ(records.size(), 2U);
  EXPECT_EQ(records[0].pond, "p2");
  EXPECT_EQ(records[0].days.size(), 9U) << "from the seventh day to the fifteenth";
  EXPECT_EQ(records[1].pond, "p1");
  EXPECT_EQ(records[1].days.size(), 10U);
}

TEST(FinishedBlooms, AreKnownFromTheirEndOn) {
  EXPECT_TRUE(finished(farm(), 9).empty());
  EXPECT_EQ(finished(farm(), 12).size(), 1U);
}

TEST(FinishedBlooms, AreNoMoreThanAreLearnedFrom) {
  OutlookPriors with = priors();
  with.farm_cycles_most = 1;
  const std::vector<BloomRecord> records = finished(farm(), 25, with);
  ASSERT_EQ(records.size(), 1U);
  EXPECT_EQ(records[0].pond, "p2");
}

}  // namespace
}  // namespace tawny
