#include "outlook/bloom_record.h"

#include <gtest/gtest.h>

#include "core/office/book.h"
#include "core/outlook/outlook_bench.h"

namespace tawny {
namespace {

using test::at;
using test::Book;
using test::Story;

Result<BloomRecord> record_of(const Book& book, int day) {
  const Instant now = at(day, "23:00");
  const Farm farm = book.fold(now);
  const FarmPond& pond = *farm.pond("p1");
  return bloom_record(pond.history, pond.state, farm.place, *parse_products(assets::find("products.json")),
                      priors(), civil_day(now, farm.place.offset), now);
}

Book filling() {
  Book book;
  book.pond(-1, "p1");
  book.start(0, "A").level(1, 30).level(3, 50);
  return book;
}

// Straight banks on 1 ha: 1 cm of level is 100 m3. From 30 cm on day 1, 15:00, to 50 cm two days later: at noon
// of day 2, 21 h on, 38.75 cm; of day 3, 45 h on, 48.75 cm. What came in is 8.75 / 38.75 and 10 / 48.75 of the
// water.
TEST(BloomRecord, TakesTheLevelOfNoonFromTheLineBetweenReadings) {
  const auto record = record_of(filling(), 4);
  ASSERT_TRUE(record) << record.error().message.id;
  ASSERT_EQ(record->days.size(), 4U);
  EXPECT_NEAR(record->days[0].water.depth_m, 0.30, 1e-9);
  EXPECT_EQ(record->days[0].water.inflow_share, 0);
  EXPECT_NEAR(record->days[1].water.depth_m, 0.3875, 1e-9);
  EXPECT_NEAR(record->days[1].water.inflow_share, 8.75 / 38.75, 1e-9);
  EXPECT_NEAR(record->days[2].water.inflow_share, 10 / 48.75, 1e-9);
  EXPECT_NEAR(record->days[3].water.depth_m, 0.50, 1e-9);
  EXPECT_NEAR(record->volume_m3, 5000, 1e-6);
}

TEST(BloomRecord, SaysWhatIsMissing) {
  Book book;
  book.pond(-1, "p1");
  book.start(0, "A");
  const auto record = record_of(book, 4);
  ASSERT_FALSE(record);
  EXPECT_EQ(record.error().message.id, "outlook.missing.level");
}

TEST(BloomRecord, TakesTheTemperatureAsReadAndPassesByWhatCannotBe) {
  Book book = filling();
  const auto read = [&](int day, double temperature_c) {
    book.tell(day, "06:10", kind::kWaterReading, {{"temperature_c", temperature_c}});
  };
  read(2, 31);
  read(3, 3e9);
  const auto record = record_of(book, 4);
  ASSERT_TRUE(record);
  EXPECT_EQ(record->days[0].water.temperature_c, priors().temperature_c);
  EXPECT_EQ(record->days[1].water.temperature_c, 31);
  EXPECT_EQ(record->days[2].water.temperature_c, 31);
}

// 25 kg of sodium nitrate with 16.48 % nitrate-N are 4.12 kg of it. On day 2, 06:10, over 3875 m3: 1.063 mg/L;
// at 15:00 it counts on the next morning, over 4875 m3: 0.845 mg/L.
TEST(BloomRecord, ADoseCountsOverTheWaterOfItsMorning) {
  const double nitrate_n =
      find_product(*parse_products(assets::find("products.json")), "sodium_nitrate")->nitrate_n_fraction;
  const auto dosed_at = [](std::string hh_mm) {
    Book book = filling();
    book.tell(Story().dose(2, 25, std::move(hh_mm)), 0);
    return *record_of(book, 4);
  };
  EXPECT_NEAR(dosed_at("06:10").days[1].water.dose_nitrogen_mg_l, 25000 * nitrate_n / 3875, 1e-9);
  EXPECT_NEAR(dosed_at("06:10").days[1].water.dose_nitrogen_mg_l, 1.063, 0.001);
  EXPECT_EQ(dosed_at("15:00").days[1].water.dose_nitrogen_mg_l, 0);
  EXPECT_NEAR(dosed_at("15:00").days[2].water.dose_nitrogen_mg_l, 0.845, 0.001);
}

TEST(BloomRecord, TakesTheDiscOfTheDay) {
  Book book = filling();
  book.tell(Story().secchi(3, 42), 0);
  const auto record = record_of(book, 4);
  EXPECT_FALSE(record->days[1].secchi);
  ASSERT_TRUE(record->days[2].secchi);
  EXPECT_EQ(record->days[2].secchi->secchi_cm, 42);
}

TEST(BloomRecord, IsNoLongerThanItsPriorsSay) {
  const auto record = record_of(filling(), 4000);
  ASSERT_TRUE(record);
  EXPECT_EQ(record->days.size(), static_cast<std::size_t>(priors().days_most));
}

}  // namespace
}  // namespace tawny
